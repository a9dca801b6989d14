package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"torchside/calc/tables"
)

const reference = "../../testdata/reference"

// The committed book is that of the reference tables. When it is not: go run ./web/tables.
func TestBook_isThatOfTheReference(t *testing.T) {
	want, err := file(reference)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../static/tables.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("web/static/tables.json is not that of testdata/reference: go run ./web/tables")
	}
	if len(want) > 200_000 {
		t.Errorf("the book has %d bytes", len(want))
	}
}

// Every row of every table used is in the book with its trust: counted here from the files, not by the maker.
func TestBook_losesNoRow(t *testing.T) {
	b, err := bookOf(reference)
	if err != nil {
		t.Fatal(err)
	}
	m := &maker{from: reference, used: map[string]int{}}
	want := map[string]int{}
	for _, name := range []string{"filter_shades.csv", "heat_colours.csv", "temper_colours.csv", "limits.csv", "ventilation.csv", "hoses.csv", "fillers.csv", "brazing.csv", "fuel_gases.csv",
		"flames.csv", "flame_computed.csv", "flammability.csv", "materials.csv", "preheat.csv", "cutting.csv", "cutting_facts.csv", "cylinders.csv", "acetylene.csv", "leak_testing.csv", "weld_quality.csv"} {
		for _, r := range m.rows(name) {
			want[r["source"]+" "+r["trust"]]++
		}
	}
	got := map[string]int{}
	for _, table := range b.Tables {
		if table.ID == "drills" || table.ID == "gauges" {
			continue
		}
		for _, e := range table.Entries {
			for _, v := range e.Values {
				got[b.Sources[v.Source]+" "+string(v.Trust)]++
			}
		}
	}
	for source, n := range want {
		if got[source] != n {
			t.Errorf("%d rows of %s are in the book, the tables have %d", got[source], source, n)
		}
	}
	if len(got) != len(want) || m.err != nil {
		t.Errorf("%d sources, want %d; %v", len(got), len(want), m.err)
	}
}

// Where sources disagree the entry says so, and the safer stands first: the longest stand, the longest watch, the lowest pressure.
func TestBook_putsTheSaferFirst(t *testing.T) {
	b, err := bookOf(reference)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ table, name, first string }{
		{"limits", "Acetylene: stand upright before use after lying down", "120 min"},
		{"limits", "Fire watch after the work", "60 min"},
		{"limits", "Acetylene: working pressure, at most", "0.62 bar (8.99 psi) gauge"},
		{"limits", "Acetylene: draw from one cylinder, at most", "1/15 of contents per h"},
		{"flammability", "Acetylene: lower limit in air", "2.3 % by volume"},
		{"flammability", "Methane: upper limit in air", "17 % by volume"},
		{"flammability", "Hydrogen: ignition temperature in air", "500 °C (932 °F)"},
		{"fuels", "Acetylene: heating value, gross (total)", ""},
		{"flames", "Acetylene: neutral", ""},
	} {
		e := entry(t, b, c.table, c.name)
		if !e.Differ || len(e.Values) < 2 || !strings.HasPrefix(e.Values[0].Text, c.first) {
			t.Errorf("%s: differ %v, first %q, want %q", c.name, e.Differ, e.Values[0].Text, c.first)
		}
	}
	for _, agreed := range [][2]string{{"metals", "Tin: melting point"}, {"flammability", "Hydrogen: lower limit in air"}} {
		if e := entry(t, b, agreed[0], agreed[1]); e.Differ || len(e.Values) < 2 {
			t.Errorf("%s: sources that say the same are told to differ, or are not side by side", e.Name)
		}
	}
}

func entry(t *testing.T, b tables.Book, id, name string) tables.Entry {
	t.Helper()
	table, _ := b.Table(id)
	for _, e := range table.Entries {
		if e.Name == name {
			return e
		}
	}
	t.Fatalf("%s has no entry %q", id, name)
	return tables.Entry{}
}

// A value stands in both systems; one that is no number stays as it is.
func TestQuantity_writesBothSystems(t *testing.T) {
	for _, c := range []struct{ value, unit, si, siUnit, want string }{
		{"15", "psig", "103", "kPa (gauge)", "15 psi (103 kPa) gauge"},
		{"", "", "0.62", "bar (gauge)", "0.62 bar (8.99 psi) gauge"},
		{"1499 to 1598", "degF", "815 to 870", "degC", "1499 to 1598 °F (815 to 870 °C)"},
		{"1498", "Btu/ft3", "", "", "1498 Btu/ft³ (55.8 MJ/m³)"},
		{"10000", "ft3", "284", "m3", "10\u00a0000 ft³ (284 m³)"},
		{"-20 to 60", "degC", "", "", "-20 to 60 °C (-4 to 140 °F)"},
		{"soap solution", "", "", "", "soap solution"},
		{"30", "min", "30", "min", "30 min"},
		{"0.91", "-", "", "", "0.91"},
	} {
		if got := quantity(c.value, c.unit, c.si, c.siUnit); got != c.want {
			t.Errorf("%q %q: %q, want %q", c.value, c.unit, got, c.want)
		}
	}
}

// A row of no family, without a source, or in a file that is not there stops the maker: nothing is left out in silence.
func TestMaker_stops(t *testing.T) {
	for name, spoil := range map[string]func(*maker){
		"family": func(m *maker) { m.families([]row{{"colour": "plaid", "source": "s"}}, glowFamilies) },
		"source": func(m *maker) { m.value(row{"file": "limits.csv"}, "1", "") },
		"file":   func(m *maker) { m.rows("none.csv") },
		"lost":   func(m *maker) { m.used["limits.csv"] = 1; m.whole() },
	} {
		m := &maker{from: reference, used: map[string]int{}}
		if spoil(m); m.err == nil {
			t.Errorf("%s: no failure", name)
		}
	}
}
