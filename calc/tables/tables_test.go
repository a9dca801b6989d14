package tables

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// book reads the file the browser gets.
func book(t testing.TB) Book {
	t.Helper()
	file, err := os.ReadFile(filepath.Join(calctest.Root(t), "web", "static", "tables.json"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := Parse(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func names(b Book, hits []Hit) []string {
	var list []string
	for _, h := range hits {
		list = append(list, b.Tables[h.Table].ID+": "+b.Tables[h.Table].Entries[h.Entry].Name)
	}
	return list
}

// What people type leads to what they mean, whichever way it is spelt.
func TestFind_findsWhatIsMeant(t *testing.T) {
	b := book(t)
	for _, c := range []struct{ text, want string }{
		{"CHERRY red", "glow: Cherry red"},
		{"fire watch", "limits: Fire watch after the work"},
		{"bag-7", "fillers: BAg-7"},
		{"aluminum melting", "metals: Aluminium: melting point"},
		{"#60", "drills: Drill #60"},
		{"16 ga", "gauges: 16 ga"},
		{"acetylene lower limit", "flammability: Acetylene: lower limit in air"},
		{"brazing shade", "shades: Torch brazing"},
		{"straw temper color", "temper: Straw"},
		{"left-hand", "hoses: Thread: fuel gas nuts"},
	} {
		if got := names(b, b.Find(c.text)); !slices.Contains(got, c.want) {
			t.Errorf("%q found %q, want among them %q", c.text, got, c.want)
		}
	}
	for _, nothing := range []string{"", "   ", "xyzzy", "cherry xyzzy"} {
		if got := b.Find(nothing); len(got) != 0 {
			t.Errorf("%q found %d entries", nothing, len(got))
		}
	}
	if got := names(b, b.Find("R60")); len(got) == 0 || got[0] != "fillers: R60" {
		t.Errorf("the name does not come first: %q", got)
	}
}

// Adding a word never finds more.
func TestFind_narrows(t *testing.T) {
	b := book(t)
	words := []string{"steel", "memory", "acetylene", "blue", "f", "29 cfr", "0.1"}
	for _, first := range words {
		wide := b.Find(first)
		for _, second := range words {
			for _, h := range b.Find(first + " " + second) {
				if !slices.Contains(wide, h) {
					t.Fatalf("%q finds %v, %q alone does not", first+" "+second, h, first)
				}
			}
		}
	}
}

// Nothing in the book is unsaid: every value has a source, its trust in words, and memory is told as memory.
func TestBook_saysWhereEveryValueIsFrom(t *testing.T) {
	b := book(t)
	seen := map[string]bool{}
	for _, table := range b.Tables {
		if seen[table.ID] || table.Title == "" || len(table.Entries) == 0 {
			t.Errorf("table %q is there twice, or empty", table.ID)
		}
		seen[table.ID] = true
		for _, e := range table.Entries {
			for _, v := range e.Values {
				if b.Sources[v.Source] == "" || !strings.Contains("ABCD", string(v.Trust)) || v.Trust.IsMemory() != strings.Contains(v.Trust.Words(), "memory") {
					t.Errorf("%s, %s: %+v", table.ID, e.Name, v)
				}
			}
		}
	}
	for grade, memory := range map[Trust]bool{Read: false, SecondHand: false, Computed: false, Memory: true, "": true, "Z": true} {
		if grade.IsMemory() != memory {
			t.Errorf("%q counts as memory: %v", grade, !memory)
		}
	}
}

// A file that is not whole is refused with its reason, never shown in part.
func TestParse_refuses(t *testing.T) {
	for _, bad := range []string{"", "{", "[]", "{}", `{"tables":[{"id":"a","entries":[{"n":"x","v":[]}]}]}`,
		`{"tables":[{"id":"a","entries":[{"n":"x","v":[{"x":"1","s":0,"t":"A"}]}]}],"sources":[]}`,
		`{"tables":[{"id":"a","entries":[{"n":"x","v":[{"x":"","s":0,"t":"A"}]}]}],"sources":["s"]}`} {
		if _, err := Parse([]byte(bad)); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(`{"tables":[{"id":"a","entries":[{"n":"x","v":[{"x":"1","s":0,"t":"A"}]}]}],"sources":["s"]}`, "x")
	f.Fuzz(func(_ *testing.T, file, text string) {
		if b, err := Parse([]byte(file)); err == nil {
			b.Find(text)
		}
	})
}
