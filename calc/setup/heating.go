package setup

import (
	"errors"
	"math"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/words"
)

// HeatingQuestion is what a card for heating or bending is asked besides: the piece, the zone and the heat. All numbers are SI.
type HeatingQuestion struct {
	Piece   heat.Piece
	ZoneM   float64  // 0 takes that of the bend
	TargetK float64  // 0 takes the bending heat of the metal
	AtM     *float64 // distance from the middle of the zone of something that must stay cool; nil for none
	Bend    *heat.Bend
}

// Heating is how long the flame of a card takes to heat a zone, what it burns meanwhile, and how the bend is laid out.
type Heating struct {
	TimeS   units.Band
	Never   bool // with the least of the flame's heat the zone never gets there; TimeS.High is then 0
	TargetK float64
	ZoneM   float64
	Oxygen  units.Band  // burned meanwhile, standard m³; High is 0 as that of TimeS
	Fuel    units.Band  // likewise
	Point   *heat.Point // at the distance asked for
	Bent    *heat.Bent
	Glow    []heat.Colour // what the sources call the light at the target; of steel
	Temper  []heat.Colour // what the sources call the oxide at the target; of steel
}

// Keys of what heating adds to [Card.Provenance].
const (
	KeyHeatingTime   = "heating_time_s"
	KeyHeatingTarget = "heating_target_k"
	KeyHeatingPoint  = "heating_point_k"
	KeyHeatingOxygen = "oxygen.heating_std_m3"
	KeyHeatingFuel   = "fuel.heating_std_m3"
	KeyHeatingZone   = "heating_zone_m"
	KeyBendAllowance = "bend_allowance_m"
	KeyBendCut       = "bend_developed_m"
)

// WithHeating answers what a card for heating or bending is asked besides. The card given is not changed. The error is a *Refusal.
func (c Card) WithHeating(in Input, q HeatingQuestion) (Card, error) {
	if c.Work == Bend && c.Metal == CastIron {
		return c, &Refusal{Code: "no_bend", Field: "metal", Read: "cast iron", Allowed: "a metal that bends", Why: "cast iron breaks at any heat", Source: commonPractice}
	}
	h := &Heating{}
	w := &heatingWriter{card: c.copied(), in: in, h: h}
	if no := w.bend(q.Bend); no != nil {
		return c, no
	}
	question, no := w.question(in, q)
	if no != nil {
		return c, no
	}
	r, err := heat.Compute(question)
	if err != nil {
		return c, heatingRefusal(err)
	}
	w.answer(question, r)
	w.card.Heating = h
	return w.card, nil
}

const commonPractice = "common practice, no source"

// copied is the card with its own warnings and provenance.
func (c Card) copied() Card {
	out := c
	out.Warnings = append([]Warning{}, c.Warnings...)
	out.Provenance = make(map[string]Provenance, len(c.Provenance)+8)
	for k, p := range c.Provenance {
		out.Provenance[k] = p
	}
	return out
}

// heatingWriter fills heating, warnings and provenance together.
type heatingWriter struct {
	card Card
	in   Input
	h    *Heating
}

func (w *heatingWriter) put(key string, kind Kind, source string, memory bool, b units.Band) {
	w.card.Provenance[key] = Provenance{Kind: kind, Source: source, FromMemory: memory, Low: b.Low, High: max(b.High, b.Low), Reason: b.Reason}
}

func (w *heatingWriter) bend(b *heat.Bend) *Refusal {
	if b == nil {
		return nil
	}
	bent, err := b.Work()
	if err != nil {
		return heatingRefusal(err)
	}
	w.h.Bent = &bent
	w.put(KeyBendAllowance, Computed, words.S("arc of the neutral line; where it lies: %s", bent.Allowance.Reason), false, bent.Allowance)
	w.put(KeyBendCut, Computed, words.S("straight lengths and arc of the neutral line; where it lies: %s", bent.Developed.Reason), false, bent.Developed)
	w.notes(bent.Notes, KeyBendAllowance)
	return nil
}

// question puts card and question together. What reaches the metal is the band of the card; between its ends the middle by ratio is
// taken.
func (w *heatingWriter) question(in Input, q HeatingQuestion) (heat.Input, *Refusal) {
	zone, target := q.ZoneM, q.TargetK
	if zone == 0 && w.h.Bent != nil {
		zone = math.Min(w.h.Bent.Zone, q.Piece.Length)
		w.put(KeyHeatingZone, CommonPractice, words.S("the bend and a thickness on either side, %s", commonPractice), false, units.Band{Value: zone, Low: zone, High: zone})
	}
	if target == 0 {
		working, ok := heat.WorkingRange(heat.Metal(w.card.Metal))
		if !ok {
			return heat.Input{}, &Refusal{Code: "target_missing", Field: "target_k", Read: "none", Allowed: "a temperature", Why: "there is no usual heat for this metal"}
		}
		target = float64(working.BendingHeat())
	}
	w.h.ZoneM, w.h.TargetK = zone, target
	power := w.card.PowerW
	low, high := w.card.NetHeatW.Low/power, math.Min(1, w.card.NetHeatW.High/power)
	out := heat.Input{Metal: heat.Metal(w.card.Metal), Piece: q.Piece, Zone: units.Length(zone), Target: units.Temperature(target), Start: units.Temperature(in.TemperatureK),
		Ambient: units.Temperature(in.TemperatureK), Power: units.Power(power), Efficiency: math.Sqrt(low * high), EfficiencyLow: low, EfficiencyHigh: high}
	if q.AtM != nil {
		out.At = []units.Length{units.Length(*q.AtM)}
	}
	return out, nil
}

// answer writes what was worked out.
func (w *heatingWriter) answer(in heat.Input, r heat.Result) {
	h := w.h
	h.TimeS, h.Never = r.Time, r.NeverHigh
	w.put(KeyHeatingTime, Computed, words.S("conduction along the bar, finite volumes; heat data: %s; share of the flame's heat: %s", sourceOfHeat(in.Metal), sourceNetHeat), true, r.Time)
	w.gases(r)
	if len(r.Points) > 0 {
		p := r.Points[0]
		h.Point = &p
		w.put(KeyHeatingPoint, Computed, "conduction along the bar in still air, cooling after the weakest flame of the band", true,
			units.Band{Value: float64(p.Peak), Low: float64(p.Temperature), High: float64(p.Peak), Reason: "from when the zone is hot to the highest later: heat goes on walking along the bar"})
	}
	w.target(in)
	w.notes(r.Notes, KeyHeatingTime)
}

// gases multiplies flows and time.
func (w *heatingWriter) gases(r heat.Result) {
	times := func(perSecond float64) units.Band {
		return units.Band{Value: perSecond * r.Time.Value, Low: perSecond * r.Time.Low, High: perSecond * r.Time.High, Reason: "the band of the time; the flow is that of the card"}
	}
	w.h.Oxygen, w.h.Fuel = times(w.card.Oxygen.FlowStdM3S), times(w.card.Fuel.FlowStdM3S)
	w.put(KeyHeatingOxygen, Computed, "flow × heating time", true, w.h.Oxygen)
	w.put(KeyHeatingFuel, Computed, "flow × heating time", true, w.h.Fuel)
	if r.NeverHigh {
		return // no upper end of the time, none of the cost
	}
	priced(&w.card, w.in, jobUse{oxygen: w.h.Oxygen, fuel: w.h.Fuel, why: "gas burned while heating"}, WholeJob)
}

// target tells how the heat looks, and warns of one outside the range in which the metal bends.
func (w *heatingWriter) target(in heat.Input) {
	k := units.Temperature(w.h.TargetK)
	if isSteel(w.card.Metal) {
		w.h.Glow, w.h.Temper = heat.GlowAt(k), heat.TemperAt(k)
	}
	working, ok := heat.WorkingRange(in.Metal)
	if !ok {
		return
	}
	source := working.Source
	if working.FromMemory {
		source = memoryMark(source)
	}
	w.put(KeyHeatingTarget, Handbook, source, working.FromMemory, units.Band{Low: working.Range.Low, High: working.Range.High, Reason: "the range in which the metal is bent and forged hot"})
	w.colours()
	if w.card.Work != Bend {
		return
	}
	if w.h.TargetK < working.Range.Low || w.h.TargetK > working.Range.High {
		w.warn("bending_heat", Check, words.S("Hot bends in %s are made between %s and %s.", in.Metal.Name(), temperatureText(working.Range.Low), temperatureText(working.Range.High)), source, KeyHeatingTarget)
	}
	w.warn("bending_care", Note, working.Warning, commonPractice, KeyHeatingTarget)
}

// colours puts every source's word for the colour, and where it puts it, under the target: they differ by a hundred degrees.
func (w *heatingWriter) colours() {
	p := w.card.Provenance[KeyHeatingTarget]
	for _, c := range append(append([]heat.Colour{}, w.h.Glow...), w.h.Temper...) {
		source := words.S("%s, %s", c.Name, c.Source)
		if c.High > c.Low {
			source = words.S("%s up to %s, %s", c.Name, temperatureText(c.High+zeroCelsius), c.Source)
		}
		p.Others = append(p.Others, Alternative{Kind: Handbook, Source: source, Value: c.Low + zeroCelsius})
	}
	w.card.Provenance[KeyHeatingTarget] = p
}

// zeroCelsius is 273.15 K, exact (BIPM SI brochure, 9th edition).
const zeroCelsius = 273.15

func isSteel(m Metal) bool { return m == MildSteel || m == GalvanisedSteel }

// notes turns notes of heating into warnings: what stops stands before the whole card.
func (w *heatingWriter) notes(list []heat.Note, concerns string) {
	for _, n := range list {
		source := n.Source
		if n.FromMemory {
			source = memoryMark(source)
		}
		if n.Stop {
			w.warn(n.Code, Caution, n.Text, source, "")
		} else {
			w.warn(n.Code, Note, n.Text, source, concerns)
		}
	}
}

func (w *heatingWriter) warn(code string, level Level, text, source, concerns string) {
	for _, have := range w.card.Warnings {
		if have.Code == code {
			return
		}
	}
	w.card.Warnings = append(w.card.Warnings, Warning{code, level, text, source, concerns})
}

func sourceOfHeat(m heat.Metal) string {
	p, err := heat.PropertiesOf(m)
	if err != nil {
		return ""
	}
	return p.Source
}

// heatingRefusal turns an error of heating into a refusal.
func heatingRefusal(err error) *Refusal {
	var outside *gas.RangeError
	if errors.As(err, &outside) {
		no := &Refusal{Code: "out_of_range", Field: outside.Field, Read: outside.Text(outside.Value), Allowed: words.S("%s to %s", outside.Text(outside.Low), outside.Text(outside.High)), Why: outside.Why}
		if strings.Contains(outside.Why, "larger flame") {
			no.Code, no.WaysOut = "too_weak", []string{"choose a larger tip", "heat a shorter zone", "heat to less"}
		}
		return no
	}
	return &Refusal{Code: "impossible", Field: "piece", Read: "the sizes entered", Allowed: "sizes of a piece", Why: err.Error()}
}
