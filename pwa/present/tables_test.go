package present

import (
	"os"
	"strings"
	"testing"

	"torchside/calc/tables"
	"torchside/calc/units"
)

func tableBook(t *testing.T) tables.Book {
	t.Helper()
	file, err := os.ReadFile("../../web/static/tables.json")
	if err != nil {
		t.Fatal(err)
	}
	b, err := tables.Parse(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Every table reads in both presets: the owner's unit alone where both stand, the name and the trust always.
func TestNewTable_speaksTheOwnersUnits(t *testing.T) {
	b := tableBook(t)
	for _, link := range TableLinks(b) {
		head, metric, ok := NewTable(b, link.ID, Options{Units: units.Metric()})
		_, us, _ := NewTable(b, link.ID, Options{Units: units.US()})
		if !ok || head.Title == "" || len(metric) != len(us) || len(metric) == 0 {
			t.Fatalf("%s: %v", link.ID, head)
		}
		for i, e := range metric {
			for j, v := range e.Values {
				if v.Trust == "" || v.Source == "" || v.Memory != strings.HasPrefix(v.Trust, "from memory") {
					t.Errorf("%s, %s: %+v", link.ID, e.Name, v)
				}
				if strings.Contains(v.Text, " / ") {
					continue // melting points of three substances in one row
				}
				if strings.Contains(v.Text, "°F") || strings.Contains(us[i].Values[j].Text, "°C") {
					t.Errorf("%s, %s: %q and %q", link.ID, e.Name, v.Text, us[i].Values[j].Text)
				}
			}
		}
	}
	if _, _, ok := NewTable(b, "no-such", Options{}); ok {
		t.Error("a table nobody made")
	}
	hits := b.Find("cherry red")
	found := FoundEntries(b, hits, Options{Units: units.Metric()})
	if len(found) == 0 || found[0].Table != "Glow colours of hot steel" || !found[0].Differ || !strings.Contains(found[0].Values[0].Text, "815 to 870 °C") {
		t.Errorf("%+v", found)
	}
	if heads := FoundHeads(b, hits, Options{Units: units.Metric()}); len(heads) == 0 || !strings.Contains(heads[0].Caution, "200 °C") || strings.Contains(heads[0].Caution, "°F") {
		t.Errorf("%+v", heads)
	}
}
