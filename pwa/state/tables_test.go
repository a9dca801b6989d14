package state

import (
	"errors"
	"os"
	"testing"
)

func tablesFile(t *testing.T) []byte {
	t.Helper()
	file, err := os.ReadFile("../../web/static/tables.json")
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// The book is asked for once, when the page is shown; a failure is told, and asked again at the next visit.
func TestTables_readTheBookOnce(t *testing.T) {
	asks := func(a App) (App, int) {
		a, effects := a.Reduce(TablesAsked{})
		n := 0
		for _, e := range effects {
			if r, ok := e.(ReadStatic); ok && r.Address == TablesFile {
				n++
			}
		}
		return a, n
	}
	a, n := asks(New())
	b, again := asks(a)
	if n != 1 || again != 0 {
		t.Fatalf("asked %d times, then %d", n, again)
	}
	b, _ = b.Reduce(StaticRead{Address: TablesFile, Err: errors.New("no network")})
	if b.Tables.Known || b.Tables.Error == "" {
		t.Errorf("%+v", b.Tables)
	}
	if b, n = asks(b); n != 1 {
		t.Error("a failure is final")
	}
	b, _ = b.Reduce(StaticRead{Address: TablesFile, Data: []byte("{")})
	if b.Tables.Known || b.Tables.Error == "" {
		t.Errorf("half a file is taken: %+v", b.Tables)
	}
	b, _ = b.Reduce(StaticRead{Address: TablesFile, Data: tablesFile(t)})
	if !b.Tables.Known || b.Tables.Error != "" || len(b.Tables.Book.Tables) < 15 {
		t.Errorf("known %v, %q", b.Tables.Known, b.Tables.Error)
	}
}

// A search typed before the book is there finds when it comes; a table and a search shut each other.
func TestTables_searchAndOpen(t *testing.T) {
	a, _ := New().Reduce(TablesTyped{Text: "cherry"})
	if len(a.Tables.Found) != 0 || a.Tables.Text != "cherry" {
		t.Fatalf("%+v", a.Tables)
	}
	a, _ = a.Reduce(StaticRead{Address: TablesFile, Data: tablesFile(t)})
	if len(a.Tables.Found) == 0 {
		t.Error("the search is lost")
	}
	a, _ = a.Reduce(TableOpened{ID: "glow"})
	if a.Tables.Open != "glow" || a.Tables.Text != "" || a.Tables.Found != nil {
		t.Errorf("%+v", a.Tables.Open)
	}
	a, _ = a.Reduce(TablesTyped{Text: "xyzzy"})
	if a.Tables.Open != "" || len(a.Tables.Found) != 0 || a.Tables.Text != "xyzzy" {
		t.Errorf("%q %v", a.Tables.Open, a.Tables.Found)
	}
	a, _ = a.Reduce(TablesClosed{})
	if a.Tables.Text != "" || a.Tables.Open != "" {
		t.Error("not back at the list")
	}
	if _, _, ok := reduceTables(a, StaticRead{Address: "/web/other.json"}); ok {
		t.Error("takes a file that is not its own")
	}
}
