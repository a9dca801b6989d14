package cylinder

import (
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
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

// The notes whose text does not depend on the numbers.
var (
	noteHot = Note{
		Code: "acetylene_hot", Source: "TC 9-237", Trust: TrustRead, Stop: true,
		Text: "The cylinder is warmer than 58 °C (137 °F), the ceiling for storing acetylene: do not use it. " +
			"If nothing around it explains the heat, get out, keep people away and call the fire service: say acetylene. Never approach, move or vent it.",
	}
	noteFlat = Note{
		Code: "withdrawal_flat", Source: FlatSource, Trust: TrustRead,
		Text: "Capped at 50 ft³/h (1380 L/h) from one cylinder, whatever its size.",
	}
	noteOverfull = Note{
		Code: "acetylene_overfull", Source: "the weights entered", Trust: TrustOwn, Stop: true,
		Text: "The cylinder weighs more than full: check gross, stamped tare and full charge; if they are right, return it.",
	}
)

const solutionSource = "models of acetylene in acetone (PCP-SAFT, PSRK), ±0.2 of full"

// notes collects what there is to know, cautions first.
func (a Acetylene) notes(c AcetyleneContents) []Note {
	var notes []Note
	if a.Temperature > StorageCeiling {
		notes = append(notes, noteHot)
	}
	if c.FractionFull.Value > 1 {
		notes = append(notes, noteOverfull)
	}
	if c.ColdFactor < 1 {
		notes = append(notes, noteCold(c.ColdFactor))
	}
	if strict := withdrawals[0]; c.Withdrawal.Rule != strict.Rule {
		notes = append(notes, noteOlder(c, strict, a.Temperature))
	}
	notes = append(notes, noteRule(c.Withdrawal))
	if c.capped() {
		notes = append(notes, noteFlat)
	}
	switch {
	case a.Gauge != nil && c.ByPressure == nil:
		notes = append(notes, noteNoEstimate(a.Temperature))
	case c.disagree():
		notes = append(notes, noteDisagree(c, *a.Gauge))
	}
	return notes
}

// capped reports whether the flat limit is the lower one.
func (c AcetyleneContents) capped() bool {
	flat := FlatWithdrawal() * units.StandardFlow(c.ColdFactor)
	return c.Intermittent >= flat || c.Continuous >= flat
}

// disagree reports whether the bands by weight and by pressure do not touch.
func (c AcetyleneContents) disagree() bool {
	p, w := c.ByPressure, c.FractionFull
	return p != nil && (p.Low > w.High || p.High < w.Low)
}

// noteCold says why the limits are lower in the cold.
func noteCold(factor float64) Note {
	return Note{
		Code: "acetylene_cold", Source: "common practice, no source; the size of the cut is from memory of no rule", Trust: TrustMemory,
		Text: words.F("A cold cylinder gives gas more slowly: the limits are cut to %.0f %%. Let it warm in a warm room, never by a flame.", factor*100),
	}
}

// noteRule says which rule the limits follow.
func noteRule(w Withdrawal) Note {
	return Note{
		Code: "withdrawal_rule", Source: w.Source, Trust: w.Trust,
		Text: words.F("Limits are %s of the present contents an hour with pauses, %s without a break.", share(w.Intermittent), share(w.Continuous)),
	}
}

// noteOlder says that a rule was chosen that allows more than another, and what the stricter one allows.
func noteOlder(c AcetyleneContents, strict Withdrawal, t units.Temperature) Note {
	return Note{
		Code: "withdrawal_older_rule", Source: words.S("%s; chosen: %s", strict.Source, c.Withdrawal.Source), Trust: TrustMemory, Stop: true,
		Text: words.F("The rule chosen for drawing acetylene is the older one, %s of the contents an hour (%s). The stricter one allows %s with pauses, %s without: %s and %s from one such cylinder now.",
			share(c.Withdrawal.Continuous), c.Withdrawal.Source, share(strict.Intermittent), share(strict.Continuous),
			flowText(limit(strict.Intermittent, c.Contents, t)), flowText(limit(strict.Continuous, c.Contents, t))),
	}
}

// flowText writes a flow of acetylene in both unit systems: a note is read before any unit is chosen for it.
func flowText(f units.StandardFlow) string {
	perHour := float64(f) * secondsPerHour
	return fmt.Sprintf("%.0f L/h (%.1f ft³/h)", perHour*1000, perHour/cubicFoot/float64(gas.Acetylene.StandardRatio()))
}

// noteNoEstimate says why a gauge reading was not used.
func noteNoEstimate(t units.Temperature) Note {
	return Note{
		Code: "no_pressure_estimate", Source: solutionSource, Trust: TrustOwn,
		Text: words.F("No estimate by pressure at %.0f °C (%.0f °F): %s.", float64(t)-273.15, (float64(t)-273.15)*1.8+32, whyDissolvedTemperature),
	}
}

// noteDisagree says that scale and gauge do not fit together, and what to look at.
func noteDisagree(c AcetyleneContents, gauge units.GaugePressure) Note {
	return Note{
		Code: "weight_and_pressure_disagree", Source: solutionSource, Trust: TrustOwn,
		Text: fmt.Sprintf("The scale says %.2f of full, %.1f kg (%.1f lb); the gauge at %.1f bar (%.0f psi) suggests %.2f, from %.2f to %.2f. Read tare and gauge again, then trust the scale: "+
			"a cylinder just used is cold inside and its gauge reads low; one that has lost solvent reads high.",
			c.FractionFull.Value, float64(c.Mass), float64(c.Mass)/units.Pound, float64(gauge)/1e5, float64(gauge)/units.PSI, c.ByPressure.Value, c.ByPressure.Low, c.ByPressure.High),
	}
}

// share writes a share as people say it: 1/15.
func share(s float64) string { return fmt.Sprintf("1/%.0f", 1/s) }
