package widgets

import (
	escape "html"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// ChipGroup is one choice as chips, of which at most one is on. A tap on the one that is on takes it away. Unlike a ChoiceGroup it does
// nothing before a chip is pressed, so that a choice that begins the page anew is not made by an arrow key on its way to another (WCAG 2.2, 3.2.2).
type ChipGroup struct {
	app.Compo

	Act      string // data-act prefix, and identity: "filter-work" gives "filter-work-weld"
	Label    string
	Choices  []Choice
	Selected string
	Always   bool                                // one is always on: a tap on it changes nothing
	OnChoose func(ctx app.Context, value string) // "" takes the choice away
}

// CompoID ties the chips to one question.
func (g *ChipGroup) CompoID() string { return "chips-" + g.Act }

// Render shows the question and its chips.
func (g *ChipGroup) Render() app.UI {
	return app.Div().Class("chips").Role("group").Aria("label", words.Text(g.Label)).Body(
		app.P().Class("field-label").Aria("hidden", "true").Text(words.Text(g.Label)),
		app.Div().Class("chips-row").Body(app.Range(g.Choices).Slice(func(i int) app.UI {
			c := g.Choices[i]
			return &chip{Act: g.Act + "-" + c.Value, Value: c.Value, Label: c.Label, Note: c.Note, On: c.Value == g.Selected, Always: g.Always, OnChoose: g.OnChoose}
		})))
}

type chip struct {
	app.Compo

	Act, Value  string
	Label, Note string
	On, Always  bool
	OnChoose    func(ctx app.Context, value string)
}

// CompoID keeps the handler of one chip from passing to another.
func (c *chip) CompoID() string { return c.Act }

// Render shows the label and the count; a tick stands beside one that is on.
func (c *chip) Render() app.UI {
	return app.Button().Type("button").Class("chip").DataSet("act", c.Act).Aria("pressed", pressed(c.On)).OnClick(c.onClick).Body(app.Raw(c.text()))
}

// text is label and count as one piece: there are fifty chips to be compared with every drawing of the page.
func (c *chip) text() string {
	label := c.Label
	if c.On {
		label = "✓ " + label
	}
	text := `<span class="one-piece"><span class="chip-label" dir="auto">` + escape.EscapeString(words.T(label)) + `</span>`
	if c.Note != "" {
		text += `<span class="chip-note">` + escape.EscapeString(words.T(c.Note)) + `</span>`
	}
	return text + `</span>`
}

func (c *chip) onClick(ctx app.Context, _ app.Event) {
	if c.OnChoose == nil || c.On && c.Always {
		return
	}
	if c.On {
		c.OnChoose(ctx, "")
		return
	}
	c.OnChoose(ctx, c.Value)
}
