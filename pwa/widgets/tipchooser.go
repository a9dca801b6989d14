package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// TipChooser asks which tip is to be fitted, folded away until it is wanted.
func TipChooser(l present.TipList, onChoose func(app.Context, string)) app.UI {
	return Drawer("setup-tips", "Choose the tip", TipChoices(l, onChoose))
}

// TipChoices are the tips that fit, and below them those that do not, with the reason.
func TipChoices(l present.TipList, onChoose func(app.Context, string)) app.UI {
	list := make([]Choice, len(l.Choices))
	for i, c := range l.Choices {
		list[i] = Choice{Value: c.Value, Label: c.Title, Note: c.Note}
	}
	return app.Div().Class("stack").Body(
		&ChoiceGroup{ID: "setup-tip", Act: "setup-tip", Label: "Tip to fit", Choices: list, Selected: l.Selected, OnChoose: onChoose},
		app.If(len(l.Unfit) > 0, func() app.UI {
			return app.Div().DataSet("val", "tips.unfit").Body(
				app.P().Class("field-label").Text(words.Text("These do not fit")),
				app.Dl().Class("facts").Body(app.Range(l.Unfit).Slice(func(i int) app.UI { return Fact(l.Unfit[i].Name, l.Unfit[i].Text, "") })))
		}))
}
