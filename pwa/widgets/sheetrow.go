package widgets

import (
	escape "html"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// SheetRow is one sheet of the list: a picture, what it was, when, and how it came out. The whole row is one target.
type SheetRow struct {
	app.Compo

	ID      string
	Act     string // data-act; with Picks it picks
	Line    present.SheetLine
	Picks   bool // a tap picks the sheet instead of opening it
	Picked  bool
	Split   bool           // there are two versions
	Photo   *present.Photo // the first one; nil for none
	OnPress func(app.Context)

	guard pressGuard
}

// CompoID keeps the handler and the picture of one sheet from passing to another.
func (r *SheetRow) CompoID() string { return "sheet-row-" + r.ID }

// Render shows the row.
func (r *SheetRow) Render() app.UI {
	class := "sheet-row"
	if r.Picked {
		class += " sheet-row-picked"
	}
	b := app.Button().Type("button").Class(class).DataSet("act", r.Act).DataSet("sheet", r.ID).OnClick(r.onClick)
	if r.Picks {
		b = b.Aria("pressed", pressed(r.Picked))
	}
	if r.Photo != nil {
		return b.Body(app.Span().Class("sheet-picture").Aria("hidden", "true").Body(PhotoPicture(*r.Photo, false)), app.Raw(r.text()))
	}
	return b.Body(app.Raw(`<span class="one-piece">` + blankPicture + r.text() + `</span>`))
}

// blankPicture stands where a sheet has no photo.
const blankPicture = `<span class="sheet-picture" aria-hidden="true"><svg viewBox="0 0 24 24" class="sheet-blank" focusable="false"><path d="M5 2.5h11l3 3v16H5zM8.5 9h7M8.5 13h7M8.5 17h4"/></svg></span>`

// text is everything beside the picture, as one piece: a list of 50 rows made of single elements takes a slow phone half a second.
func (r *SheetRow) text() string {
	var b strings.Builder
	b.WriteString(`<span class="sheet-text"><span class="sheet-words"><span class="sheet-name" dir="auto">` + escape.EscapeString(r.Line.Title) + `</span>`)
	for _, line := range []struct{ open, text string }{{`<span class="sheet-what">`, r.Line.What}, {`<span class="sheet-when">`, r.when()}, {`<span class="sheet-next" dir="auto">`, r.Line.Next}} {
		if line.text != "" {
			b.WriteString(line.open + escape.EscapeString(line.text) + `</span>`)
		}
	}
	b.WriteString(`</span>` + scoreHTML(r.Line.Score) + `</span>`)
	return b.String()
}

// when is the day, the drill and what else there is to say.
func (r *SheetRow) when() string {
	parts := make([]string, 0, 4)
	if r.Picked {
		parts = append(parts, "✓ Picked")
	}
	if r.Split {
		parts = append(parts, "Two versions: choose")
	}
	if r.Line.When != "" {
		parts = append(parts, r.Line.When)
	}
	if r.Line.Drill != "" {
		parts = append(parts, words.S("Drill: %s", r.Line.Drill))
	}
	return words.Join(append(parts, r.Line.Tags...), " · ")
}

func (r *SheetRow) onClick(ctx app.Context, _ app.Event) {
	if r.OnPress != nil && r.guard.allow(time.Now()) {
		r.OnPress(ctx)
	}
}

func pressed(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

// scoreBars are the four bars of a score, each higher than the one before, on a 32 × 24 grid.
var scoreBars = [...]string{"M2 17h5v5H2z", "M10 12h5v10h-5z", "M18 7h5v15h-5z", "M26 2h5v20h-5z"}

// scoreHTML shows an overall score as number, bars and word; without a score a dash stands for the bars.
func scoreHTML(m present.ScoreMark) string {
	var b strings.Builder
	b.WriteString(`<span class="score score-` + [...]string{"none", "0", "1", "2", "3", "4"}[m.Level+1] + `">`)
	if m.Number != "" {
		b.WriteString(`<span class="score-number">` + escape.EscapeString(m.Number) + `</span>`)
	}
	b.WriteString(`<span class="score-shape" aria-hidden="true"><svg viewBox="0 0 33 24" class="score-bars" focusable="false">`)
	for i, d := range scoreBars {
		class := "score-bar"
		if i < m.Level {
			class += " score-full"
		}
		if m.Level >= 0 {
			b.WriteString(`<path class="` + class + `" d="` + d + `"/>`)
		}
	}
	if m.Level < 0 {
		b.WriteString(`<path class="score-none" d="M6 12h21"/>`)
	}
	b.WriteString(`</svg></span><span class="score-word">` + escape.EscapeString(words.T(m.Word)) + `</span></span>`)
	return b.String()
}
