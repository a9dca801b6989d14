package widgets

import (
	escape "html"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// SelectField asks for one of many answers with the phone's own list. For few answers use a ChoiceGroup.
type SelectField struct {
	app.Compo

	ID       string
	Act      string // data-act
	Label    string
	Hint     string
	Help     string
	Choices  []Choice
	Selected string
	Err      string
	OnChoose func(ctx app.Context, value string)
}

// CompoID ties the browser's selection to one question.
func (s *SelectField) CompoID() string { return "select-" + s.ID }

// Render shows label and list.
func (s *SelectField) Render() app.UI {
	box := fieldBox{id: s.ID, label: s.Label, hint: s.Hint, help: s.Help, err: s.Err}
	return box.render(app.Select().ID(s.ID).Class("input", "select").DataSet("act", s.Act).
		Aria("describedby", box.describe()).Aria("invalid", box.invalid()).OnChange(s.onChange).Body(
		s.list()...))
}

// list are the choices. Those of a group are one piece: hundreds of months, each an element to be compared with every drawing of the
// page, would keep a slow phone busy.
func (s *SelectField) list() []app.UI {
	var list []app.UI
	for i := 0; i < len(s.Choices); {
		c := s.Choices[i]
		if c.Group == "" {
			list = append(list, app.Option().Attr("value", c.Value).Selected(c.Value == s.Selected).Text(words.Text(c.Label)))
			i++
			continue
		}
		end := i
		for end < len(s.Choices) && s.Choices[end].Group == c.Group {
			end++
		}
		list = append(list, app.Raw(groupHTML(s.Choices[i:end], s.Selected)))
		i = end
	}
	return list
}

func groupHTML(choices []Choice, selected string) string {
	var b strings.Builder
	b.WriteString(`<optgroup label="` + escape.EscapeString(words.T(choices[0].Group)) + `">`)
	for _, c := range choices {
		b.WriteString(`<option value="` + escape.EscapeString(c.Value) + `"`)
		if c.Value == selected {
			b.WriteString(words.T(` selected`))
		}
		b.WriteString(`>` + escape.EscapeString(words.T(c.Label)) + `</option>`)
	}
	return b.String() + `</optgroup>`
}

// onChange goes by position: an empty value would be no attribute, and the browser would then report the label.
func (s *SelectField) onChange(ctx app.Context, _ app.Event) {
	s.choose(ctx, ctx.JSSrc().Get("selectedIndex").Int())
}

func (s *SelectField) choose(ctx app.Context, i int) {
	if s.OnChoose != nil && i >= 0 && i < len(s.Choices) {
		s.OnChoose(ctx, s.Choices[i].Value)
	}
}
