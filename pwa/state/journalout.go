package state

import (
	"strings"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/storage"
)

func reduceSheetOut(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetTableAsked:
		q := journal.Ask(a.Journal.Filter, a.Journal.Search)
		a.Journal.Busy, a.Journal.Report = true, ""
		return a, []Effect{TableSheets{Terms: q.Terms, Prefix: q.Prefix}}, true
	case SheetTableMade:
		a.Journal.Busy = false
		a.Journal.Report = "Written: " + m.Name + ", " + counted(m.Sheets, "sheet") + ". Look for it among the downloads of this browser."
		return a, nil, true
	case SheetShared:
		if v := a.Journal.Shown; v != nil {
			return a, []Effect{ShareText{Title: shareTitle(v.Sheet), Text: a.sheetText(v.Sheet)}}, true
		}
		return a, nil, true
	case SheetShareFailed:
		a.Journal.Report = "The sheet was not handed on: " + m.Why + "."
		return a, nil, true
	case SampleSheetsAdded:
		return did(a.sampleSheetsAdded())
	case SampleSheetsRemoved:
		a.Journal.Busy, a.Journal.Report = true, ""
		return a, []Effect{FindSheets{For: forSample, Terms: journal.Filter{Sample: true}.Terms(), Limit: sampleLimit}}, true
	case SheetsRead:
		return did(a.sampleRead(m))
	}
	return a, nil, false
}

func shareTitle(s journal.Sheet) string {
	if s.Title != "" {
		return s.Title
	}
	return "Sheet of " + s.At
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
			return a.panicked("writing the sample journal: " + err.Error()), nil
		}
		p.drafts = append(p.drafts, storage.Draft{Kind: journal.Kind, Schema: journal.Schema, Body: body})
	}
	if len(p.drafts) == 0 {
		return a, nil // the clock has not been read yet
	}
	a.Journal.Busy, a.Journal.Report = true, ""
	p.then = func(a App, records []storage.Record) (App, []Effect) {
		a.Journal.Busy, a.Journal.Sample = false, true
		a.Journal.Report = counted(len(records), "invented sheet") + " of a sample yard added. They are marked, and one tap takes them out again."
		return a, nil
	}
	return a.write(p)
}

// sampleFound reads the sheets of the sample for removing: a deletion names the version it deletes.
func (a App) sampleFound(m SheetsFound) (App, []Effect) {
	if len(m.Rows) == 0 {
		a.Journal.Busy, a.Journal.Sample = false, false
		return a, nil
	}
	ids := make([]string, len(m.Rows))
	for i, r := range m.Rows {
		ids[i] = string(r.ID)
	}
	return a, []Effect{ReadSheets{For: forSample, IDs: ids}}
}

func (a App) sampleRead(m SheetsRead) (App, []Effect) {
	a.Journal.Busy = false
	if m.Err != nil {
		a.Journal.Report = "The sample sheets could not be read: " + storeReason(m.Err) + "."
		return a, nil
	}
	p := pending{undo: &Undo{Text: "The sample journal is removed."}}
	for _, r := range m.Records {
		if s, err := journal.Read(r.Body); err == nil && s.Sample && !r.Deleted {
			p.drafts = append(p.drafts, storage.Draft{Seen: r, Del: true})
			p.undo.before = append(p.undo.before, r)
		}
	}
	if len(p.drafts) == 0 {
		return a, nil
	}
	p.then = func(a App, _ []storage.Record) (App, []Effect) {
		a.Journal.Sample, a.Journal.Report, a.Journal.Shown = false, "", nil
		return a, nil
	}
	return a.write(p)
}
