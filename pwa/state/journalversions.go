package state

import (
	"maps"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

// Messages of a sheet that was changed in two places.
type (
	// SheetFieldPicked takes a field of the open sheet from the other version, or from the first again.
	SheetFieldPicked struct {
		Field string
		Other bool
	}
	// SheetMerged saves the open sheet with the fields as picked.
	SheetMerged struct{}
)

func (SheetFieldPicked) msg() {}
func (SheetMerged) msg()      {}

func reduceSheetVersions(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetFieldPicked:
		v := a.Journal.Shown
		if v == nil || v.Other == nil {
			return a, nil, true
		}
		c := *v
		c.Picked = maps.Clone(v.Picked)
		if c.Picked == nil {
			c.Picked = map[string]bool{}
		}
		c.Picked[m.Field] = m.Other
		a.Journal.Shown = &c
		return a, nil, true
	case SheetMerged:
		return did(a.sheetMerged())
	}
	return a, nil, false
}

// twoVersions reads the two versions of a sheet for a choice field by field. With more of them, or a deletion among them, only whole
// versions can be chosen.
func (v *SheetView) twoVersions() {
	h := v.record.Heads
	if len(h) != 2 || h[0].Del || h[1].Del {
		return
	}
	other, err := journal.Read(h[1].Body)
	if err != nil {
		return
	}
	v.Other = &other
	for _, d := range journal.Compare(v.Sheet, other) {
		if d.Pickable() {
			v.Differences = append(v.Differences, d)
		}
	}
}

// sheetMerged writes one sheet of two versions; both stay in the record's history.
func (a App) sheetMerged() (App, []Effect) {
	v := a.Journal.Shown
	if v == nil || v.Other == nil {
		return a, nil
	}
	merged := journal.Merge(v.Sheet, *v.Other, v.Picked)
	body, err := journal.Write(merged)
	if err != nil {
		a.Journal.Report = words.S("The two versions do not fit into one: %s. Nothing was changed.", err.Error())
		return a, nil
	}
	schema := journal.Schema
	for _, h := range v.record.Heads {
		schema = max(schema, h.Schema)
	}
	return a.write(pending{drafts: []storage.Draft{{Seen: v.record, Kind: journal.Kind, Schema: schema, Body: body, Blobs: merged.Hashes()}}})
}

// shownAgain shows the open sheet as it was just written; a deleted one is closed.
func (a App) shownAgain(records []storage.Record) App {
	for _, r := range records {
		if v := a.Journal.Shown; v == nil || v.ID != string(r.ID) {
			continue
		}
		a.Journal.Shown, _ = a.sheetView(r)
	}
	return a
}
