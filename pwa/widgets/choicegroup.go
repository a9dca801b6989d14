package widgets

import (
	escape "html"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// Choice is one of a ChoiceGroup's answers.
type Choice struct {
	Value string
	Label string
	Note  string // small second line; may be empty
	Group string // of a long list: what stands over this choice and its neighbours of the same group; "" for none
}

// ChoiceGroup asks for one of a few answers, each a big button. They are real radio buttons, so arrow keys and screen
// readers work as people expect.
type ChoiceGroup struct {
	app.Compo

	ID       string // name of the group and its identity
	Act      string // data-act prefix: "setup-work" gives "setup-work-weld"
	Label    string
	Choices  []Choice
	Selected string
	Err      string
	OnChoose func(ctx app.Context, value string)
}

// CompoID ties the browser's checked state to one question.
func (g *ChoiceGroup) CompoID() string { return "choice-" + g.ID }

// Render shows the question and its answers.
func (g *ChoiceGroup) Render() app.UI {
	row := "choices-row"
	if g.short() {
		row += " choices-short"
	}
	return app.FieldSet().Class("choices").Body(
		app.Legend().Class("field-label").Text(words.Text(g.Label)),
		app.Div().Class(row).Body(
			app.Range(g.Choices).Slice(func(i int) app.UI { return g.choice(g.Choices[i]) })),
		app.Div().Class("field-error").Aria("live", "polite").Body(
			app.If(g.Err != "", func() app.UI {
				return app.P().Body(MarkShape(MarkStop), app.Span().Text(words.Text(g.Err)))
			})),
	)
}

// short reports whether three answers fit side by side on a phone.
func (g *ChoiceGroup) short() bool {
	for _, c := range g.Choices {
		if len([]rune(words.T(c.Label))) > 6 || c.Note != "" {
			return false
		}
	}
	return true
}

func (g *ChoiceGroup) choice(c Choice) app.UI {
	return &radio{Group: g, Name: g.ID, Act: g.Act + "-" + c.Value, Value: c.Value, Label: c.Label, Note: c.Note, Checked: c.Value == g.Selected}
}

// radio is one answer.
type radio struct {
	app.Compo

	Group                         *ChoiceGroup // and not its func, which would have each answer drawn anew; see Opener
	Name, Act, Value, Label, Note string
	Checked                       bool
}

// CompoID is the answer's own value: rows that move keep their handler and their check.
func (r *radio) CompoID() string { return r.Name + "-" + r.Value }

// Render shows a radio button inside its label.
func (r *radio) Render() app.UI {
	return app.Label().Class("choice").DataSet("act", r.Act).Body(
		app.Input().Type("radio").Class("choice-input").Name(r.Name).Attr("value", r.Value).Checked(r.Checked).
			OnChange(r.onChange),
		app.Raw(r.face()))
}

// face is what one sees of the answer, as one piece: a form has thirty of them, and each letter typed draws them all.
func (r *radio) face() string {
	face := `<span class="choice-face"><span class="choice-dot" aria-hidden="true"></span><span class="choice-words"><span class="choice-label">` +
		escape.EscapeString(words.T(r.Label)) + `</span>`
	if r.Note != "" {
		face += `<span class="choice-note">` + escape.EscapeString(words.T(r.Note)) + `</span>`
	}
	return face + `</span></span>`
}

func (r *radio) onChange(ctx app.Context, _ app.Event) {
	if r.Group.OnChoose != nil {
		r.Group.OnChoose(ctx, r.Value)
	}
}
