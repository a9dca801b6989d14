package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// BigLink is a full-width way to another place of the app; it looks like a BigButton of the same kind.
func BigLink(act, label, href string, kind ButtonKind) app.UI {
	return app.A().Class("big", "big-"+string(kind)).DataSet("act", act).Href(href).
		Body(app.Span().Class("big-label").Text(label))
}
