package state

import (
	"maps"
	"slices"

	"torchside/calc/words"
	"torchside/storage"
)

// partAdded opens the form of a new part.
func (a App) partAdded(m PartAdded) (App, []Effect) {
	if _, ok := kinds[m.Kind]; !ok || a.busy() {
		return a, nil
	}
	if d, ok := a.drafts[m.Draft]; ok && d.Kind == m.Kind {
		return a.resumed(m.Draft).opened()
	}
	p := Part{Kind: m.Kind, Choices: map[string]string{}}
	if m.Line != "" && m.Kind != KindCylinder {
		p.Choices["line"] = m.Line
	}
	if m.Kind == KindCylinder && m.Line == LineFuel {
		p.Choices["gas"] = "acetylene"
	}
	if m.Kind == KindCylinder && m.Line == LineOxygen {
		p.Choices["gas"] = LineOxygen
	}
	if m.Kind == KindTip && a.fuelInUse() != "" {
		p.Choices["fuel"] = a.fuelInUse()
	}
	if m.TipID != "" {
		p.Choices["tip"] = m.TipID
	}
	return a.notSavedNow().openForm(p, "", a.freeKey(m.Kind, m.TipID)).opened()
}

func (a App) busy() bool { return a.Rig.Form != nil && a.Rig.Form.Busy }

// opened shows the form. The way back to another form that was put away stays.
func (a App) opened() (App, []Effect) {
	if u := a.Undo; u != nil && (u.form == nil || u.form.draftKey() == a.Rig.Form.draftKey()) {
		a.Undo = nil
	}
	a.Rig.Unfinished = a.unfinished()
	return a, []Effect{ShowTop{}}
}

func (a App) partOpened(id string) (App, []Effect) {
	p, ok := a.part(id)
	if !ok || a.busy() {
		return a, nil
	}
	return a.notSavedNow().openForm(p, "", "").opened()
}

// partCopied opens a new form filled in like a saved part. A copy is the owner's own, not a sample.
func (a App) partCopied(id string) (App, []Effect) {
	p, ok := a.part(id)
	if !ok || a.busy() {
		return a, nil
	}
	c := p.clone()
	c.ID, c.record, c.InUse, c.Retired, c.Sample = "", storage.Record{}, false, false, false
	if c.Name != "" {
		c.Name += words.T(" copy")
	}
	rowsOf := ""
	if p.Kind == KindTip {
		rowsOf = id
	}
	a, kept := a.openForm(c, rowsOf, a.freeKey(c.Kind, c.Choices["tip"])).keepForm()
	a, effects := a.opened()
	return a, append(kept, effects...)
}

// nextRow opens the next row of a chart: the thickness goes on where the last one ended.
func (a App) nextRow(last Part) App {
	p := Part{Kind: KindChartRow, Choices: maps.Clone(last.Choices), Values: map[string]Value{}}
	if v, ok := last.Values["thickness_high"]; ok {
		p.Values["thickness_low"] = Value{SI: v.SI, Typed: v.Typed, Unit: v.Unit}
	}
	return a.openForm(p, "", "")
}

// copyRows writes the chart rows of one tip for another.
func (a App) copyRows(from, to string) (App, []Effect) {
	var drafts []storage.Draft
	for _, r := range a.rows(from) {
		c := r.clone()
		c.record, c.Sample = storage.Record{}, false
		c.Choices["tip"] = to
		d, err := draftOf(c)
		if err != nil {
			return a.panicked(words.S("copying the chart: %s", err.Error())), nil
		}
		drafts = append(drafts, d)
	}
	if len(drafts) == 0 {
		return a, nil
	}
	return a.write(pending{drafts: drafts})
}

// draftOf is a part as a change of its record.
func draftOf(p Part) (storage.Draft, error) {
	body, err := p.Body()
	return storage.Draft{Seen: p.record, Kind: string(p.Kind), Schema: max(Schema, p.record.Schema), Body: body}, err
}

// rewrite writes several parts anew, and offers to take it back when there is a text for it.
func (a App) rewrite(parts []Part, undoText string) (App, []Effect) {
	p := pending{}
	var before []storage.Record
	for _, part := range parts {
		d, err := draftOf(part)
		if err != nil {
			return a.panicked(err.Error()), nil
		}
		p.drafts = append(p.drafts, d)
		before = append(before, part.record)
	}
	if undoText != "" {
		p.undo = &Undo{Text: undoText, before: before}
	}
	return a.write(p)
}

// partUsed makes one part the one in use; the others of its kind and line are spare.
func (a App) partUsed(id string) (App, []Effect) {
	p, ok := a.part(id)
	if !ok || p.Retired || !kinds[p.Kind].sole {
		return a, nil
	}
	var changed []Part
	for _, q := range a.parts(p.Kind) {
		if use := q.ID == id; q.Line() == p.Line() && q.InUse != use {
			q.InUse = use
			changed = append(changed, q)
		}
	}
	if len(changed) == 0 {
		return a, nil
	}
	return a.rewrite(changed, words.S("%s is in use now.", a.partName(p)))
}

func (a App) partRetired(m PartRetired) (App, []Effect) {
	p, ok := a.part(m.ID)
	if !ok || p.Retired != m.Back {
		return a, nil
	}
	p.Retired, p.InUse = !m.Back, false
	text := words.S("%s is retired.", a.partName(p))
	if m.Back {
		p, text = a.firstUse(p), words.S("%s is back.", a.partName(p))
	}
	a, form := a.closedFor(m.ID)
	a, effects := a.rewrite([]Part{p}, text)
	return a, append(form, effects...)
}

// closedFor closes the form of a part that is being taken away. What was typed into it stays as a draft, and the list offers to
// go on with it.
func (a App) closedFor(id string) (App, []Effect) {
	f := a.Rig.Form
	if f == nil || f.ID != id {
		return a, nil
	}
	a.Rig.Form = nil
	return a, []Effect{ShowTop{}}
}

func (a App) partDeleted(id string) (App, []Effect) {
	p, ok := a.part(id)
	if !ok || a.busy() {
		return a, nil
	}
	parts := []Part{p}
	if p.Kind == KindTip {
		parts = append(parts, a.rows(id)...)
	}
	a, form := a.closedFor(id)
	a, effects := a.remove(parts, words.S("%s is deleted.", a.partName(p)))
	return a, append(form, effects...)
}

// remove deletes parts, and offers to take it back.
func (a App) remove(parts []Part, text string) (App, []Effect) {
	p := pending{undo: &Undo{Text: text}}
	for _, part := range parts {
		p.drafts = append(p.drafts, storage.Draft{Seen: part.record, Del: true})
		p.undo.before = append(p.undo.before, part.record)
	}
	return a.write(p)
}

// undone takes the last removal back.
func (a App) undone() (App, []Effect) {
	u := a.Undo
	if u == nil || a.busy() {
		return a, nil
	}
	a.Undo = nil
	switch {
	case u.form != nil:
		return a.formBack(u.form)
	case u.sheet != nil:
		return a.sheetBack(u.sheet)
	case u.change != nil:
		return a.changedBack(u)
	}
	var p pending
	for _, r := range u.before {
		p.drafts = append(p.drafts, storage.Draft{Seen: u.after[r.ID], Kind: r.Kind, Schema: r.Schema, Body: r.Body, Blobs: r.Blobs})
	}
	return a.write(p)
}

// versionChosen keeps one of several versions: it becomes the newest, the others stay in the record's history.
func (a App) versionChosen(m VersionChosen) (App, []Effect) {
	p, ok := a.part(m.ID)
	if !ok {
		return a, nil
	}
	i := slices.IndexFunc(p.record.Heads, func(h storage.Op) bool { return string(h.ID) == m.Op })
	if i < 0 {
		return a, nil
	}
	h := p.record.Heads[i]
	a, form := a.closedFor(m.ID)
	a, effects := a.write(pending{drafts: []storage.Draft{{Seen: p.record, Kind: h.Kind, Schema: h.Schema, Body: h.Body, Blobs: h.Blobs}}})
	return a, append(form, effects...)
}

// draftsLoaded brings back what was typed before a reload: the question of Setup, and the unfinished forms, which the list
// offers to go on with.
func (a App) draftsLoaded(m DraftsLoaded) App {
	a.drafts = maps.Clone(m.Drafts)
	if a.drafts == nil {
		a.drafts = map[string]Draft{}
	}
	if d, ok := a.drafts[draftSetup]; ok {
		a = a.setupRestored(d)
	}
	a = a.cutListRestored(a.drafts[draftCutList])
	return a.worksheetsRestored().leakRestored(a.drafts).timerRestored(a.drafts[draftTimer]).pacerRestored(a.drafts[draftPacer]).cylinderLogRestored(a.drafts).sheetsRestored().drillRestored().rebuilt()
}

func (a App) setupRestored(d Draft) App {
	s := a.Setup
	s.Typed, s.For = maps.Clone(d.Texts), askedOf(d.Earlier)
	if s.Typed == nil {
		s.Typed = map[string]string{}
	}
	a.Setup = s
	for _, key := range []string{"work", "metal", "joint", "tip", "had_tip"} {
		if v, ok := d.Choices[key]; ok && (v != "" || key == "tip") {
			a = a.withSetupChoice(key, v)
		}
	}
	var before = a.Prefs.Units
	if before.UnmarshalText([]byte(d.Units)) == nil {
		a = a.retexted(before)
	}
	return a
}
