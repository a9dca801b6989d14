package cylinder

import (
	"fmt"

	"torchside/calc/units"
)

// Note is one thing to know beside a number.
type Note struct {
	Code   string // stable name
	Text   string // for a person
	Source string
	Trust  Trust
	Stop   bool // true: read before anything else is done
}

// StorageCeiling is 137 °F (58 °C): TC 9-237, storage ceiling of acetylene cylinders in tropical climates (row ACE-T1).
const StorageCeiling units.Temperature = (137-32)/1.8 + 273.15

// notes collects what there is to know, cautions first.
func (a Acetylene) notes(c AcetyleneContents) []Note {
	var notes []Note
	if a.Temperature > StorageCeiling {
		notes = append(notes, Note{"acetylene_hot", "The cylinder is warmer than 58 °C (137 °F), the ceiling for storing acetylene: do not use it. Move away, cool it with water from a distance, ask the supplier.", "TC 9-237", TrustRead, true})
	}
	if c.ColdFactor < 1 {
		notes = append(notes, Note{"acetylene_cold", fmt.Sprintf("A cold cylinder gives gas more slowly: the limits are cut to %.0f %%. Warm it in a warm room, never with a flame.", c.ColdFactor*100), "common practice, no source; the size of the cut is from memory of no rule", TrustMemory, false})
	}
	notes = append(notes, Note{"withdrawal_rule", fmt.Sprintf("Limits are %s of the present contents an hour in intermittent use, %s in continuous use.", share(c.Withdrawal.Intermittent), share(c.Withdrawal.Continuous)), c.Withdrawal.Source, c.Withdrawal.Trust, false})
	if limit := FlatWithdrawal() * units.StandardFlow(c.ColdFactor); c.Intermittent >= limit || c.Continuous >= limit {
		notes = append(notes, Note{"withdrawal_flat", "Capped at 50 ft³/h from one cylinder, whatever its size.", flatSource, TrustRead, false})
	}
	return append(notes, a.contentsNotes(c)...)
}

// contentsNotes collects what there is to know about weight and pressure.
func (a Acetylene) contentsNotes(c AcetyleneContents) []Note {
	var notes []Note
	if c.FractionFull.Value > 1 {
		notes = append(notes, Note{"acetylene_overfull", "The cylinder weighs more than full: check gross, stamped tare and full charge; if they are right, return it.", "weights entered", TrustOwn, true})
	}
	switch {
	case c.ByPressure != nil && (c.ByPressure.Low > c.FractionFull.High || c.ByPressure.High < c.FractionFull.Low):
		notes = append(notes, Note{"weight_and_pressure_disagree", fmt.Sprintf("The scale says %.2f of full, the gauge suggests %.2f to %.2f. Trust the scale once tare and gauge have been read again; a cylinder just used is cold and reads low, lost solvent makes it read high.", c.FractionFull.Value, c.ByPressure.Low, c.ByPressure.High), "models of acetylene in acetone, ±0.2 of full", TrustOwn, false})
	case a.Gauge != nil && c.ByPressure == nil:
		notes = append(notes, Note{"no_pressure_estimate", fmt.Sprintf("No estimate by pressure at %.0f °C: %s.", float64(a.Temperature)-273.15, whyDissolvedTemperature), "models of acetylene in acetone", TrustOwn, false})
	}
	return notes
}

// share writes a share as people say it: 1/15.
func share(s float64) string { return fmt.Sprintf("1/%.0f", 1/s) }

// CylindersFor returns how many cylinders like this one a flow takes, in continuous or intermittent use. Errors: *gas.RangeError.
func (c AcetyleneContents) CylindersFor(flow units.StandardFlow, continuous bool) (int, error) {
	if continuous {
		return CylindersNeeded(flow, c.Continuous)
	}
	return CylindersNeeded(flow, c.Intermittent)
}
