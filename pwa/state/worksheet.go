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

// worksheetSpecs are the fields of each worksheet.
var worksheetSpecs = map[string][]Spec{SheetAir: airSpecs, SheetPreheat: preheatSpecs, SheetConvert: convertSpecs}

// worksheetNames are in a fixed order.
var worksheetNames = []string{SheetAir, SheetPreheat, SheetConvert}

// worksheetAt is the place of a worksheet in the app; nil for no such one.
func (a *App) worksheetAt(name string) *Worksheet {
	switch name {
	case SheetAir:
		return &a.Air.Worksheet
	case SheetPreheat:
		return &a.Preheat.Worksheet
	case SheetConvert:
		return &a.Convert.Worksheet
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
	for _, name := range worksheetNames {
		w := a.worksheetAt(name)
		*w = a.filled(*w, worksheetSpecs[name])
	}
	return a.airAnswered().preheatAnswered().convertAnswered()
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
	for _, name := range worksheetNames {
		w := a.worksheetAt(name)
		w.Texts = maps.Clone(w.Texts)
		for _, s := range worksheetSpecs[name] {
			if text := w.Texts[s.Key]; s.Type == TypeNumber && text != "" {
				w.Texts[s.Key] = retext(old.worksheetField(s), a.worksheetField(s), text)
			}
		}
	}
	return a
}

// worksheetsRestored brings back what was typed before a reload.
func (a App) worksheetsRestored() App {
	for _, name := range worksheetNames {
		d, ok := a.drafts[name]
		if !ok {
			continue
		}
		a.worksheetAt(name).Texts = maps.Clone(d.Texts)
		before := a.Prefs.Units
		if before.UnmarshalText([]byte(d.Units)) == nil {
			only := a
			only.Air.Worksheet, only.Preheat.Worksheet, only.Convert.Worksheet = Worksheet{}, Worksheet{}, Worksheet{}
			*only.worksheetAt(name) = *a.worksheetAt(name)
			only = only.worksheetsRetexted(before)
			*a.worksheetAt(name) = *only.worksheetAt(name)
		}
	}
	return a
}
