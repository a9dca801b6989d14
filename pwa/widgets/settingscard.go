package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// SettingsCard shows one settings card in the order it is needed at the torch: cautions, tip, pressures, flame, gas, eyes and
// rod. A tap on a number asks where it comes from.
type SettingsCard struct {
	app.Compo

	Card   present.Card
	Stale  string // why the card is not for what is typed now; empty when it is
	OnOpen func(ctx app.Context, key string)
	// Tips is the choice of tips below the tag; may be nil, or give nil.
	Tips func() app.UI
	// Flame shows the flame in place of the card's own drawing; outer gives this card's context, nil before it is mounted. May be
	// nil, or give nil.
	Flame func(outer func() *app.Context) app.UI

	ctx *app.Context
}

var _ app.Mounter = (*SettingsCard)(nil)

// OnMount keeps the card's context.
func (s *SettingsCard) OnMount(ctx app.Context) { s.ctx = &ctx }

// Open implements Opener.
func (s *SettingsCard) Open(ctx app.Context, key string) {
	if s.OnOpen != nil {
		s.OnOpen(ctx, key)
	}
}

// Render shows the parts from the top.
func (s *SettingsCard) Render() app.UI {
	c := s.Card
	return app.Section().Class("settings").Aria("label", words.Text("Settings card")).Body(
		app.P().Class("visually-hidden").Role("status").Text(words.Text(c.Summary)),
		s.stale(),
		StandingBox(c.Standing),
		WarningList(c.General),
		&TipTag{Tip: c.Tip, Opens: s},
		s.gauges(),
		s.also(),
		s.tips(),
		s.lines(),
		s.heating(),
		s.cutting(),
		s.joint(),
		s.flame(),
		s.tiles("Gas", c.Supply),
		s.tiles(workTitle(c.Work), c.Work),
	)
}

// workTitle names the part of shade, rod and flux; where there is no rod, the shade alone.
func workTitle(list []present.Number) string {
	if len(list) == 1 {
		return "Eyes"
	}
	return "Eyes and rod"
}

// also names the other tips that fit, above the choice among them.
func (s *SettingsCard) also() app.UI {
	return slot(s.Card.Tip.Also != "", func() app.UI {
		return app.P().Class("quiet").DataSet("val", "tip.also").Text(words.Text(s.Card.Tip.Also))
	})
}

func (s *SettingsCard) tips() app.UI {
	if s.Tips != nil {
		if choice := s.Tips(); choice != nil {
			return choice
		}
	}
	return app.Div()
}

func (s *SettingsCard) stale() app.UI {
	return slot(s.Stale != "", func() app.UI {
		return app.P().Class("notice", "level-check").DataSet("stale", "true").Body(
			app.Span().Class("notice-text").Body(MarkShape(MarkCheck), app.Text(" "),
				app.Strong().Class("word").Text(words.Text("Earlier card. ")), app.Span().Text(words.Text(s.Stale))))
	})
}

// gauges puts both faces side by side; cautions and checks on a set pressure stand before either, plain notes after, so that the
// pressures are on the first screen of a phone.
func (s *SettingsCard) gauges() app.UI {
	g := s.Card.Gases
	all := append(append([]present.Warning{}, g[0].Warnings...), g[1].Warnings...)
	return app.Div().Class("stack").Body(
		WarningList(append(ofLevel(all, MarkCaution), ofLevel(all, MarkCheck)...)),
		app.Div().Class("gauges").Body(GaugeFace(g[0], s), GaugeFace(g[1], s)),
		WarningList(ofLevel(all, MarkNote)),
	)
}

// lines puts the lesser numbers of both gases below the faces, oxygen left and fuel right.
func (s *SettingsCard) lines() app.UI {
	o, f := s.Card.Gases[0], s.Card.Gases[1]
	return app.Div().Class("stack").Body(
		s.pair(o.Torch, f.Torch), s.pair(o.Flow, f.Flow), s.pair(o.Minutes, f.Minutes))
}

// pair puts the same number of both gases side by side, with the warnings of both before them.
func (s *SettingsCard) pair(o, f present.Number) app.UI {
	all := append(append([]present.Warning{}, o.Warnings...), f.Warnings...)
	o.Warnings, f.Warnings = nil, nil
	return app.Div().Class("stack").Body(
		WarningList(all), app.Div().Class("pairs").Body(s.tile(o, false), s.tile(f, false)))
}

func (s *SettingsCard) flame() app.UI {
	f := s.Card.Flame
	return app.Section().Class("part").Body(
		app.H2().Class("part-title").Text(words.S("Flame: %s", f.Class)),
		WarningList(f.Warnings),
		app.P().Text(words.Text(f.Look)),
		app.Div().Class("pairs").Body(app.Range(f.Numbers()).Slice(func(i int) app.UI { return s.tile(f.Numbers()[i], false) })),
		s.flameDrawing(),
		BigLink("to-flame", "More about this flame", "/flame", Plain),
	)
}

// heating is what heating and bending add; every number has the width for its note.
func (s *SettingsCard) heating() app.UI {
	return slot(len(s.Card.Heating) > 0, func() app.UI { return s.tiles("The heat", s.Card.Heating) })
}

// cutting is what cutting adds.
func (s *SettingsCard) cutting() app.UI {
	return slot(len(s.Card.Cutting) > 0, func() app.UI { return s.tiles("The cut", s.Card.Cutting) })
}

// flameDrawing is the flame under its slider, or the card's own drawing.
func (s *SettingsCard) flameDrawing() app.UI {
	if s.Flame != nil {
		if live := s.Flame(func() *app.Context { return s.ctx }); live != nil {
			return live
		}
	}
	printed := s.Card.Flame.Printed
	return app.Div().Class("stack").Body(FlameDrawing(s.Card.Flame.Drawing),
		slot(printed != "", func() app.UI { return app.P().Class("quiet").Text(words.Text(printed)) }))
}

func (s *SettingsCard) tiles(title string, list []present.Number) app.UI {
	return app.Section().Class("part").Body(
		app.H2().Class("part-title").Text(words.Text(title)),
		app.Div().Class("pairs").Body(
			app.Range(list).Slice(func(i int) app.UI { return s.tile(list[i], i == 0) })),
	)
}

func (s *SettingsCard) tile(n present.Number, big bool) app.UI {
	return &NumberTile{Number: n, Big: big, Opens: s}
}

// joint is what brazing adds: the numbers, whose warnings stand before them, and the order of work below a tap.
func (s *SettingsCard) joint() app.UI {
	return slot(len(s.Card.Joint) > 0, func() app.UI {
		return app.Div().Class("stack").Body(s.tiles("The joint", s.Card.Joint), s.steps())
	})
}

func (s *SettingsCard) steps() app.UI {
	list := s.Card.Steps
	return app.Details().Class("fold").DataSet("val", "joint-steps").Body(
		app.Summary().Class("fold-head").DataSet("act", "joint-steps").Body(
			app.Span().Class("fold-title").Text(words.Text("Order of work")), app.Span().Class("fold-note").Text(words.Text("from cleaning to cooling")), app.Span().Class("more").Aria("hidden", "true")),
		app.Ol().Class("fold-body", "stack", "steps").Body(app.Range(list).Slice(func(i int) app.UI {
			return app.Li().Body(app.Strong().Text(words.S("%s. ", list[i].Name)), app.Text(words.Text(list[i].Text)), app.Span().Class("warning-source").Text(words.S(" Source: %s.", list[i].Source)))
		})))
}
