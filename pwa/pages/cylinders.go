package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Cylinders is the page of the cylinder log.
type Cylinders struct {
	app.Compo

	Log     state.CylinderLog
	Now     int64
	Options present.Options
}

var _ app.Mounter = (*Cylinders)(nil)

// OnMount reads the log again: a cylinder may have settled meanwhile.
func (c *Cylinders) OnMount(ctx app.Context) { action.Post(ctx, state.CylindersShown{}) }

// Render shows every cylinder of the rig; the caution stands first.
func (c *Cylinders) Render() app.UI {
	return widgets.Page("How long does the gas last?",
		cautionLine("Secure every cylinder upright, in use and in store, caps on when not in use. In store keep oxygen 20 ft (6.1 m) from fuel gases and from what burns, or behind a wall 5 ft (1.5 m) high that stands half an hour of fire.",
			"29 CFR 1910.253(b)(4)(iii)", "cylinder-caution"),
		app.If(len(c.Log.Cylinders) == 0, func() app.UI {
			return widgets.Card("", app.P().Text(words.Text("There is no cylinder in the rig yet. Add one under Rig.")), widgets.BigLink("cylinders-rig", "To the rig", "/rig", widgets.Main))
		}),
		app.Range(c.Log.Cylinders).Slice(func(i int) app.UI {
			return &cylinderCard{View: c.Log.Cylinders[i], Now: c.Now, Options: c.Options}
		}))
}

// cylinderCard is one cylinder with its log.
type cylinderCard struct {
	app.Compo

	View    state.CylinderView
	Now     int64
	Options present.Options
}

// CompoID ties the card to its cylinder, so that no typed text passes over.
func (c *cylinderCard) CompoID() string { return "cylinder-" + c.View.ID }

// Render shows how it stands, what is left, and the next reading.
func (c *cylinderCard) Render() app.UI {
	v := c.View
	return app.Section().Class("card").DataSet("val", "cylinder-"+v.GasName).Body(
		app.H2().Class("card-title").Body(widgets.HoseName(present.HoseFor(v.GasName, c.Options.Region), v.Name)),
		app.Div().Class("card-body").Body(
			app.If(v.Sample, func() app.UI {
				return app.P().Class("rig-tag", "level-check").Body(widgets.MarkShape(widgets.MarkCheck), app.Span().Text(words.Text("SAMPLE: invented")))
			}),
			c.settle(),
			app.If(v.Left != "", func() app.UI {
				return app.P().Class("pace-beats").DataSet("val", "cylinder-left").Text(words.S("%s left", v.Left))
			}),
			app.P().DataSet("val", "cylinder-forecast").Text(words.Text(v.Forecast)),
			app.Range(v.Cost).Slice(func(i int) app.UI { return app.P().Text(words.Text(v.Cost[i])) }),
			c.next(),
			c.lines()))
}

// settle says whether an acetylene cylinder may be used, before anything else of it.
func (c *cylinderCard) settle() app.UI {
	s := c.View.Settle
	if c.View.GasName != "acetylene" {
		return app.Text("")
	}
	word := map[string]string{"": "Upright since it came?", "lying": "Lying", "settling": words.S("Settling, until %s", present.Moment(s.Until)), "settled": "Settled"}[s.State]
	level := map[string]widgets.Mark{"": widgets.MarkCheck, "lying": widgets.MarkStop, "settling": widgets.MarkCaution, "settled": widgets.MarkDone}[s.State]
	return app.Div().Class("stack").DataSet("val", "cylinder-settle").Body(
		app.P().Class("level-"+string(level)).Body(widgets.MarkShape(level), app.Text(" "), app.Strong().Class("word").Text(words.Text(word))),
		app.If(s.Why != "", func() app.UI { return app.P().Text(words.Text(s.Why)) }),
		app.Div().Class("pairs").Body(
			c.event("laid", "It was laid down", ""), c.event("upright", "It stands up now", "starts its timer")))
}

func (c *cylinderCard) event(event, label, note string) app.UI {
	return &widgets.BigButton{Act: "cylinder-" + event + "-" + c.View.ID, Label: label, Note: note, Arms: event == state.LogUpright,
		OnPress: post(state.CylinderEvent{ID: c.View.ID, Event: event})}
}

// next is the next reading.
func (c *cylinderCard) next() app.UI {
	v := c.View
	body := fields(v.Fields, "cylinder-"+v.ID, c.onTyped, c.onTyped)
	return app.Div().Class("stack").Body(append(body,
		app.Div().Aria("live", "assertive").Body(app.If(v.Problem != "", func() app.UI { return stopLine(v.Problem, "cylinder-problem") })),
		&widgets.BigButton{Act: "cylinder-note-" + v.ID, Label: "Note this reading", Note: "also in the rig", OnPress: post(state.CylinderNoted{ID: v.ID})})...)
}

func (c *cylinderCard) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.CylinderTyped{ID: c.View.ID, Key: key, Text: text})
}

// lines is the log, folded: it is looked at now and then.
func (c *cylinderCard) lines() app.UI {
	list := c.View.Lines
	return app.If(len(list) > 0, func() app.UI {
		return app.Details().Class("fold").Body(
			foldHead("cylinder-log-"+c.View.ID, "Log", itoa(len(list))),
			app.Div().Class("fold-body", "stack").Body(app.Range(list).Slice(func(i int) app.UI { return &cylinderLine{Line: list[i]} })))
	})
}

// cylinderLine is one entry.
type cylinderLine struct {
	app.Compo

	Line state.CylinderLine
}

// CompoID ties the line to its entry.
func (l *cylinderLine) CompoID() string { return "cylinder-line-" + l.Line.ID }

// Render shows when, what was read, what was used and for what.
func (l *cylinderLine) Render() app.UI {
	e := l.Line
	text := map[string]string{state.LogLaid: "laid down", state.LogUpright: "stood up", state.LogReading: e.Read}[e.Event]
	if e.Used != "" {
		text += ", " + e.Used
	}
	return app.Div().Class("joint").DataSet("val", "cylinder-line").Body(
		app.P().Body(app.Strong().Text(words.S("%s ", present.Moment(e.At))), app.Span().Text(words.Text(text)), app.If(e.Note != "", func() app.UI { return app.Span().Dir("auto").Text(": " + e.Note) })),
		&widgets.SmallButton{Act: "cylinder-remove-" + e.ID, Label: "Delete", OnPress: post(state.CylinderEntryRemoved{ID: e.ID})})
}
