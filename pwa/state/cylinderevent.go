package state

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// Messages of the cylinder log.
type (
	// CylindersShown reads the log again: time has passed.
	CylindersShown struct{}
	// CylinderTyped fills in the next reading, CylinderNoted notes it with the time of now, CylinderEvent notes that it was laid down or
	// stood up, CylinderEntryRemoved deletes an entry.
	CylinderTyped        struct{ ID, Key, Text string }
	CylinderNoted        struct{ ID string }
	CylinderEvent        struct{ ID, Event string }
	CylinderEntryRemoved struct{ ID string }
)

func (CylindersShown) msg()       {}
func (CylinderTyped) msg()        {}
func (CylinderNoted) msg()        {}
func (CylinderEvent) msg()        {}
func (CylinderEntryRemoved) msg() {}

func reduceCylinders(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case CylindersShown:
		return a.cylinderViews(), nil, true
	case CylinderTyped:
		return did(a.cylinderLogTyped(m.ID, m.Key, m.Text))
	case CylinderNoted:
		return did(a.cylinderNoted(m.ID))
	case CylinderEvent:
		return did(a.cylinderEvent(m))
	case CylinderEntryRemoved:
		r, ok := a.records[storage.ID(m.ID)]
		if !ok || r.Kind != KindCylinderLog {
			return a, nil, true
		}
		return did(a.write(pending{drafts: []storage.Draft{{Seen: r, Del: true}}, undo: &Undo{Text: "The entry is deleted.", before: []storage.Record{r}}}))
	}
	return a, nil, false
}

// cylinderNoted notes a reading, and sets the cylinder's own gauge or weight to it, so that Setup reckons with it.
func (a App) cylinderNoted(id string) (App, []Effect) {
	p, ok := a.part(id)
	if !ok || p.Kind != KindCylinder {
		return a, nil
	}
	s := a.logSpecs(p)[0]
	text := a.Cylinders.texts[id][logValue]
	r := a.readLogValue(p, s, text)
	list := a.Cylinders.entries[id]
	switch {
	case r.err != "":
		return a.cylinderProblem(id, "Not noted: see the marked field. What you typed is kept."), nil
	case !r.given:
		return a.cylinderProblem(id, "Not noted: nothing typed; allowed: what the gauge or the scale shows now."), nil
	case len(list) > 0 && a.Clock.Wall <= list[len(list)-1].At:
		return a.cylinderProblem(id, "Not noted: the clock of this device stands before the last entry. Set the clock right and note it then. What you typed is kept."), nil
	}
	value := Value{SI: r.si, Typed: strings.TrimSpace(text), Unit: r.unit.Symbol()}
	e := CylinderEntry{Cylinder: id, At: a.Clock.Wall, Event: LogReading, Value: &value, Note: strings.TrimSpace(a.Cylinders.texts[id][logNote])}
	key := "gross_mass"
	if isCompressed(fill{choices: p.Choices}) {
		key = "gauge_pressure"
	}
	p = p.clone()
	if p.Values == nil {
		p.Values = map[string]Value{}
	}
	value.extra = p.Values[key].extra
	p.Values[key] = value
	body, err := p.Body()
	if err != nil {
		return a.panicked(words.S("writing a cylinder: %s", err.Error())), nil
	}
	part := storage.Draft{Seen: p.record, Kind: string(p.Kind), Schema: max(Schema, p.record.Schema), Body: body}
	return a.cylinderWrite(e, part)
}

func (a App) cylinderProblem(id, text string) App {
	problems := map[string]string{id: text}
	a.Cylinders.problems = problems
	return a.cylinderViews()
}

// cylinderEvent notes that a cylinder was laid down or stood up; standing up starts the timer of its settling.
func (a App) cylinderEvent(m CylinderEvent) (App, []Effect) {
	p, ok := a.part(m.ID)
	if !ok || m.Event != LogLaid && m.Event != LogUpright {
		return a, nil
	}
	e := CylinderEntry{Cylinder: m.ID, At: a.Clock.Wall, Event: m.Event}
	if m.Event == LogLaid {
		return a.cylinderWrite(e)
	}
	s := settleOf(p, append(slices.Clone(a.Cylinders.entries[m.ID]), e), a.Clock.Wall)
	t := Timer{Purpose: PurposeSettle, Label: a.freeTimerName(words.S("Settling: %s", a.partName(p))), State: TimerRunning, Start: a.Clock.Wall, Duration: s.Until - a.Clock.Wall}
	return a.cylinderWrite(e, t.draft())
}

// cylinderWrite writes an entry, and what changes with it; what was typed for a reading goes once that is stored.
func (a App) cylinderWrite(e CylinderEntry, more ...storage.Draft) (App, []Effect) {
	body, err := e.Body()
	if err != nil {
		return a.panicked(words.S("writing a cylinder log: %s", err.Error())), nil
	}
	drafts := append([]storage.Draft{{Kind: KindCylinderLog, Schema: Schema, Body: body}}, more...)
	return a.write(pending{drafts: drafts, then: func(a App, _ []storage.Record) (App, []Effect) {
		if e.Event != LogReading {
			return a, nil
		}
		a.Cylinders.texts = without(a.Cylinders.texts, e.Cylinder)
		return a.cylinderViews(), []Effect{KeepDraft{Key: draftLog + e.Cylinder}}
	}})
}

// settleOf is how a cylinder of dissolved acetylene stands at an instant: after it was stood up it waits for the longest of the published
// times, or twice as long as it lay.
func settleOf(p Part, list []CylinderEntry, now int64) Settle {
	if p.Choices["gas"] != string(gas.Acetylene) {
		return Settle{}
	}
	var laid, up int64
	for _, e := range list {
		switch e.Event {
		case LogLaid:
			laid, up = e.At, 0
		case LogUpright:
			up = e.At
		}
	}
	switch {
	case laid == 0 && up == 0:
		return Settle{}
	case up == 0:
		return Settle{State: "lying", Why: "It lies: not to be used. Stand it up, secure it, and say so here."}
	}
	rule := purposeOf(PurposeSettle).rules[0]
	wait, why := rule.Seconds*1000, words.S("%s (%s)", rule.Text, rule.Source)
	if twice := 2 * (up - laid); laid != 0 && twice > wait {
		wait, why = twice, words.S("twice the %s it lay (%s)", spanWords(up-laid), twiceSource)
	}
	s := Settle{State: "settled", Until: up + wait, Why: words.S("Upright long enough: %s.", why)}
	if now < s.Until {
		s.State, s.Why = "settling", words.S("Valve shut until then: %s.", why)
	}
	return s
}

// logLines makes the lines of the log, and what follows from its readings.
func (a App) logLines(p Part, list []CylinderEntry, v *CylinderView) {
	var readings []cylinder.Reading
	spec := a.logSpecs(p)[0]
	for _, e := range list {
		line := CylinderLine{ID: e.ID, At: e.At, Event: e.Event, Note: e.Note}
		if e.Value != nil {
			line.Read = words.Number(units.Format(spec.Field.Quantity, e.Value.SI, spec.unit(a.Prefs.Units), 0))
			if c, ok := a.contentsAt(p, e.Value.SI); ok {
				if n := len(readings); n > 0 {
					line.Used = a.usedText(p, float64(readings[n-1].Contents-c.Contents))
				}
				c.Day = float64(e.At-list[0].At) / dayMs
				readings = append(readings, c)
			}
		}
		v.Lines = append([]CylinderLine{line}, v.Lines...)
	}
	if len(readings) == 0 {
		v.Forecast = "Note a reading now and then: two of them, a day or more apart, tell how long the gas lasts."
		return
	}
	v.Left = a.volumeText(p, float64(readings[len(readings)-1].Contents))
	a.forecast(p, list, readings, v)
}

func (a App) usedText(p Part, used float64) string {
	if used < 0 {
		return words.S("filled or warmer: %s more", a.volumeText(p, -used))
	}
	return words.S("%s used", a.volumeText(p, used))
}

// forecast says until when the gas lasts, and what it costs.
func (a App) forecast(p Part, list []CylinderEntry, readings []cylinder.Reading, v *CylinderView) {
	f, ok, err := cylinder.NewForecast(readings, units.StandardVolume(a.reserveOf(p)))
	switch {
	case err != nil:
		v.Forecast = a.said(err)
		return
	case !ok:
		v.Forecast = "Readings a day or more apart since the last fill are needed to tell how long it lasts."
		return
	}
	last := list[0].At + int64(readings[len(readings)-1].Day*dayMs)
	day := func(days float64) string {
		if math.IsInf(days, 1) || days > 3660 {
			return "no end in sight"
		}
		return time.UnixMilli(last + int64(days*dayMs)).Format(dateLayout)
	}
	v.Forecast = words.S("Used %s in %s days. At that pace down to the reserve on %s, between %s and %s by what the readings may be off.", a.volumeText(p, f.Used.Value), short(f.Span), day(f.Days.Value), day(f.Days.Low), day(f.Days.High))
	v.Cost = a.cylinderCost(p, f)
}

// reserveOf is what is to be left in a cylinder, in std m³.
func (a App) reserveOf(p Part) float64 {
	if isCompressed(fill{choices: p.Choices}) {
		if gauge := firstOf(p.number("reserve_gauge"), a.Prefs.given(PrefOxygenReserve)); gauge != nil {
			if c, ok := a.contentsAt(p, *gauge); ok {
				return float64(c.Contents)
			}
		}
		return 0
	}
	share, full := firstOf(p.number("reserve_fraction"), a.Prefs.given(PrefFuelReserve)), p.number("full_mass")
	if share == nil || full == nil {
		return 0
	}
	return *share * *full / float64(gas.Gas(p.Choices["gas"]).StandardDensity())
}

// monthDays is the mean length of a month.
const monthDays = 365.25 / 12

// cylinderCost is what a month of this pace costs: the share of a fill that is drawn, and the rent.
func (a App) cylinderCost(p Part, f cylinder.Forecast) []string {
	refill, rent := p.number(keyFillCost), p.number(keyRent)
	var list []string
	total := 0.0
	full, _ := a.fullOf(p)
	full *= p.numberOr("count", 1)
	if refill != nil && full > 0 {
		gasCost := *refill * f.Rate.Value * monthDays / full
		total += gasCost
		list = append(list, words.S("Gas at this pace: %s a month.", a.money(gasCost)))
	}
	if rent != nil {
		total += *rent
		list = append(list, words.S("Rent: %s a month.", a.money(*rent)))
	}
	if len(list) == 2 {
		list = append(list, words.S("Together: %s a month.", a.money(total)))
	}
	return list
}

func (a App) money(v float64) string {
	return a.Prefs.Currency + words.Number(strconv.FormatFloat(v, 'f', 2, 64))
}
