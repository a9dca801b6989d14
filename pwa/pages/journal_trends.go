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

// journalTrends shows a measure over time, for one work and class of thickness at a time.
type journalTrends struct {
	app.Compo

	Journal state.Journal
	Options present.Options

	made   *state.Series // what view was made of
	madeOf present.Options
	view   present.SeriesView
}

// Render shows the choice of measure, of work and thickness, and the trend.
func (t *journalTrends) Render() app.UI {
	j := t.Journal
	return widgets.Page("Am I getting better?",
		backToList(),
		&widgets.ChoiceGroup{ID: "trend-measure", Act: "trend-measure", Label: "Trend of", Choices: measureChoices(), Selected: string(j.Measure), OnChoose: t.onMeasure},
		app.If(len(j.Trends) == 0, func() app.UI {
			return widgets.Card("", app.P().DataSet("val", "trend-none").Text(words.S("No sheet has this yet. %s", present.TrendNeeds(j.Measure))))
		}),
		app.If(len(j.Trends) > 0, t.shown),
		app.If(j.Report != "", func() app.UI { return app.P().DataSet("val", "journal-report").Text(words.Text(j.Report)) }),
	)
}

func measureChoices() []widgets.Choice {
	var list []widgets.Choice
	for _, w := range present.MeasureWords() {
		list = append(list, widgets.Choice{Value: w.Value, Label: w.Label})
	}
	return list
}

// series is the one chosen, else the one with the most points.
func (t *journalTrends) series() *state.Series {
	for i := range t.Journal.Trends {
		if state.SeriesKey(t.Journal.Trends[i]) == t.Journal.SeriesKey {
			return &t.Journal.Trends[i]
		}
	}
	return &t.Journal.Trends[0]
}

// shown is the trend that is chosen. It is written once, not at every drawing of the page.
func (t *journalTrends) shown() app.UI {
	s := t.series()
	if t.made != s || t.madeOf != t.Options {
		t.made, t.madeOf, t.view = s, t.Options, present.NewSeries(*s, t.Options)
	}
	return app.Div().Class("stack").Body(
		&widgets.SelectField{ID: "trend-series", Act: "trend-series", Label: "Work and thickness", Choices: t.choices(), Selected: state.SeriesKey(*s), OnChoose: t.onSeries},
		widgets.SeriesCard(t.view))
}

func (t *journalTrends) choices() []widgets.Choice {
	var list []widgets.Choice
	for _, s := range t.Journal.Trends {
		points := words.S("%s points", strconv.Itoa(len(s.Points)+s.Left))
		if len(s.Points)+s.Left == 1 {
			points = "1 point"
		}
		list = append(list, widgets.Choice{Value: state.SeriesKey(s), Label: words.S("%s: %s", present.SeriesTitle(s, t.Options), points)})
	}
	return list
}

func (t *journalTrends) onMeasure(ctx app.Context, v string) {
	action.Post(ctx, state.TrendsAsked{Measure: state.Measure(v)})
}

func (t *journalTrends) onSeries(ctx app.Context, v string) {
	action.Post(ctx, state.SeriesChosen{Key: v})
}

// backToList leads back to the list.
func backToList() app.UI {
	return &widgets.BigButton{Act: "journal-back", Label: "Back to the sheets", OnPress: post(state.JournalBack{})}
}
