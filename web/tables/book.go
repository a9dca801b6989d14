package main

import (
	"fmt"
	"strings"

	"torchside/calc/tables"
)

// bookOf makes the book out of the reference tables in a folder.
func bookOf(from string) (tables.Book, error) {
	m := &maker{from: from, used: map[string]int{}}
	m.shades()
	m.colours()
	m.limits()
	m.ventilation()
	m.hoses()
	m.fillers()
	m.brazing()
	m.fuels()
	m.flames()
	m.flammability()
	m.metals()
	m.preheat()
	m.cutting()
	m.sizes()
	m.cylinders()
	m.acetylene()
	m.leaks()
	m.quality()
	m.whole()
	return m.book, m.err
}

// whole checks that every row of every table read is in the book.
func (m *maker) whole() {
	for name, used := range m.used {
		if n := len(m.rows(name)); n != used {
			m.fail(fmt.Errorf("%s: %d of %d rows are in the book", name, used, n))
		}
	}
}

func (m *maker) shades() {
	rows := m.rows("filter_shades.csv")
	entries := m.group(rows, func(r row) string { return r["operation"] }, func(r row) tables.Value {
		text := "Shade " + r["shade_minimum"] + " at least"
		switch low, high := r["shade_recommended_low"], r["shade_recommended_high"]; {
		case low != "" && low != high:
			text += "; " + low + " to " + high + " recommended"
		case low != "":
			text += "; " + low + " recommended"
		}
		return m.value(r, text, thicknessOf(r))
	}, byTrust)
	m.add(tables.Table{ID: "shades", Title: "Filter shades for the eyes", Entries: entries,
		Caution: "Start with a shade too dark to see the work, then go lighter to one that shows it, never under the least.",
		Source:  "29 CFR 1910.133(a)(5)"})
}

// thicknessOf writes the range of thickness of a shade.
func thicknessOf(r row) string {
	low, high := r["thickness_lower_in"], r["thickness_upper_in"]
	inches := func(end string) string {
		return quantity(r["thickness_"+end+"_in"], "in", r["thickness_"+end+"_mm"], "mm")
	}
	switch {
	case low == "" && high == "":
		return ""
	case high == "":
		return "work over " + inches("lower")
	case low == "0":
		return "work under " + inches("upper")
	}
	return "work of " + quantity(low+" to "+high, "in", r["thickness_lower_mm"]+" to "+r["thickness_upper_mm"], "mm")
}

// disputed are the limits on which sources differ, each under one name; the safer row stands first.
var disputed = []struct {
	name string
	ids  []string
}{
	{"Acetylene: working pressure, at most", []string{"ACE-P3", "ACE-P5", "ACE-P1", "ACE-P4"}},
	{"Acetylene: copper in fittings and alloys", []string{"ACE-CU1", "ACE-CU3", "ACE-CU2"}},
	{"Acetylene: opening of the cylinder valve", []string{"ACE-V3", "ACE-V2", "ACE-V1"}},
	{"Acetylene: stand upright before use after lying down", []string{"ACE-S2", "ACE-S3", "ACE-S1", "ACE-S4"}},
	{"Acetylene: draw from one cylinder, at most", []string{"ACE-W4", "ACE-W3", "ACE-W2", "ACE-W1"}},
	{"Fire watch after the work", []string{"HOT-2", "HOT-1"}},
	{"Flammable gas in the air of a space or container, at most", []string{"ATM-3", "HOT-5"}},
	{"Which torch valve to close first", []string{"SHUT-1", "SHUT-2"}},
}

func (m *maker) limits() {
	name, rank := map[string]string{}, map[string]float64{}
	for _, d := range disputed {
		for i, id := range d.ids {
			name[id], rank[id] = d.name, float64(i)
		}
	}
	entries := m.group(m.rows("limits.csv"), func(r row) string {
		if n := name[r["id"]]; n != "" {
			return n
		}
		return r["topic"] + ": " + r["quantity"]
	}, func(r row) tables.Value {
		when := r["condition"]
		if name[r["id"]] != "" {
			when = joined(r["quantity"], when)
		}
		return m.value(r, quantity(r["value_us"], r["unit_us"], r["value_si"], r["unit_si"]), when)
	}, func(r row) float64 { return rank[r["id"]] })
	m.add(tables.Table{ID: "limits", Title: "Limits and rules", Entries: entries,
		Caution: "The maker of your torch, your gas supplier and the rules where you are come before every row. Where sources differ the safer stands first: keep to it.",
		Source:  "each row names its own"})
}

func joined(parts ...string) string {
	var given []string
	for _, p := range parts {
		if p != "" {
			given = append(given, p)
		}
	}
	return strings.Join(given, "; ")
}

func (m *maker) ventilation() {
	entries := m.group(m.rows("ventilation.csv"), func(r row) string { return r["topic"] + ": " + r["item"] }, func(r row) tables.Value {
		return m.value(r, quantity(r["value_us"], r["unit_us"], r["value_si"], r["unit_si"]), r["condition"])
	}, byTrust)
	m.add(tables.Table{ID: "ventilation", Title: "Air and ventilation", Entries: entries,
		Caution: "Zinc, cadmium, lead, beryllium, chromium, mercury and fluoride flux make fumes that ask for more than an open door.",
		Source:  "8 CCR 1536; Michigan R 325.62108"})
}

func (m *maker) hoses() {
	entries := m.group(m.rows("hoses.csv"), func(r row) string { return r["topic"] + ": " + r["item"] }, func(r row) tables.Value {
		return m.value(r, quantity(r["value"], r["unit"], "", ""), r["condition"])
	}, byTrust)
	m.add(tables.Table{ID: "hoses", Title: "Hose classes, colours and threads", Entries: entries,
		Caution: "Propane and the other fuels need a hose made for them: acetylene hose swells and cracks inside. Read what is printed on the hose.",
		Source:  "RMA IP-7 and CGA E-1 (from memory)"})
}

func (m *maker) fillers() {
	entries := m.group(m.rows("fillers.csv"), func(r row) string { return r["filler_class"] }, func(r row) tables.Value {
		var parts []string
		if r["solidus_degF"] != "" {
			parts = append(parts, "melts "+temperatures(r["solidus_degF"], r["liquidus_degF"], r["solidus_degC"], r["liquidus_degC"]))
		}
		if r["braze_low_degF"] != "" {
			parts = append(parts, "brazes "+quantity(r["braze_low_degF"]+" to "+r["braze_high_degF"], "degF", "", ""))
		}
		if ksi := r["tensile_ksi"]; ksi != "" && ksi != "not specified" {
			parts = append(parts, "tensile strength "+ksi+" ksi ("+r["tensile_MPa"]+" MPa), elongation "+r["elongation_percent"]+" %")
		}
		if len(parts) == 0 {
			parts = []string{r["composition"]}
		} else if r["composition"] != "" {
			parts = append(parts, r["composition"])
		}
		return m.value(r, strings.Join(parts, "; "), joined(r["family"], r["use_note"]))
	}, byTrust)
	m.add(tables.Table{ID: "fillers", Title: "Fillers, brazing alloys and solders", Entries: entries,
		Caution: "BAg-1, 1a, 2, 2a and 3 hold cadmium: its fume kills without warning. Prefer one without. Brass rods give off zinc, fluxes fluoride: ventilate. No lead solder on drinking water.",
		Source:  "AWS A5.8 compositions; 8 CCR 1536"})
}

func (m *maker) brazing() {
	entries := m.group(m.rows("brazing.csv"), func(r row) string { return r["topic"] + ": " + r["item"] }, func(r row) tables.Value {
		si, unit, when := secondIn(r["unit"], r["condition"])
		return m.value(r, quantity(r["value"], r["unit"], si, unit), when)
	}, byTrust)
	m.add(tables.Table{ID: "brazing", Title: "Brazing: gaps, fluxes, flames", Entries: entries,
		Caution: "Flux smoke burns eyes and lungs; keep your head out of it.", Source: "8 CCR 1536 (fluorides)"})
}

// secondIn reads a condition that is a value of some unit again in the other system: "0.05 to 0.13 mm"; anything else stays a condition.
func secondIn(of, condition string) (si, unit, when string) {
	at := strings.LastIndexByte(condition, ' ')
	if at < 0 {
		return "", "", condition
	}
	if n, _ := numbers(condition[:at]); n == nil {
		return "", "", condition
	}
	first, _ := written(of)
	if second, _ := written(condition[at+1:]); second != "" && others[first].unit == second {
		return condition[:at], condition[at+1:], ""
	}
	return "", "", condition
}
