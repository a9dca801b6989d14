package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// leakPrepare shows what to know and what to do before a test.
type leakPrepare struct {
	app.Compo

	Leak state.Leak
	Hose present.Hose
	Opt  present.Options
}

// Render shows cautions, then steps.
func (p *leakPrepare) Render() app.UI {
	prep := present.NewPreparation(*p.Leak.Prep, p.Opt)
	return widgets.Page("How do you prepare the test?",
		app.P().Class("word").DataSet("val", "leak-section").Body(widgets.HoseName(p.Hose, p.Leak.SectionName())),
		restored(p.Leak.Restored),
		widgets.WarningList(prep.Cautions),
		widgets.Card("In this order", widgets.StepList(prep.Steps)),
		widgets.Actions(
			&widgets.BigButton{Act: "leak-prepared", Label: "Done, read the gauges", Kind: widgets.Main, OnPress: post(state.LeakPrepared{})},
			&widgets.BigButton{Act: "leak-back", Label: "Back", OnPress: post(state.LeakBack{})}),
	)
}

func restored(yes bool) app.UI {
	return app.If(yes, func() app.UI {
		return app.P().Class("quiet").DataSet("val", "leak-restored").Text(words.Text("This is the test you had begun to prepare."))
	})
}

// leakStart takes the start readings and starts the clock.
type leakStart struct {
	app.Compo

	Leak    state.Leak
	Options present.Options
}

// CompoID makes the form of another section a new one, so that no typed text passes over.
func (s *leakStart) CompoID() string {
	return "leak-start-" + string(s.Leak.Section) + string(s.Leak.Gas) + s.Leak.RetestOf
}

// Render shows the fields, what the volume is made of, and how long it will take.
func (s *leakStart) Render() app.UI {
	l := s.Leak
	return widgets.Page("What do the gauges show now?",
		app.P().Class("word").DataSet("val", "leak-section").Body(widgets.HoseName(present.HoseFor(string(l.Gas), s.Options.Region), l.SectionName())),
		restored(l.Restored),
		s.card("Start readings", "gauge", "temperature"),
		s.card("The gauge you test by", "division", "scale", "thermometer"),
		s.card("The other gauge", "other", "other_division", "other_scale"),
		s.card("How much gas, how long", "volume", "duration"),
		s.volume(),
		s.need(),
		app.Div().Aria("live", "assertive").Body(app.If(l.Problem != "", func() app.UI { return stopLine(l.Problem, "leak-problem") })),
		widgets.Actions(
			&widgets.BigButton{Act: "leak-start", Label: s.label(), Kind: widgets.Main, Arms: true, Disabled: l.Busy, OnPress: post(state.LeakStarted{})},
			app.P().Class("quiet").Text(words.Text("Starting sounds a short test beep and asks to show notices. No browser can ring at a set time on a locked phone: keep this screen open, or set a phone alarm too.")),
			&widgets.BigButton{Act: "leak-back", Label: "Back to the preparation", OnPress: post(state.LeakBack{})}),
	)
}

// card frames some of the fields.
func (s *leakStart) card(title string, keys ...string) app.UI {
	var list []state.FormField
	for _, key := range keys {
		for _, f := range s.Leak.Fields {
			if f.Key == key {
				list = append(list, f)
			}
		}
	}
	return widgets.Card(title, fields(list, "leak", s.onTyped, s.onChosen)...)
}

func (s *leakStart) label() string {
	switch {
	case s.Leak.Busy:
		return "Starting …"
	case s.Leak.Runs > 0:
		return words.S("Start, %s", present.Span(s.Leak.Runs))
	}
	return "Start"
}

func (s *leakStart) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.LeakTyped{Key: key, Text: text})
}

func (s *leakStart) onChosen(ctx app.Context, key, value string) {
	action.Post(ctx, state.LeakChosen{Key: key, Value: value})
}

// volume tells what the closed volume is reckoned from.
func (s *leakStart) volume() app.UI {
	return app.If(len(s.Leak.Parts) > 0, func() app.UI {
		return widgets.Card("The closed volume, from your rig", widgets.FactList(present.VolumeParts(s.Leak.Parts, s.Options)))
	})
}

// need tells before the start how long the test takes and what it will see.
func (s *leakStart) need() app.UI {
	l := s.Leak
	return widgets.Card("How long?",
		app.If(l.Caution != "", func() app.UI { return caution(l.Caution) }),
		app.P().DataSet("val", "leak-need").Text(words.Text(s.needWords())))
}

func (s *leakStart) needWords() string {
	l := s.Leak
	switch {
	case l.NeedProblem != "":
		return l.NeedProblem
	case l.Needed == 0:
		return "Told as soon as the gauge, its division and its reading are typed."
	}
	return present.Need(l.Needed, l.Runs, l.Allowed, l.Sees, l.Gas.StandardRatio(), s.Options)
}

func stopLine(text, val string) app.UI {
	return app.Div().Class("notice", "level-stop").DataSet("val", val).Body(app.P().Class("notice-text").Body(
		widgets.MarkShape(widgets.MarkStop), app.Text(" "), app.Span().Text(words.Text(text))))
}
