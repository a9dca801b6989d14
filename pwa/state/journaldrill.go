package state

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// DrillRow is one drill with how far it has come.
type DrillRow struct {
	ID       string
	Drill    journal.Drill
	Own      bool // made by the owner
	Progress journal.DrillProgress
}

// DrillForm is an own drill being written.
type DrillForm struct {
	ID      string // "" for a new one
	Fields  []FormField
	Problem string
	Busy    bool

	drill  journal.Drill
	thick  string // typed
	record storage.Record
}

// draftDrill is the key of the draft of an own drill.
const draftDrill = "drill:"

var drillThickness = numberSpec("thickness_m", "Thickness", "", units.QuantityThickness, 0.0001, 0.3, "no torch of a small shop works outside this")

func reduceDrills(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case DrillAdded:
		return did(a.withDrill(&DrillForm{}, ShowTop{}))
	case DrillOpened:
		return did(a.drillOpened(m.ID))
	case DrillTyped:
		return did(a.drillTyped(m.Key, m.Text))
	case DrillChosen:
		return did(a.drillTyped(m.Key, m.Value))
	case DrillSaved:
		return did(a.drillSaved())
	case DrillLeft:
		return did(a.drillLeft())
	case DrillDeleted:
		return did(a.drillDeleted(m.ID))
	}
	return a, nil, false
}

// ownDrills are the drills the owner has made, the oldest first, with the id of their record.
func (a App) ownDrills() []journal.Drill {
	var list []journal.Drill
	for _, r := range a.records {
		if r.Kind != journal.DrillKind || r.Deleted {
			continue
		}
		if d, err := journal.ReadDrill(r.Body); err == nil {
			d.ID = string(r.ID)
			list = append(list, d)
		}
	}
	slices.SortFunc(list, func(p, q journal.Drill) int { return cmp.Compare(p.ID, q.ID) })
	return list
}

// drill finds a drill of the path or an own one.
func (a App) drill(id string) (journal.Drill, bool) {
	if d, ok := journal.DrillByID(id); ok {
		return d, true
	}
	for _, d := range a.ownDrills() {
		if d.ID == id {
			return d, true
		}
	}
	return journal.Drill{}, false
}

// askDrills asks for the newest sheets of every drill.
func (a App) askDrills() (App, []Effect) {
	var list, one []Effect
	for _, d := range append(journal.Drills(), a.ownDrills()...) {
		a, one = a.find(forDrill+d.ID, journal.Filter{Drill: d.ID}, drillLimit)
		list = append(list, one...)
	}
	return a, list
}

// refreshDrills makes the list of drills anew.
func (a App) refreshDrills() App {
	a.Journal.Drills, a.Journal.NextUp = nil, ""
	path := journal.Drills()
	for i, d := range append(path, a.ownDrills()...) {
		p := journal.Progress(d, a.Journal.answers[forDrill+d.ID])
		a.Journal.Drills = append(a.Journal.Drills, DrillRow{ID: d.ID, Drill: d, Own: i >= len(path), Progress: p})
		if !p.MoveOn && a.Journal.NextUp == "" && i < len(path) {
			a.Journal.NextUp = d.ID
		}
	}
	return a
}

func (a App) drillOpened(id string) (App, []Effect) {
	r, ok := a.records[storage.ID(id)]
	d, err := journal.ReadDrill(r.Body)
	if !ok || r.Kind != journal.DrillKind || err != nil {
		return a, nil
	}
	f := &DrillForm{ID: id, drill: d, record: r}
	if d.ThicknessM != nil {
		f.thick = units.Format(units.QuantityThickness, *d.ThicknessM, a.Prefs.Units.Unit(units.QuantityThickness), 0)
	}
	return a.withDrill(f, ShowTop{})
}

// withDrill shows a form ready to be filled in, and keeps what was typed.
func (a App) withDrill(f *DrillForm, more ...Effect) (App, []Effect) {
	d := &f.drill
	f.Fields = nil
	for _, s := range []Spec{textSpec("name", "Name", ""), textSpec("aim", "Aim", "What you can do at the end of it."), textSpec("look", "What to look for", "")} {
		f.Fields = append(f.Fields, FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: s.Type, Text: *drillWords(d)[s.Key]})
	}
	for _, c := range []struct {
		key, label string
		options    []Option
	}{{"work", "Work", wordOptions(journal.Works())}, {"metal", "Metal", wordOptions(journal.Metals())}, {"joint", "Joint", wordOptions(journal.Joints())},
		{"position", "Position", positionOptions()}, {"flame", "Flame", wordOptions(journal.Flames())}} {
		f.Fields = append(f.Fields, FormField{Key: c.key, Label: c.label, Type: TypeChoice, Text: *drillWords(d)[c.key], Options: optional(c.options)})
	}
	field := drillThickness.Field
	field.Unit, field.Sheet = a.Prefs.Units.Unit(field.Quantity), sheetOf(d.Metal)
	r := readField(drillThickness, field, f.thick)
	d.ThicknessM = nil
	if r.given {
		d.ThicknessM = &r.si
	}
	f.Fields = append(f.Fields, formField(drillThickness, field, f.thick, r))
	a.Journal.Drill = f
	texts := map[string]string{"thickness_m": f.thick}
	for key, at := range drillWords(d) {
		texts[key] = *at
	}
	return a, append([]Effect{KeepDraft{Key: draftDrill + f.ID, Draft: Draft{Kind: journal.DrillKind, ID: f.ID, Texts: texts, Units: textOf(a.Prefs.Units)}}}, more...)
}

func drillWords(d *journal.Drill) map[string]*string {
	return map[string]*string{"name": &d.Name, "aim": &d.Aim, "look": &d.Look, "work": &d.Work, "metal": &d.Metal, "joint": &d.Joint, "position": &d.Position, "flame": &d.Flame}
}

func (a App) drillTyped(key, text string) (App, []Effect) {
	if a.Journal.Drill == nil {
		return a, nil
	}
	f := *a.Journal.Drill
	if at, ok := drillWords(&f.drill)[key]; ok {
		*at = text
	} else if key == drillThickness.Key {
		f.thick = text
	}
	f.Problem = ""
	return a.notSavedNow().withDrill(&f)
}

func (a App) drillSaved() (App, []Effect) {
	if a.Journal.Drill == nil || a.Journal.Drill.Busy {
		return a, nil
	}
	f := *a.Journal.Drill
	f.Fields = slices.Clone(f.Fields)
	a.Journal.Drill = &f
	for _, p := range f.drill.Check() {
		mark(f.Fields, p.Field, words.Capital(p.Error())+".")
	}
	if firstError(f.Fields) != "" {
		f.Problem = "Nothing is saved yet: see the marked fields."
		return a.notSavedNow(), nil
	}
	f.drill.ID = ""
	body, err := journal.WriteDrill(f.drill)
	if err != nil {
		f.Problem = words.S("Nothing is saved yet: %s.", err.Error())
		return a, nil
	}
	f.Busy = true
	id := f.ID
	return a.write(pending{drafts: []storage.Draft{{Seen: f.record, Kind: journal.DrillKind, Schema: max(journal.Schema, f.record.Schema), Body: body}}, form: draftDrill + id,
		then: func(a App, _ []storage.Record) (App, []Effect) {
			if a.Journal.Drill != nil && a.Journal.Drill.ID == id {
				a.Journal.Drill = nil
			}
			a, effects := a.refreshDrills().askDrills()
			return a, append(effects, ShowTop{})
		}})
}

func (a App) drillLeft() (App, []Effect) {
	f := a.Journal.Drill
	if f == nil || f.Busy {
		return a, nil
	}
	a.Journal.Drill = nil
	a.drafts = without(a.drafts, draftDrill+f.ID)
	return a, []Effect{KeepDraft{Key: draftDrill + f.ID}, ShowTop{}}
}

// drillDeleted deletes an own drill; its sheets stay.
func (a App) drillDeleted(id string) (App, []Effect) {
	r, ok := a.records[storage.ID(id)]
	if !ok || r.Kind != journal.DrillKind {
		return a, nil
	}
	a.Journal.Drill = nil
	return a.write(pending{drafts: []storage.Draft{{Seen: r, Del: true}}, undo: &Undo{Text: "The drill is deleted; its sheets stay.", before: []storage.Record{r}},
		then: func(a App, _ []storage.Record) (App, []Effect) { return a.refreshDrills(), []Effect{ShowTop{}} }})
}

// drillRestored goes on with an own drill that was being written.
func (a App) drillRestored() App {
	for _, key := range slices.Sorted(maps.Keys(a.drafts)) {
		id, ok := strings.CutPrefix(key, draftDrill)
		if !ok || a.Journal.Drill != nil {
			continue
		}
		f := &DrillForm{ID: id}
		if r, ok := a.records[storage.ID(id)]; ok {
			f.record = r
			f.drill, _ = journal.ReadDrill(r.Body) // an unreadable one was never opened for changes
		}
		texts := a.drafts[key].Texts
		for word, at := range drillWords(&f.drill) {
			*at = texts[word]
		}
		f.thick = texts["thickness_m"]
		a, _ = a.withDrill(f)
	}
	return a
}
