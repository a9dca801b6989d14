package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// verdictPaths are the signs of a verdict on a 48 × 48 grid, told apart by their outline: a ring with a tick, a square with gas
// escaping, a diamond with a question.
var verdictPaths = map[string]string{
	"tight":     `<circle cx="24" cy="24" r="20"/><path d="M14 24.500l7 7 13-14"/>`,
	"leaking":   `<path d="M5 19h22v24H5z"/><path d="M30 15l4-4M33 22h7M27 10l1-7M38 6l-2 2M42 14h-2"/>`,
	"undecided": `<path d="M24 3 45 24 24 45 3 24z"/><path d="M18.500 19.500a5.500 5.500 0 1 1 7.500 5c-1.500.7-2 1.500-2 3M24 33.500v.2"/>`,
}

// Verdict shows the word of a leak test so that it is read at arm's length, with its shape; then what to do first, the sentence and
// the numbers.
func Verdict(v present.LeakVerdict, soFar bool) app.UI {
	when := ""
	if soFar {
		when = "so far"
	}
	return app.Section().Class("verdict", "verdict-"+v.Sign).DataSet("act", "leak-verdict").TabIndex(-1).Body(
		app.H2().Class("verdict-head").Body(
			app.Span().Class("verdict-sign").Aria("hidden", "true").Body(app.Raw(`<svg viewBox="0 0 48 48" class="verdict-svg" focusable="false">`+verdictPaths[v.Sign]+`</svg>`)),
			app.Span().Class("verdict-word").DataSet("val", "leak.verdict").Text(words.Text(v.Word)),
			app.If(when != "", func() app.UI { return app.Span().Class("verdict-when").Text(words.Text(when)) }),
		),
		app.P().Class("verdict-lead").DataSet("val", "leak.lead").Text(words.Text(v.Lead)),
		WarningList(v.Warnings),
		FactList(v.Facts),
	)
}

// FactList shows facts one under the other; nothing when there are none.
func FactList(list []present.Fact) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Dl().Class("facts").Body(app.Range(list).Slice(func(i int) app.UI {
			if f := list[i]; f.Own() {
				return OwnFact(f.Name, f.Value, f.Val)
			}
			return Fact(list[i].Name, list[i].Value, list[i].Val)
		}))
	})
}

// StepList shows steps in order, each with its reason and source.
func StepList(steps []present.Step) app.UI {
	return app.Ol().Class("steps").Body(app.Range(steps).Slice(func(i int) app.UI {
		s := steps[i]
		return app.Li().Body(
			app.P().Class("step-text").Text(words.Text(s.Text)),
			app.If(s.Why != "", func() app.UI { return app.P().Class("quiet").Text(words.Text(s.Why)) }),
			app.P().Class("step-source").Text(words.S("Source: %s.", s.Source)))
	}))
}

// TrendPlot shows a plot and the same in words.
func TrendPlot(d present.Drawing) app.UI { return drawing("trend-figure", d) }

// HoseName shows the name of a line beside its colour.
func HoseName(hose present.Hose, name string) app.UI {
	return app.Span().Class("rig-line").Body(
		app.Span().Class("hose-dot", hose.Class).Aria("hidden", "true"), app.Span().Text(words.Text(name)))
}

// CountDown shows what is left of a timer in big digits, with a bar of how much has passed, in hundredths.
func CountDown(left, word string, passed int) app.UI {
	return app.Div().Class("countdown").Role("timer").Aria("live", "off").Body(
		app.P().Class("countdown-digits").DataSet("val", "timer.left").Text(words.Text(left)),
		app.P().Class("countdown-word").DataSet("val", "timer.word").Text(words.Text(word)),
		app.Progress().Class("countdown-bar").Max(100).Value(passed).Aria("label", words.Text("time passed")),
	)
}
