package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// BenchAnswer shows an answer of a Bench page: cautions before the number they concern, then the word, the number and the facts. place
// is the data-val of the number.
func BenchAnswer(a present.BenchAnswer, place string) app.UI {
	return app.Section().Class("card", "bench-answer").Aria("live", "polite").Body(
		WarningList(a.Warnings),
		app.P().Class("bench-word").DataSet("val", place+".word").Text(words.Text(a.Word)),
		app.If(a.Number != "", func() app.UI {
			return app.P().Class("bench-number").DataSet("val", place+".number").Text(words.Text(a.Number))
		}),
		app.If(a.Under != "", func() app.UI { return app.P().Class("quiet").Text(words.Text(a.Under)) }),
		FactList(a.Facts),
		WarningList(a.Reasons),
	)
}

// ConvertedLine is one name and value of a conversion.
type ConvertedLine struct{ Name, Value string }

// Converted shows one quantity in every unit.
func Converted(title, read string, lines []ConvertedLine) app.UI {
	return Card(title,
		app.P().Class("field-read").Text(words.S("Understood as %s", read)),
		app.Dl().Class("facts", "converted").Body(app.Range(lines).Slice(func(i int) app.UI { return Fact(lines[i].Name, lines[i].Value, "") })))
}

// ToggleChip is a button that is on or off.
type ToggleChip struct {
	app.Compo

	Act, Key, Label string
	On              bool
	OnToggle        func(ctx app.Context, key string, on bool)
}

// CompoID keeps the handler of one from passing to another.
func (c *ToggleChip) CompoID() string { return c.Act }

// Render shows the label; a tick stands beside one that is on.
func (c *ToggleChip) Render() app.UI {
	label := c.Label
	if c.On {
		label = "✓ " + label
	}
	return app.Button().Type("button").Class("chip").DataSet("act", c.Act).Aria("pressed", pressed(c.On)).OnClick(c.onClick).Text(words.Text(label))
}

func (c *ToggleChip) onClick(ctx app.Context, _ app.Event) {
	if c.OnToggle != nil {
		c.OnToggle(ctx, c.Key, !c.On)
	}
}
