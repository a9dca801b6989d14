package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// journalCompare sets two sheets side by side: pictures, what differs, then what is the same.
type journalCompare struct {
	app.Compo

	Compare *state.SheetCompare
	Options present.Options

	made            *state.SheetCompare // what the lines were made of
	madeOf          present.Options
	different, same []present.CompareLine
}

// Render shows what differs first.
func (c *journalCompare) Render() app.UI {
	c.write()
	a, b := c.Compare.A, c.Compare.B
	return widgets.Page("What made the difference?",
		backToList(),
		&widgets.BigButton{Act: "compare-others", Label: "Compare two others", OnPress: post(state.CompareClosed{})},
		widgets.Card("", c.heading("A", a), c.heading("B", b)),
		app.If(len(a.Sheet.Photos)+len(b.Sheet.Photos) > 0, func() app.UI {
			return widgets.Card("Photos", app.Div().Class("compare-pair").Body(
				widgets.ComparePhotos("A", present.NewPhotos(a.Sheet.Photos, c.Options)), widgets.ComparePhotos("B", present.NewPhotos(b.Sheet.Photos, c.Options))))
		}),
		widgets.Card("Different", widgets.CompareLines(c.different)),
		app.If(len(c.same) > 0, func() app.UI { return widgets.Card("The same", widgets.CompareLines(c.same)) }),
	)
}

// write writes the lines, once for each pair.
func (c *journalCompare) write() {
	if c.made == c.Compare && c.madeOf == c.Options {
		return
	}
	c.made, c.madeOf = c.Compare, c.Options
	names := map[string]string{c.Compare.A.Sheet.Drill: c.Compare.A.Drill, c.Compare.B.Sheet.Drill: c.Compare.B.Drill}
	c.different, c.same = present.NewCompare(c.Compare.Lines, func(id string) string { return names[id] }, c.Options)
}

// heading names a sheet, says how it came out, and opens it.
func (c *journalCompare) heading(which string, v state.SheetView) app.UI {
	title := v.Sheet.Title
	if title == "" {
		title = present.Stamp(v.Sheet.At)
	}
	return &widgets.BigButton{Act: "compare-open-" + which, Label: words.S("%s: %s", which, title), Note: v.Overall.Words(), OnPress: post(state.SheetOpened{ID: v.ID})}
}
