package state

import (
	"slices"
	"time"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

func reduceSheetForm(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetCaught:
		return did(a.sheetCaught())
	case SheetBegun:
		return did(a.sheetBegun(m.Drill))
	case SheetEdited:
		return did(a.openSheet(m.ID, true))
	case SheetCopied:
		return did(a.readSheet(forCopy, m.ID))
	case SheetResumed:
		return did(a.sheetResumed(m.Key))
	case SheetSaved:
		return did(a.sheetSaved(m.Finish))
	case SheetLeft:
		return did(a.sheetLeft())
	case SheetDiscarded:
		return did(a.sheetDiscarded())
	}
	return reduceSheetFields(a, m)
}

func reduceSheetFields(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetTyped:
		return did(a.sheetTyped(m.Key, m.Text))
	case SheetChosen:
		return did(a.sheetTyped(m.Key, m.Value))
	case SheetScored:
		return did(a.edited(func(f *SheetForm) bool { return f.score(m.ID, m.Value) }))
	case SheetSkipped:
		return did(a.edited(func(f *SheetForm) bool { return f.skip(m.ID) }))
	case SheetTested:
		return did(a.edited(func(f *SheetForm) bool {
			f.sheet.Tests = append(f.sheet.Tests, m.Result)
			return len(f.sheet.Tests) <= journal.MaxTests
		}))
	case SheetTestDropped:
		return did(a.edited(func(f *SheetForm) bool {
			if m.Index < 0 || m.Index >= len(f.sheet.Tests) {
				return false
			}
			f.sheet.Tests = slices.Delete(f.sheet.Tests, m.Index, m.Index+1)
			return true
		}))
	}
	return a, nil, false
}

// edited changes a copy of the open form; change reports whether there was anything to do.
func (a App) edited(change func(*SheetForm) bool) (App, []Effect) {
	if a.Journal.Editor == nil {
		return a, nil
	}
	f := a.Journal.Editor.clone()
	if !change(f) {
		return a, nil
	}
	return a.withEditor(f)
}

// nowText is the time as last read, with the offset of the place; "" before the clock was read.
func (a App) nowText() string {
	if a.Clock.Wall == 0 {
		return ""
	}
	return time.UnixMilli(a.Clock.Wall).Format(time.RFC3339)
}

// opening shows a form; one that is open is put aside first, as it is kept anyway.
func (a App) opening(f *SheetForm) (App, []Effect) {
	a.Undo = nil
	a.Journal.Shown, a.Journal.Compare, a.Journal.Opening = nil, nil, Opening{}
	a.refreshSheetForm(f)
	a.Journal.Editor = f
	return a.keepSheet(f, ShowTop{})
}

// sheetBegun opens an empty sheet, or one with the settings of a drill.
func (a App) sheetBegun(drill string) (App, []Effect) {
	s := journal.Sheet{Drill: drill}
	if d, ok := a.drill(drill); ok {
		s = d.Sheet()
		s.Drill = drill
	}
	s.At = a.nowText()
	return a.opening(a.newSheetForm(s, storage.Record{}))
}

// editSheet opens a saved sheet for changes; one whose changes are kept under the key goes on with them.
func (a App) editSheet(v *SheetView, key string) (App, []Effect) {
	f := a.newSheetForm(v.Sheet, v.record)
	if d, ok := a.drafts[key]; ok {
		if g, ok := a.sheetFormOf(key, d); ok {
			if slices.Equal(g.heads, f.heads) {
				g.before = f.before
			}
			f = g
		}
	}
	return a.opening(f)
}

// copySheet begins a new sheet with the settings of another; what was found and written there stays there.
func (a App) copySheet(v *SheetView) (App, []Effect) {
	o := v.Sheet
	s := journal.Sheet{At: a.nowText(), Title: o.Title, Place: o.Place, Drill: o.Drill, Work: o.Work, Metal: o.Metal, Joint: o.Joint, Position: o.Position,
		ThicknessM: o.ThicknessM, Tip: o.Tip, Fuel: o.Fuel, OxygenGaugePa: o.OxygenGaugePa, FuelGaugePa: o.FuelGaugePa, Ratio: o.Ratio, Flame: o.Flame,
		Filler: o.Filler, FillerDiameterM: o.FillerDiameterM, Flux: o.Flux, Card: o.Card, Typed: o.Typed}
	return a.opening(a.newSheetForm(s, storage.Record{}))
}

func (a App) sheetResumed(key string) (App, []Effect) {
	d, ok := a.drafts[key]
	if !ok {
		return a, nil
	}
	if d.ID != "" {
		a, effects := a.openSheet(d.ID, true) // read, so that the correction can be taken back
		a.Journal.Opening.key = key
		return a, effects
	}
	return a.openDraft(key)
}

// openDraft opens a form as it is kept.
func (a App) openDraft(key string) (App, []Effect) {
	f, ok := a.sheetFormOf(key, a.drafts[key])
	if !ok {
		return a, nil
	}
	return a.opening(f)
}

func (a App) sheetTyped(key, text string) (App, []Effect) {
	return a.edited(func(f *SheetForm) bool {
		if at, ok := sheetWords(&f.sheet)[key]; ok {
			if key == "at" {
				text = momentOf(text, *at)
			}
			*at = text
			return true
		}
		f.texts[key] = text
		return journal.Sheet{}.WithNumber(key, new(float64)).Number(key) != nil // a key of ours
	})
}

// score gives a score; the same again takes it back.
func (f *SheetForm) score(id string, value int) bool {
	if _, ok := journal.ScoreByID(f.sheet.Work, id); !ok || value < 0 || value > journal.MaxScore {
		return false
	}
	if f.sheet.Scores == nil {
		f.sheet.Scores = map[string]int{}
	}
	if old, ok := f.sheet.Scores[id]; ok && old == value {
		delete(f.sheet.Scores, id)
		return true
	}
	f.sheet.Scores[id] = value
	f.sheet.Skipped = slices.DeleteFunc(f.sheet.Skipped, func(s string) bool { return s == id })
	return true
}

// skip passes a score over, or takes that back.
func (f *SheetForm) skip(id string) bool {
	if _, ok := journal.ScoreByID(f.sheet.Work, id); !ok {
		return false
	}
	if slices.Contains(f.sheet.Skipped, id) {
		f.sheet.Skipped = slices.DeleteFunc(f.sheet.Skipped, func(s string) bool { return s == id })
		return true
	}
	delete(f.sheet.Scores, id)
	f.sheet.Skipped = append(f.sheet.Skipped, id)
	return true
}

// sheetSaved writes the sheet if nothing is wrong with it; else it says what is wrong and writes nothing.
func (a App) sheetSaved(finish bool) (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Busy {
		return a, nil
	}
	f = f.clone()
	f.tried = finish
	a.refreshSheetForm(f)
	a.Journal.Editor = f
	if f.Taking > 0 {
		f.Problem = "A photo is still being stored; save when it is there."
		return a.notSavedNow(), nil
	}
	if key, text := f.firstProblem(finish); text != "" {
		f.Problem = text
		return a.notSavedNow(), []Effect{ShowTop{Act: "sheet-" + key}}
	}
	f.sheet.Finished = finish
	body, err := journal.Write(f.sheet)
	if err != nil {
		f.Problem = words.S("Nothing is saved yet: %s. What you typed is kept.", err.Error())
		return a.notSavedNow(), nil
	}
	f.Busy, f.dirty = true, false
	d := storage.Draft{Seen: f.seen(), Kind: journal.Kind, Schema: max(journal.Schema, f.schema), Body: body, Blobs: f.sheet.Hashes()}
	key := f.Key
	return a.write(pending{drafts: []storage.Draft{d}, form: key, undo: f.takenBack(), then: func(a App, records []storage.Record) (App, []Effect) {
		return a.sheetWritten(key, records)
	}})
}

// takenBack is the way back from a correction of a saved sheet; nil for a new one, and for one whose version before is not known.
func (f *SheetForm) takenBack() *Undo {
	if f.ID == "" || len(f.before.Heads) == 0 {
		return nil
	}
	return &Undo{Text: "The sheet is corrected.", before: []storage.Record{f.before}}
}

// seen is the record as it was when the form was opened: if somebody changed it since, both versions are kept.
func (f *SheetForm) seen() storage.Record {
	r := storage.Record{ID: storage.ID(f.ID), Kind: journal.Kind, Schema: f.schema}
	for _, h := range f.heads {
		r.Heads = append(r.Heads, storage.Op{ID: h})
	}
	return r
}

// sheetWritten closes the form that was saved and shows the sheet. One that was typed into meanwhile stays open, as the form of
// the saved sheet.
func (a App) sheetWritten(key string, records []storage.Record) (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Key != key || len(records) != 1 {
		a.Journal.Unfinished = a.unfinishedSheets()
		return a, nil
	}
	if !f.dirty {
		a.Journal.Editor = nil
		a.Journal.Unfinished = a.unfinishedSheets()
		if records[0].Conflict != storage.ConflictNone {
			a.Undo = nil // it would take back what somebody else wrote along with this
		}
		return a.showSheet(records), []Effect{ShowTop{}}
	}
	g := f.clone()
	g.ID, g.Key, g.heads, g.schema, g.Busy = string(records[0].ID), draftSheet+string(records[0].ID), records[0].HeadIDs(), records[0].Schema, false
	a.Journal.Editor = g
	return a.keepSheet(g)
}

// sheetRefused says in the form that the store took nothing.
func (a App) sheetRefused(key string, err error) App {
	if f := a.Journal.Editor; f != nil && f.Key == key {
		g := f.clone()
		g.Busy, g.refused, g.Problem = false, true, words.S("Not saved: %s. What you typed is kept here.", storeReason(err))
		a.Journal.Editor = g
	}
	if f := a.Journal.Drill; f != nil && draftDrill+f.ID == key {
		g := *f
		g.Busy, g.Problem = false, words.S("Not saved: %s. What you typed is kept here.", storeReason(err))
		a.Journal.Drill = &g
	}
	return a
}

// sheetLeft closes the form; what was typed waits in the list of sheets begun. One that nothing was typed into is forgotten.
func (a App) sheetLeft() (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Busy {
		return a, nil
	}
	a.Journal.Editor = nil
	effects := []Effect{ShowTop{}}
	if !f.dirty && !f.Restored && !f.refused {
		a.drafts = without(a.drafts, f.Key)
		effects = append(effects, KeepDraft{Key: f.Key})
	}
	a.Journal.Unfinished = a.unfinishedSheets()
	return a, effects
}

// sheetDiscarded drops what was typed; Undo brings it back.
func (a App) sheetDiscarded() (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Busy {
		return a, nil
	}
	a.Journal.Editor = nil
	a.drafts = without(a.drafts, f.Key)
	a.unsaved = slices.DeleteFunc(slices.Clone(a.unsaved), func(u pending) bool { return u.form == f.Key })
	if a.Saved.State == SaveFailed {
		a = a.settledSaved(SaveIdle)
	}
	a.Journal.Unfinished = a.unfinishedSheets()
	a.Undo = &Undo{Text: "The sheet you were writing was put away.", sheet: f}
	return a, []Effect{KeepDraft{Key: f.Key}, ShowTop{}}
}

// sheetBack opens a form that was put away, or puts back what was taken off it.
func (a App) sheetBack(f *SheetForm) (App, []Effect) {
	g := f.clone()
	g.Problem, g.Busy = "", false
	a.Undo = nil
	return a.opening(g)
}
