package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// PhotoOffer is a file that was refused as a picture and may be attached as it is.
type PhotoOffer struct {
	Source int
	Name   string
}

// PhotoStrip shows the photos of a sheet. With OnAdd it also takes new ones, from the camera or from files, and takes them off.
type PhotoStrip struct {
	app.Compo

	Photos  []present.Photo
	Busy    bool     // photos are being stored
	Refused []string // photos that were not taken, and why
	Offers  []PhotoOffer
	Plain   bool // nobody is asked what a photo shows

	OnAdd    func(ctx app.Context, source int, role string) // source is the number under which the page holds the files
	OnAttach func(ctx app.Context, source int)
	OnRemove func(ctx app.Context, index int)
	OnOpen   func(ctx app.Context, index int)

	role string // of the next photos
}

var _ app.Initializer = (*PhotoStrip)(nil)

// OnInit begins with what most photos show.
func (s *PhotoStrip) OnInit() { s.role = "after" }

// Render shows pictures, what was refused, and the ways to add.
func (s *PhotoStrip) Render() app.UI {
	return app.Div().Class("photos").Body(
		app.If(s.OnAdd != nil, func() app.UI { return s.adding() }),
		app.P().Class("photo-busy").Role("status").DataSet("val", "photo-busy").Text(words.Text(s.busy())),
		app.Range(s.Refused).Slice(func(i int) app.UI { return photoRefused(s.Refused[i]) }),
		app.Range(s.Offers).Slice(func(i int) app.UI { return &photoOffer{Offer: s.Offers[i], OnAttach: s.OnAttach} }),
		app.Div().Class("photo-row").Body(app.Range(s.Photos).Slice(func(i int) app.UI {
			return &photoItem{Photo: s.Photos[i], OnOpen: s.OnOpen, OnRemove: s.OnRemove}
		})))
}

func (s *PhotoStrip) busy() string {
	if s.Busy {
		return "Storing photos …"
	}
	return ""
}

// adding are the ways to add photos.
func (s *PhotoStrip) adding() app.UI {
	choices := make([]Choice, 0, 5)
	for _, r := range present.PhotoRoles() {
		choices = append(choices, Choice{Value: r.Value, Label: r.Label})
	}
	return app.Div().Class("photo-add").Body(
		&photoInput{Act: "photo-camera", Label: "Take a photo", Camera: true, OnTaken: s.onTaken},
		&photoInput{Act: "photo-files", Label: "Choose photos", OnTaken: s.onTaken},
		app.If(!s.Plain, func() app.UI {
			return &SelectField{ID: "photo-role-next", Act: "photo-role-next", Label: "The next photo shows", Choices: choices, Selected: s.role, OnChoose: s.onRole}
		}))
}

func (s *PhotoStrip) onRole(_ app.Context, value string) { s.role = value }

func (s *PhotoStrip) onTaken(ctx app.Context, source int) {
	if s.Plain {
		s.role = ""
	}
	s.OnAdd(ctx, source, s.role)
}

func photoRefused(text string) app.UI {
	return app.Div().Class("notice", "level-caution").Role("status").DataSet("val", "photo-refused").Body(
		app.P().Class("notice-text").Body(MarkShape(MarkCaution), app.Strong().Class("word").Text(words.Text("Not taken.")), app.Text(" "), app.Span().Dir("auto").Text(words.Text(text))))
}

// photoInput is a button of the browser for files, dressed as one of ours.
type photoInput struct {
	app.Compo

	Act, Label string
	Camera     bool
	OnTaken    func(ctx app.Context, source int)
}

// CompoID keeps the two apart.
func (b *photoInput) CompoID() string { return b.Act }

// Render lays the browser's input over the label, so that it has the focus and is named.
func (b *photoInput) Render() app.UI {
	input := app.Input().Type("file").Class("photo-input").DataSet("act", b.Act).Accept("image/*").Multiple(true).OnChange(b.onChange)
	if b.Camera {
		input = input.Attr("capture", "environment")
	}
	return app.Label().Class("big", "photo-button").Body(input, app.Span().Class("big-label").Text(words.Text(b.Label)))
}

// onChange leaves the files with the page's script, which holds them under a number.
func (b *photoInput) onChange(ctx app.Context, _ app.Event) {
	photos := app.Window().Get("torchsidePhotos")
	if !photos.Truthy() {
		return
	}
	if source := photos.Call("take", ctx.JSSrc()).Int(); source != 0 && b.OnTaken != nil {
		b.OnTaken(ctx, source)
	}
}

// photoOffer asks whether a file shall be attached as it is.
type photoOffer struct {
	app.Compo

	Offer    PhotoOffer
	OnAttach func(ctx app.Context, source int)
}

// CompoID ties the button to its file.
func (o *photoOffer) CompoID() string { return "photo-offer-" + strconv.Itoa(o.Offer.Source) }

// Render says what attaching means before it can be done.
func (o *photoOffer) Render() app.UI {
	return &BigButton{Act: "photo-attach-" + strconv.Itoa(o.Offer.Source), Label: words.S("Attach as a file: %s", o.Offer.Name),
		Note: "It is kept as it is: place and camera stay in it, and it is not shown.", OnPress: o.onPress}
}

func (o *photoOffer) onPress(ctx app.Context) {
	if o.OnAttach != nil {
		o.OnAttach(ctx, o.Offer.Source)
	}
}

// photoItem is one photo of the strip.
type photoItem struct {
	app.Compo

	Photo            present.Photo
	OnOpen, OnRemove func(ctx app.Context, index int)
}

// CompoID ties the item to its picture, so that no picture passes over when one before it goes.
func (i *photoItem) CompoID() string {
	return "photo-" + i.Photo.Hash + i.Photo.Role + strconv.Itoa(i.Photo.Index)
}

// Render shows the picture and the way to take it off.
func (i *photoItem) Render() app.UI {
	n := strconv.Itoa(i.Photo.Index)
	return app.Div().Class("photo-item").DataSet("val", "photo-"+n).Body(
		&PhotoThumb{Act: "photo-open-" + n, Photo: i.Photo, OnPress: i.OnOpen},
		app.If(i.OnRemove != nil, func() app.UI {
			return &SmallButton{Act: "photo-remove-" + n, Label: "Take off", OnPress: i.onRemove}
		}))
}

func (i *photoItem) onRemove(ctx app.Context) { i.OnRemove(ctx, i.Photo.Index) }
