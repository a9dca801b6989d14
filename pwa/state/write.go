package state

import (
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/words"
	"torchside/storage"
)

// pending is a write under way and what follows it.
type pending struct {
	drafts []storage.Draft
	form   string // draft key of the form it closes
	kind   Kind   // of that form's part
	pref   string // key of the preference it writes
	undo   *Undo  // offered once it is durable
	reason string // why the store refused it, for one that waits to be tried again
	start  bool   // starts a timer: refused, it is not tried again later, when the time would no longer be the right one
	then   func(App, []storage.Record) (App, []Effect)
}

// write starts a write. The answer comes as WriteDone or WriteFailed with the same token.
func (a App) write(p pending) (App, []Effect) {
	a.tokens++
	a.waiting = maps.Clone(a.waiting)
	if a.waiting == nil {
		a.waiting = map[int]pending{}
	}
	a.waiting[a.tokens] = p
	a.Saved = SaveState{State: SaveBusy, Count: a.Saved.Count}
	return a, []Effect{Write{Token: a.tokens, Drafts: p.drafts}}
}

// written takes in what is now durable.
func (a App) written(m WriteDone) (App, []Effect) {
	p, ok := a.waiting[m.Token]
	if !ok {
		return a, nil
	}
	a = a.settled(m.Token)
	a.Saved.Count++
	a.records = maps.Clone(a.records)
	if a.records == nil {
		a.records = map[storage.ID]storage.Record{}
	}
	for _, r := range m.Records {
		if !isSheet(r.Kind) {
			a.records[r.ID] = r
		}
	}
	a.unsaved = slices.DeleteFunc(slices.Clone(a.unsaved), p.overtakes)
	if p.undo != nil {
		a.Undo = p.undo.seen(m.Records)
	}
	var effects []Effect
	if !a.askedKeep {
		a.askedKeep = true
		effects = append(effects, AskPersistent{})
	}
	a, more := a.follow(p, m.Records)
	return a.settledSaved(SaveDone).rebuilt(), append(effects, more...)
}

// overtakes reports whether a refused write is of the same form, preference or record, so that trying it again would write an
// older state over this one. What was typed is never dropped for another change of its record: forms give way to themselves
// alone, and the readings of a leak test to nothing.
func (p pending) overtakes(refused pending) bool {
	if refused.form != "" || refused.pref != "" {
		return refused.form == p.form && refused.pref == p.pref
	}
	records := map[storage.ID]bool{}
	for _, d := range p.drafts {
		records[d.Seen.ID] = d.Seen.ID != ""
	}
	return !refused.typed() && slices.ContainsFunc(refused.drafts, func(d storage.Draft) bool { return records[d.Seen.ID] })
}

// typed reports whether the write holds readings of a leak test, which nobody can take again.
func (p pending) typed() bool {
	return slices.ContainsFunc(p.drafts, func(d storage.Draft) bool { return d.Kind == KindLeakTest })
}

// settledSaved tells how things stand once no write is under way: with nothing refused they are as given and the notices go,
// else the last refusal still holds.
func (a App) settledSaved(as string) App {
	switch {
	case len(a.waiting) > 0:
	case len(a.unsaved) > 0:
		a.Saved = SaveState{State: SaveFailed, Reason: a.unsaved[len(a.unsaved)-1].reason, Count: a.Saved.Count}
	default:
		a.Saved = SaveState{State: as, Count: a.Saved.Count}
		a = a.withoutNotice(NoticeStoreFailed).withoutNotice(NoticeStoreFull)
	}
	return a
}

// settled takes a write off the list.
func (a App) settled(token int) App {
	a.waiting = maps.Clone(a.waiting)
	delete(a.waiting, token)
	return a
}

// follow does what comes after a write: the form closes, the preference that changed meanwhile is written, rows follow their tip.
func (a App) follow(p pending, records []storage.Record) (App, []Effect) {
	var effects []Effect
	if p.form != "" {
		a, effects = a.formWritten(p, records)
	}
	if slices.ContainsFunc(records, func(r storage.Record) bool { return isSheet(r.Kind) }) {
		var more []Effect
		a, more = a.shownAgain(records).sheetsChanged()
		effects = append(effects, more...)
	}
	if next, ok := a.prefsNext[p.pref]; ok && p.pref != "" {
		a.prefsNext = without(a.prefsNext, p.pref)
		var more []Effect
		a, more = a.writePref(p.pref, next.Value, next.Typed)
		effects = append(effects, more...)
	}
	if p.then != nil {
		a = a.rebuilt()
		var more []Effect
		a, more = p.then(a, records)
		effects = append(effects, more...)
	}
	return a, effects
}

// formWritten closes the form that was saved, unless something was typed into it meanwhile.
func (a App) formWritten(p pending, records []storage.Record) (App, []Effect) {
	f := a.Rig.Form
	a.drafts = without(a.drafts, p.form)
	effects := []Effect{KeepDraft{Key: p.form}}
	if f == nil || f.draftKey() != p.form || len(records) == 0 {
		return a, effects
	}
	part, err := ReadPart(records[0])
	if err != nil {
		return a, effects
	}
	if f.dirty {
		return a.typedMeanwhile(f, part, effects)
	}
	a.Rig.Form = nil
	a = a.rebuilt()
	if f.another {
		return a.nextRow(part), append(effects, ShowTop{})
	}
	if f.rowsOf != "" {
		var more []Effect
		a, more = a.copyRows(f.rowsOf, part.ID)
		effects = append(effects, more...)
	}
	return a, append(effects, ShowTop{Act: "rig-part-" + part.ID})
}

// typedMeanwhile keeps a form open that was typed into while it was saved: it goes on as the form of the saved part.
func (a App) typedMeanwhile(f *Form, part Part, effects []Effect) (App, []Effect) {
	g := f.clone()
	g.ID, g.base, g.Busy, g.key = part.ID, part, false, ""
	a.Rig.Form = g
	a.drafts = maps.Clone(a.drafts)
	a.drafts[g.draftKey()] = g.draft()
	return a, append(effects, KeepDraft{Key: g.draftKey(), Draft: g.draft()})
}

// failed keeps what the store refused and says so.
func (a App) writeFailed(m WriteFailed) (App, []Effect) {
	p, ok := a.waiting[m.Token]
	if !ok {
		return a, nil
	}
	a = a.settled(m.Token)
	p.reason = storeReason(m.Err)
	if !p.start {
		a.unsaved = append(slices.DeleteFunc(slices.Clone(a.unsaved), p.overtakes), p)
	}
	a = a.storeNotice(m.Err)
	if p.start {
		return a.timerRefused(m.Err), nil
	}
	if f := a.Rig.Form; f != nil && f.draftKey() == p.form {
		g := f.clone()
		g.Busy, g.Problem = false, words.S("Not saved: %s. What you typed is kept here.", storeReason(m.Err))
		a.Rig.Form = g
	}
	a = a.sheetRefused(p.form, m.Err)
	if next, ok := a.prefsNext[p.pref]; ok && p.pref != "" {
		a.prefsNext = without(a.prefsNext, p.pref)
		return a.writePref(p.pref, next.Value, next.Typed)
	}
	return a, nil
}

// retry writes again what was refused.
func (a App) retry() (App, []Effect) {
	refused := len(a.unsaved)
	list, wait := a.again()
	a.unsaved = wait
	var effects []Effect
	for _, p := range list {
		var more []Effect
		if len(p.drafts) == 0 { // all of it is stored already
			a, more = a.follow(p, nil)
			a = a.settledSaved(SaveDone)
		} else {
			a, more = a.write(p)
		}
		effects = append(effects, more...)
	}
	if refused == 0 || !a.read {
		effects = append(effects, Reload{})
	}
	return a, effects
}

// storeNotice is the standing notice of a store that refused something.
func (a App) storeNotice(err error) App {
	reason := storeReason(err)
	a.Saved = SaveState{State: SaveFailed, Reason: reason, Count: a.Saved.Count}
	code := NoticeStoreFailed
	if errors.Is(err, storage.ErrFull) {
		code = NoticeStoreFull
	}
	return a.withNotice(Notice{Code: code, Level: LevelStop, Action: ActionExport, Retry: true,
		Text: words.S("Not saved: %s. What you entered is kept while this page is open. Save a file with everything now, then try again.", reason)})
}

// unreadNotice is the standing notice of a store that cannot be read. It says nothing of saving, which was not tried.
func (a App) unreadNotice(err error) App {
	return a.withNotice(Notice{Code: NoticeStoreUnread, Level: LevelStop, Action: ActionExport, Retry: true,
		Text: words.S("What is stored cannot be read: %s. Nothing of it was changed, but what is shown here may be old or missing. Try again; do not enter it a second time.", storeReason(err))})
}

// storeReason says for a person why a store refused.
func storeReason(err error) string {
	for _, r := range []struct {
		is   error
		text string
	}{
		{storage.ErrFull, "the storage of this browser is full"},
		{storage.ErrClosed, "the storage was closed by another window of this app"},
		{storage.ErrBlocked, "another window holds an older version of this app open; close it"},
		{storage.ErrUnavailable, "this browser offers no lasting storage here; a private window may be the cause"},
		{storage.ErrLost, "the connection to the storage was lost"},
		{storage.ErrNewer, "what is stored was written by a newer version of this app"},
		{storage.ErrCorrupt, "what is stored is damaged"},
	} {
		if errors.Is(err, r.is) {
			return r.text
		}
	}
	if err == nil {
		return "the storage did not say why"
	}
	return words.S("the storage said %s", strconv.Quote(err.Error()))
}

// fileReason says for a person why a file could not be written or read in.
func fileReason(err error) string {
	switch {
	case errors.Is(err, storage.ErrNewer):
		return "the file was written by a newer version of this app; update this one first"
	case errors.Is(err, storage.ErrCorrupt):
		found := strings.TrimPrefix(err.Error(), storage.ErrCorrupt.Error()+": ") // it is the file, not what is stored
		return words.S("the file is damaged or cut short (%s)", shorten(found))
	case errors.Is(err, storage.ErrFull), errors.Is(err, storage.ErrClosed), errors.Is(err, storage.ErrLost),
		errors.Is(err, storage.ErrUnavailable), errors.Is(err, storage.ErrBlocked), err == nil:
		return storeReason(err)
	}
	return shorten(err.Error())
}

// seen fills in the records as the write left them, which taking it back starts from.
func (u *Undo) seen(records []storage.Record) *Undo {
	c := *u
	c.after = map[storage.ID]storage.Record{}
	for _, r := range records {
		c.after[r.ID] = r
	}
	return &c
}
