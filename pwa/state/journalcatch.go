package state

import (
	"encoding/json"

	"torchside/calc/journal"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// sheetCaught begins a sheet with everything the present settings card says, and freezes the card into it. A card that no longer
// answers what is typed is not caught: it would note settings nobody used.
func (a App) sheetCaught() (App, []Effect) {
	s := a.Setup
	if s.Card == nil || s.Stale {
		a.Journal.Report = "There is no settings card for what is typed in Setup, so nothing was noted."
		return a, nil
	}
	sheet, err := a.caught()
	if err != nil {
		return a.panicked(words.S("noting the settings card: %s", err.Error())), nil
	}
	a.Journal.Report = ""
	f := a.newSheetForm(sheet, storage.Record{})
	f.dirty = true // the card is worth keeping, also when nothing is typed
	return a.opening(f)
}

// caught is a new sheet from the settings card. Numbers are noted as the card shows them, because that is what the gauges were set
// to; the frozen card has them in full.
func (a App) caught() (journal.Sheet, error) {
	c, q := a.Setup.Card, a.Setup.input
	card, err := frozen(q, *c)
	if err != nil {
		return journal.Sheet{}, err
	}
	thickness := q.ThicknessM
	s := journal.Sheet{At: a.nowText(), Work: string(q.Work), Metal: string(q.Metal), Joint: string(q.Joint), ThicknessM: &thickness, Tip: c.Tip, Fuel: c.FuelName,
		Flux: c.Flux, Card: card, Typed: map[string]string{}}
	if typed := a.Setup.Typed["thickness"]; typed != "" {
		s.Typed["thickness_m"] = typed
	}
	for key, si := range map[string]float64{"oxygen_gauge_pa": c.Oxygen.RegulatorGaugePa, "fuel_gauge_pa": c.Fuel.RegulatorGaugePa, "ratio": c.Ratio} {
		s = s.WithNumber(key, a.asShown(key, si))
	}
	if c.Filler != nil && len(c.Filler.Classes) > 0 {
		s.Filler = c.Filler.Classes[0]
	}
	return s, nil
}

// asShown is a number rounded as it is shown in the owner's units.
func (a App) asShown(key string, si float64) *float64 {
	spec := sheetSpec(key)
	field := spec.Field
	field.Unit = spec.unit(a.Prefs.Units)
	if p, err := field.Parse(units.Format(field.Quantity, si, field.Unit, 0)); err == nil && !p.Empty {
		return &p.SI
	}
	return &si
}

// frozen is the card as it was, with its question and the form it is written in: {"schema":1,"in":…,"out":…}. Of the rig's tips only
// the chosen one is kept. A card that is too large all the same leaves out where its numbers come from, and says so by "cut".
func frozen(q setup.Input, c setup.Card) ([]byte, error) {
	if q.Rig != nil {
		rig := *q.Rig
		rig.Tips = nil
		for _, t := range q.Rig.Tips {
			if t.Label == c.Tip {
				rig.Tips = append(rig.Tips, t)
			}
		}
		q.Rig = &rig
	}
	card := struct {
		Schema int         `json:"schema"`
		Cut    bool        `json:"cut,omitempty"`
		In     setup.Input `json:"in"`
		Out    setup.Card  `json:"out"`
	}{Schema: Schema, In: q, Out: c}
	data, err := json.Marshal(card)
	if err != nil || len(data) <= journal.MaxCard {
		return data, err
	}
	card.Cut, card.Out.Provenance = true, nil
	return json.Marshal(card)
}
