package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// flameSliderID is the element id of the slider; a page has one at most.
const flameSliderID = "flame-ratio"

// flameLive is the flame under the slider. While the thumb is dragged it works the flame out itself and is the only part that is
// drawn again; when the thumb rests, the state hears of it.
type flameLive struct {
	app.Compo

	Flame state.Flame
	Opt   present.Options
	Short bool // on the settings card, which shows the numbers of tip and heat itself
	// Outer gives the context of the component around this one, whose drawing a drag must not set off; nil before it is mounted.
	Outer func() *app.Context

	live state.Flame       // as dragged
	came state.Flame       // what came down last
	view present.FlameView // of shown
	made flameKey
}

// flameKey is what a view was made of.
type flameKey struct {
	flame state.Flame
	opt   present.Options
}

var (
	_ app.Initializer = (*flameLive)(nil)
	_ app.Mounter     = (*flameLive)(nil)
	_ app.Updater     = (*flameLive)(nil)
)

// OnInit takes the flame it starts with.
func (f *flameLive) OnInit() { f.live, f.came = f.Flame, f.Flame }

// OnMount puts the thumb where it belongs.
func (f *flameLive) OnMount(ctx app.Context) { f.settle(ctx) }

// OnUpdate takes a flame that changed elsewhere; one that comes again does not undo a drag.
func (f *flameLive) OnUpdate(ctx app.Context) {
	if f.Flame == f.came {
		return
	}
	f.live, f.came = f.Flame, f.Flame
	f.settle(ctx)
}

// settle writes the thumb's place once the ends of the slider are drawn: a browser would cut it to the old ones.
func (f *flameLive) settle(ctx app.Context) {
	ctx.Defer(func(app.Context) { widgets.SetSlider(flameSliderID, f.live.Question.Ratio) })
}

// Render shows the flame, the slider, and what is in the flame.
func (f *flameLive) Render() app.UI {
	if f.live.Answer == nil {
		return app.P().Class("quiet").Text(words.S("No flame: %s", f.live.Error))
	}
	v := f.shown()
	return app.Div().Class("stack").Body(
		widgets.FlameHead(v),
		f.slider(v),
		app.If(f.Short, func() app.UI { return f.use() }),
		widgets.FlameContents(v),
		app.If(!f.Short, func() app.UI { return widgets.FlameFacts(v.Facts) }),
	)
}

// shown writes the flame, or takes what was written for the same one.
func (f *flameLive) shown() present.FlameView {
	if key := (flameKey{f.live, f.Opt}); f.made != key {
		f.made = key
		f.view = present.NewFlameView(present.FlameScene{Question: f.live.Question, Work: f.live.Work, Answer: *f.live.Answer, Longest: f.live.Longest}, f.Opt)
	}
	return f.view
}

func (f *flameLive) slider(v present.FlameView) app.UI {
	s, class := f.live.Stops, string(f.live.Answer.Class)
	stop := func(name, label string, ratio float64) widgets.FlameStop {
		return widgets.FlameStop{Act: "flame-" + name, Label: label, Ratio: ratio, Here: class == name}
	}
	return &widgets.FlameSlider{ID: flameSliderID, Label: words.S("Oxygen to %s", f.live.Question.Fuel.Name()), Spoken: v.Spoken,
		Low: f.live.Low, High: f.live.High, Ratio: f.live.Question.Ratio,
		Stops:   []widgets.FlameStop{stop("carburizing", present.ClassStop(f.live.Question.Fuel), s.Carburizing), stop("neutral", "Neutral", s.Neutral), stop("oxidizing", "Oxidizing", s.Oxidizing)},
		OnSlide: f.onSlide, OnRest: f.onRest, OnPick: f.onPick}
}

// use offers the ratio to the card where it differs from the card's.
func (f *flameLive) use() app.UI {
	return app.Div().Class("summary").Body(
		app.P().Class("summary-text").Text(words.S("The card is for %s.", present.Ratio(f.live.CardRatio))),
		&widgets.SmallButton{Act: "flame-use", Label: words.S("Make it %s", present.Ratio(f.live.Question.Ratio)), OnPress: f.onUse})
}

// onSlide draws this part alone.
func (f *flameLive) onSlide(ctx app.Context, ratio float64) {
	if f.Outer != nil {
		if outer := f.Outer(); outer != nil {
			outer.PreventUpdate()
		}
	}
	f.live = f.live.At(ratio)
}

func (f *flameLive) onRest(ctx app.Context) {
	action.Post(ctx, state.FlameMoved{Ratio: f.live.Question.Ratio})
}

func (f *flameLive) onPick(ctx app.Context, ratio float64) {
	f.live = f.live.At(ratio)
	widgets.SetSlider(flameSliderID, f.live.Question.Ratio)
	f.onRest(ctx)
}

func (f *flameLive) onUse(ctx app.Context) {
	action.Post(ctx, state.SetupTyped{Field: "ratio", Text: present.RatioDigits(f.live.Question.Ratio)})
}
