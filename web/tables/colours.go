package main

import (
	"fmt"
	"slices"

	"torchside/calc/tables"
)

// family is a colour under all the names its sources give it.
type family struct {
	name   string
	names  []string
	swatch string // of a temper colour: drawn by us after its name, no measured colour
}

// glowFamilies are the colours of hot steel, the coldest first. Which names mean one colour is our reading.
var glowFamilies = []family{
	{name: "First red to be seen", names: []string{"black red", "just visible red", "first visible red", "lowest red visible in the dark", "lowest red visible at twilight",
		"lowest red visible in daylight", "lowest red visible in sunlight"}},
	{name: "Dull or dark red", names: []string{"very dark red", "dark red", "dull red"}},
	{name: "Dark cherry", names: []string{"dull cherry", "dull cherry red", "dark cherry"}},
	{name: "Cherry red", names: []string{"cherry red", "full cherry"}},
	{name: "Bright cherry", names: []string{"light cherry red", "clear cherry", "bright cherry red", "bright red"}},
	{name: "Orange", names: []string{"orange", "deep orange", "orange-red", "dull orange", "bright orange"}},
	{name: "Yellow", names: []string{"yellow", "yellow-white"}},
	{name: "White", names: []string{"white", "bright white", "dazzling white"}},
}

// temperFamilies are the oxide colours of bright steel, the coldest first.
var temperFamilies = []family{
	{name: "Pale yellow", swatch: "#e8d9a0", names: []string{"faint yellow", "yellow", "very pale yellow", "light yellow"}},
	{name: "Straw", swatch: "#dcb95f", names: []string{"light straw", "straw", "pale straw yellow", "straw yellow"}},
	{name: "Dark straw", swatch: "#c8963c", names: []string{"dark straw", "deep straw yellow", "dark yellow"}},
	{name: "Brown", swatch: "#9a5b32", names: []string{"brown-yellow", "yellow-brown", "spotted red-brown", "brown-purple", "yellow tinged with purple"}},
	{name: "Purple", swatch: "#7a4a78", names: []string{"light purple", "full purple", "dark purple", "bluish purple"}},
	{name: "Blue", swatch: "#3f5c97", names: []string{"blue", "full blue", "dark blue"}},
	{name: "Pale blue", swatch: "#8fb0c8", names: []string{"pale blue", "light blue"}},
	{name: "Blue-green", swatch: "#8fb5ad", names: []string{"greenish blue", "blue-green"}},
	{name: "Steps and ranges without colour names", names: []string{"temperature step (colour names not recorded)", "whole range used in a hobby data table"}},
}

func (m *maker) colours() {
	glowing := m.families(m.rows("heat_colours.csv"), glowFamilies)
	for i, e := range glowing {
		middle := middles[e.Name]
		glowing[i].Dim, glowing[i].Day = glow(middle, dimShop), glow(middle, daylight)
	}
	m.add(tables.Table{ID: "glow", Title: "Glow colours of hot steel", Entries: glowing,
		Caution: "Judge no heat by colour alone: sources differ by more than 200 °C (360 °F) for one name, and light changes everything. Aluminium shows no colour before it melts.",
		Source:  "the sources below, side by side; aluminium: common practice, no source",
		About:   "Left swatch: in a dim shop; right: by daylight. They are worked out from the light of a black body over dark scale for the middle of the range. A screen cannot shine: compare hue, not brightness."})
	m.add(tables.Table{ID: "temper", Title: "Temper colours of steel", Entries: m.families(m.rows("temper_colours.csv"), temperFamilies),
		Caution: "A temper colour tells the heat of plain carbon steel held for a few minutes. Alloy and time shift it: a longer hold shows the same colour colder.",
		Source:  "common practice, no source",
		About:   "Look by daylight on bright, clean steel; in lamp light pale straw is hard to see. Swatches are drawn after the names, no measured colours."})
}

// middles are the temperatures in °C the swatches of glow are worked out for: the middle of what the books say, by family.
var middles = map[string]float64{"First red to be seen": 525, "Dull or dark red": 680, "Dark cherry": 790, "Cherry red": 860, "Bright cherry": 980, "Orange": 1090, "Yellow": 1200, "White": 1350}

// families gathers rows under the families; a row of none of them is a failure.
func (m *maker) families(rows []row, list []family) []tables.Entry {
	var entries []tables.Entry
	taken := 0
	for _, f := range list {
		e := tables.Entry{Name: f.name, Dim: f.swatch, Differ: true}
		for _, r := range rows {
			if slices.Contains(f.names, r["colour"]) {
				taken++
				e.Values = append(e.Values, m.value(r, temperatures(r["temp_low_degF"], r["temp_high_degF"], r["temp_low_degC"], r["temp_high_degC"]), "“"+r["colour"]+"”"))
			}
		}
		slices.SortStableFunc(e.Values, func(a, b tables.Value) int { return rankOf(a.Trust) - rankOf(b.Trust) })
		entries = append(entries, e)
	}
	if taken != len(rows) {
		m.fail(fmt.Errorf("%d of %d colours belong to a family", taken, len(rows)))
	}
	return entries
}

// rankOf puts memory last.
func rankOf(t tables.Trust) int {
	if t.IsMemory() {
		return 1
	}
	return 0
}
