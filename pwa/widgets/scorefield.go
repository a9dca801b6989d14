package widgets

import (
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// ScoreField asks for one score by thumb: five steps in a row, the words of the chosen one below them. What to look at, what all steps
// mean and the published limits open with a tap on the name. A second tap on the same step takes it back.
type ScoreField struct {
	app.Compo

	Score   present.Score
	OnScore func(ctx app.Context, id string, value int)
	OnSkip  func(ctx app.Context, id string)

	open bool
}

// CompoID ties what is open to one score.
func (f *ScoreField) CompoID() string { return "score-" + f.Score.ID }

// Render shows name, steps and words.
func (f *ScoreField) Render() app.UI {
	s := f.Score
	return app.Div().Class("scoring").Role("group").Aria("label", words.Text(s.Name)).Body(
		app.Div().Class("score-head").Body(
			app.Button().Type("button").Class("score-name").DataSet("act", "score-about-"+s.ID).Aria("expanded", strconv.FormatBool(f.open)).OnClick(f.onName).Body(
				app.Span().Text(words.Text(s.Name)), app.Span().Class("score-more").Aria("hidden", "true").Text(words.Text(f.arrow()))),
			&stepChoice{Act: "score-skip-" + s.ID, ID: s.ID, Value: -1, Label: "Skip", Spoken: words.S("Skip %s", s.Name), On: s.Skipped, OnPick: f.onSkip},
		),
		app.If(f.open, f.about),
		app.Div().Class("score-steps").Body(app.Range(s.Steps).Slice(func(i int) app.UI {
			return &stepChoice{Act: "score-" + s.ID + "-" + strconv.Itoa(i), ID: s.ID, Value: i, Label: strconv.Itoa(i),
				Spoken: words.S("%s, %s: %s", s.Name, strconv.Itoa(i), s.Steps[i]), On: s.Given && s.Value == i, OnPick: f.OnScore}
		})),
		app.P().Class("score-words").Aria("live", "polite").DataSet("val", "score."+s.ID).Text(words.Text(s.Words())),
	)
}

func (f *ScoreField) arrow() string {
	if f.open {
		return "▴"
	}
	return "▾"
}

// about tells what to look at and what the steps mean.
func (f *ScoreField) about() app.UI { return ScoreAbout(f.Score) }

func (f *ScoreField) onName(app.Context, app.Event) { f.open = !f.open }

func (f *ScoreField) onSkip(ctx app.Context, id string, _ int) {
	if f.OnSkip != nil {
		f.OnSkip(ctx, id)
	}
}

// ScoreAbout tells what to look at, what each step means, and what published limits say.
func ScoreAbout(s present.Score) app.UI {
	return app.Div().Class("score-about").DataSet("val", "score-about."+s.ID).Body(
		app.P().Text(words.Text(s.About)),
		app.Ol().Class("score-list").Attr("start", "0").Body(app.Range(s.Steps).Slice(func(i int) app.UI { return app.Li().Text(words.Text(s.Steps[i])) })),
		app.Range(s.Limits).Slice(func(i int) app.UI { return LimitLine(s.Limits[i]) }),
		app.P().Class("quiet").Text(words.Text(s.Source)))
}

// LimitLine is one published limit with its source; one from memory says so.
func LimitLine(l present.Limit) app.UI {
	return app.P().Class("score-limit").Body(app.Strong().Class("word").Text(words.Text("Limit: ")), app.Span().Text(words.S("%s. ", l.Text)),
		app.Span().Class("quiet").Text(words.S("Source: %s.", l.Source)))
}

// stepChoice is one of the answers of a score.
type stepChoice struct {
	app.Compo

	Act, ID       string
	Value         int
	Label, Spoken string
	On            bool
	OnPick        func(ctx app.Context, id string, value int)

	guard pressGuard
}

// CompoID keeps the guard of one answer from passing to another.
func (c *stepChoice) CompoID() string { return c.Act }

// Render shows the answer; a chosen one carries a tick besides its colour.
func (c *stepChoice) Render() app.UI {
	class := "step-choice"
	if c.On {
		class += " step-on"
	}
	return app.Button().Type("button").Class(class).DataSet("act", c.Act).Aria("pressed", strconv.FormatBool(c.On)).Aria("label", words.Text(c.Spoken)).OnClick(c.onClick).Body(
		app.Span().Text(words.Text(c.Label)), app.If(c.On, func() app.UI { return MarkShape(MarkDone) }))
}

func (c *stepChoice) onClick(ctx app.Context, _ app.Event) {
	if c.OnPick != nil && c.guard.allow(time.Now()) {
		c.OnPick(ctx, c.ID, c.Value)
	}
}

// ScoreLine is one score of a sheet that is read: its name, a row of boxes of which as many are filled, and its words.
func ScoreLine(s present.Score) app.UI {
	boxes := ""
	if s.Given {
		for i := 1; i < len(s.Steps); i++ {
			if i <= s.Value {
				boxes += "■"
			} else {
				boxes += "□"
			}
		}
	}
	return app.Div().Class("fact").Body(app.Dt().Class("fact-name").Text(words.Text(s.Name)),
		app.Dd().Class("fact-value").Body(
			app.If(boxes != "", func() app.UI {
				return app.Span().Class("score-boxes").Aria("hidden", "true").Text(words.S("%s ", boxes))
			}),
			app.Span().DataSet("val", "score."+s.ID).Text(words.Text(s.Words()))))
}
