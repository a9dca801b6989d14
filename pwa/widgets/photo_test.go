package widgets_test

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
	"torchside/pwa/pwatest"
	"torchside/pwa/widgets"
)

func photo() present.Photo {
	return present.Photo{Index: 1, Hash: "whole", Thumb: "small", W: 400, H: 300, Name: "third corner", Alt: "After third corner", Role: "after", RoleName: "After", Width: "6.4 ± 0.3 mm"}
}

func TestPhotoStrip_takes_photos_only_where_it_may(t *testing.T) {
	add := func(app.Context, int, string) {}
	take := func(app.Context, int) {}
	html := pwatest.HTML(t, &widgets.PhotoStrip{Photos: []present.Photo{photo()}, OnAdd: add, OnRemove: take, OnOpen: take, Busy: true,
		Refused: []string{"letter.jpg: read a text"}, Offers: []widgets.PhotoOffer{{Source: 4, Name: "a.heic"}}})
	pwatest.Wants(t, html, `data-act="photo-camera"`, `capture="environment"`, `data-act="photo-files"`, `accept="image/*"`, "multiple", `data-act="photo-open-1"`,
		`data-act="photo-remove-1"`, `data-photo="small"`, `alt="After third corner"`, "Bead 6.4 ± 0.3 mm", "letter.jpg: read a text", `data-act="photo-attach-4"`,
		"place and camera stay in it", "Storing photos")
	html = pwatest.HTML(t, &widgets.PhotoStrip{Photos: []present.Photo{photo()}, OnOpen: take})
	pwatest.Wants(t, html, `data-act="photo-open-1"`)
	pwatest.Lacks(t, html, "photo-camera", "photo-remove-1", "Storing")
}

// A list shows small pictures only: the whole one is asked for where it is looked at.
func TestPhotoPicture_asks_for_the_small_picture_unless_it_is_looked_at(t *testing.T) {
	html := pwatest.HTML(t, app.Div().Body(widgets.PhotoPicture(photo(), false)))
	pwatest.Wants(t, html, `data-photo="small"`)
	pwatest.Lacks(t, html, `data-photo="whole"`)
	html = pwatest.HTML(t, app.Div().Body(widgets.PhotoView(photo())))
	pwatest.Wants(t, html, `data-photo="whole"`, `viewBox="0 0 400 300"`)
	plain := photo()
	plain.Plain, plain.Size = true, "4 kB"
	html = pwatest.HTML(t, app.Div().Body(widgets.PhotoView(plain)))
	pwatest.Wants(t, html, "A file of 4 kB", "place and camera")
	pwatest.Lacks(t, html, "data-photo=")
}

func TestPhotoStage_shows_marks_and_a_magnifier_for_the_point_in_hand(t *testing.T) {
	marks := [4]present.PhotoMark{{X: 10, Y: 20.5, Set: true}}
	html := pwatest.HTML(t, &widgets.PhotoStage{Photo: photo(), Marks: marks})
	pwatest.Wants(t, html, `data-x="10.00"`, `data-y="20.50"`, `data-hand="0"`, `data-places="0 10 20.5"`, `data-photo="whole"`, "mark-known")
	html = pwatest.HTML(t, &widgets.PhotoStage{Photo: photo(), Marks: marks, At: 2})
	pwatest.Lacks(t, html, "data-x=")
}

func TestPhotoNudge_has_an_arrow_for_each_way(t *testing.T) {
	html := pwatest.HTML(t, &widgets.PhotoNudge{})
	for _, way := range []string{"up", "down", "left", "right"} {
		pwatest.Wants(t, html, `data-act="photo-nudge-`+way+`"`, `aria-label="Move `+way+`"`)
	}
	if strings.Count(html, "style=") != 0 {
		t.Error("inline style")
	}
}
