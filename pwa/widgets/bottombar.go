package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/site"
)

// Place is one entry of the bottom bar.
type Place struct {
	Path  string
	Label string
	Act   string // data-act: "nav-rig"
	Badge int    // what waits there for a choice; 0 shows nothing
	Due   int    // upkeep that is due there; 0 shows nothing
	Icon  string // name of a place drawing: "setup", "leak", "journal", "rig", "bench"
}

// placePaths are drawn by us on a 24 × 24 grid: a dial, a bubble on a pipe, a sheet with lines, two cylinders, a bench.
var placePaths = map[string]string{
	"setup":   `<path d="M4 18a9 9 0 1 1 16 0M12 14l4-5M4.5 12.5l1.6.5M12 5v2M19.5 12.5l-1.6.5"/>`,
	"leak":    `<path d="M2 17h20M2 21h20M12 17v-3"/><circle cx="12" cy="9.5" r="4.5"/><path d="M17.5 4.5v.1"/>`,
	"journal": `<path d="M5 2.5h11l3 3v16H5zM8.5 9h7M8.5 13h7M8.5 17h4"/>`,
	"rig":     `<path d="M5 21.5V9a3 3 0 0 1 6 0v12.5zM14 21.5V11a2.5 2.5 0 0 1 5 0v10.5zM8 6V3M16.5 8.5V5.5M6.500 3h3M15 5.5h3"/>`,
	"bench":   `<path d="M2 9h20v4H2zM4.5 13v8.5M19.5 13v8.5M8 9V4h6v5M4.5 17h15"/>`,
}

// BottomBar leads to the five places from everywhere. It marks the place that the current page belongs to.
func BottomBar(places []Place, current, place string) app.UI {
	return app.Nav().Class("bar").Aria("label", words.Text("Places")).Body(
		app.Range(places).Slice(func(i int) app.UI { return placeLink(places[i], current, place) }))
}

func placeLink(p Place, current, place string) app.UI {
	a := app.A().Class("bar-link").Href(site.At(p.Path)).DataSet("act", p.Act)
	switch p.Path {
	case current:
		a = a.Aria("current", "page")
	case place:
		a = a.Aria("current", "location")
	}
	return a.Body(
		app.Span().Class("bar-icon").Aria("hidden", "true").Body(
			app.Raw(`<svg viewBox="0 0 24 24" class="bar-svg" focusable="false">`+placePaths[p.Icon]+`</svg>`)),
		app.Span().Class("bar-label").Text(words.Short(p.Label)),
		badge(p.Badge, "bar-badge", "badge-"+p.Icon, "◆", "changed in two places"),
		badge(p.Due, "bar-due", "due-"+p.Icon, "▲", "due"))
}

// badge is a count at a place, with a shape for the eye and words for the ear.
func badge(n int, class, val, shape, said string) app.UI {
	return app.If(n > 0, func() app.UI {
		return app.Span().Class(class).DataSet("val", val).Body(
			app.Span().Aria("hidden", "true").Text(words.Text(shape+strconv.Itoa(n))),
			app.Span().Class("visually-hidden").Text(words.S(", %s %s", strconv.Itoa(n), said)))
	})
}
