package flame_test

import (
	"fmt"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// The same data in an independent program: 0.001 kJ/mol is the last digit of the table.
func TestHeatingValue_against_computed_heats(t *testing.T) {
	lower := calctest.NewWorst("lower heating value", 1e-5, "same data; the table has three decimals of kJ/mol")
	higher := calctest.NewWorst("higher heating value", 1e-5, "same data; the table has three decimals of kJ/mol")
	primary := calctest.NewWorst("primary heat", 1e-4, "same data; the table has three decimals of kJ/mol")
	for _, r := range calctest.Reference(t, "flame_heats_of_combustion.csv") {
		fuel, ok := fuelNames[r.Text("name")]
		if !ok || !strings.HasPrefix(r.Text("source"), "NASA/TP-2002-211556") {
			continue
		}
		h := flame.HeatingValue(fuel)
		lower.Add(t, h.Lower, r.Number("lhv_25C_kJ_per_mol")*1e3, string(fuel))
		higher.Add(t, h.Higher, r.Number("hhv_25C_kJ_per_mol")*1e3, string(fuel))
		if r.Has("primary_flame_C2H2_O2_to_2CO_H2_25C_kJ_per_mol") {
			primary.Add(t, h.Primary, r.Number("primary_flame_C2H2_O2_to_2CO_H2_25C_kJ_per_mol")*1e3, string(fuel))
			primary.Add(t, h.Secondary, r.Number("secondary_flame_lhv_25C_kJ_per_mol")*1e3, string(fuel))
		}
	}
	if lower.Count() != 7 {
		t.Errorf("compared %d fuels, want 7", lower.Count())
	}
	for _, w := range []*calctest.Worst{lower, higher, primary} {
		w.Report(t)
	}
}

// btuPerCubicFoot in J/m³: 1055.05585 J in 0.3048³ m³, NIST SP 811.
const btuPerCubicFoot = 1055.05585262 / (0.3048 * 0.3048 * 0.3048)

// moles60F is an ideal gas at 60 °F and 101.325 kPa in mol/m³.
var moles60F = float64(units.StandardAtmosphere) / (gas.R * (60 + 459.67) / 1.8)

// disagreeing are published rows that no gas law brings to the computed value; the reason beside each.
var disagreeing = map[string]string{
	"acetylene 1440 Leeds and Butterfield":   "the table itself calls it an older value; 3 % below every later one",
	"acetylene 1456 old encyclopaedia table": "the same table prints hydrogen 14 % too low",
}

// Published heating values per volume at 60 °F. The tables do not say whether their gas is ideal or real, which is up to 2 % for
// propane, and some round; so 2 % about the middle of the two is allowed.
func TestHeatingValue_against_published_volume_values(t *testing.T) {
	w := calctest.NewWorst("published heating value per volume", 0.02, "real or ideal gas is not said: up to 2 %")
	skipped := 0
	for _, r := range calctest.Reference(t, "fuel_gases.csv") {
		fuel, ok := fuelNames[r.Text("gas")]
		if !ok || r.Text("unit") != "Btu/ft3" || r.Text("seen") != "seen" {
			continue
		}
		where := fmt.Sprintf("%s %s %s", r.Text("gas"), r.Text("value"), r.Text("source"))
		if _, known := disagreeing[where]; known {
			skipped++
			continue
		}
		h := flame.HeatingValue(fuel)
		perMole := h.Higher
		if strings.HasSuffix(r.Text("property"), "net") {
			perMole = h.Lower
		}
		real, err := fuel.Density(units.StandardAtmosphere, (60+459.67)/1.8)
		if err != nil {
			t.Fatal(err)
		}
		middle := (moles60F + float64(real)/fuel.MolarMass()) / 2
		w.Add(t, perMole*middle/btuPerCubicFoot, r.Number("value"), where)
	}
	if skipped != len(disagreeing) {
		t.Errorf("%d rows are known to disagree, %d met", len(disagreeing), skipped)
	}
	w.Report(t)
}

// Values computed from the CRC Handbook's heats of formation: other data for the same quantity.
func TestHeatingValue_against_CRC_based_values(t *testing.T) {
	molar := calctest.NewWorst("heat of combustion from CRC data", 1e-3, "heats of formation differ by up to 0.9 kJ/mol")
	volume := calctest.NewWorst("ideal heating value at 60 °F from CRC data", 2e-3, "whole Btu: 0.2 % of hydrogen's 274")
	stages := calctest.NewWorst("primary and secondary heat from CRC data", 1e-2, "whole Btu, of methane's 41 one part in 80")
	for _, r := range calctest.Reference(t, "fuel_gases.csv") {
		fuel, ok := fuelNames[r.Text("gas")]
		if !ok || !strings.HasPrefix(r.Text("source"), "computed from CRC Handbook") {
			continue
		}
		h := flame.HeatingValue(fuel)
		perVolume := moles60F / btuPerCubicFoot
		where := r.Text("gas") + " " + r.Text("property")
		switch r.Text("property") {
		case "heat of combustion, gross":
			molar.Add(t, h.Higher/1e3, r.Number("value"), where)
		case "heat of combustion, net":
			molar.Add(t, h.Lower/1e3, r.Number("value"), where)
		case "heating value, gross (ideal gas)":
			volume.Add(t, h.Higher*perVolume, r.Number("value"), where)
		case "heating value, net (ideal gas)":
			volume.Add(t, h.Lower*perVolume, r.Number("value"), where)
		case "primary heat (to CO and H2)":
			stages.Add(t, h.Primary*perVolume, r.Number("value"), where)
		case "secondary heat (CO and H2 burnt in air)":
			stages.Add(t, (h.Higher-h.Primary)*perVolume, r.Number("value"), where)
		}
	}
	for _, w := range []*calctest.Worst{molar, volume, stages} {
		w.Report(t)
	}
}

// CAN/CGA-B149.2-M95 prints 21622 Btu/lb for propane; by weight no gas law enters.
func TestHeatingValue_of_propane_by_weight(t *testing.T) {
	got := flame.HeatingValue(gas.Propane).Higher / gas.Propane.MolarMass()
	calctest.Near(t, got, 21622*1055.05585/0.45359237, 1e-3, "CAN/CGA-B149.2-M95, five digits; commercial propane is not pure")
}

// worked_examples.csv WE-23: 1 ft³/h of acetylene, gross, is 431.7 W from 1473 Btu/ft³ (ideal gas, 60 °F).
func TestHeatingValue_of_a_cubic_foot_an_hour(t *testing.T) {
	const cubicFoot, hour = 0.3048 * 0.3048 * 0.3048, 3600.0
	got := flame.HeatingValue(gas.Acetylene).Higher * cubicFoot * moles60F / hour
	calctest.Near(t, got, 431.7, 1e-3, "definition; 1473 Btu/ft³ stands on CRC data, 0.07 % below NASA's")
}

func ExampleHeatingValue() {
	h := flame.HeatingValue(gas.Acetylene)
	fmt.Printf("%.1f kJ/mol, of which %.1f in the inner cone\n", h.Lower/1e3, h.Primary/1e3)
	fmt.Printf("%.1f MJ/m³ at 15 °C and 101.325 kPa\n", h.PerVolume(gas.Acetylene).Lower/1e6)
	// Output:
	// 1257.0 kJ/mol, of which 449.3 in the inner cone
	// 53.7 MJ/m³ at 15 °C and 101.325 kPa
}

// Law: the higher value exceeds the lower by the heat of condensing the water formed, and stages add up.
func TestHeatingValue_stages_add_up(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		h := flame.HeatingValue(fuel)
		e, err := flame.Balance(fuel)
		if err != nil {
			t.Fatal(err)
		}
		water := float64(e.Complete.Coefficient("H2O")) / float64(-e.Complete.Coefficient(fuel.Formula()))
		calctest.Near(t, h.Higher-h.Lower, water*44004, 1e-9, "44.004 kJ/mol condensing water at 25 °C, from the same data")
		calctest.Near(t, h.Primary+h.Secondary, h.Lower, 1e-15, "definition")
		v := h.PerVolume(fuel)
		calctest.Near(t, v.Lower*fuel.MolarMass()/float64(fuel.StandardDensity()), h.Lower, 1e-12, "real standard density")
		if !(h.Primary > 0 && h.Secondary >= 0) {
			t.Errorf("%s: %+v", fuel, h)
		}
	}
	if got := flame.HeatingValue(gas.Oxygen); got != (flame.Heats{}) {
		t.Errorf("oxygen gives %+v", got)
	}
}
