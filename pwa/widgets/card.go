package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// Page is the column of one place. Its heading is the question the page answers.
func Page(question string, body ...app.UI) app.UI {
	return app.Main().Class("page").Body(append([]app.UI{Question(question)}, body...)...)
}

// Question is the heading of a page, for one that lays out itself.
func Question(text string) app.UI {
	return app.H1().Class("question").ID("question").TabIndex(-1).Text(words.Text(text))
}

// Card is a framed part of a page; an empty title leaves the heading out.
func Card(title string, body ...app.UI) app.UI {
	return app.Section().Class("card").Body(
		app.If(title != "", func() app.UI { return app.H2().Class("card-title").Text(words.Text(title)) }),
		app.Div().Class("card-body").Body(body...),
	)
}

// Actions stacks the buttons and links of a page or card.
func Actions(body ...app.UI) app.UI { return app.Div().Class("actions").Body(body...) }

// Fact is one line of a list of facts: a name and what is known about it. val is the data-val hook; it may be empty.
func Fact(name, value, val string) app.UI { return factLine(name, words.T(value), val) }

// OwnFact is a Fact whose value is the owner's own text.
func OwnFact(name, value, val string) app.UI { return factLine(name, value, val) }

func factLine(name, value, val string) app.UI {
	d := app.Dd().Class("fact-value").Dir("auto").Text(value)
	if val != "" {
		d = d.DataSet("val", val)
	}
	return app.Div().Class("fact").Body(app.Dt().Class("fact-name").Text(words.Text(name)), d)
}

// Facts frames Fact lines.
func Facts(lines ...app.UI) app.UI { return app.Dl().Class("facts").Body(lines...) }
