package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// PhotoStage is a photo on which points are picked with a finger. A magnifier, drawn by the page's script, shows the point in hand
// beside the finger.
type PhotoStage struct {
	app.Compo

	Photo  present.Photo
	Marks  [4]present.PhotoMark
	At     int // the point in hand
	OnPick func(ctx app.Context, point int, x, y, grain float64)
}

// CompoID makes another photo a new stage.
func (s *PhotoStage) CompoID() string { return "stage-" + s.Photo.Hash }

// Render lays the marks over the picture.
func (s *PhotoStage) Render() app.UI {
	m := s.Marks[s.At]
	loupe := app.Canvas().Class("photo-loupe").Width(320).Height(320).Aria("hidden", "true")
	if m.Set {
		loupe = loupe.DataSet("x", strconv.FormatFloat(m.X, 'f', 2, 64)).DataSet("y", strconv.FormatFloat(m.Y, 'f', 2, 64))
	}
	return app.Div().Class("photo-stage").DataSet("act", "photo-stage").DataSet("places", present.PhotoMarkPlaces(s.Marks)).DataSet("hand", s.At).On("photopoint", s.onPoint).Body(
		app.Img().Class("photo-img", "photo-whole").DataSet("photo", s.Photo.Hash).Alt(words.T(s.Photo.Alt)),
		app.Div().Class("photo-over").Body(app.Raw(present.NewPhotoMarks(s.Photo.W, s.Photo.H, s.Marks, s.At).SVG)),
		loupe)
}

func (s *PhotoStage) onPoint(ctx app.Context, e app.Event) {
	d := e.Get("detail")
	if s.OnPick != nil && d.Truthy() {
		s.OnPick(ctx, d.Get("point").Int(), d.Get("x").Float(), d.Get("y").Float(), d.Get("grain").Float())
	}
}

// PhotoNudge moves the point in hand: by one pixel of the photo, or by ten.
type PhotoNudge struct {
	app.Compo

	OnNudge func(ctx app.Context, dx, dy float64)

	far bool
}

// Render shows four arrows and the size of the step between them.
func (n *PhotoNudge) Render() app.UI {
	step, label := 1.0, "Step 1"
	if n.far {
		step, label = 10, "Step 10"
	}
	arrow := func(name, sign string, dx, dy float64) app.UI {
		return &photoArrow{Name: name, Sign: sign, DX: dx * step, DY: dy * step, OnNudge: n.OnNudge}
	}
	return app.Div().Class("photo-nudge").Role("group").Aria("label", words.Text("Move the point")).Body(
		arrow("up", "▲", 0, -1),
		arrow("left", "◀", -1, 0),
		app.Button().Type("button").Class("small", "nudge-step").DataSet("act", "photo-step").OnClick(n.onStep).Text(words.Text(label)),
		arrow("right", "▶", 1, 0),
		arrow("down", "▼", 0, 1))
}

func (n *PhotoNudge) onStep(app.Context, app.Event) { n.far = !n.far }

// photoArrow is one of the four. It has no tap guard: quick taps are how one moves far.
type photoArrow struct {
	app.Compo

	Name, Sign string
	DX, DY     float64
	OnNudge    func(ctx app.Context, dx, dy float64)
}

// CompoID keeps the four apart.
func (a *photoArrow) CompoID() string { return "arrow-" + a.Name }

// Render shows the arrow.
func (a *photoArrow) Render() app.UI {
	return app.Button().Type("button").Class("step", "nudge-"+a.Name).DataSet("act", "photo-nudge-"+a.Name).Aria("label", words.S("Move %s", a.Name)).
		OnClick(a.onClick).Body(app.Span().Aria("hidden", "true").Text(words.Text(a.Sign)))
}

func (a *photoArrow) onClick(ctx app.Context, _ app.Event) {
	if a.OnNudge != nil {
		a.OnNudge(ctx, a.DX, a.DY)
	}
}
