package calctest

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Row is one row of a reference table, read by column name.
type Row struct {
	t     testing.TB
	table *table
	cells []string
	line  int
}

// table is the header of a reference table.
type table struct {
	name    string
	columns map[string]int
}

// Reference reads testdata/reference/name and returns its rows in file order. It fails the test when the file cannot be read,
// has no rows, names a column twice, or has a row of another length than its header.
func Reference(t testing.TB, name string) []Row {
	t.Helper()
	file, err := os.Open(filepath.Join(Root(t), "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(records) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	head := header(t, name, records[0])
	rows := make([]Row, 0, len(records)-1)
	for i, cells := range records[1:] {
		rows = append(rows, Row{t, head, cells, i + 2})
	}
	return rows
}

// header indexes the column names.
func header(t testing.TB, name string, names []string) *table {
	t.Helper()
	columns := make(map[string]int, len(names))
	for i, n := range names {
		if _, twice := columns[n]; twice {
			t.Fatalf("%s has two columns %q", name, n)
		}
		columns[n] = i
	}
	return &table{name, columns}
}

// Root returns the top folder of the module: the nearest one above the test that holds go.mod.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = parent
	}
}

// Where filters rows to those whose column holds the value; none left fails the test, so that a renamed value is noticed.
func Where(t testing.TB, rows []Row, column, value string) []Row {
	t.Helper()
	var kept []Row
	for _, r := range rows {
		if r.Text(column) == value {
			kept = append(kept, r)
		}
	}
	if len(kept) == 0 {
		t.Fatalf("no row has %s = %q", column, value)
	}
	return kept
}

// Text returns the cell of a column; a missing column fails the test.
func (r Row) Text(column string) string {
	r.t.Helper()
	i, ok := r.table.columns[column]
	if !ok {
		r.t.Fatalf("%s has no column %q", r.table.name, column)
	}
	return r.cells[i]
}

// Has reports whether the cell of a column is filled; a missing column fails the test.
func (r Row) Has(column string) bool {
	r.t.Helper()
	return r.Text(column) != ""
}

// Number returns the cell of a column as a number; a missing column or an unreadable cell fails the test.
func (r Row) Number(column string) float64 {
	r.t.Helper()
	v, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.t.Fatalf("%s, column %q: %v", r, column, err)
	}
	return v
}

// Bool returns the cell of a column as true or false; anything else fails the test.
func (r Row) Bool(column string) bool {
	r.t.Helper()
	v, err := strconv.ParseBool(r.Text(column))
	if err != nil {
		r.t.Fatalf("%s, column %q: %v", r, column, err)
	}
	return v
}

// ID returns the first cell: the case id of every computed table.
func (r Row) ID() string { return r.cells[0] }

// String names the row in messages: table, line and first cell.
func (r Row) String() string { return fmt.Sprintf("%s:%d (%s)", r.table.name, r.line, r.cells[0]) }
