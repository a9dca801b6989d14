package present

import (
	"strconv"

	"torchside/calc/tables"
)

// TableLink leads to one table.
type TableLink struct{ ID, Title, Count string }

// TableHead is what stands before the entries of a table.
type TableHead struct{ Title, Caution, Source, About string }

// TableEntry is one entry ready to show.
type TableEntry struct {
	Table    string // title of its table; empty inside the table itself
	Name     string
	Differ   bool
	Dim, Day string // swatches, #rrggbb; empty for none
	Values   []TableValue
}

// TableValue is what one source says.
type TableValue struct {
	Text, When, Note string
	Trust, Source    string
	Memory           bool
}

// TableLinks lists the tables.
func TableLinks(b tables.Book) []TableLink {
	var list []TableLink
	for _, t := range b.Tables {
		list = append(list, TableLink{ID: t.ID, Title: t.Title, Count: strconv.Itoa(len(t.Entries))})
	}
	return list
}

// NewTable writes one table in the owner's units; ok is false when the book has none of that id.
func NewTable(b tables.Book, id string, o Options) (head TableHead, list []TableEntry, ok bool) {
	t, ok := b.Table(id)
	if !ok {
		return TableHead{}, nil, false
	}
	for _, e := range t.Entries {
		list = append(list, newTableEntry(b, e, o))
	}
	return TableHead{Title: t.Title, Caution: o.Units.Say(t.Caution), Source: t.Source, About: o.Units.Say(t.About)}, list, true
}

// FoundHeads are the cautions of the tables that a search led into, each once, in the order found.
func FoundHeads(b tables.Book, hits []tables.Hit, o Options) []TableHead {
	var list []TableHead
	seen := map[int]bool{}
	for _, h := range hits {
		if t := b.Tables[h.Table]; !seen[h.Table] && t.Caution != "" {
			list = append(list, TableHead{Title: t.Title, Caution: o.Units.Say(t.Caution), Source: t.Source})
		}
		seen[h.Table] = true
	}
	return list
}

// FoundEntries writes what a search found, each with the title of its table.
func FoundEntries(b tables.Book, hits []tables.Hit, o Options) []TableEntry {
	var list []TableEntry
	for _, h := range hits {
		t := b.Tables[h.Table]
		e := newTableEntry(b, t.Entries[h.Entry], o)
		e.Table = t.Title
		list = append(list, e)
	}
	return list
}

func newTableEntry(b tables.Book, e tables.Entry, o Options) TableEntry {
	out := TableEntry{Name: o.Units.Say(e.Name), Differ: e.Differ, Dim: e.Dim, Day: e.Day}
	for _, v := range e.Values {
		out.Values = append(out.Values, TableValue{Text: o.Units.Say(v.Text), When: o.Units.Say(v.When), Note: v.Note,
			Trust: v.Trust.Words(), Source: b.Sources[v.Source], Memory: v.Trust.IsMemory()})
	}
	return out
}
