package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// photoLook is one photo large, over the sheet or the task it belongs to.
type photoLook struct {
	app.Compo

	Look    state.PhotoLook
	Options present.Options
}

// CompoID makes another photo a new panel.
func (l *photoLook) CompoID() string { return "look-" + strconv.Itoa(l.Look.Index) + l.Look.Photo.Hash }

// Render shows the photo, or the measuring on it.
func (l *photoLook) Render() app.UI {
	p := present.NewPhoto(l.Look.Photo, l.Look.Index, l.Options)
	body := func() []app.UI { return l.photo(p) }
	title := p.Name
	if l.Look.Measure != nil {
		title, body = "How wide is the bead?", func() []app.UI { return l.measure(p) }
	}
	return &widgets.Sheet{ID: "photo-look", Title: title, OnClose: post(state.PhotoLookClosed{}), Body: body}
}

func (l *photoLook) photo(p present.Photo) []app.UI {
	out := []app.UI{widgets.PhotoView(p)}
	if p.Width != "" {
		out = append(out, app.P().Class("quiet").Text(words.Text(perspective)), app.P().Class("photo-width").DataSet("val", "photo-bead").Text(words.S("Bead %s", p.Width)))
	}
	if !l.Look.Editable {
		return out
	}
	if !p.Plain && p.Drawing.SVG == "" {
		out = append(out, &widgets.BigButton{Act: "photo-measure", Label: "Measure the bead", Note: "A coin or a rule has to be in the picture.",
			OnPress: post(state.PhotoMeasureBegun{})})
	}
	return append(out,
		&widgets.TextField{ID: "photo-caption", Act: "photo-caption", Label: "What is to be seen", Value: p.Caption, OnInput: l.onCaption},
		&widgets.SelectField{ID: "photo-role", Act: "photo-role", Label: "This photo shows", Choices: photoRoles(), Selected: p.Role, OnChoose: l.onRole},
		&widgets.BigButton{Act: "photo-remove", Label: "Take off the sheet", Kind: widgets.Danger, OnPress: post(state.PhotoRemoved{Index: l.Look.Index})})
}

// perspective is said before and beside every width taken from a photo.
const perspective = "Taken from a photo: right only when coin and bead lie in one plane and the camera looked straight down on them. " +
	"A slanted view or a coin nearer to the camera makes the width wrong by more than the ± says."

func photoRoles() []widgets.Choice {
	var list []widgets.Choice
	for _, r := range present.PhotoRoles() {
		list = append(list, widgets.Choice{Value: r.Value, Label: r.Label})
	}
	return list
}

func (l *photoLook) onCaption(ctx app.Context, text string) {
	action.Post(ctx, state.PhotoTyped{Index: l.Look.Index, Text: text})
}

func (l *photoLook) onRole(ctx app.Context, value string) {
	action.Post(ctx, state.PhotoRoleChosen{Index: l.Look.Index, Role: value})
}

// measure asks for the points; what the number is worth stands before it.
func (l *photoLook) measure(p present.Photo) []app.UI {
	m := l.Look.Measure
	var marks [4]present.PhotoMark
	for i, q := range m.Points {
		marks[i] = present.PhotoMark{X: q.X, Y: q.Y, Set: q.Set}
	}
	out := []app.UI{
		&widgets.PhotoStage{Photo: p, Marks: marks, At: m.At, OnPick: onPointPicked},
		&widgets.ChoiceGroup{ID: "photo-point", Act: "photo-point", Label: "Point in hand", Choices: pointChoices(), Selected: strconv.Itoa(m.At), OnChoose: onPointTaken},
		&widgets.PhotoNudge{OnNudge: onPointNudged},
		&widgets.SelectField{ID: "photo-known", Act: "photo-known", Label: "The known length is", Choices: options(state.CoinOptions(l.Options.Units.IsUS())),
			Selected: m.Coin, Help: present.CoinSource, OnChoose: onKnownChosen},
	}
	if m.Coin == "" {
		out = append(out, field(m.Known, "photo", onKnownTyped, onKnownTyped))
	}
	if m.Problem != "" {
		return append(out, app.P().Class("word").Role("status").DataSet("val", "photo-problem").Text(words.Text(m.Problem)), l.leave())
	}
	return append(out,
		app.If(m.Coarse, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "photo-coarse").Text(words.Text("The ± is large: take one point after the other in hand and set it with the arrows."))
		}),
		app.P().Class("quiet").Text(words.Text(perspective)),
		app.P().Class("photo-result").Role("status").DataSet("val", "photo-result").Text(words.Text(present.BeadWidth(m.Width, m.Off, l.Options))),
		&widgets.BigButton{Act: "photo-measure-keep", Label: "Keep this width", Kind: widgets.Main, OnPress: post(state.PhotoMeasureKept{})},
		l.leave())
}

func (l *photoLook) leave() app.UI {
	return &widgets.BigButton{Act: "photo-measure-leave", Label: "Leave without a width", OnPress: post(state.PhotoMeasureLeft{})}
}

func pointChoices() []widgets.Choice {
	var list []widgets.Choice
	for i, name := range present.PhotoPointNames {
		list = append(list, widgets.Choice{Value: strconv.Itoa(i), Label: name})
	}
	return list
}

func onPointPicked(ctx app.Context, point int, x, y, grain float64) {
	action.Post(ctx, state.PhotoPointPicked{Point: point, X: x, Y: y, Grain: grain})
}

func onPointNudged(ctx app.Context, dx, dy float64) {
	action.Post(ctx, state.PhotoPointNudged{DX: dx, DY: dy})
}

func onPointTaken(ctx app.Context, value string) {
	if point, err := strconv.Atoi(value); err == nil {
		action.Post(ctx, state.PhotoPointTaken{Point: point})
	}
}

func onKnownChosen(ctx app.Context, value string) {
	action.Post(ctx, state.PhotoKnownChosen{Coin: value})
}

func onKnownTyped(ctx app.Context, _, text string) {
	action.Post(ctx, state.PhotoKnownTyped{Text: text})
}
