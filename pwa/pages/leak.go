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

// Leak is the place of the leak tests: the list, a test being prepared, or a test that runs or has ended.
type Leak struct {
	app.Compo

	App state.App
}

// options are the owner's choices that change how numbers are shown.
func (l *Leak) options() present.Options { return OptionsOf(l.App) }

// OptionsOf are the owner's choices that change how numbers are shown.
func OptionsOf(a state.App) present.Options {
	return present.Options{Units: a.Prefs.Units, Region: a.Prefs.Region, Currency: a.Prefs.Currency}
}

// Render shows what is at hand.
func (l *Leak) Render() app.UI {
	leak := l.App.Leak
	switch {
	case leak.Stage == state.LeakPrepare && leak.Prep != nil:
		return &leakPrepare{Leak: leak, Hose: present.HoseFor(string(leak.Gas), l.App.Prefs.Region), Opt: l.options()}
	case leak.Stage == state.LeakReadings:
		return &leakStart{Leak: leak, Options: l.options()}
	case leak.Shown != nil:
		return &leakTest{View: *leak.Shown, Now: l.App.Clock.Wall, Timers: l.App.Timers, Spoken: l.App.Prefs.Spoken, Options: l.options()}
	}
	return widgets.Page("Is the rig tight?",
		app.Range(leak.Running).Slice(func(i int) app.UI { return &leakRunning{View: leak.Running[i], Now: l.App.Clock.Wall} }),
		l.begin("Test the oxygen", state.LineOxygen, "oxygen"),
		l.begin(words.S("Test the fuel: %s", l.App.LineGas(state.LineFuel)), state.LineFuel, l.App.FuelName()),
		l.history(),
		widgets.Card("What holds for every test", fields(leak.Prefs, "leak-pref", l.onPref, l.onPref)...),
	)
}

func (l *Leak) onPref(ctx app.Context, key, text string) {
	action.Post(ctx, state.PrefTyped{Key: key, Text: text})
}

// begin offers the tests of one line.
func (l *Leak) begin(title, line, gasName string) app.UI {
	offers := state.LeakOffers(line)
	return app.Section().Class("card").Body(
		app.H2().Class("card-title").Body(widgets.HoseName(present.HoseFor(gasName, l.App.Prefs.Region), title)),
		app.Div().Class("actions").Body(app.Range(offers).Slice(func(i int) app.UI {
			o := offers[i]
			return &widgets.BigButton{Act: "leak-begin-" + o.Section + "-" + line, Label: o.Label, Note: l.note(o.Section, line, o.Note),
				OnPress: post(state.LeakBegun{Section: o.Section, Line: line})}
		})))
}

// note is what is known of a section: its last test, else what it is.
func (l *Leak) note(section, line, what string) string {
	for _, h := range l.App.Leak.History {
		if string(h.Section) != section || h.Line() != line {
			continue
		}
		last := h.Tests[len(h.Tests)-1]
		text := words.S("Last: %s, %s", string(last.Outcome.Verdict), present.Day(last.Start))
		if due := present.Due(h.Due, l.App.Clock.Wall); due != "" {
			text += words.S("; %s", due)
		}
		return text
	}
	return what
}

// history shows each section that has been tested.
func (l *Leak) history() app.UI {
	list := l.App.Leak.History
	return app.Range(list).Slice(func(i int) app.UI {
		return &leakHistory{History: list[i], Allowed: float64(l.App.Leak.Allowed), Now: l.App.Clock.Wall, Options: l.options()}
	})
}

// leakRunning is one running test in the list.
type leakRunning struct {
	app.Compo

	View state.LeakView
	Now  int64
}

// CompoID keeps the handler of one test from passing to another.
func (r *leakRunning) CompoID() string { return "running-" + r.View.Test.ID }

// Render leads to the test.
func (r *leakRunning) Render() app.UI {
	note := words.S("runs since %s", present.Moment(r.View.Test.Start))
	if t := r.View.Timer; t != nil {
		note = timerWords(*t, r.Now)
	}
	return &widgets.BigButton{Act: "leak-open-" + r.View.Test.ID, Label: words.S("Go on: %s", r.View.Name), Note: note, Kind: widgets.Main,
		OnPress: post(state.LeakOpened{ID: r.View.Test.ID})}
}

// leakHistory is one section's tests: the last one, the trend, and all of them.
type leakHistory struct {
	app.Compo

	History state.LeakHistory
	Allowed float64
	Now     int64
	Options present.Options
}

// CompoID keeps one section's list open or shut by itself.
func (h *leakHistory) CompoID() string {
	return "history-" + string(h.History.Section) + h.History.Line()
}

// Render shows the trend, what is due, and the tests.
func (h *leakHistory) Render() app.UI {
	tests := h.History.Tests
	points := make([]present.TrendPoint, 0, state.LeakTestsPlotted)
	for _, t := range tests[max(0, len(tests)-state.LeakTestsPlotted):] {
		points = append(points, present.TrendPoint{At: t.Start, Verdict: string(t.Outcome.Verdict), Leak: t.Outcome.Leak, GaugeOnly: t.Outcome.GaugeOnly})
	}
	due := present.Due(h.History.Due, h.Now)
	return app.Section().Class("card").DataSet("val", "leak-history-"+string(h.History.Section)+"-"+h.History.Line()).Body(
		app.H2().Class("card-title").Body(widgets.HoseName(present.HoseFor(h.History.GasName, h.Options.Region), words.S("Tests of %s", h.History.Name))),
		app.Div().Class("card-body").Body(
			app.If(due != "", func() app.UI {
				return app.P().Class("word").DataSet("val", "leak-due").Text(words.S("Next test %s.", due))
			}),
			widgets.TrendPlot(present.Trend(h.History.Name, points, h.Allowed, h.History.Ratio, h.Options)),
			app.If(h.History.Total > len(points), func() app.UI {
				return app.P().Class("quiet").DataSet("val", "leak-plotted").Text(words.S("The drawing shows the newest %s of %s tests.", strconv.Itoa(len(points)), strconv.Itoa(h.History.Total)))
			}),
			app.Div().Class("actions").Body(app.Range(tests[len(tests)-h.History.Listed:]).Slice(func(i int) app.UI {
				t := tests[len(tests)-1-i]
				return &widgets.BigButton{Act: "leak-open-" + t.ID, Label: words.Capital(string(t.Outcome.Verdict)), Note: present.Moment(t.Start),
					OnPress: post(state.LeakOpened{ID: t.ID})}
			})),
			app.If(h.History.Total > h.History.Listed, func() app.UI {
				section, line := string(h.History.Section), h.History.Line()
				return &widgets.BigButton{Act: "leak-more-" + section + "-" + line, Label: "More tests", Note: words.S("%s older ones", strconv.Itoa(h.History.Total-h.History.Listed)),
					OnPress: post(state.MoreLeakTests{Section: section, Line: line})}
			})))
}
