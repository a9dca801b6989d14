package state

import (
	"maps"

	"torchside/calc/units"
)

// Worksheet is a question of a Bench page: what is typed, and its fields ready to show. What is typed is kept as a draft.
type Worksheet struct {
	Texts  map[string]string
	Fields []FormField

	si       map[string]float64 // what was understood
	complete bool               // every needed field is answered, and none is refused
}

// Names of the worksheets; drafts of them have the same key.
const (
	SheetAir     = "air"
	SheetPreheat = "preheat"
	SheetConvert = "convert"
)

// WorksheetTyped is a text typed or a choice made on a worksheet.
type WorksheetTyped struct{ Sheet, Key, Text string }

func (WorksheetTyped) msg() {}

// worksheets are all of them: fields, draft, reload and change of units follow from the row.
var worksheets = []struct {
	name     string
	specs    []Spec
	at       func(*App) *Worksheet
	answered func(App) App // works out what is asked
}{
	{SheetAir, airSpecs, func(a *App) *Worksheet { return &a.Air.Worksheet }, App.airAnswered},
	{SheetPreheat, preheatSpecs, func(a *App) *Worksheet { return &a.Preheat.Worksheet }, App.preheatAnswered},
	{SheetConvert, convertSpecs, func(a *App) *Worksheet { return &a.Convert.Worksheet }, App.convertAnswered},
}

// worksheetAt is the place of a worksheet in the app; nil for no such one.
func (a *App) worksheetAt(name string) *Worksheet {
	for _, s := range worksheets {
		if s.name == name {
			return s.at(a)
		}
	}
	return nil
}

func reduceWorksheet(a App, m Msg) (App, []Effect, bool) {
	typed, ok := m.(WorksheetTyped)
	if !ok {
		return a, nil, false
	}
	w := a.worksheetAt(typed.Sheet)
	if w == nil {
		return a, nil, true
	}
	w.Texts = maps.Clone(w.Texts)
	if w.Texts == nil {
		w.Texts = map[string]string{}
	}
	w.Texts[typed.Key] = typed.Text
	keep := Draft{Texts: maps.Clone(w.Texts), Units: textOf(a.Prefs.Units)}
	return a.refreshWorksheets(), []Effect{KeepDraft{Key: typed.Sheet, Draft: keep}}, true
}

// refreshWorksheets reads all worksheets again and works out what they ask.
func (a App) refreshWorksheets() App {
	for _, s := range worksheets {
		w := s.at(&a)
		*w = a.filled(*w, s.specs)
	}
	for _, s := range worksheets {
		a = s.answered(a)
	}
	return a
}

// worksheetField is a field of a worksheet as it is read now.
func (a App) worksheetField(s Spec) units.Field {
	f := s.Field
	f.Unit, f.Sheet = s.unit(a.Prefs.Units), units.SteelSheet
	return f
}

// filled reads the fields of a worksheet. A needed one that is still empty is no mistake, but there is no answer yet.
func (a App) filled(w Worksheet, specs []Spec) Worksheet {
	w.Fields, w.si, w.complete = nil, map[string]float64{}, true
	choices := map[string]string{}
	for _, s := range specs {
		if s.Type == TypeChoice {
			choices[s.Key] = w.choice(s)
		}
	}
	for _, s := range specs {
		if !s.isShown(fill{choices: choices}) {
			continue
		}
		text := w.Texts[s.Key]
		if s.Type != TypeNumber {
			f := FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: s.Type, Text: text, Options: s.Options}
			if s.Type == TypeChoice {
				f.Text = choices[s.Key]
			}
			w.Fields = append(w.Fields, f)
			continue
		}
		field := a.worksheetField(s)
		r := readField(s, field, text)
		if text == "" {
			r.err, r.meant = "", nil
		}
		if r.given {
			w.si[s.Key] = r.si
		}
		w.complete = w.complete && r.err == "" && (r.given || field.Optional)
		w.Fields = append(w.Fields, formField(s, field, text, r))
	}
	return w
}

// choice is the answer of a choice, the first when none is made.
func (w Worksheet) choice(s Spec) string {
	if v := w.Texts[s.Key]; v != "" {
		return v
	}
	return s.Default
}

// worksheetsRetexted keeps the meaning of what is typed when the units change.
func (a App) worksheetsRetexted(before units.System) App {
	old := a
	old.Prefs.Units = before
	for _, s := range worksheets {
		a.retextWorksheet(old, s.at(&a), s.specs)
	}
	return a
}

// retextWorksheet does so for one.
func (a App) retextWorksheet(old App, w *Worksheet, specs []Spec) {
	w.Texts = maps.Clone(w.Texts)
	for _, s := range specs {
		if text := w.Texts[s.Key]; s.Type == TypeNumber && text != "" {
			w.Texts[s.Key] = retext(old.worksheetField(s), a.worksheetField(s), text)
		}
	}
}

// worksheetsRestored brings back what was typed before a reload, in other units perhaps.
func (a App) worksheetsRestored() App {
	for _, s := range worksheets {
		d, ok := a.drafts[s.name]
		if !ok {
			continue
		}
		w := s.at(&a)
		w.Texts = maps.Clone(d.Texts)
		old := a
		if old.Prefs.Units.UnmarshalText([]byte(d.Units)) == nil {
			a.retextWorksheet(old, w, s.specs)
		}
	}
	return a
}
