package widgets

import (
	escape "html"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/site"
)

// TableEntries shows entries of the bench tables one under the other. An entry is one piece of text for the browser: a table has a
// hundred, and each element would be compared with every drawing of the page.
func TableEntries(list []present.TableEntry) app.UI {
	return app.Div().Class("table-list").DataSet("val", "table-entries").Body(
		app.Range(list).Slice(func(i int) app.UI { return app.Raw(entryHTML(list[i])) }))
}

func entryHTML(e present.TableEntry) string {
	var b strings.Builder
	b.WriteString(`<article class="entry"><h3 class="entry-name">` + escape.EscapeString(words.T(e.Name)) + `</h3>`)
	if e.Table != "" {
		b.WriteString(`<p class="entry-table">` + escape.EscapeString(words.T(e.Table)) + `</p>`)
	}
	b.WriteString(swatches(e))
	if e.Differ {
		b.WriteString(`<p class="entry-differ"><span aria-hidden="true">≠ </span>Sources differ. All of them, side by side:</p>`)
	}
	b.WriteString(`<ul class="entry-values">`)
	for _, v := range e.Values {
		b.WriteString(valueHTML(v))
	}
	return b.String() + `</ul></article>`
}

func valueHTML(v present.TableValue) string {
	text := `<li class="entry-value"><span class="entry-text">` + escape.EscapeString(words.T(v.Text)) + `</span>`
	if v.When != "" {
		text += ` <span class="entry-when">` + escape.EscapeString(words.T(v.When)) + `</span>`
	}
	if v.Note != "" {
		text += `<span class="entry-note">` + escape.EscapeString(words.Capital(v.Note)) + `.</span>`
	}
	class, sign := "entry-from", ""
	if v.Memory {
		class, sign = "entry-from entry-memory", `<span aria-hidden="true">? </span>`
	}
	return text + `<span class="` + class + `">` + sign + escape.EscapeString(words.S("%s: %s", words.Capital(v.Trust), words.T(v.Source))) + `</span></li>`
}

// swatches are drawn as SVG: a style in the page is forbidden. They say in words what light they are for.
func swatches(e present.TableEntry) string {
	switch {
	case e.Dim == "":
		return ""
	case e.Day == "":
		return `<div class="swatches">` + swatch(e.Dim, "by daylight", e.Name) + `</div>`
	}
	return `<div class="swatches">` + swatch(e.Dim, "dim shop", e.Name) + swatch(e.Day, "daylight", e.Name) + `</div>`
}

func swatch(colour, light, name string) string {
	return `<figure class="swatch"><svg viewBox="0 0 120 48" class="swatch-svg" role="img" aria-label="` + escape.EscapeString(words.S("%s, %s", name, light)) +
		`" focusable="false"><rect width="120" height="48" rx="4" fill="` + escape.EscapeString(colour) + `"/></svg><figcaption>` + words.T(light) + `</figcaption></figure>`
}

// TableCaution stands before the entries it is about.
func TableCaution(h present.TableHead) app.UI {
	return app.If(h.Caution != "", func() app.UI {
		return WarningCard(present.Warning{Code: "table", Level: string(MarkCaution), Word: "Caution", Text: h.Caution, Source: h.Source})
	})
}

// BackLink leads to the place a page belongs to.
func BackLink(act, label, href string) app.UI {
	return app.Nav().Class("back").Aria("label", words.Text("Back")).Body(
		app.A().Class("back-link").DataSet("act", act).Href(site.At(href)).Body(app.Span().Aria("hidden", "true").Text("‹ "), app.Text(words.Text(label))))
}
