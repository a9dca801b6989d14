package main

import (
	"slices"
	"strings"

	"torchside/calc/tables"
)

// fuelProperties are the names under which sources give the same property of a fuel.
var fuelProperties = map[string]string{
	"heating value, gross": "heating value, gross (total)", "heating value, gross (ideal gas)": "heating value, gross (total)", "heating value, total": "heating value, gross (total)",
	"heating value": "heating value, gross (total)", "heating value, net (ideal gas)": "heating value, net",
	"primary heat (to CO and H2)": "primary heat, of the inner cone", "primary heat": "primary heat, of the inner cone",
	"secondary heat (CO and H2 burnt in air)": "secondary heat, of the envelope", "secondary heat": "secondary heat, of the envelope",
	"torch oxygen ratio, neutral or usual": "torch oxygen ratio, neutral", "torch oxygen ratio, neutral": "torch oxygen ratio, neutral",
	"flame temperature in oxygen, neutral or usual": "flame temperature", "flame temperature with oxygen": "flame temperature",
}

// gasName leaves the long name of a mixture to its first entry.
func gasName(r row) string {
	return strings.NewReplacer(" (methylacetylene-propadiene)", "", " (propyne)", "", " (allene)", "").Replace(r["gas"])
}

func (m *maker) fuels() {
	rows := slices.DeleteFunc(m.rows("fuel_gases.csv"), isFlameTemperature)
	slices.SortStableFunc(rows, func(a, b row) int { return gasPlace(a) - gasPlace(b) })
	entries := m.group(rows, func(r row) string {
		property := r["property"]
		if same := fuelProperties[property]; same != "" {
			property = same
		}
		return gasName(r) + ": " + property
	}, func(r row) tables.Value {
		return m.value(r, quantity(r["value"], r["unit"], "", ""), r["condition"])
	}, byTrust)
	m.add(tables.Table{ID: "fuels", Title: "Fuel gases", Entries: entries,
		About:   "Heating values differ with the state of the gas they are counted in, and with the age of the book. Gross counts the heat of the steam in the smoke, net does not.",
		Caution: "Only acetylene suits fusion welding of steel. A fuel needs the hose, regulator and tip made for it.", Source: "common practice, no source"})
}

func isFlameTemperature(r row) bool { return fuelProperties[r["property"]] == "flame temperature" }

// gasPlace puts the fuels in the order of the trade.
func gasPlace(r row) int {
	order := []string{"acetylene", "MPS", "propylene", "propane", "natural gas", "methane", "hydrogen", "butane", "methylacetylene", "propadiene"}
	return slices.IndexFunc(order, func(n string) bool { return strings.HasPrefix(r["gas"], n) })
}

// byRatio ends the names of entries whose values are steps of one computation.
const byRatio = "by oxygen ratio, computed"

// flames puts printed and computed flame temperatures side by side; those of the table of fuels are here too.
func (m *maker) flames() {
	rows := m.rows("flames.csv")
	for _, r := range m.rows("fuel_gases.csv") {
		if isFlameTemperature(r) {
			r["flame"], r["temperature_degF"], r["appearance_or_use"] = "neutral", r["value"], r["condition"]
			rows = append(rows, r)
		}
	}
	for _, r := range m.rows("flame_computed.csv") {
		ratio := r["oxygen_to_fuel_ratio"]
		r["flame"], r["torch_oxygen_ratio_low"], r["torch_oxygen_ratio_high"] = byRatio, ratio, ratio
		if r["gas"] == "acetylene" {
			r["flame"] = computedFlame(ratio)
		}
		r["temperature_degF"], r["temperature_degC"] = r["adiabatic_temperature_degF"], r["adiabatic_temperature_degC"]
		rows = append(rows, r)
	}
	entries := m.group(rows, func(r row) string { return gasName(r) + ": " + flameName(r["flame"]) }, m.flame, byTrust)
	for i, e := range entries {
		entries[i].Differ = e.Differ && !strings.HasSuffix(e.Name, byRatio) // steps of one computation
	}
	m.add(tables.Table{ID: "flames", Title: "Flames: ratio and temperature", Entries: entries,
		About:   "Printed temperatures of the oxidizing flame lie above what equilibrium allows, about 5720 °F (3160 °C): take them as names, not as measurements.",
		Caution: "Set the flame by its look, with the pressures of the torch maker.", Source: "common practice, no source"})
}

// flame is what a source says of a flame: its temperature, else its ratio.
func (m *maker) flame(r row) tables.Value {
	low, high := r["torch_oxygen_ratio_low"], r["torch_oxygen_ratio_high"]
	ratio := ""
	if low != "" {
		ratio = "oxygen to fuel " + low
		if high != low {
			ratio += " to " + high
		}
	}
	if r["temperature_degF"] == "" {
		if ratio == "" {
			return m.value(r, r["appearance_or_use"], "")
		}
		return m.value(r, ratio, r["appearance_or_use"])
	}
	return m.value(r, quantity(r["temperature_degF"], "degF", r["temperature_degC"], "degC"), joined(ratio, r["appearance_or_use"]))
}

// flameName brings the names of one flame together.
func flameName(flame string) string {
	switch flame {
	case "carburizing (reducing)":
		return "carburizing"
	case "neutral in practice":
		return "neutral"
	}
	return flame
}

// computedFlame names the acetylene flame of a ratio by the ranges of OD0017.
func computedFlame(ratio string) string {
	n, _ := numbers(ratio)
	switch {
	case n == nil || n[0] < 0.96:
		return "carburizing"
	case n[0] >= 1.04 && n[0] <= 1.14:
		return "neutral"
	case n[0] > 1.14 && n[0] <= 1.7:
		return "oxidizing"
	}
	return byRatio
}

// flammableNames are the names under which sources give one limit.
var flammableNames = strings.NewReplacer("lower flammable limit in air", "lower limit in air", "upper flammable limit in air", "upper limit in air",
	"autoignition temperature in air", "ignition temperature in air", "ignition temperature in air, mean", "ignition temperature in air", "ignition temperature in oxygen, mean", "ignition temperature in oxygen")

func (m *maker) flammability() {
	entries := m.group(m.rows("flammability.csv"), func(r row) string {
		return gasName(r) + ": " + strings.TrimSuffix(flammableNames.Replace(r["quantity"]), ", mean")
	}, func(r row) tables.Value {
		when := r["condition"]
		if when == "1 atm, ambient" {
			when = ""
		}
		return m.value(r, quantity(r["value"], r["unit"], "", ""), when)
	}, saferLimit)
	m.add(tables.Table{ID: "flammability", Title: "Flammable limits and ignition", Entries: entries,
		Caution: "These are limits of burning, not of safety: work stops at a tenth of the lower one.", Source: "29 CFR 1910.146(b)"})
}

// saferLimit puts the wider limit and the lower ignition temperature first.
func saferLimit(r row) float64 {
	n, _ := numbers(r["value"])
	if n == nil {
		return 0
	}
	if r["unit"] == "degF" { // beside others in °C
		return (n[0] - 32) / 1.8
	}
	if strings.Contains(r["quantity"], "upper") {
		return -n[0]
	}
	return n[0]
}

func (m *maker) cylinders() {
	entries := m.group(m.rows("cylinders.csv"), func(r row) string { return r["gas"] + ": " + r["size_label"] }, func(r row) tables.Value {
		var parts []string
		if r["nominal_content_ft3"] != "" {
			parts = append(parts, quantity(r["nominal_content_ft3"], "ft3", r["nominal_content_m3"], "m3"))
		}
		if r["fill_pressure_psig"] != "" {
			parts = append(parts, "filled to "+quantity(r["fill_pressure_psig"], "psi", r["fill_pressure_bar_g"], "bar"))
		}
		if r["water_volume_l"] != "" {
			parts = append(parts, "water volume "+r["water_volume_l"]+" L")
		}
		if r["tare_lb"] != "" {
			parts = append(parts, "tare "+quantity(r["tare_lb"], "lb", "", ""))
		}
		if r["full_lb"] != "" {
			parts = append(parts, "full "+quantity(r["full_lb"], "lb", "", ""))
		}
		return m.value(r, strings.Join(parts, "; "), strings.Replace(r["fill_reference_temp"], "70 degF", "at 70 °F (21 °C)", 1))
	}, byTrust)
	m.add(tables.Table{ID: "cylinders", Title: "Cylinder sizes", Entries: entries,
		Caution: "Weigh an acetylene cylinder and use the tare stamped on it: its gauge does not tell its contents.", Source: "CGA practice (from memory)"})
}

func (m *maker) acetylene() {
	entries := m.group(m.rows("acetylene.csv"), func(r row) string {
		return strings.NewReplacer("dissolving limit stated", "pressure in acetone, limit as stated").Replace(r["quantity"])
	}, func(r row) tables.Value {
		return m.value(r, quantity(r["value"], r["unit"], "", ""), r["condition"])
	}, byTrust)
	m.add(tables.Table{ID: "acetylene", Title: "Acetylene, dissolved", Entries: entries})
}

func (m *maker) leaks() {
	entries := m.group(m.rows("leak_testing.csv"), func(r row) string { return r["topic"] + ": " + r["quantity"] }, func(r row) tables.Value {
		si, unit, when := secondIn(r["unit"], r["condition"])
		return m.value(r, quantity(r["value"], r["unit"], si, unit), when)
	}, byTrust)
	m.add(tables.Table{ID: "leaks", Title: "Leak testing", Entries: entries,
		Caution: "Never look for a leak with a flame.", Source: "30 CFR 75.1106-5; NAVEDTRA 14018"})
}
