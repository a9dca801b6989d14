package widgets

import (
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// DrillRow is one drill of the path: its name, how far it has come, and whether it is the next one.
type DrillRow struct {
	app.Compo

	ID, Act  string
	Group    string // heading above it; may be empty
	Name     string
	Progress present.DrillMark
	Next     bool
	OnPress  func(app.Context)

	guard pressGuard
}

// CompoID keeps the handler of one drill from passing to another.
func (r *DrillRow) CompoID() string { return "drill-row-" + r.ID }

// Render shows the row.
func (r *DrillRow) Render() app.UI {
	class := "drill-row"
	if r.Next {
		class += " drill-next"
	}
	return app.Div().Class("drill").Body(
		app.If(r.Group != "", func() app.UI { return app.H2().Class("card-title").Text(words.Text(r.Group)) }),
		app.Button().Type("button").Class(class).DataSet("act", r.Act).OnClick(r.onClick).Body(
			app.If(r.Next, func() app.UI { return app.Span().Class("drill-now").Text(words.Text("▶ Practise this next")) }),
			app.Span().Class("drill-name").Dir("auto").Text(words.Text(r.Name)),
			DrillProgress(r.Progress)))
}

func (r *DrillRow) onClick(ctx app.Context, _ app.Event) {
	if r.OnPress != nil && r.guard.allow(time.Now()) {
		r.OnPress(ctx)
	}
}

// DrillProgress shows the scale of oxide colours as far as it is run through, the colour's name, and the words.
func DrillProgress(m present.DrillMark) app.UI {
	var b strings.Builder
	b.WriteString(`<svg viewBox="0 0 104 16" class="oxide" focusable="false">`)
	for i, level := range []string{"straw", "bronze", "purple", "blue"} {
		class := "oxide-step"
		if i < m.Steps {
			class += " oxide-" + level
		}
		b.WriteString(`<path class="` + class + `" d="M` + strconv.Itoa(2+26*i) + ` 2h22v12h-22z"/>`)
	}
	b.WriteString(`</svg>`)
	return app.Span().Class("drill-progress", "drill-"+m.Level).DataSet("val", "drill-progress").Body(
		app.Span().Class("oxide-scale").Aria("hidden", "true").Body(app.Raw(b.String())),
		app.Span().Class("drill-level").Text(words.Text(m.Name)),
		app.Span().Class("drill-words").Text(words.Text(m.Words)))
}
