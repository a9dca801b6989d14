package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// NumberTile shows one number with its band and where it comes from. A tap opens the sheet that tells more. The warnings of
// the number stand before it.
type NumberTile struct {
	app.Compo

	Number present.Number
	Big    bool // one of the main numbers
	Opens  Opener
}

// Opener shows where a number comes from. Parts of a card get the card itself and not a func: go-app takes two funcs for different ones
// and would draw each part anew with every letter typed.
type Opener interface {
	Open(ctx app.Context, key string)
}

// wideNote is the length of a note, in bytes, that needs the whole width of the page to be read well.
const wideNote = 48

// longValue is the length of a value, in bytes, from which it is words rather than a number.
const longValue = 16

// CompoID keeps the handler of one number from passing to another.
func (t *NumberTile) CompoID() string { return "number-" + t.Number.Key }

// Render shows warnings, then the number.
func (t *NumberTile) Render() app.UI {
	n := t.Number
	size := "tile"
	switch {
	case len(n.Value) > longValue:
		size = "tile tile-words"
	case t.Big:
		size = "tile tile-big"
	}
	slot := "tile-slot"
	if len(n.Warnings) > 0 || len(n.Note) > wideNote || len(n.Value) > longValue {
		slot = "tile-slot tile-wide"
	}
	return app.Div().Class(slot).Body(
		WarningList(n.Warnings),
		app.Button().Type("button").Class(size).DataSet("act", "from-"+n.Key).OnClick(t.onClick).Body(
			app.Span().Class("tile-label").Text(words.Text(n.Label)),
			app.Span().Class("tile-number").DataSet("val", n.Key).Body(
				app.Span().Class("tile-value").Text(words.Text(n.Value)),
				app.If(n.Unit != "", func() app.UI { return app.Span().Class("tile-unit").Text(words.Text(" " + n.Unit)) }),
			),
			app.If(n.Band != "", func() app.UI { return app.Span().Class("tile-band").Text(words.Text(n.Band)) }),
			app.If(n.Note != "", func() app.UI { return app.Span().Class("tile-note").Text(words.Text(n.Note)) }),
			KindLabel(n.Kind, n.Memory),
		),
	)
}

func (t *NumberTile) onClick(ctx app.Context, _ app.Event) {
	if t.Opens != nil {
		t.Opens.Open(ctx, t.Number.Key)
	}
}

// kindClasses give each kind of source its own edge; the word is always there.
var kindClasses = map[string]string{
	"maker's chart": "kind-chart", "handbook": "kind-handbook", "computed": "kind-computed", "common practice": "kind-practice",
}

// KindLabel says where a number comes from, and whether it is from memory.
func KindLabel(kind string, memory bool) app.UI {
	return app.If(kind != "", func() app.UI {
		return app.Span().Class("kind", kindClasses[kind]).Text(kindText(kind, memory))
	})
}

func kindText(kind string, memory bool) string {
	if memory {
		return words.S("%s, from memory", kind)
	}
	return words.T(kind)
}
