package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// travel is the stopwatch, and length and time beside it once either is known.
func (e *sheetEditor) travel() app.UI {
	f := e.Form
	label, note := "Stopwatch: start", "for the travel speed of a bead or cut"
	if f.Watch.Runs() {
		label, note = words.S("Stop %s", present.StopWatch(f.Watch.Elapsed(e.Now))), "it goes on when you leave this page"
	}
	known := f.Watch.Runs()
	for _, one := range e.pick(sheetTravel) {
		known = known || one.Text != ""
	}
	return app.Div().Class("stack").Body(
		&widgets.BigButton{Act: "sheet-watch", Label: label, Note: note, Disabled: f.Busy, OnPress: post(state.SheetWatchPressed{})},
		app.If(known, func() app.UI { return app.Div().Class("form").Body(e.fields(sheetTravel)...) }),
		app.If(f.Speed != "", func() app.UI {
			return app.P().Class("big-fact").Body(app.Span().Text(words.Text("Travel speed ")), app.Strong().DataSet("val", "travel_speed").Text(words.Text(f.Speed)))
		}))
}

// scores are the set of the work; without a work there is none.
func (e *sheetEditor) scores() app.UI {
	list := e.Form.Scores
	if len(list) == 0 {
		return app.P().Class("quiet").DataSet("val", "scores-none").Text(words.Text("The scores go by the work: choose it above, and they appear here."))
	}
	return app.Section().Class("scores").Body(
		app.H2().Class("part-title").Text(words.Text("How good is it? 0 is worst, 4 is best")),
		app.Range(list).Slice(func(i int) app.UI {
			return &widgets.ScoreField{Score: scoreOf(list[i]), OnScore: e.onScore, OnSkip: e.onSkip}
		}),
		app.P().Class("word").Aria("live", "polite").Body(app.Span().Text(words.Text("Overall: ")), app.Span().DataSet("val", "overall").Text(words.Text(e.Form.Overall.Words()))))
}

func scoreOf(f state.ScoreField) present.Score {
	return present.NewScore(f.Score, f.Given, f.Value, f.Skipped)
}

func (e *sheetEditor) onScore(ctx app.Context, id string, value int) {
	action.Post(ctx, state.SheetScored{ID: id, Value: value})
}

func (e *sheetEditor) onSkip(ctx app.Context, id string) {
	action.Post(ctx, state.SheetSkipped{ID: id})
}
