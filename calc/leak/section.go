package leak

import (
	"torchside/calc/gas"
	"torchside/calc/words"
)

// Section is a part of the rig that can be closed off and tested, or a test of the regulator.
type Section string

// The sections.
const (
	WholeRig       Section = "whole_rig"       // one gas, from the cylinder valve to the torch valve, regulator open
	OxygenDelivery Section = "oxygen_delivery" // regulator outlet to torch valve
	FuelDelivery   Section = "fuel_delivery"
	OxygenSupply   Section = "oxygen_supply" // cylinder valve to regulator seat
	FuelSupply     Section = "fuel_supply"
	RegulatorCreep Section = "regulator_creep" // does the delivery gauge rise with the torch closed?
)

// sectionNames are the names for a person, in the order they are offered.
var sectionNames = []struct {
	section Section
	name    string
}{
	{WholeRig, "whole rig"}, {OxygenDelivery, "oxygen delivery"}, {FuelDelivery, "fuel delivery"},
	{OxygenSupply, "oxygen supply"}, {FuelSupply, "fuel supply"}, {RegulatorCreep, "regulator creep"},
}

// Sections returns all sections in the order they are offered; the slice is the caller's.
func Sections() []Section {
	list := make([]Section, len(sectionNames))
	for i, s := range sectionNames {
		list[i] = s.section
	}
	return list
}

// Name returns the name for a person; empty for no section.
func (s Section) Name() string {
	for _, n := range sectionNames {
		if n.section == s {
			return n.name
		}
	}
	return ""
}

// ParseSection returns the section of that code; the error is an *UnknownSectionError.
func ParseSection(code string) (Section, error) {
	if s := Section(code); s.Name() != "" {
		return s, nil
	}
	return "", &UnknownSectionError{code}
}

// Fits reports whether a section is one for that gas: oxygen sections for oxygen, fuel sections for fuels, the whole rig and the creep
// test for both.
func (s Section) Fits(g gas.Gas) bool {
	switch s {
	case OxygenDelivery, OxygenSupply:
		return g == gas.Oxygen
	case FuelDelivery, FuelSupply:
		return g.IsFuel()
	case WholeRig, RegulatorCreep:
		return g == gas.Oxygen || g.IsFuel()
	}
	return false
}

// GaugeOnly reports whether only the gauge's movement can be judged there, and no rate: the cylinder side of acetylene and of the
// liquefied fuels, whose gas data end far below cylinder pressure, and in the whole rig of them for the same reason.
func (s Section) GaugeOnly(g gas.Gas) bool {
	return (s == FuelSupply || s == WholeRig) && g.IsFuel() && g.Storage() != gas.StoredCompressed
}

// UnknownSectionError refuses a section that does not exist.
type UnknownSectionError struct{ Code string }

// Error names the code and what is allowed.
func (e *UnknownSectionError) Error() string {
	text := words.S("section is %s, allowed are", quoted(e.Code))
	for i, s := range Sections() {
		if i > 0 {
			text += ","
		}
		text += words.S(" %s", string(s))
	}
	return text
}

// WrongSectionError refuses a gas that a section does not hold.
type WrongSectionError struct {
	Section Section
	Gas     gas.Gas
}

// Error names the section and the gas.
func (e *WrongSectionError) Error() string {
	return words.S("section is %s, which does not hold %s: choose the other gas or the other section", e.Section.Name(), e.Gas.Name())
}

// checkSection refuses an unknown section and a gas it does not hold.
func checkSection(s Section, g gas.Gas) error {
	if _, err := ParseSection(string(s)); err != nil {
		return err
	}
	if _, err := gas.Parse(string(g)); err != nil {
		return err
	}
	if !s.Fits(g) {
		return &WrongSectionError{s, g}
	}
	return nil
}

// quoted puts a code in quotes.
func quoted(s string) string { return `"` + s + `"` }
