package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/site"
)

// BigLink is a full-width way to another place of the app; it looks like a BigButton of the same kind.
func BigLink(act, label, href string, kind ButtonKind) app.UI {
	return app.A().Class("big", "big-"+string(kind)).DataSet("act", act).Href(site.At(href)).
		Body(app.Span().Class("big-label").Text(words.Text(label)))
}

// PageLink is a full-width way to a page beside the app, which the browser itself opens (data-static, see page.js).
func PageLink(act, label, href string) app.UI {
	return app.A().Class("big", "big-plain").DataSet("act", act).DataSet("static", "page").Href(site.At(href)).
		Body(app.Span().Class("big-label").Text(words.Text(label)))
}
