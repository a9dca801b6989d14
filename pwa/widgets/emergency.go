package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/site"
)

// EmergencyPath is the address of the emergency page.
const EmergencyPath = "/emergency"

// Emergency is the way to the emergency page, in the corner of every page. The browser itself follows it (data-static, see page.js), so
// it works before the program has started and after it has ended. Early puts it over the screen that is shown until then.
func Emergency(early bool) app.UI {
	a := emergencyLink("emergency").Class("emergency")
	if early {
		a = a.Class("emergency-early")
	}
	return app.Nav().Aria("label", words.Text("Emergency")).Body(a)
}

// emergencyLink is the link itself; a panel over the page, which keeps the corner out of reach, has one of its own.
func emergencyLink(act string) app.HTMLA {
	return app.A().Href(site.At(EmergencyPath)).DataSet("act", act).DataSet("static", "page").Body(MarkShape(MarkStop), app.Span().Text(words.Text("Emergency")))
}
