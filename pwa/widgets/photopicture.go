package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// PhotoPicture shows the small picture of a photo, or the whole one. The page's script gives it its bytes while it is in sight.
func PhotoPicture(p present.Photo, whole bool) app.UI {
	name := p.Thumb
	if whole {
		name = p.Hash
	}
	switch {
	case p.Drawing.SVG != "":
		return app.Div().Class("photo-frame").Body(app.Raw(p.Drawing.SVG))
	case p.Plain || name == "":
		return app.Div().Class("photo-frame", "photo-file").Body(app.Span().Class("photo-word").Text(words.Text("File")))
	}
	return app.Div().Class("photo-frame").Body(
		app.Img().Class("photo-img").DataSet("photo", name).Alt(words.T(p.Alt)),
		app.Span().Class("photo-word").Text(words.Text("Not on this device")))
}

// PhotoThumb is one small picture to tap.
type PhotoThumb struct {
	app.Compo

	Act     string // data-act; also the identity
	Photo   present.Photo
	OnPress func(ctx app.Context, index int)
}

// CompoID keeps the handler of one photo from passing to another.
func (t *PhotoThumb) CompoID() string { return "thumb-" + t.Act + t.Photo.Thumb }

// Render shows the picture, what it shows and its measured width.
func (t *PhotoThumb) Render() app.UI {
	p := t.Photo
	return app.Button().Type("button").Class("photo-thumb").DataSet("act", t.Act).OnClick(t.onClick).Body(
		PhotoPicture(p, false),
		app.Span().Class("photo-name").Body(
			app.If(p.RoleName != "", func() app.UI { return app.Strong().Class("word").Text(words.Text(p.RoleName)) }),
			app.Span().Class("photo-caption").Text(p.Name)),
		app.If(p.Width != "", func() app.UI { return app.Span().Class("photo-width").Text(words.S("Bead %s", p.Width)) }))
}

func (t *PhotoThumb) onClick(ctx app.Context, _ app.Event) {
	if t.OnPress != nil {
		t.OnPress(ctx, t.Photo.Index)
	}
}

// PhotoView shows one photo as large as the window allows.
func PhotoView(p present.Photo) app.UI {
	if p.Plain || p.Drawing.SVG != "" {
		return app.Div().Class("photo-large").Body(PhotoPicture(p, true), app.If(p.Plain, func() app.UI {
			return app.P().Class("quiet").Text(words.S("A file of %s. It is kept as it is, with place and camera if they were in it; this app cannot show it.", p.Size))
		}))
	}
	return app.Div().Class("photo-stage").DataSet("val", "photo-large").Body(
		app.Raw(photoRoom(p)),
		app.Img().Class("photo-img", "photo-whole").DataSet("photo", p.Hash).Alt(words.T(p.Alt)),
		app.Span().Class("photo-word").Text(words.Text("Not on this device")))
}

// photoRoom is an empty drawing of the photo's shape: it keeps the room while the bytes are on their way, so that nothing below
// slips away under a finger.
func photoRoom(p present.Photo) string {
	return `<svg class="photo-room" viewBox="0 0 ` + strconv.Itoa(max(p.W, 1)) + " " + strconv.Itoa(max(p.H, 1)) + `" aria-hidden="true"></svg>`
}
