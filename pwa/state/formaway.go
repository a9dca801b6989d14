package state

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/words"
)

// Unfinished is a form that was typed and not saved.
type Unfinished struct {
	Kind      Kind
	ID, TipID string
	Title     string
	Key       string // of its draft
	Hook      string // what the controls that belong to it are told apart by
}

// takeBack is the label of the way back to a form that was put away.
const takeBack = "Take it back"

// draftKey is the key of a form's draft: of a saved part its own, of a new one that of its kind.
func draftKey(k Kind, id, tipID string) string { return draftForm + string(k) + ":" + id + ":" + tipID }

// DraftKey names what was typed into the form.
func (f *Form) DraftKey() string { return f.draftKey() }

// freeKey is a key for a new part that no unfinished form has, also none that can still be taken back: each keeps its own text.
func (a App) freeKey(k Kind, tipID string) string {
	first := draftKey(k, "", tipID)
	for key, n := first, 2; ; n++ {
		_, taken := a.drafts[key]
		if u := a.Undo; !taken && (u == nil || u.form == nil || u.form.draftKey() != key) {
			return key
		}
		key = first + "#" + strconv.Itoa(n)
	}
}

// leaveForm closes the open form. What was typed stays as a draft, and the list offers to go on with it.
func (a App) leaveForm() (App, []Effect) {
	f := a.Rig.Form
	if f == nil || f.Busy {
		return a, nil
	}
	a.Rig.Form = nil
	return a.rebuilt(), []Effect{ShowTop{Act: a.opener(f)}}
}

// opener is the control in the list that leads back to a form.
func (a App) opener(f *Form) string {
	act := "rig-add-" + string(f.Kind)
	switch d, kept := a.drafts[f.draftKey()]; {
	case kept:
		return "rig-resume-" + hook(f.draftKey(), d)
	case f.ID != "":
		return "rig-part-" + f.ID
	case f.Kind == KindChartRow:
		return act + "-" + f.TipID
	case kinds[f.Kind].lined:
		return act + "-" + f.Line
	}
	return act
}

// cancelForm puts the open form away with what was typed. Undo brings it back.
func (a App) cancelForm() (App, []Effect) {
	f := a.Rig.Form
	if f == nil || f.Busy {
		return a, nil
	}
	_, typed := a.drafts[f.draftKey()]
	a.Rig.Form = nil
	a, effects := a.formAway(f)
	if !typed && !f.dirty {
		a.Undo = nil // nothing to take back
	}
	return a, append(effects, ShowTop{Act: a.opener(f)})
}

// formAway forgets a form's draft, and a change of it that the store refused. Undo brings it back.
func (a App) formAway(f *Form) (App, []Effect) {
	key := f.draftKey()
	title := a.draftTitle(f.draft())
	a.drafts = without(a.drafts, key)
	a.unsaved = slices.DeleteFunc(slices.Clone(a.unsaved), func(u pending) bool { return u.form == key })
	if a.Saved.State == SaveFailed {
		a = a.settledSaved(SaveIdle)
	}
	a.Undo = &Undo{Text: words.S("Put away: %s.", title), Way: takeBack, form: f}
	return a.rebuilt(), []Effect{KeepDraft{Key: key}}
}

// discarded puts an unfinished form away.
func (a App) discarded(u Unfinished) (App, []Effect) {
	if _, ok := a.drafts[u.Key]; !ok || a.Rig.Form != nil {
		return a, nil
	}
	f := a.resumed(u.Key).Rig.Form
	return a.formAway(f)
}

// formBack opens a form that was put away, as it was.
func (a App) formBack(f *Form) (App, []Effect) {
	g := f.clone()
	g.Problem = ""
	a.Rig.Form = g
	a, effects := a.keepForm()
	return a.rebuilt(), append(effects, ShowTop{})
}

// goneOn opens an unfinished form.
func (a App) goneOn(u Unfinished) (App, []Effect) {
	if _, ok := a.drafts[u.Key]; !ok || a.busy() {
		return a, nil
	}
	return a.resumed(u.Key).opened()
}

// resumed opens an unfinished form. One whose part is gone goes on as a new part: what was typed is worth more than where.
func (a App) resumed(key string) App {
	d := a.drafts[key]
	p, ok := a.part(d.ID)
	if !ok {
		p = Part{Kind: d.Kind, Choices: map[string]string{"tip": d.TipID}}
	}
	return a.openForm(p, d.RowsOf, key)
}

// unfinished lists the drafts of forms, but for the open one.
func (a App) unfinished() []Unfinished {
	var list []Unfinished
	for key, d := range a.drafts {
		if !strings.HasPrefix(key, draftForm) || a.Rig.Form != nil && a.Rig.Form.draftKey() == key {
			continue
		}
		list = append(list, Unfinished{Kind: d.Kind, ID: d.ID, TipID: d.TipID, Title: a.draftTitle(d), Key: key, Hook: hook(key, d)})
	}
	slices.SortFunc(list, func(p, q Unfinished) int { return strings.Compare(p.Title+p.Key, q.Title+q.Key) })
	return list
}

// hook tells the controls of one unfinished form from those of another of the same kind.
func hook(key string, d Draft) string {
	_, n, _ := strings.Cut(key, "#")
	return string(d.Kind) + d.ID + d.TipID + n
}

// draftTitle is what an unfinished form is of: its name, or what it is.
func (a App) draftTitle(d Draft) string {
	title := kinds[d.Kind].title
	if name := d.Texts["name"]; name != "" {
		return title + " " + name
	}
	if tip, ok := a.part(d.TipID); ok {
		return words.S("%s of tip %s", title, tip.Name)
	}
	return a.partName(Part{Kind: d.Kind, Choices: maps.Clone(d.Texts)})
}
