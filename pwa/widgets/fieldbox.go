package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// fieldBox is the frame all fields share: label, control, what was read, what is wrong.
type fieldBox struct {
	id, label, hint, help, read, err string
	choices                          []app.UI // buttons below the error
}

// render wraps the control. The read line and the error line are always there, so that they announce their changes.
func (f fieldBox) render(control app.UI) app.UI {
	class := "field"
	if f.err != "" {
		class += " field-bad"
	}
	return app.Div().Class(class).Body(
		app.Label().Class("field-label").For(f.id).Body(
			app.Span().Text(words.Text(f.label)),
			app.If(f.hint != "", func() app.UI { return app.Span().Class("field-hint").Text(words.Text(f.hint)) }),
		),
		app.If(f.help != "", func() app.UI { return app.P().Class("field-help").ID(f.id + "-help").Text(words.Text(f.help)) }),
		control,
		app.P().Class("field-read").ID(f.id+"-read").Aria("live", "polite").Text(words.Text(f.readLine())),
		app.Div().Class("field-error").ID(f.id+"-error").Aria("live", "polite").Body(
			app.If(f.err != "", func() app.UI {
				return app.P().Body(MarkShape(MarkStop), app.Span().Text(words.Text(f.err)))
			}),
		),
		app.If(len(f.choices) > 0, func() app.UI { return app.Div().Class("field-choices").Body(f.choices...) }),
	)
}

// readLine says how the text was understood; an error says so itself.
func (f fieldBox) readLine() string {
	if f.read == "" || f.err != "" {
		return ""
	}
	return words.S("Read as %s", f.read)
}

// describe points a control at its help, its read line and its error line.
func (f fieldBox) describe() string {
	ids := f.id + "-read " + f.id + "-error"
	if f.help != "" {
		return f.id + "-help " + ids
	}
	return ids
}

func (f fieldBox) invalid() string {
	if f.err != "" {
		return "true"
	}
	return "false"
}
