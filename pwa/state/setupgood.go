package state

import (
	"maps"

	"torchside/calc/setup"
	"torchside/calc/units"
)

// Asked is a question of Setup as it was typed and chosen.
type Asked struct {
	Work, Metal, Joint string // JSON words of calc/setup
	Tip                string
	Thickness          string // as understood

	texts map[string]string // typed, by the keys of Setup.Typed
	units units.System      // the units the texts were typed under
}

// asked is the question typed now, which has been understood.
func (a App) asked() Asked {
	s := a.Setup
	return Asked{Work: s.Work, Metal: s.Metal, Joint: s.Joint, Tip: s.TipLabel, Thickness: a.understood("thickness"), texts: maps.Clone(s.Typed), units: a.Prefs.Units}
}

// understood is what a typed text of Setup was read as.
func (a App) understood(key string) string {
	for _, spec := range setupSpecs {
		if spec.Key != key {
			continue
		}
		if p, err := a.setupField(spec).Parse(a.Setup.Typed[key]); err == nil {
			return p.Read
		}
	}
	return a.Setup.Typed[key]
}

// draft is the question as it is kept in the browser; nil for none.
func (q Asked) draft() *Draft {
	if q.texts == nil {
		return nil
	}
	return &Draft{Texts: maps.Clone(q.texts), Units: textOf(q.units),
		Choices: map[string]string{"work": q.Work, "metal": q.Metal, "joint": q.Joint, "tip": q.Tip}}
}

// askedOf reads a kept question; the zero Asked where there is none or its units are not known here.
func askedOf(d *Draft) Asked {
	var system units.System
	if d == nil || system.UnmarshalText([]byte(d.Units)) != nil {
		return Asked{}
	}
	return Asked{Work: d.Choices["work"], Metal: d.Choices["metal"], Joint: d.Choices["joint"], Tip: d.Choices["tip"],
		texts: maps.Clone(d.Texts), units: system}
}

// put makes a question the one that is typed now.
func (a App) put(q Asked) App {
	a.Setup.Work, a.Setup.Metal, a.Setup.Joint, a.Setup.TipLabel = q.Work, q.Metal, q.Joint, q.Tip
	a.Setup.Typed, a.Prefs.Units = maps.Clone(q.texts), q.units
	return a
}

// earlier answers the last question that had a card, when nothing has answered one yet: so the card is there again after a
// reload, although what is typed now has none.
func (a App) earlier() App {
	if a.Setup.Card != nil || a.Setup.For.texts == nil || !a.Ready {
		return a
	}
	then := a.put(a.Setup.For)
	then.Setup.For = Asked{}
	then = then.carded()
	if then.Setup.Card == nil {
		return a // the rig has changed since; the question is kept for when it fits again
	}
	s := &a.Setup
	s.Card, s.For, s.Stale = then.Setup.Card, then.Setup.For, true
	s.flame, s.input = then.Setup.flame, then.Setup.input
	return a
}

// took notes that a card answers the question typed now.
func (a App) took(card setup.Card, question setup.Input) App {
	s := &a.Setup
	s.Card, s.Stale, s.For = &card, false, a.asked()
	s.flame, s.input = card.Flame(question), question
	return a
}
