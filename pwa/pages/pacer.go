package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Pacer is the page of the beat of travel and of the stopwatch of a bead.
type Pacer struct {
	app.Compo

	Pacer state.Pacer
	Clock state.Clock
	Sheet bool // a sheet is open that can take the bead
}

// Render shows the lamp first: it is what is looked at.
func (p *Pacer) Render() app.UI {
	return widgets.Page("How fast do you travel?", p.lamp(), p.beat(), p.bead())
}

// lamp is lit by the page's script at every beat, which also writes the way travelled.
func (p *Pacer) lamp() app.UI {
	return app.Section().Class("card", "pace").Body(
		app.Div().ID("pace-lamp").Class("pace-lamp").Aria("hidden", "true").Body(app.Span().Class("pace-count")),
		app.P().Class("pace-beats").DataSet("val", "pacer.beats").Text(words.Text(p.beats())),
		app.Div().Aria("live", "assertive").Body(app.If(p.Pacer.Problem != "", func() app.UI { return stopLine(p.Pacer.Problem, "pacer-problem") })),
		p.start())
}

func (p *Pacer) beats() string {
	if p.Pacer.Beats == "" {
		return "Type the speed below."
	}
	return p.Pacer.Beats
}

func (p *Pacer) start() app.UI {
	if p.Pacer.Runs {
		return &widgets.BigButton{Act: "pacer-stop", Label: "Stop the beat", Kind: widgets.Main, OnPress: post(state.PacePressed{})}
	}
	return &widgets.BigButton{Act: "pacer-start", Label: "Start the beat", Kind: widgets.Main, Disabled: p.Pacer.Every == 0, OnPress: post(state.PacePressed{})}
}

// beat is what the beat goes by, and how it is noticed.
func (p *Pacer) beat() app.UI {
	body := fields(p.Pacer.Fields, "pacer", p.onTyped, p.onTyped)
	body = append(body,
		&widgets.ChoiceGroup{ID: "pacer-step", Act: "pacer-step", Label: "One beat every", Choices: options(p.Pacer.Steps), Selected: p.Pacer.Step, OnChoose: p.onStep},
		app.Div().Class("pairs").Body(
			signal("sound", "Sound", p.Pacer.Sound), signal("shake", "Shake", p.Pacer.Shake), signal("flash", "Flash", p.Pacer.Flash)),
		app.P().Class("notice-text", "pace-muted").ID("pace-muted").Role("status"),
		app.P().Class("quiet").Text(words.Text("The beat is set by the sound's own clock. The light goes on three times a second at most. Some phones do not shake for a page, and a silent switch may mute the sound.")))
	return widgets.Card("The beat", body...)
}

// signal switches one way of noticing the beat on or off.
func signal(key, name string, on bool) app.UI {
	label := words.S("%s: off", name)
	if on {
		label = words.S("%s: on", name)
	}
	return &widgets.BigButton{Act: "pacer-" + key, Label: label, OnPress: post(state.PaceSignal{Signal: key})}
}

func (p *Pacer) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.PaceTyped{Key: key, Text: text})
}

func (p *Pacer) onStep(ctx app.Context, step string) { action.Post(ctx, state.PaceStep{Step: step}) }

// bead is the stopwatch, and the speed that follows.
func (p *Pacer) bead() app.UI {
	w := p.Pacer.Watch
	label := "Start the stopwatch"
	if w.Runs() {
		label = words.S("Stop: %s", present.CountDown(w.Elapsed(p.Clock)))
	}
	body := append([]app.UI{&widgets.BigButton{Act: "bead-watch", Label: label, OnPress: post(state.BeadPressed{})}},
		fields(p.Pacer.Bead, "bead", p.onTyped, p.onTyped)...)
	return widgets.Card("A bead by stopwatch", append(body,
		app.If(p.Pacer.Speed != "", func() app.UI {
			return app.P().Class("pace-beats").DataSet("val", "bead.speed").Text(words.Text(p.Pacer.Speed))
		}),
		app.If(p.Pacer.Speed != "", p.take))...)
}

// take puts the speed to use.
func (p *Pacer) take() app.UI {
	label, note := "Begin a sheet with it", "with the settings card, where one answers"
	if p.Sheet {
		label, note = "Put it on the open sheet", "length and time; can be undone"
	}
	return widgets.Actions(
		&widgets.BigButton{Act: "bead-take", Label: label, Note: note, OnPress: onBeadTaken},
		&widgets.BigButton{Act: "bead-pace", Label: "Beat at this speed", OnPress: post(state.BeadPaced{})})
}

func onBeadTaken(ctx app.Context) {
	post(state.BeadTaken{})(ctx)
	ctx.Navigate(site.At("/journal"))
}
