package setup

import "torchside/calc/words"

// spent tells that nothing may be drawn any more: empty, or down to the reserve.
type spent struct {
	read    string // what is in the cylinder
	allowed string
	empty   bool
	guessed bool // by a gauge that tells little: the cylinder may hold more
}

// state says in words how it stands with the cylinder.
func (s *spent) state() string {
	switch {
	case s.guessed:
		return "may be down to its reserve, as far as its gauge tells"
	case s.empty:
		return "is empty"
	}
	return "is down to its reserve"
}

// wayOut says what to do: no other tip helps.
func (s *spent) wayOut() string {
	if s.guessed {
		return "weigh the cylinder to know, or change it for a full one"
	}
	return "change the cylinder for a full one"
}

// caution stands before the pressures of the gas, so that nobody lights up first: what to do comes before why.
func (s *spent) caution(gas, line, why, source string) Warning {
	text := words.S("Change the %s cylinder: it is down to its reserve of %s, at %s", gas, s.allowed, s.read)
	switch {
	case s.guessed:
		text = words.S("Weigh the %s cylinder, or change it: by its gauge it may be down to its reserve of %s, %s", gas, s.allowed, s.read)
	case s.empty:
		text = words.S("Change the %s cylinder: it is empty", gas)
	}
	return Warning{line + "_at_reserve", Caution, words.S("%s. %s.", text, why), source, line + ".regulator_gauge_pa"}
}

// refusal takes the place of one that would offer a smaller tip.
func (s *spent) refusal(gas string) *Refusal {
	return &Refusal{Code: codeSpent, Field: "rig.fuel_cylinder", Read: words.S("%s: the %s cylinder %s", s.read, gas, s.state()), Allowed: words.S("more than its reserve of %s", s.allowed),
		Why: "with so little left acetylene carries its solvent along: the flame turns bad and the cylinder is spoilt", Source: sourceReserve, WaysOut: []string{s.wayOut()}}
}

// noOxygen stops before any setting: through an oxygen line without pressure the fuel runs back.
func (s *spent) noOxygen() *Refusal {
	return &Refusal{Code: codeSpent, Field: "rig.oxygen_cylinder", Read: words.S("%s: the oxygen cylinder %s", s.read, s.state()), Allowed: words.S("more than its reserve of %s", s.allowed),
		Why:    "when the oxygen fails at the torch, fuel runs back into its hose and regulator and can burn there (reverse flow)",
		Source: "common practice, no source; the reserve is the owner's, or 50 psi (3.4 bar) from memory", WaysOut: []string{s.wayOut()}}
}

// noFuel stops before any setting: there is nothing to light.
func (s *spent) noFuel(gas string) *Refusal {
	return &Refusal{Code: codeSpent, Field: "rig.fuel_cylinder", Read: words.S("%s: the %s cylinder is empty", s.read, gas), Allowed: "some gas in it",
		Why:    "when the fuel fails at the torch, oxygen runs back into its hose and regulator and can burn there (reverse flow)",
		Source: "common practice, no source", WaysOut: []string{s.wayOut()}}
}

const (
	codeSpent     = "cylinder_spent"
	sourceReserve = "common practice, no source; the reserve is the owner's, or 10 % of full from memory"
)

// spentByGauge is nil while a compressed gas stands above its reserve.
func spentByGauge(gauge, reserve float64) *spent {
	if gauge > reserve {
		return nil
	}
	return &spent{read: pressureText(gauge), allowed: pressureText(reserve), empty: gauge <= 0}
}

// gramKg is less than any shop scale tells: gross less tare does not meet a reserve to the last digit.
const gramKg = 0.001

// spentByWeight is nil while a weighed gas is above its reserve.
func spentByWeight(c *FuelCylinder, massKg float64) *spent {
	reserve := reserveKg(c, massKg)
	if massKg > reserve+gramKg {
		return nil
	}
	return &spent{read: words.S("%s of gas", massText(massKg)), allowed: massText(reserve), empty: massKg <= 0}
}
