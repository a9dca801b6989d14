package state

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// SheetForm is a sheet being written. What is typed is kept in the browser with every letter.
type SheetForm struct {
	Key      string // of its draft
	ID       string // of the sheet; "" for a new one
	Title    string // question of the page
	Fields   []FormField
	Scores   []ScoreField
	Overall  journal.Overall
	Photos   []PhotoField
	Tests    []journal.TestResult
	TestKeys []Option // the tests to choose from
	Flags    []*journal.Problem
	HasCard  bool     // a settings card is frozen into it
	Problem  string   // why it was not saved
	Restored bool     // goes on from before a reload
	Busy     bool     // being written to the store
	Taking   int      // choices of photos under way
	Refused  []string // photos that were not taken, and why
	Offers   []PhotoOffer
	Watch    Watch  // the stopwatch
	Speed    string // travel speed by length and time; "" while one is missing

	sheet   journal.Sheet
	texts   map[string]string // typed, by key
	units   units.System      // the units the texts were typed under
	heads   []storage.ID      // the versions it started from
	before  storage.Record    // the sheet as it was, to take a correction back; without heads when it is not known
	schema  int
	dirty   bool // changed since the save began
	refused bool // the store took nothing of it yet
	tried   bool // finishing was tried: what is missing is marked
}

// PhotoField is one photo ready to show.
type PhotoField struct {
	journal.Photo
	Name string
}

// draftSheet begins the key of the draft of a sheet.
const draftSheet = "sheet:"

// sheetSpecs are the fields of a sheet in the order of the page.
var sheetSpecs = makeSheetSpecs()

func makeSheetSpecs() []Spec {
	list := []Spec{
		textSpec("title", "Name of the work", "As you will look for it: gate hinge, third corner."),
		choiceSpec("work", "Work", optional(wordOptions(journal.Works()))),
		choiceSpec("metal", "Metal", optional(wordOptions(journal.Metals()))),
		choiceSpec("joint", "Joint", optional(wordOptions(journal.Joints()))),
		choiceSpec("position", "Position", optional(positionOptions())),
		textSpec("tip", "Tip", ""),
		choiceSpec("flame", "Flame, by eye", optional(wordOptions(journal.Flames()))),
		textSpec("filler", "Filler rod", ""), textSpec("flux", "Flux", ""),
		longSpec("wrong", "What was wrong?"), longSpec("next", "What to try next?"), longSpec("note", "Notes"), textSpec("place", "Place", ""),
		{Key: "at", Label: "Date and time", Type: TypeMoment},
	}
	quantities := map[string]units.Quantity{}
	for _, q := range units.Quantities() {
		quantities[q.String()] = q
	}
	for _, n := range journal.Numbers() {
		s := numberSpec(n.Field, n.Name, "", quantities[n.Quantity], n.Low, n.High, n.Why)
		switch n.Field {
		case "thickness_m", "filler_diameter_m", "travel_length_m":
			s = s.in("mm", "in")
		case "travel_s":
			s = s.in("s", "s") // as the stopwatch has it
		case "oxygen_gauge_pa", "fuel_gauge_pa":
			s = s.steps(stepsWorking)
		}
		list = append(list, s)
	}
	return list
}

func longSpec(key, label string) Spec { return Spec{Key: key, Label: label, Type: TypeLong} }

func optional(options []Option) []Option { return append([]Option{{Label: "Not noted"}}, options...) }

// sheetWords are the texts and choices of a sheet by key.
func sheetWords(s *journal.Sheet) map[string]*string {
	return map[string]*string{"title": &s.Title, "work": &s.Work, "metal": &s.Metal, "joint": &s.Joint, "position": &s.Position, "tip": &s.Tip, "flame": &s.Flame,
		"filler": &s.Filler, "flux": &s.Flux, "wrong": &s.Wrong, "next": &s.Next, "note": &s.Note, "place": &s.Place, "at": &s.At, "drill": &s.Drill}
}

// sheetField is a number of a sheet as it is read in this form.
func (f *SheetForm) sheetField(s Spec) units.Field {
	field := s.Field
	field.Unit = s.unit(f.units)
	field.Sheet = sheetOf(f.sheet.Metal)
	switch s.Key {
	case "oxygen_used_std_m3":
		field.Standard = gas.Oxygen.StandardRatio()
	case "fuel_used_std_m3":
		field.Standard = fuelOf(f.sheet).StandardRatio()
	}
	return field
}

// fuelOf is the fuel of a sheet; acetylene where none was noted.
func fuelOf(s journal.Sheet) gas.Gas {
	if g := gas.Gas(s.Fuel); g.Known() {
		return g
	}
	return gas.Acetylene
}

// newSheetForm opens a sheet for writing. Numbers show the owner's own text where it still says the same.
func (a App) newSheetForm(s journal.Sheet, r storage.Record) *SheetForm {
	f := &SheetForm{Key: draftSheet + string(r.ID), ID: string(r.ID), sheet: s, texts: map[string]string{}, units: a.Prefs.Units, heads: r.HeadIDs(), schema: r.Schema, before: r}
	if f.ID == "" {
		f.Key = draftSheet + "new-" + strconv.FormatInt(a.Clock.Wall, 10) + "-" + strconv.Itoa(len(a.drafts))
	}
	for _, spec := range sheetSpecs {
		if v := s.Number(spec.Key); v != nil && spec.Type == TypeNumber {
			f.texts[spec.Key] = f.numberText(spec, *v)
		}
	}
	return f
}

func (f *SheetForm) numberText(spec Spec, si float64) string {
	field := f.sheetField(spec)
	if typed := f.sheet.Typed[spec.Key]; typed != "" {
		if p, err := field.Parse(typed); err == nil && !p.Empty && sameSI(p.SI, si) {
			return typed
		}
	}
	text := units.Format(field.Quantity, si, field.Unit, field.Standard)
	if p, err := field.Parse(text); err == nil && !p.Empty && sameSI(p.SI, si) {
		return text
	}
	// Rounded for the eye it would change the number: written out in full.
	if x, err := field.Unit.FromSI(si, field.Standard); err == nil {
		return strings.TrimSpace(strconv.FormatFloat(x, 'g', 15, 64) + " " + field.Unit.Symbol())
	}
	return text
}

// clone returns a copy that can be changed.
func (f *SheetForm) clone() *SheetForm {
	c := *f
	c.texts = maps.Clone(f.texts)
	c.sheet.Scores = maps.Clone(f.sheet.Scores)
	c.sheet.Typed = maps.Clone(f.sheet.Typed)
	c.sheet.Skipped = slices.Clone(f.sheet.Skipped)
	c.sheet.Photos = slices.Clone(f.sheet.Photos)
	c.sheet.Tests = slices.Clone(f.sheet.Tests)
	return &c
}

// refresh reads all fields again and makes everything ready to show.
func (a App) refreshSheetForm(f *SheetForm) {
	f.Fields = nil
	for _, s := range sheetSpecs {
		f.Fields = append(f.Fields, f.readSheetField(s))
	}
	f.markProblems()
	f.Title = "How did it go?"
	if f.ID != "" {
		f.Title = "What do you want to change on this sheet?"
	}
	f.Scores, f.Overall, f.Tests, f.HasCard = scoreFields(f.sheet), f.sheet.Overall(), f.sheet.Tests, len(f.sheet.Card) > 0
	f.Speed = a.speedText(f.sheet)
	f.TestKeys, f.Flags = wordOptions(journal.Tests()), f.sheet.Flags(a.nowText())
	f.Photos = nil
	for i, p := range f.sheet.Photos {
		f.Photos = append(f.Photos, PhotoField{Photo: p, Name: photoName(p, i)})
	}
}

func (f *SheetForm) readSheetField(s Spec) FormField {
	if s.Type != TypeNumber {
		text := *sheetWords(&f.sheet)[s.Key]
		if s.Type == TypeMoment {
			text = localMoment(text)
		}
		return FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: s.Type, Text: text, Options: s.Options}
	}
	field := f.sheetField(s)
	text := f.texts[s.Key]
	r := readField(s, field, text)
	f.sheet = f.sheet.WithNumber(s.Key, nil)
	delete(f.sheet.Typed, s.Key)
	if r.given {
		f.sheet = f.sheet.WithNumber(s.Key, &r.si)
		if f.sheet.Typed == nil {
			f.sheet.Typed = map[string]string{}
		}
		f.sheet.Typed[s.Key] = withUnit(s, field, text, r)
	}
	return formField(s, field, text, r)
}

// withUnit is the typed text so that it says the same whatever units are chosen.
func withUnit(s Spec, f units.Field, text string, r reading) string {
	text = strings.TrimSpace(text)
	written := text + " " + r.unit.Symbol()
	if q := readField(s, f, written); q.given && sameSI(q.si, r.si) {
		return strings.TrimSpace(written)
	}
	return text
}

// markProblems shows at the fields what keeps the sheet from being saved; what is only missing, once finishing was tried.
func (f *SheetForm) markProblems() {
	problems := f.sheet.Check()
	if f.tried {
		problems = f.sheet.Unfinished()
	}
	for _, p := range problems {
		mark(f.Fields, p.Field, words.Capital(p.Error())+".")
	}
}

// firstProblem is what keeps the sheet from being saved now.
func (f *SheetForm) firstProblem(finish bool) (field, text string) {
	for _, x := range f.Fields {
		if x.Error != "" {
			return x.Key, "Nothing is saved yet: see the marked fields. What you typed is kept."
		}
	}
	problems := f.sheet.Check()
	if finish {
		problems = f.sheet.Unfinished()
	}
	if len(problems) > 0 {
		return problems[0].Field, words.S("Nothing is saved yet: %s. What you typed is kept.", problems[0].Error())
	}
	return "", ""
}

// draft is the form as the browser keeps it.
func (f *SheetForm) draft() (Draft, error) {
	body, err := json.Marshal(f.sheet)
	if err != nil {
		return Draft{}, err
	}
	heads := make([]string, len(f.heads))
	for i, h := range f.heads {
		heads[i] = string(h)
	}
	return Draft{Kind: journal.Kind, ID: f.ID, Texts: maps.Clone(f.texts), Units: textOf(f.units),
		Choices: map[string]string{"sheet": string(body), "heads": strings.Join(heads, " "), "schema": strconv.Itoa(f.schema), "watch": strconv.FormatInt(f.Watch.Start, 10)}}, nil
}

// sheetFormOf is the form of a draft; ok is false for one that cannot be read.
func (a App) sheetFormOf(key string, d Draft) (*SheetForm, bool) {
	s, err := journal.Read([]byte(d.Choices["sheet"]))
	if err != nil {
		return nil, false
	}
	f := &SheetForm{Key: key, ID: d.ID, sheet: s, texts: maps.Clone(d.Texts), units: a.Prefs.Units, Restored: true, dirty: true}
	if f.texts == nil {
		f.texts = map[string]string{}
	}
	if f.units.UnmarshalText([]byte(d.Units)) != nil {
		f.units = a.Prefs.Units
	}
	f.Watch.Start, _ = strconv.ParseInt(d.Choices["watch"], 10, 64) // 0 is a watch that stands
	f.schema, _ = strconv.Atoi(d.Choices["schema"])                 // 0 is the form of this build
	for _, h := range strings.Fields(d.Choices["heads"]) {
		f.heads = append(f.heads, storage.ID(h))
	}
	return f, true
}

// withEditor shows a changed form and keeps it in the browser at once.
func (a App) withEditor(f *SheetForm, more ...Effect) (App, []Effect) {
	f.dirty, f.Problem = true, ""
	a.refreshSheetForm(f)
	a.Journal.Editor = f
	a = a.notSavedNow()
	return a.keepSheet(f, more...)
}

func (a App) keepSheet(f *SheetForm, more ...Effect) (App, []Effect) {
	d, err := f.draft()
	if err != nil {
		return a.panicked(words.S("keeping a sheet: %s", err.Error())), more
	}
	a.drafts = maps.Clone(a.drafts)
	if a.drafts == nil {
		a.drafts = map[string]Draft{}
	}
	a.drafts[f.Key] = d
	a.Journal.Unfinished = a.unfinishedSheets()
	return a, append([]Effect{KeepDraft{Key: f.Key, Draft: d}}, more...)
}

// unfinishedSheets lists what was begun and not saved.
func (a App) unfinishedSheets() []SheetDraft {
	var list []SheetDraft
	for key, d := range a.drafts {
		if !strings.HasPrefix(key, draftSheet) || a.Journal.Editor != nil && a.Journal.Editor.Key == key {
			continue
		}
		s, err := journal.Read([]byte(d.Choices["sheet"]))
		if err != nil {
			continue
		}
		title := s.Title
		if title == "" {
			title = strings.TrimSpace(words.S("%s %s", journal.Name(s.Work), strings.ToLower(journal.Name(s.Joint))))
		}
		if title == "" {
			title = "Sheet without a name"
		}
		list = append(list, SheetDraft{Key: key, Title: title})
	}
	slices.SortFunc(list, func(p, q SheetDraft) int { return strings.Compare(q.Key, p.Key) })
	return list
}

// sheetsRestored brings back the sheets that were being written; a single new one is opened. A correction of a saved sheet is read
// first, by its address or from the list.
func (a App) sheetsRestored() App {
	a.Journal.Unfinished = a.unfinishedSheets()
	if a.Journal.Editor != nil || len(a.Journal.Unfinished) != 1 {
		return a
	}
	key := a.Journal.Unfinished[0].Key
	if f, ok := a.sheetFormOf(key, a.drafts[key]); ok && f.ID == "" {
		a.refreshSheetForm(f)
		a.Journal.Editor = f
		a.Journal.Unfinished = a.unfinishedSheets()
	}
	return a
}
