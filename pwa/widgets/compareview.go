package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// compareSigns are drawn on a 24 × 24 grid: an equals sign, one struck through, a half-filled disc's outline.
var compareSigns = map[string]string{
	"same":      `<path d="M4 9h16M4 15h16"/>`,
	"different": `<path d="M4 9h16M4 15h16M17 3 7 21"/>`,
	"one":       `<circle cx="12" cy="12" r="9"/><path d="M12 3v18"/>`,
}

// CompareLines shows fields of two sheets, each with both values under one name.
func CompareLines(lines []present.CompareLine) app.UI {
	return app.Div().Class("compare-lines").Body(app.Range(lines).Slice(func(i int) app.UI { return compareField(lines[i]) }))
}

func compareField(l present.CompareLine) app.UI {
	return app.Div().Class("compare-field", "compare-"+l.Sign).DataSet("val", "compare-"+l.Field).Body(
		app.P().Class("compare-name").Body(
			app.Span().Class("word").Text(words.Text(l.Name)),
			app.Span().Class("compare-mark").Body(
				app.Span().Class("mark").Aria("hidden", "true").Body(app.Raw(`<svg viewBox="0 0 24 24" class="mark-svg" focusable="false">`+compareSigns[l.Sign]+`</svg>`)),
				app.Span().Text(words.Text(l.Word)),
				app.If(l.Change != "", func() app.UI { return app.Span().Class("compare-change").Text(words.Text(l.Change)) }))),
		app.Div().Class("compare-pair").Body(compareValue("A", l.A), compareValue("B", l.B)))
}

func compareValue(which, text string) app.UI {
	return app.P().Class("compare-value").Body(
		app.Span().Class("compare-which").Text(words.Text(which)), app.Span().Class("compare-text").Dir("auto").Text(words.Text(text)))
}

// ComparePhotos shows the photos of one of two sheets below its letter.
func ComparePhotos(which string, photos []present.Photo) app.UI {
	return app.Div().Class("compare-photos").Body(
		app.P().Class("compare-which").Text(words.Text(which)),
		app.If(len(photos) == 0, func() app.UI { return app.P().Class("quiet").Text(words.Text("No photo")) }),
		app.Range(photos).Slice(func(i int) app.UI {
			p := photos[i]
			return app.Div().Class("compare-photo").Body(PhotoPicture(p, false), app.P().Class("quiet").Text(words.Text(p.RoleName)))
		}))
}
