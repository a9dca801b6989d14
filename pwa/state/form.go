package state

import (
	"encoding/json"
	"maps"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// Form is the open form of one part.
type Form struct {
	ID       string // of the part; "" for a new one
	Kind     Kind
	TipID    string // of a chart row's tip
	Line     string // it was opened for; "" when it has none
	Title    string
	Fields   []FormField // the fields that belong to it, ready to show
	Problem  string      // why it was not saved; "" while nothing is wrong with the whole
	Restored bool        // filled in from what was typed before a reload
	Busy     bool        // being written
	Sample   bool
	Retired  bool
	CanUse   bool            // it can be made the one in use
	Versions []Version       // the versions to choose from, of a part changed in two places
	Differ   []FieldVersions // and the fields in which they differ

	texts   map[string]string // by key: typed texts, choices and dates
	units   units.System      // the units its texts were typed under
	base    Part              // what it began with
	checked bool              // a save was tried: empty required fields are then mistakes
	dirty   bool              // changed since the save began
	rowsOf  string            // tip whose rows are copied with it
	another bool              // open the next chart row after saving
	key     string            // of the draft it came from, when that is another than its own
}

// Version is one of several versions of a part changed in two places.
type Version struct {
	Op    string
	At    string // when it was written
	Lines []string
	Shown bool

	part Part // of a version of a part
}

// clone returns a copy that can be changed.
func (f *Form) clone() *Form {
	c := *f
	c.texts = maps.Clone(f.texts)
	return &c
}

// openForm makes the form of a part; empty fields of a new part take their defaults. The key is that of its draft, "" for its own.
func (a App) openForm(p Part, rowsOf, key string) App {
	f := &Form{ID: p.ID, Kind: p.Kind, TipID: p.Choices["tip"], key: key, Sample: p.Sample, texts: map[string]string{}, units: a.Prefs.Units, base: p, rowsOf: rowsOf}
	for _, s := range Specs(p.Kind) {
		f.texts[s.Key] = a.fieldText(s, f, p)
	}
	f.Versions = a.versions(p)
	f.Differ = a.fieldVersions(f)
	if d, ok := a.drafts[f.draftKey()]; ok {
		f.restore(d)
	}
	f.Line = Part{Kind: f.Kind, Choices: f.texts}.Line()
	a.Rig.Form = f
	return a.refreshForm()
}

// valueText is a saved number as text: as typed if that still says the same, else with its unit, else written anew.
func (a App) valueText(s Spec, f *Form, p Part) string {
	v, ok := p.Values[s.Key]
	if !ok {
		if p.ID == "" && p.Values == nil {
			return s.Default
		}
		return ""
	}
	field := a.formFieldSpec(f, s)
	for _, text := range []string{v.Typed, strings.TrimSpace(v.Typed + " " + v.Unit)} {
		if r, err := field.Parse(text); err == nil && !r.Empty && sameSI(r.SI, v.SI) {
			return text
		}
	}
	return units.Format(s.Field.Quantity, v.SI, field.Unit, field.Standard)
}

// restore fills in what was typed before.
func (f *Form) restore(d Draft) {
	var system units.System
	if system.UnmarshalText([]byte(d.Units)) == nil {
		f.units = system
	}
	maps.Copy(f.texts, d.Texts)
	f.Restored = true
}

func (f *Form) draftKey() string {
	if f.key != "" {
		return f.key
	}
	return draftKey(f.Kind, f.ID, f.TipID)
}

func (f *Form) draft() Draft {
	return Draft{Kind: f.Kind, ID: f.ID, TipID: f.TipID, RowsOf: f.rowsOf, Texts: maps.Clone(f.texts), Units: textOf(f.units)}
}

// fill is what decides which fields the form has.
func (a App) fillOf(f *Form) fill { return fill{choices: f.texts, fuel: a.fuelInUse()} }

// formFieldSpec is a number field as it is read in this form.
func (a App) formFieldSpec(f *Form, s Spec) units.Field {
	field := s.Field
	field.Unit = s.unit(f.units)
	field.Sheet = units.SteelSheet
	if m := f.texts["metal"]; m != "" {
		field.Sheet = sheetOf(m)
	}
	if g := a.gasOf(f, s); g.Known() {
		field.Standard = g.StandardRatio()
	}
	return field
}

// gasOf is the gas a field's flow or price is of.
func (a App) gasOf(f *Form, s Spec) gas.Gas {
	switch s.PerGas {
	case "own":
		return gas.Gas(f.texts["gas"])
	case LineOxygen:
		return gas.Oxygen
	case LineFuel:
		if tip, ok := a.part(f.TipID); ok && tip.Choices["fuel"] != "" {
			return gas.Gas(tip.Choices["fuel"])
		}
		return gas.Acetylene
	}
	return ""
}

func (a App) formTyped(key, text string) (App, []Effect) {
	if a.Rig.Form == nil {
		return a, nil
	}
	f := a.Rig.Form.clone()
	f.texts[key] = text
	f.dirty, f.Problem = true, ""
	a.Rig.Form = f
	return a.notSavedNow().refreshForm().keepForm()
}

// keepForm keeps what is typed into the open form.
func (a App) keepForm() (App, []Effect) {
	f := a.Rig.Form
	a.drafts = maps.Clone(a.drafts)
	if a.drafts == nil {
		a.drafts = map[string]Draft{}
	}
	a.drafts[f.draftKey()] = f.draft()
	return a, []Effect{KeepDraft{Key: f.draftKey(), Draft: f.draft()}}
}

// notSavedNow takes back the word that the newest change is saved: what is typed now is not.
func (a App) notSavedNow() App {
	if a.Saved.State == SaveDone {
		a.Saved = SaveState{}
	}
	return a
}

// refreshForm reads all fields of the open form again.
func (a App) refreshForm() App {
	if a.Rig.Form == nil {
		return a
	}
	f := a.Rig.Form.clone()
	_, f.Fields = a.readForm(f)
	f.Title = formTitle(f, a)
	if p, ok := a.part(f.ID); ok {
		v := a.view(p)
		f.Retired, f.CanUse, f.Sample = v.Retired, v.CanUse, v.Sample
	}
	a.Rig.Form = f
	return a
}

// readForm reads the form into a part. Fields not shown keep what the part had.
func (a App) readForm(f *Form) (Part, []FormField) {
	p := f.base.clone()
	if p.Choices == nil {
		p.Choices = map[string]string{}
	}
	if p.Values == nil {
		p.Values = map[string]Value{}
	}
	if p.Dates == nil {
		p.Dates = map[string]string{}
	}
	var fields []FormField
	for _, s := range Specs(f.Kind) {
		if s.isShown(a.fillOf(f)) {
			fields = append(fields, a.readOne(f, s, &p))
		}
	}
	a.readSize(f, &p, fields)
	a.readCharge(f, &p, fields)
	a.crossCheck(f, p, fields)
	return p, fields
}

// readOne reads one field into the part and returns it ready to show.
func (a App) readOne(f *Form, s Spec, p *Part) FormField {
	text := f.texts[s.Key]
	out := FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: s.Type, Text: text, Options: s.Options, Pair: s.Pair}
	switch s.Type {
	case TypeNumber:
		return a.readNumber(f, s, p)
	case TypeChoice:
		p.Choices[s.Key] = text
	case TypeDate:
		out.Error = dateError(s.Label, text)
		setOrDelete(p.Dates, s.Key, text)
	case TypeText:
		out.Error = textError(s, text, f.checked)
		if s.Key == "name" {
			p.Name = strings.TrimSpace(text)
		} else {
			p.Note = text
		}
	}
	return out
}

func (a App) readNumber(f *Form, s Spec, p *Part) FormField {
	text := f.texts[s.Key]
	field := a.formFieldSpec(f, s)
	r := readField(s, field, text)
	if strings.TrimSpace(text) == "" && !f.checked {
		r = reading{} // not filled in yet is no mistake before the first try to save
	}
	delete(p.Values, s.Key)
	if r.given {
		v := Value{SI: r.si, Typed: text, Unit: r.unit.Symbol()}
		if old, ok := f.base.Values[s.Key]; ok {
			v.extra = old.extra
			if sameSI(old.SI, v.SI) {
				v.SI = old.SI // unchanged, whatever way it was written
			}
		}
		p.Values[s.Key] = v
	}
	return formField(s, field, text, r)
}

func setOrDelete(m map[string]string, key, text string) {
	if text == "" {
		delete(m, key)
		return
	}
	m[key] = text
}

// saveForm writes the form if nothing is wrong with it; else it says what is wrong and writes nothing.
func (a App) saveForm(m FormSaved) (App, []Effect) {
	if a.Rig.Form == nil || a.Rig.Form.Busy {
		return a, nil
	}
	f := a.Rig.Form.clone()
	f.checked, f.another = true, m.Another
	p, fields := a.readForm(f)
	f.Fields = fields
	a.Rig.Form = f
	if key := firstError(fields); key != "" {
		f.Problem = "Nothing is saved yet: see the marked fields."
		return a.notSavedNow(), []Effect{ShowTop{Act: "rig-" + key}}
	}
	if f.ID == "" {
		p = a.firstUse(p)
	}
	drafts, err := a.formDrafts(f, p)
	if err != nil {
		f.Problem = words.S("This cannot be saved: %s", err.Error())
		return a, nil
	}
	f.Busy, f.dirty = true, false
	return a.write(pending{drafts: drafts, form: f.draftKey(), kind: f.Kind})
}

// formDrafts is the one change of the form: a new record, or a new body of the part as it was seen when the form was opened.
func (a App) formDrafts(f *Form, p Part) ([]storage.Draft, error) {
	if f.Kind == KindChartRow {
		p.Choices["tip"] = f.TipID
	}
	body, err := p.Body()
	if err != nil {
		return nil, err
	}
	return []storage.Draft{{Seen: p.record, Kind: string(f.Kind), Schema: max(Schema, p.record.Schema), Body: json.RawMessage(body)}}, nil
}

func firstError(fields []FormField) string {
	for _, f := range fields {
		if f.Error != "" {
			return f.Key
		}
	}
	return ""
}

func without[K comparable, V any](m map[K]V, key K) map[K]V {
	c := maps.Clone(m)
	delete(c, key)
	return c
}

func formTitle(f *Form, a App) string {
	title := strings.ToLower(kinds[f.Kind].title)
	if f.Kind == KindChartRow {
		if tip, ok := a.part(f.TipID); ok {
			title += words.S(" of tip %s", tip.Name)
		}
	}
	if f.ID == "" {
		return words.S("What is the new %s like?", title)
	}
	return words.S("What has changed on this %s?", title)
}
