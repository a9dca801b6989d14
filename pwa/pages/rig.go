package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Rig is the place of the parts: the list, or the open form of one of them.
type Rig struct {
	app.Compo

	Rig    state.Rig
	Upkeep state.Upkeep
	Region string // hose colours
	US     bool   // the US preset of units is chosen
	// AskRegion is true while nobody has said which colours the hoses have.
	AskRegion bool
}

// Render shows the form while one is open.
func (r *Rig) Render() app.UI {
	if r.Rig.Form != nil {
		return &rigForm{Form: r.Rig.Form}
	}
	return widgets.Page("What do you have?",
		app.Range(r.Rig.Unfinished).Slice(func(i int) app.UI { return unfinished(r.Rig.Unfinished[i]) }),
		r.units(),
		askRegion(r.AskRegion),
		r.sample(),
		upkeepCard(r.Upkeep),
		r.missing(),
		app.Range(r.Rig.Stops).Slice(func(i int) app.UI { return stop(r.Rig.Stops[i]) }),
		app.Range(r.Rig.Groups).Slice(func(i int) app.UI { return r.group(r.Rig.Groups[i]) }),
		r.offerSample(),
	)
}

// unfinished is a form that waits: it can be gone on with, or put away, which can be taken back.
func unfinished(u state.Unfinished) app.UI {
	return widgets.Card("", app.Div().Class("stack").DataSet("val", "unfinished").Body(
		app.P().Body(widgets.MarkShape(widgets.MarkCheck), app.Text(" "), app.Strong().Class("word").Text(words.S("Unfinished: %s", u.Title)), app.Text(words.Text(", typed and not saved."))),
		app.Div().Class("pairs").Body(
			&widgets.BigButton{Act: "rig-resume-" + u.Hook, Label: "Go on", OnPress: post(state.Resumed(u))},
			&widgets.BigButton{Act: "rig-discard-" + u.Hook, Label: "Put away", Note: "can be taken back", OnPress: post(state.Discarded(u))})))
}

// units asks first of all in which units the rig is entered: what is typed without a unit is read in them.
func (r *Rig) units() app.UI {
	return app.If(r.Rig.Empty, func() app.UI {
		return widgets.Card("", &widgets.ChoiceGroup{ID: "rig-units", Act: "rig-units", Label: "In which units do you think?", Selected: preset(r.US),
			Choices: unitChoices(), OnChoose: r.onUnits})
	})
}

func (r *Rig) onUnits(ctx app.Context, value string) { choosePreset(ctx, value) }

// sample marks the sample rig and takes it away.
func (r *Rig) sample() app.UI {
	return app.If(r.Rig.Sample, func() app.UI {
		return app.Div().Class("summary", "level-check").DataSet("notice", "sample").Body(
			widgets.MarkShape(widgets.MarkCheck),
			app.P().Class("summary-text").Text(words.Text("Sample rig: invented parts, not yours.")),
			&widgets.SmallButton{ID: "rig-sample-remove", Act: "rig-sample-remove", Label: "Remove", OnPress: post(state.SampleRemoved{})})
	})
}

func (r *Rig) offerSample() app.UI {
	return app.If(!r.Rig.Sample, func() app.UI {
		return &widgets.BigButton{Act: "rig-sample-add", Label: "Try it with a sample rig", Note: "invented parts, gone again with one tap", OnPress: post(state.SampleAdded{})}
	})
}

func (r *Rig) missing() app.UI {
	return app.If(len(r.Rig.Needs) > 0, func() app.UI {
		return widgets.Card("Still needed for a settings card", app.Div().DataSet("val", "rig-missing").Body(needList("rig", r.Rig.Needs)))
	})
}

// stop is what must not be used together; Setup has the same word for it.
func stop(text string) app.UI {
	return app.Div().Class("notice", "level-stop").DataSet("val", "rig-stop").Body(app.P().Class("notice-text").Body(
		widgets.MarkShape(widgets.MarkStop), app.Text(" "), app.Strong().Class("word").Text(words.Text("Stop. ")), app.Span().Text(words.Text(text))))
}

func (r *Rig) group(g state.Group) app.UI {
	return app.Section().Class("rig-group").Body(
		app.H2().Class("rig-title").Text(words.Text(g.Title)),
		app.Range(g.Parts).Slice(func(i int) app.UI { return r.part(g.Parts[i]) }),
		r.spares(g),
		adders(g),
	)
}

// spares are folded away: they are kept, and in nobody's way.
func (r *Rig) spares(g state.Group) app.UI {
	return app.If(len(g.Spares) > 0, func() app.UI {
		return app.Details().Class("rig-spares").Body(
			app.Summary().Class("rig-spares-head").DataSet("act", "rig-retired-"+string(g.Kind)).Text(words.S("Retired (%s)", itoa(len(g.Spares)))),
			app.Range(g.Spares).Slice(func(i int) app.UI { return r.part(g.Spares[i]) }))
	})
}

func adders(g state.Group) app.UI {
	if !g.Lined {
		return &widgets.BigButton{Act: "rig-add-" + string(g.Kind), Label: g.Add, OnPress: post(state.PartAdded{Kind: g.Kind})}
	}
	add := func(line, label string) app.UI {
		return &widgets.BigButton{Act: "rig-add-" + string(g.Kind) + "-" + line, Label: label, OnPress: post(state.PartAdded{Kind: g.Kind, Line: line})}
	}
	return app.Div().Class("pairs").Body(add(state.LineOxygen, g.AddOxygen), add(state.LineFuel, g.AddFuel))
}

func (r *Rig) part(p state.PartView) app.UI {
	return &partRow{Part: p, Hose: present.HoseFor(p.GasName, r.Region)}
}
