package state

import (
	"maps"
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

// export gathers what is known here, for a store that cannot be read any more.
func (a App) export() Effect {
	e := Export{Records: make([]storage.Record, 0, len(a.records))}
	for r := range maps.Values(a.records) {
		e.Records = append(e.Records, r)
	}
	for _, p := range a.unsaved {
		e.Unsaved = append(e.Unsaved, p.drafts...)
	}
	for _, token := range slices.Sorted(maps.Keys(a.waiting)) {
		e.Waiting = append(e.Waiting, Write{Token: token, Drafts: a.waiting[token].drafts})
	}
	e.Typed = a.typedSheets()
	return e
}

// typedSheets are the sheets begun that no refused or waiting write holds, as unfinished ones. One with a mistake in it, as a
// note that is too long, is there as it was typed.
func (a App) typedSheets() []storage.Draft {
	var list []storage.Draft
	for _, key := range slices.Sorted(maps.Keys(a.drafts)) {
		f, ok := a.sheetFormOf(key, a.drafts[key])
		if !ok || !strings.HasPrefix(key, draftSheet) || a.underWay(key) {
			continue
		}
		a.refreshSheetForm(f)
		body, err := journal.Write(f.sheet)
		if err != nil {
			body = []byte(a.drafts[key].Choices["sheet"])
		}
		list = append(list, storage.Draft{Seen: f.seen(), Kind: journal.Kind, Schema: max(journal.Schema, f.schema), Body: body, Blobs: f.sheet.Hashes()})
	}
	return list
}

// underWay reports whether a write of a form waits for its answer, or to be tried again.
func (a App) underWay(form string) bool {
	ofForm := func(p pending) bool { return p.form == form }
	return slices.ContainsFunc(a.unsaved, ofForm) || slices.ContainsFunc(slices.Collect(maps.Values(a.waiting)), ofForm)
}

// exportReport tells what is in the file, and what is not.
func exportReport(m ExportDone) string {
	text := words.S("Written: %s, %s. Look for it among the downloads of this browser.", m.Name, words.Count(m.Records, "record"))
	if m.Rescued {
		text += words.T(" The storage could not be read in full: the file holds what could be, as it is now, without earlier versions. Keep it, and do not clear the data of this browser.")
	}
	if m.Lost > 0 {
		text += words.S(" Not in it: %s that could not be read.", words.Count(m.Lost, "sheet"))
	}
	if m.Skipped > 0 {
		text += words.S(" Not in it: %s that cannot be written, being too large or damaged. Keep this page open and save again.", words.Count(m.Skipped, "unsaved change"))
	}
	return text
}
