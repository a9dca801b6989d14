package state

import (
	"strings"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

func reduceSheetOut(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetTableAsked:
		a.Journal.Busy, a.Journal.Report, a.Journal.table, a.Journal.tabled = true, "", nil, 0
		return did(a.askTable(storage.Cursor{}))
	case FileHanded:
		a.Journal.Busy = false
		a.Journal.Report = words.S("Written: %s, %s. Look for it among the downloads of this browser.", m.Name, words.Count(a.Journal.tabled, "sheet"))
		return a, nil, true
	case FileRefused:
		a.Journal.Busy, a.Journal.Report = false, words.S("The table was not written: %s.", fileReason(m.Err))
		return a, nil, true
	case SheetShared:
		if v := a.Journal.Shown; v != nil {
			return a, []Effect{ShareText{Title: shareTitle(v.Sheet), Text: a.sheetText(v.Sheet)}}, true
		}
		return a, nil, true
	case SheetShareFailed:
		a.Journal.Report = words.S("The sheet was not handed on: %s.", m.Why)
		return a, nil, true
	case SampleSheetsAdded:
		return did(a.sampleSheetsAdded())
	case SampleSheetsRemoved:
		a.Journal.Busy, a.Journal.Report = true, ""
		a, token := a.token(forSample)
		// Whole records: a deletion names the version it deletes.
		return a, []Effect{FindRecords{Token: token, Find: storage.Find{Kind: journal.Kind, Terms: journal.Filter{Sample: true}.Terms(), Limit: sampleLimit}}}, true
	}
	return a, nil, false
}

func shareTitle(s journal.Sheet) string {
	if s.Title != "" {
		return s.Title
	}
	return words.S("Sheet of %s", s.At)
}

// sheetText is a sheet as plain text in the owner's units.
func (a App) sheetText(s journal.Sheet) string {
	return journal.Text(s, func(n journal.Number, si float64) string {
		for _, q := range units.Quantities() {
			if q.String() != n.Quantity {
				continue
			}
			g := gas.Oxygen
			if strings.HasPrefix(n.Field, "fuel") {
				g = fuelOf(s)
			}
			return units.Format(q, si, sheetSpec(n.Field).unit(a.Prefs.Units), g.StandardRatio())
		}
		return units.Format(units.QuantitySpeed, si, a.Prefs.Units.Unit(units.QuantitySpeed), 0)
	})
}

// sheetSpec is the field of a number of a sheet; one of a speed has none and takes the usual unit.
func sheetSpec(key string) Spec {
	for _, s := range sheetSpecs {
		if s.Key == key {
			return s
		}
	}
	return Spec{Key: key, Field: units.Field{Quantity: units.QuantitySpeed}}
}

// sampleSheetsAdded writes the sample journal, unless it is here.
func (a App) sampleSheetsAdded() (App, []Effect) {
	if a.Journal.Busy || a.Journal.Sample {
		return a, nil
	}
	var p pending
	for _, s := range journal.Sample(a.nowText()) {
		body, err := journal.Write(s)
		if err != nil {
			return a.panicked(words.S("writing the sample journal: %s", err.Error())), nil
		}
		p.drafts = append(p.drafts, storage.Draft{Kind: journal.Kind, Schema: journal.Schema, Body: body})
	}
	if len(p.drafts) == 0 {
		return a, nil // the clock has not been read yet
	}
	a.Journal.Busy, a.Journal.Report = true, ""
	p.then = func(a App, records []storage.Record) (App, []Effect) {
		a.Journal.Busy, a.Journal.Sample = false, true
		a.Journal.Report = words.S("%s of a sample yard added. They are marked, and one tap takes them out again.", words.Count(len(records), "invented sheet"))
		return a, nil
	}
	return a.write(p)
}

// askTable asks for the next sheets of the table. They are read a page at a time, and only the finished lines are kept.
func (a App) askTable(after storage.Cursor) (App, []Effect) {
	a, token := a.token(forTable)
	q := journal.Ask(a.Journal.Filter, a.Journal.Search)
	return a, []Effect{FindRecords{Token: token, Find: storage.Find{Kind: journal.Kind, Terms: q.Terms, Prefix: q.Prefix, Newest: true, After: after, Limit: tablePage}}}
}

// tabulated writes the lines of a page; after the last one the table is handed over.
func (a App) tabulated(m RecordsFound) (App, []Effect) {
	var sheets []journal.Sheet
	for _, r := range m.Page.Records {
		if s, err := journal.Read(r.Body); err == nil {
			sheets = append(sheets, s)
		}
	}
	lines := journal.CSV(sheets)
	if a.Journal.table != nil {
		lines = journal.CSVRows(sheets)
	}
	a.Journal.table, a.Journal.tabled = append(a.Journal.table, lines...), a.Journal.tabled+len(sheets)
	if m.Page.Next != (storage.Cursor{}) {
		return a.askTable(m.Page.Next)
	}
	table := a.Journal.table
	a.Journal.table = nil
	return a, []Effect{HandFile{Name: SheetTableName, Data: table}}
}

// sampleFound removes the sheets of the sample, and offers to take it back.
func (a App) sampleFound(records []storage.Record) (App, []Effect) {
	a.Journal.Busy = false
	p := pending{undo: &Undo{Text: "The sample journal is removed."}}
	for _, r := range records {
		if s, err := journal.Read(r.Body); err == nil && s.Sample && !r.Deleted {
			p.drafts = append(p.drafts, storage.Draft{Seen: r, Del: true})
			p.undo.before = append(p.undo.before, r)
		}
	}
	if len(p.drafts) == 0 {
		a.Journal.Sample = false
		return a, nil
	}
	p.then = func(a App, _ []storage.Record) (App, []Effect) {
		a.Journal.Sample, a.Journal.Report, a.Journal.Shown = false, "", nil
		return a, nil
	}
	return a.write(p)
}
