package main

import (
	"fmt"
	"strconv"
	"strings"

	"torchside/calc/tables"
	"torchside/calc/units"
)

func (m *maker) metals() {
	entries := m.group(m.rows("materials.csv"), func(r row) string {
		property := r["property"]
		switch property {
		case "melting point or range", "melting range":
			property = "melting point"
		}
		return r["material"] + ": " + property
	}, func(r row) tables.Value {
		si, unit, when := secondIn(r["unit"], r["condition"])
		return m.value(r, quantity(r["value"], r["unit"], si, unit), when)
	}, byTrust)
	m.add(tables.Table{ID: "metals", Title: "Metals: melting, density, heat", Entries: entries,
		Caution: "Alloys begin to melt below the pure metal. Aluminium gives no colour warning before it melts.", Source: "common practice, no source"})
}

func (m *maker) preheat() {
	entries := m.group(m.rows("preheat.csv"), func(r row) string { return r["case"] + ": " + r["item"] }, func(r row) tables.Value {
		text, when := r["formula_or_value"], ""
		if text == "" && r["preheat_degF"] != "" {
			text = quantity(r["preheat_degF"], "degF", r["preheat_degC"], "degC")
		}
		if text == "" {
			text = "no figure"
		}
		switch low, high := r["thickness_low_in"], r["thickness_high_in"]; {
		case low != "" && high != "":
			when = "over " + quantity(low, "in", r["thickness_low_mm"], "mm") + " up to " + quantity(high, "in", r["thickness_high_mm"], "mm")
		case low != "":
			when = "over " + quantity(low, "in", r["thickness_low_mm"], "mm")
		}
		return m.value(r, text, when)
	}, func(row) float64 { return 0 })
	for i := range entries {
		entries[i].Differ = false // steps of one table
	}
	m.add(tables.Table{ID: "preheat", Title: "Preheat and carbon equivalent", Entries: entries,
		Caution: "Gas welding is not in the standard's table. Ask a qualified person for work that carries people or loads.", Source: "AWS D1.1 as printed in TI 809-26"})
}

func (m *maker) cutting() {
	entries := m.group(m.rows("cutting.csv"), func(r row) string {
		return "steel of " + quantity(r["thickness_in"], "in", r["thickness_mm"], "mm")
	}, func(r row) tables.Value {
		var parts []string
		add := func(label, value, unit, si, siUnit, after string) {
			if value != "" {
				parts = append(parts, label+quantity(value, unit, si, siUnit)+after)
			}
		}
		add("orifice ", r["cutting_orifice_in"], "in", r["cutting_orifice_mm"], "mm", "")
		add("oxygen at ", r["oxygen_psig"], "psi", r["oxygen_bar_g"], "bar", "")
		add("acetylene at ", r["acetylene_psig"], "psi", r["acetylene_bar_g"], "bar", "")
		add("speed ", span(r["speed_low_in_min"], r["speed_high_in_min"]), "in/min", span(r["speed_low_mm_min"], r["speed_high_mm_min"]), "mm/min", "")
		add("oxygen ", span(r["oxygen_low_ft3_h"], r["oxygen_high_ft3_h"]), "ft3/h", "", "", "")
		add("acetylene ", span(r["acetylene_low_ft3_h"], r["acetylene_high_ft3_h"]), "ft3/h", "", "", "")
		if len(parts) == 0 {
			parts = []string{"no figure"}
		}
		return m.value(r, strings.Join(parts, "; "), r["fuel"])
	}, byTrust)
	facts := m.group(m.rows("cutting_facts.csv"), func(r row) string { return r["topic"] + ": " + r["quantity"] }, func(r row) tables.Value {
		si, unit, when := secondIn(r["unit"], r["condition"])
		return m.value(r, quantity(strings.TrimSpace(r["value"]), r["unit"], si, unit), when)
	}, byTrust)
	m.add(tables.Table{ID: "cutting", Title: "Cutting steel", Entries: append(entries, facts...),
		Caution: "The cutting tip's own chart comes first. Stainless steel, cast iron, aluminium and copper do not cut so.", Source: "common practice, no source"})
}

// span joins the ends of a range; equal ends are one figure.
func span(low, high string) string {
	if high == "" || low == high {
		return low
	}
	return low + " to " + high
}

// sizes are the drills and sheet gauges of calc/units.
func (m *maker) sizes() {
	drills := m.source("published drill charts that agree with each other, for the sizes of ASME B94.11M")
	table := tables.Table{ID: "drills", Title: "Drill sizes, number and letter"}
	add := func(name string, d units.Length) {
		text := fmt.Sprintf("%s in (%s mm)", decimals(float64(d)/units.Inch, 4), decimals(float64(d)*1000, 3))
		table.Entries = append(table.Entries, tables.Entry{Name: name, Values: []tables.Value{{Text: text, Source: drills, Trust: tables.SecondHand}}})
	}
	for l := 'Z'; l >= 'A'; l-- {
		d, _ := units.LetterDrill(l)
		add("Drill "+string(l), d)
	}
	for n := 1; ; n++ {
		d, ok := units.NumberDrill(n)
		if !ok {
			break
		}
		add("Drill #"+strconv.Itoa(n), d)
	}
	m.add(table)
	m.gauges()
}

// gauges puts the thickness of one number in every metal into one entry.
func (m *maker) gauges() {
	table := tables.Table{ID: "gauges", Title: "Sheet gauges", Caution: "One gauge number is another thickness in each metal: measure what you have.", Source: "the tables below"}
	for n := 0; n <= 36; n++ {
		e := tables.Entry{Name: strconv.Itoa(n) + " ga"}
		for _, sheet := range []units.SheetTable{units.SteelSheet, units.GalvanisedSheet, units.StainlessSheet, units.NonFerrousSheet} {
			d, ok := sheet.Thickness(n)
			if !ok {
				continue
			}
			e.Values = append(e.Values, tables.Value{Text: fmt.Sprintf("%s in (%s mm)", decimals(float64(d)/units.Inch, 4), decimals(float64(d)*1000, 3)),
				When: sheet.String(), Source: m.source(sheet.Source()), Trust: tables.Computed})
		}
		table.Entries = append(table.Entries, e)
	}
	m.add(table)
}

// decimals writes a size with at most so many places, without trailing noughts.
func decimals(x float64, places int) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', places, 64), "0"), ".")
}

func (m *maker) quality() {
	entries := m.group(m.rows("weld_quality.csv"), func(r row) string { return r["topic"] + ": " + r["item"] }, func(r row) tables.Value {
		text := r["limit"]
		if r["value_us"] != "" {
			text = strings.TrimSpace(joinedBy(text, quantity(r["value_us"], r["unit_us"], r["value_si"], r["unit_si"])))
		}
		if text == "" {
			text = r["note"]
		}
		return m.value(r, text, "")
	}, byTrust)
	m.add(tables.Table{ID: "quality", Title: "Weld quality: what passes", Entries: entries,
		Caution: "These are limits of a code for steel buildings, shown to judge practice work. Passing one does not make a weld fit for people or loads.", Source: "AWS D1.1"})
}

// joinedBy puts a limit before its number: "at most 0.0625 in".
func joinedBy(limit, number string) string {
	if limit == "" || strings.HasPrefix(limit, "at most ") {
		return strings.TrimSpace(strings.Replace(limit, "at most", "at most "+number+",", 1) + map[bool]string{true: number}[limit == ""])
	}
	return limit + " " + number
}
