package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Emergency is the way to the emergency page, in the corner of every page. The browser itself follows it (data-static, see page.js), so
// it works before the program has started and after it has ended. Early puts it over the screen that is shown until then.
func Emergency(href string, early bool) app.UI {
	a := app.A().Class("emergency").Href(href).DataSet("act", "emergency").DataSet("static", "page")
	if early {
		a = a.Class("emergency-early")
	}
	return app.Nav().Aria("label", "Emergency").Body(a.Body(MarkShape(MarkStop), app.Span().Text("Emergency")))
}
