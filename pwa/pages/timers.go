package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Timers is the page of the minutes around the flame: those that run, the next one to start, and the reminder of a lit torch.
type Timers struct {
	app.Compo

	Timers state.Timers
	Prefs  state.Prefs
	Tests  []state.LeakView // that run, for the way to them
	Now    int64
}

var _ app.Mounter = (*Timers)(nil)

// OnMount has the form read again: a purge goes by the settings card, which may be another now.
func (t *Timers) OnMount(ctx app.Context) { action.Post(ctx, state.TimersShown{}) }

// Render shows what runs before what can be started.
func (t *Timers) Render() app.UI {
	return widgets.Page("How long must you wait?",
		app.Range(t.Timers.Running).Slice(func(i int) app.UI {
			one := t.Timers.Running[i]
			return &timerCard{Timer: one, Href: timerHref(one, t.Tests), Now: t.Now, Torch: t.Prefs.TorchMinutes}
		}),
		app.If(len(t.Timers.Running) > 0, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "timer.device").Text(words.Text(deviceWords(t.Timers)))
		}),
		t.next(),
		t.torch(),
		t.ended(),
	)
}

// next is the timer to start: what it is for, the caution, the published times, then the time itself.
func (t *Timers) next() app.UI {
	f := t.Timers.Form
	body := []app.UI{
		&widgets.ChoiceGroup{ID: "timer-purpose", Act: "timer-purpose", Label: "For what?", Choices: options(f.Purposes), Selected: f.Purpose, OnChoose: t.onPurpose},
		app.If(f.Caution != "", func() app.UI { return cautionLine(f.Caution, f.Source, "timer-caution") }),
		timerRules(f.Rules),
	}
	body = append(body, fields(f.Fields, "timer", t.onTyped, t.onTyped)...)
	body = append(body,
		app.If(f.Less != "", func() app.UI { return cautionLine(f.Less, "", "timer-less") }),
		app.If(f.Named != "", func() app.UI { return app.P().DataSet("val", "timer-named").Text(words.Text(f.Named)) }),
		app.Div().Aria("live", "assertive").Body(app.If(f.Problem != "", func() app.UI { return stopLine(f.Problem, "timer-problem") })),
		&widgets.BigButton{Act: "timer-start", Label: "Start the timer", Kind: widgets.Main, Arms: true, Disabled: f.Busy, OnPress: post(state.TimerStarted{})},
		&widgets.BigButton{Act: "timer-spoken", Label: spokenLabel(t.Prefs.Spoken), Arms: true, OnPress: post(state.SpokenToggled{})})
	return widgets.Card("Start a timer", body...)
}

func (t *Timers) onPurpose(ctx app.Context, key string) {
	action.Post(ctx, state.TimerPurposeChosen{Purpose: key})
}

func (t *Timers) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.TimerTyped{Key: key, Text: text})
}

// timerRules are the published times, the longest first; the source stands under each.
func timerRules(list []state.TimerRule) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Ul().Class("rules").DataSet("val", "timer-rules").Body(app.Range(list).Slice(func(i int) app.UI {
			r := list[i]
			return app.Li().Class("rule").Body(
				app.Strong().Class("rule-time").Text(words.Text(present.CountDown(r.Seconds*1000))),
				app.Span().Class("rule-words").Body(app.Span().Text(words.Text(r.Text)), app.Span().Class("step-source").Text(words.S("Source: %s.", r.Source))))
		}))
	})
}

// cautionLine is a caution that stands before the number it concerns.
func cautionLine(text, source, val string) app.UI {
	return app.Div().Class("notice", "level-caution").DataSet("val", val).Body(app.P().Class("notice-text").Body(
		widgets.MarkShape(widgets.MarkCaution), app.Text(" "), app.Strong().Class("word").Text(words.Text("Caution. ")), app.Span().Text(words.Text(text)),
		app.If(source != "", func() app.UI { return app.Span().Class("step-source").Text(words.S(" Source: %s.", source)) })))
}

// torch is the reminder that the torch still burns. It is off until the owner wants it.
func (t *Timers) torch() app.UI {
	lit, burning := t.Timers.LitTimer()
	minutes := strconv.Itoa(t.Prefs.TorchMinutes)
	choices := []widgets.Choice{{Value: "0", Label: "Off"}, {Value: "5", Label: "5 min"}, {Value: "10", Label: "10 min"}, {Value: "20", Label: "20 min"}}
	return widgets.Card("Torch left lit?",
		app.P().Text(words.Text("Rings again and again while you have said that the torch is lit. A phone does not see the flame: it knows only what you tap.")),
		&widgets.ChoiceGroup{ID: "torch-every", Act: "torch-every", Label: "Ask me every", Choices: choices, Selected: minutes, OnChoose: t.onTorch},
		app.If(t.Prefs.TorchMinutes > 0 && !burning, torchLitButton),
		app.If(burning, func() app.UI {
			return &widgets.BigButton{Act: "torch-out-" + lit.ID, Label: "The torch is out", Note: "then comes the fire watch", OnPress: post(state.TorchOut{})}
		}))
}

func torchLitButton() app.UI {
	return &widgets.BigButton{Act: "torch-lit", Label: "The torch is lit", Note: "starts the reminder", Arms: true, OnPress: post(state.TorchLit{})}
}

func (t *Timers) onTorch(ctx app.Context, minutes string) {
	action.Post(ctx, state.TorchChosen{Minutes: minutes})
}

// ended lists the timers that are over: a fire watch is something one may have to show.
func (t *Timers) ended() app.UI {
	list := t.Timers.Ended
	return app.If(len(list) > 0, func() app.UI {
		return widgets.Card("Over",
			app.Ul().Class("steps").DataSet("val", "timers-over").Body(app.Range(list).Slice(func(i int) app.UI {
				return app.Li().Text(words.Text(overWords(list[i])))
			})),
			&widgets.BigButton{Act: "timers-clear", Label: "Delete those that are over", Note: "can be undone", OnPress: post(state.TimersCleared{})})
	})
}

// overWords say what became of a timer.
func overWords(t state.Timer) string {
	text := words.S("%s, begun %s: ", t.Label, present.Moment(t.Start))
	if t.State == state.TimerHeard {
		text += words.S("ran its %s", present.CountDown(t.Duration))
	} else {
		text += words.S("stopped after %s of %s", present.CountDown(max(0, t.Ran(t.PausedAt))), present.CountDown(t.Duration))
	}
	if t.Every > 0 {
		text += words.S(", %s of the room noted", words.Count(len(t.Rounds), "round"))
	}
	return text + "."
}
