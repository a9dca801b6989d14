package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
)

// Setup is the place where the work is named and the settings card is read. Until the question is complete it shows the form;
// then the question becomes one line, so that the answer is what is seen first.
type Setup struct {
	app.Compo

	App state.App

	editing bool // the form stays open until it is put away
	moreAsk bool // the lesser questions are open
	cache   present.Cache
	ctx     *app.Context // of the page: it outlives the buttons in it
}

var _ app.Mounter = (*Setup)(nil)

// OnMount keeps the page's context.
func (s *Setup) OnMount(ctx app.Context) { s.ctx = &ctx }

// options are the owner's choices that change how a card is shown.
func (s *Setup) options() present.Options {
	return present.Options{Units: s.App.Prefs.Units, Region: s.App.Prefs.Region, Currency: s.App.Prefs.Currency}
}

// answered reports whether the card answers what is typed now.
func (s *Setup) answered() bool {
	return s.App.Setup.Card != nil && !s.App.Setup.Stale && s.App.Setup.Refusal == nil && len(s.App.Setup.Errors) == 0
}

// refused reports whether a refusal is to be shown. A rig that lacks parts has its own words.
func (s *Setup) refused() bool { return s.App.Setup.Refusal != nil && len(s.App.Rig.Missing) == 0 }

// folded reports whether the question is shown as one line.
func (s *Setup) folded() bool { return !s.editing && s.answered() }

// staleWords say why a card is shown that does not belong to what is typed.
func (s *Setup) staleWords() string {
	if s.App.Setup.Card == nil || s.answered() {
		return ""
	}
	q := s.App.Setup.For
	joint := q.Joint
	if !present.HasJoint(q.Work) {
		joint = ""
	}
	work, metal := q.Subject()
	return words.S("It is for: %s. It is not for what is typed now.", present.Question(work, metal, q.Thickness, joint))
}

func (s *Setup) onEdit(app.Context) {
	s.editing = true
	s.focus("setup-thickness")
}

// onDone puts the form away and brings the card to the top.
func (s *Setup) onDone(app.Context) {
	s.editing = false
	app.Window().Call("scrollTo", 0, 0)
	s.focus("setup-edit")
}

// onWhy brings the refusal into view.
func (s *Setup) onWhy(ctx app.Context) { ctx.ScrollTo("setup-refusal") }

// onThickness and its like keep the form open while somebody is at it: a card appears with the first digit.
func (s *Setup) onThickness(ctx app.Context, text string)   { s.typed(ctx, "thickness", text) }
func (s *Setup) onTemperature(ctx app.Context, text string) { s.typed(ctx, "temperature", text) }
func (s *Setup) onAltitude(ctx app.Context, text string)    { s.typed(ctx, "altitude", text) }
func (s *Setup) onRatio(ctx app.Context, text string)       { s.typed(ctx, "ratio", text) }

func (s *Setup) typed(ctx app.Context, field, text string) {
	s.editing = true
	action.Post(ctx, state.SetupTyped{Field: field, Text: text})
}

func (s *Setup) onWork(ctx app.Context, value string)  { s.chosen(ctx, "work", value) }
func (s *Setup) onMetal(ctx app.Context, value string) { s.chosen(ctx, "metal", value) }
func (s *Setup) onJoint(ctx app.Context, value string) { s.chosen(ctx, "joint", value) }

func (s *Setup) chosen(ctx app.Context, field, value string) {
	s.editing = true
	action.Post(ctx, state.SetupChosen{Field: field, Value: value})
}

func (s *Setup) onMore(app.Context) { s.moreAsk = !s.moreAsk }

func (s *Setup) onOpen(ctx app.Context, key string) {
	action.Post(ctx, state.ProvenanceOpened{Key: key})
}

func (s *Setup) onClose(ctx app.Context) { action.Post(ctx, state.ProvenanceClosed{}) }

func (s *Setup) onSample(ctx app.Context) { action.Post(ctx, state.SampleAdded{}) }

func (s *Setup) onSampleRemoved(ctx app.Context) { action.Post(ctx, state.SampleRemoved{}) }

// focus moves the focus once the page is drawn: the control that had it is gone by then.
func (s *Setup) focus(id string) {
	if s.ctx == nil {
		return
	}
	s.ctx.Defer(func(app.Context) {
		if e := app.Window().GetElementByID(id); e.Truthy() {
			e.Call("focus", map[string]any{"preventScroll": true})
		}
	})
}
