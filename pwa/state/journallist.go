package state

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
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
	case SheetOpened:
		return did(a.openSheet(m.ID, false))
	case SheetClosed:
		a.Journal.Shown, a.Journal.Opening = nil, Opening{}
		return a, []Effect{ShowTop{}}, true
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

// journalOpened reads what the page shows first: the list, before what is asked for besides.
func (a App) journalOpened() (App, []Effect) {
	a.Journal.Active = true
	a, effects := a.listAgain()
	var more []Effect
	switch a.Journal.View {
	case ViewDrills:
		a, more = a.refreshDrills().askDrills()
	case ViewTrends:
		a, more = a.trends(a.Journal.Measure)
	}
	a, menus := a.askMenus()
	return a, slices.Concat(effects, more, menus)
}

// listAgain reads the first page of the list anew. Answers to older questions are told by their token.
func (a App) listAgain() (App, []Effect) {
	a.Journal.next, a.Journal.More, a.Journal.Failed, a.Journal.Above = storage.Cursor{}, false, "", 0
	a.Journal.Filters = a.filterFields()
	return a.askList()
}

// askList asks for the page of the list that follows.
func (a App) askList() (App, []Effect) {
	a, a.Journal.listToken = a.token(forList)
	a.Journal.Loading = true
	limit := SheetPage
	if a.Journal.next == (storage.Cursor{}) {
		limit = SheetFirst
	}
	q := journal.Ask(a.Journal.Filter, a.Journal.Search)
	return a, []Effect{FindRecords{Token: a.Journal.listToken, Find: storage.Find{Kind: journal.Kind, Terms: q.Terms, Prefix: q.Prefix, Newest: true,
		After: a.Journal.next, Limit: limit, Briefs: true}}}
}

func (a App) moreSheets() (App, []Effect) {
	if !a.Journal.More || a.Journal.Loading {
		return a, nil
	}
	return a.askList()
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

// reduceSheetAnswers takes in what the store answers to the journal's questions; answers to others are left to them.
func reduceSheetAnswers(a App, m Msg) (App, []Effect, bool) {
	token := 0
	switch m := m.(type) {
	case RecordsFound:
		token = m.Token
	case RecordRead:
		token = m.Token
	case TermsCounted:
		token = m.Token
	}
	a, what, ok := a.answered(token)
	if !ok {
		return a, nil, false
	}
	switch m := m.(type) {
	case RecordsFound:
		if m.Err != nil {
			return did(a.notFound(what, m))
		}
		return did(a.found(what, m))
	case RecordRead:
		return did(a.sheetRead(what, m))
	case TermsCounted:
		return a.menu(m), nil, true
	}
	return a, nil, false
}

// found takes in a page for whoever asked.
func (a App) found(what string, m RecordsFound) (App, []Effect) {
	switch what {
	case forList:
		return a.listed(m), nil
	case forSample:
		return a.sampleFound(m.Page.Records)
	case forTable:
		return a.tabulated(m)
	case forAll, forNone:
		return a.kept(what, m.Page.Total), nil
	case forSplit:
		return a.splitFound(m.Page), nil
	}
	a.Journal.answers = maps.Clone(a.Journal.answers)
	if a.Journal.answers == nil {
		a.Journal.answers = map[string][]journal.Brief{}
	}
	a.Journal.answers[what] = briefs(m.Page.Briefs)
	switch what {
	case forWorked:
		return a.worked(), nil
	case forTrends:
		a.Journal.Trends = journal.Trends(a.Journal.answers[forTrends], a.Journal.Measure)
		return a, nil
	}
	return a.refreshDrills(), nil
}

// listed takes in a page of the list; one that answers an older question is dropped.
func (a App) listed(m RecordsFound) App {
	if m.Token != a.Journal.listToken {
		return a
	}
	var rows []SheetRow
	if m.Asked.After != (storage.Cursor{}) {
		rows = slices.Clone(a.Journal.Rows)
	}
	for _, f := range m.Page.Briefs {
		if b, err := journal.ReadBrief(f.Data); err == nil {
			rows = append(rows, SheetRow{ID: string(f.ID), Brief: b, Drill: a.drillName(b.Drill), Conflict: f.Conflict != storage.ConflictNone})
		}
	}
	j := &a.Journal
	if over := len(rows) - SheetWindow; over > 0 {
		rows, j.Above = rows[over:], j.Above+over
	}
	j.Rows, j.next, j.More, j.Loading, j.Failed = rows, m.Page.Next, m.Page.Next != storage.Cursor{}, false, ""
	j.Total, j.Partial = m.Page.Total, m.Page.Partial
	return a.markedRows()
}

func (a App) notFound(what string, m RecordsFound) (App, []Effect) {
	reason := words.S("The sheets could not be read: %s. They are kept; try again.", storeReason(m.Err))
	switch what {
	case forList:
		if m.Token == a.Journal.listToken {
			a.Journal.Loading, a.Journal.Failed = false, reason
		}
	case forSample, forTable:
		a.Journal.Busy, a.Journal.Report, a.Journal.table = false, reason, nil
	case forTrends:
		a.Journal.Report = reason
	case forWorked:
		a.Journal.workedKey = "" // asked again with the next change
	}
	return a, nil
}

func briefs(rows []storage.Brief) []journal.Brief {
	list := make([]journal.Brief, 0, len(rows))
	for _, r := range rows {
		if b, err := journal.ReadBrief(r.Data); err == nil {
			list = append(list, b)
		}
	}
	return list
}

// sheetsChanged reads again what a change of sheets may have made old.
func (a App) sheetsChanged() (App, []Effect) {
	a.Journal.workedKey, a.Journal.menuToken = "", 0
	a, worked := a.askWorked()
	a, kept := a.askKept()
	a, split := a.askSplit()
	effects := slices.Concat(worked, kept, split)
	if !a.Journal.Active {
		return a, effects
	}
	a, more := a.journalOpened()
	effects = append(effects, more...)
	if a.Journal.trendAsked {
		a, more = a.find(forTrends, journal.Filter{}, trendLimit)
		effects = append(effects, more...)
	}
	return a, effects
}

// sheetRead does what the sheet was read for.
func (a App) sheetRead(what string, m RecordRead) (App, []Effect) {
	v, ok := a.sheetView(m.Record)
	key := draftSheet + string(m.ID)
	if what == forOpen || what == forEdit {
		if a.Journal.Opening.ID != string(m.ID) {
			return a, nil // left, or another one was asked for meanwhile
		}
		key = cmp.Or(a.Journal.Opening.key, key)
		a.Journal.Opening = Opening{}
	}
	if _, kept := a.drafts[key]; kept && what == forEdit && (m.Err != nil || !ok) {
		return a.openDraft(key) // what was typed is worth more than what cannot be read
	}
	if m.Err != nil || !ok {
		a.Journal.Report = words.S("This sheet could not be read: %s.", readReason(m))
		return a, nil
	}
	a.Journal.Report = ""
	switch what {
	case forEdit:
		return a.editSheet(v, key)
	case forCopy:
		return a.copySheet(v)
	case forCompare:
		return a.comparing(v), nil
	}
	a = a.putAside()
	a.Journal.Shown, a.Journal.Compare = v, nil
	return a, []Effect{ShowTop{}}
}

// openSheet reads a sheet to show it, or to change it.
func (a App) openSheet(id string, edit bool) (App, []Effect) {
	a.Journal.Opening = Opening{ID: id, Edit: edit}
	if edit {
		return a.readSheet(forEdit, id)
	}
	return a.readSheet(forOpen, id)
}

// putAside closes the sheet being written, for another one to be looked at; what was typed is kept.
func (a App) putAside() App {
	if f := a.Journal.Editor; f != nil && !f.Busy {
		a.Journal.Editor = nil
		a.Journal.Unfinished = a.unfinishedSheets()
	}
	return a
}

func readReason(m RecordRead) string {
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
