package state

import (
	"maps"
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/storage"
)

// What a question to the index is for.
const (
	forList    = "list"
	forWorked  = "worked"
	forTrends  = "trends"
	forSample  = "sample"
	forDrill   = "drill:"
	forOpen    = "open"
	forEdit    = "edit"
	forCopy    = "copy"
	forCompare = "compare"
)

func reduceSheetList(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case JournalOpened:
		return did(a.journalOpened())
	case SheetFiltered:
		return did(a.sheetFiltered(m))
	case FilterCleared:
		a.Journal.Filter, a.Journal.Search = journal.Filter{}, ""
		return did(a.listAgain())
	case SheetSearched:
		a.Journal.Search = m.Text
		return did(a.listAgain())
	case MoreSheets:
		return did(a.moreSheets())
	case SheetsFound:
		return did(a.sheetsFound(m))
	case SheetsNotFound:
		return did(a.sheetsNotFound(m))
	case SheetOpened:
		return a, []Effect{ReadSheet{For: forOpen, ID: m.ID}}, true
	case SheetClosed:
		a.Journal.Shown = nil
		return a, []Effect{ShowTop{}}, true
	case SheetRead:
		return did(a.sheetRead(m))
	case SheetDeleted:
		return did(a.sheetDeleted(m.ID))
	case SheetVersionChosen:
		return did(a.sheetVersionChosen(m.Op))
	case SheetPicked:
		return did(a.sheetPicked(m.ID))
	case CompareClosed:
		a.Journal.Picked, a.Journal.Compare, a.Journal.compared = nil, nil, nil
		return a.markedRows(), []Effect{ShowTop{}}, true
	}
	return a, nil, false
}

// journalOpened reads what the page shows first.
func (a App) journalOpened() (App, []Effect) {
	a.Journal.Active = true
	a, effects := a.listAgain()
	return a, append(effects, a.askDrills()...)
}

// askList is the question of the list at a cursor.
func (a App) askList(after string) FindSheets {
	q := journal.Ask(a.Journal.Filter, a.Journal.Search)
	return FindSheets{For: forList, Token: a.Journal.listToken, Terms: q.Terms, Prefix: q.Prefix, After: after, Limit: SheetPage}
}

// listAgain reads the first page of the list anew. Answers to older questions are told by their token.
func (a App) listAgain() (App, []Effect) {
	a.Journal.listToken++
	a.Journal.Loading, a.Journal.Next, a.Journal.Failed = true, "", ""
	a.Journal.Filters = a.filterFields()
	return a, []Effect{a.askList("")}
}

func (a App) moreSheets() (App, []Effect) {
	if a.Journal.Next == "" || a.Journal.Loading {
		return a, nil
	}
	a.Journal.Loading = true
	return a, []Effect{a.askList(a.Journal.Next)}
}

func (a App) sheetFiltered(m SheetFiltered) (App, []Effect) {
	f := &a.Journal.Filter
	on := m.Value != ""
	switch m.Key {
	case "photo":
		f.Photo = on
	case "draft":
		f.Draft = on
	case "sample":
		f.Sample = on
	default:
		at := filterText(f)[m.Key]
		if at == nil {
			return a, nil
		}
		*at = m.Value
	}
	return a.listAgain()
}

func filterText(f *journal.Filter) map[string]*string {
	return map[string]*string{"work": &f.Work, "metal": &f.Metal, "joint": &f.Joint, "position": &f.Position, "class": &f.Class, "tip": &f.Tip, "drill": &f.Drill,
		"score": &f.Score, "month": &f.Month, "test": &f.Test}
}

// filterFields are the choices of the filter ready to show.
func (a App) filterFields() []FormField {
	f := a.Journal.Filter
	var list []FormField
	add := func(key, label, value string, options []Option) {
		list = append(list, FormField{Key: key, Label: label, Type: TypeChoice, Text: value, Options: append([]Option{{Label: "Any"}}, options...)})
	}
	add("work", "Work", f.Work, wordOptions(journal.Works()))
	add("metal", "Metal", f.Metal, wordOptions(journal.Metals()))
	add("class", "Thickness", f.Class, classOptions())
	add("joint", "Joint", f.Joint, wordOptions(journal.Joints()))
	add("position", "Position", f.Position, positionOptions())
	add("drill", "Drill", f.Drill, a.drillOptions())
	add("score", "Overall score", f.Score, []Option{{Value: "4", Label: "4"}, {Value: "3", Label: "3 to 4"}, {Value: "2", Label: "2 to 3"}, {Value: "1", Label: "1 to 2"},
		{Value: "0", Label: "under 1"}, {Value: "none", Label: "Not scored"}})
	add("test", "Test", f.Test, []Option{{Value: "pass", Label: "Passed"}, {Value: "fail", Label: "Failed"}})
	add("photo", "Photos", yesIf(f.Photo), []Option{{Value: "yes", Label: "With a photo"}})
	add("draft", "Drafts", yesIf(f.Draft), []Option{{Value: "yes", Label: "Drafts only"}})
	return list
}

func yesIf(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func wordOptions(words []journal.Word) []Option {
	list := make([]Option, len(words))
	for i, w := range words {
		list[i] = Option{Value: w.ID, Label: w.Name}
	}
	return list
}

func classOptions() []Option {
	var list []Option
	for _, c := range journal.Classes() {
		list = append(list, Option{Value: c.ID, Label: c.Name})
	}
	return list
}

func positionOptions() []Option {
	var list []Option
	for _, p := range journal.Positions() {
		list = append(list, Option{Value: p.ID, Label: p.Name, Note: p.Groove + ", " + p.Fillet})
	}
	return list
}

func (a App) drillOptions() []Option {
	var list []Option
	for _, d := range journal.Drills() {
		list = append(list, Option{Value: d.ID, Label: d.Name})
	}
	for _, d := range a.ownDrills() {
		list = append(list, Option{Value: d.ID, Label: d.Name})
	}
	return list
}

// sheetsFound takes in a page of rows for whoever asked.
func (a App) sheetsFound(m SheetsFound) (App, []Effect) {
	switch {
	case m.For == forList:
		return a.listed(m)
	case m.For == forSample:
		return a.sampleFound(m)
	}
	a.Journal.answers = maps.Clone(a.Journal.answers)
	if a.Journal.answers == nil {
		a.Journal.answers = map[string][]journal.Brief{}
	}
	a.Journal.answers[m.For] = briefs(m.Rows)
	switch {
	case m.For == forWorked:
		return a.worked(), nil
	case m.For == forTrends:
		a.Journal.Trends = journal.Trends(a.Journal.answers[forTrends], a.Journal.Measure)
		return a, nil
	}
	return a.refreshDrills(), nil
}

// listed takes in a page of the list; one that answers an older question is dropped.
func (a App) listed(m SheetsFound) (App, []Effect) {
	if m.Token != a.Journal.listToken {
		return a, nil
	}
	var rows []SheetRow
	if a.Journal.Next != "" { // a further page
		rows = slices.Clone(a.Journal.Rows)
	}
	for _, f := range m.Rows {
		b, err := journal.ReadBrief(f.Brief)
		if err != nil {
			continue
		}
		rows = append(rows, SheetRow{ID: string(f.ID), Brief: b, Drill: a.drillName(b.Drill)})
		a.Journal.Sample = a.Journal.Sample || b.Sample
	}
	a.Journal.Rows, a.Journal.Next, a.Journal.Loading, a.Journal.Failed, a.Journal.Found = rows, m.Next, false, "", len(rows)
	return a.markedRows(), nil
}

func (a App) sheetsNotFound(m SheetsNotFound) (App, []Effect) {
	reason := "The sheets could not be read: " + storeReason(m.Err) + ". They are kept; try again."
	switch {
	case m.For == forList && m.Token == a.Journal.listToken:
		a.Journal.Loading, a.Journal.Failed = false, reason
	case m.For == forSample:
		a.Journal.Busy, a.Journal.Report = false, reason
	case m.For == forTrends:
		a.Journal.Report = reason
	case m.For == forWorked:
		a.Journal.workedKey = "" // asked again with the next change
	}
	return a, nil
}

func briefs(rows []FoundSheet) []journal.Brief {
	list := make([]journal.Brief, 0, len(rows))
	for _, r := range rows {
		if b, err := journal.ReadBrief(r.Brief); err == nil {
			list = append(list, b)
		}
	}
	return list
}

// sheetsChanged reads again what a change of sheets may have made old.
func (a App) sheetsChanged() (App, []Effect) {
	a.Journal.workedKey = ""
	a, effects := a.askWorked()
	if !a.Journal.Active {
		return a, effects
	}
	a, more := a.listAgain()
	effects = append(append(effects, more...), a.askDrills()...)
	if a.Journal.trendAsked {
		effects = append(effects, askTrends())
	}
	return a, effects
}

// sheetRead does what the sheet was read for.
func (a App) sheetRead(m SheetRead) (App, []Effect) {
	v, ok := a.sheetView(m.Record)
	if m.Err != nil || !ok {
		a.Journal.Report = "This sheet could not be read: " + readReason(m) + "."
		return a, nil
	}
	a.Journal.Report = ""
	switch m.For {
	case forEdit:
		return a.editSheet(v)
	case forCopy:
		return a.copySheet(v)
	case forCompare:
		return a.comparing(v), nil
	}
	a.Journal.Shown, a.Journal.Compare = v, nil
	return a, []Effect{ShowTop{}}
}

func readReason(m SheetRead) string {
	switch {
	case m.Err != nil:
		return storeReason(m.Err)
	case m.Record.Deleted:
		return "it was deleted, perhaps in another window"
	}
	return "this version does not understand it; it is kept as it is, also in an export"
}

func (a App) sheetDeleted(id string) (App, []Effect) {
	v := a.Journal.Shown
	if v == nil || v.ID != id {
		return a, nil
	}
	return a.write(pending{drafts: []storage.Draft{{Seen: v.record, Del: true}}, undo: &Undo{Text: "The sheet is deleted.", before: []storage.Record{v.record}},
		then: func(a App, _ []storage.Record) (App, []Effect) {
			if a.Journal.Shown != nil && a.Journal.Shown.ID == id {
				a.Journal.Shown = nil
			}
			a.Journal.Picked = slices.DeleteFunc(slices.Clone(a.Journal.Picked), func(p string) bool { return p == id })
			return a, []Effect{ShowTop{}}
		}})
}

// sheetVersionChosen keeps one of several versions: it becomes the newest, the others stay in the record's history.
func (a App) sheetVersionChosen(op string) (App, []Effect) {
	v := a.Journal.Shown
	if v == nil {
		return a, nil
	}
	i := slices.IndexFunc(v.record.Heads, func(h storage.Op) bool { return string(h.ID) == op })
	if i < 0 {
		return a, nil
	}
	h := v.record.Heads[i]
	return a.write(pending{drafts: []storage.Draft{{Seen: v.record, Kind: h.Kind, Schema: h.Schema, Body: h.Body, Blobs: h.Blobs}},
		then: func(a App, records []storage.Record) (App, []Effect) { return a.showSheet(records), nil }})
}

// showSheet shows the sheet just written.
func (a App) showSheet(records []storage.Record) App {
	if len(records) == 1 {
		if v, ok := a.sheetView(records[0]); ok {
			a.Journal.Shown = v
		}
	}
	return a
}

// sheetLines is a sheet as lines of text, in the owner's units.
func (a App) sheetLines(s journal.Sheet) []string {
	return strings.Split(strings.TrimSuffix(a.sheetText(s), "\n"), "\n")
}
