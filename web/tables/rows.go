package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"torchside/calc/tables"
)

// row is one row of a reference table, by column.
type row map[string]string

// maker makes the book. It remembers the sources, and the rows it has used: none may be lost on the way.
type maker struct {
	from string
	book tables.Book
	used map[string]int // values made, by file
	err  error          // the first failure
}

// rows reads one reference table.
func (m *maker) rows(name string) []row {
	f, err := os.Open(filepath.Join(m.from, name))
	if err != nil {
		m.fail(err)
		return nil
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil || len(records) == 0 {
		m.fail(fmt.Errorf("%s: %v", name, err))
		return nil
	}
	var list []row
	for _, cells := range records[1:] {
		r := row{"file": name}
		for i, column := range records[0] {
			r[column] = cells[i]
		}
		list = append(list, r)
	}
	return list
}

func (m *maker) fail(err error) {
	if m.err == nil {
		m.err = err
	}
}

// value makes what the source of a row says.
func (m *maker) value(r row, text, when string) tables.Value {
	m.used[r["file"]]++
	return tables.Value{Text: text, When: tidy(when), Source: m.source(r["source"]), Trust: tables.Trust(r["trust"]), Note: tidy(r["note"])}
}

// source is the place of a source in the list.
func (m *maker) source(name string) int {
	if name == "" {
		m.fail(fmt.Errorf("a row without a source"))
	}
	if i := slices.Index(m.book.Sources, name); i >= 0 {
		return i
	}
	m.book.Sources = append(m.book.Sources, name)
	return len(m.book.Sources) - 1
}

// add puts a table into the book. Entries whose sources say different things are marked.
func (m *maker) add(t tables.Table) {
	m.book.Tables = append(m.book.Tables, t)
}

// group gathers rows into entries by their name, in the order of their first row; rank orders the values of an entry, the lowest
// first, and those of one rank stay in order.
func (m *maker) group(rows []row, name func(row) string, value func(row) tables.Value, rank func(row) float64) []tables.Entry {
	type ranked struct {
		tables.Value
		rank float64
	}
	var order []string
	values := map[string][]ranked{}
	for _, r := range rows {
		n := upper(tidy(name(r)))
		if _, ok := values[n]; !ok {
			order = append(order, n)
		}
		values[n] = append(values[n], ranked{value(r), rank(r)})
	}
	var list []tables.Entry
	for _, n := range order {
		found := values[n]
		slices.SortStableFunc(found, func(a, b ranked) int {
			switch {
			case a.rank < b.rank:
				return -1
			case a.rank > b.rank:
				return 1
			}
			return 0
		})
		e := tables.Entry{Name: n}
		for _, v := range found {
			e.Values = append(e.Values, v.Value)
			e.Differ = e.Differ || !same(v.Text, found[0].Text)
		}
		list = append(list, e)
	}
	return list
}

// byTrust orders values by how far they are to be trusted.
func byTrust(r row) float64 {
	return map[string]float64{"A": 0, "D": 1, "B": 2}[r["trust"]] + map[bool]float64{true: 3}[r["trust"] == "C"]
}
