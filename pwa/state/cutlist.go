package state

import (
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/cut"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// CutList is a list of cuts, and whether the gas lasts for it. Metal, start, coating, purity and place are those of Setup.
type CutList struct {
	Rows []CutRow
	// Answer is nil until every row is filled in and has a card; Refusal then says why, and Refused is the row it is about, 0 for all.
	Answer  *setup.CutList
	Refusal *setup.Refusal
	Refused int
	// Metal and Start are what is cut and how, words of calc/cut; Painted tells of a coating.
	Metal   string
	Start   cut.Start
	Painted bool
	Gone    bool // a row was taken off and can be put back

	texts   map[string]string // by "row.key"
	order   []string          // ids of the rows
	removed []string          // the order before the last row was taken off
}

// CutRow is one row as it is shown.
type CutRow struct {
	ID     string
	Fields []FormField
	Count  int // 0 until the row is complete
}

// Messages of the cut list.
type (
	// CutListShown has the list worked out again: rig and Setup may have changed.
	CutListShown struct{}
	// CutRowAdded adds an empty row.
	CutRowAdded struct{}
	// CutRowTyped is a text typed into a field of a row.
	CutRowTyped struct{ ID, Key, Text string }
	// CutRowRemoved takes a row off; CutRowBack puts it back.
	CutRowRemoved struct{ ID string }
	CutRowBack    struct{}
)

func (CutListShown) msg()  {}
func (CutRowAdded) msg()   {}
func (CutRowTyped) msg()   {}
func (CutRowRemoved) msg() {}
func (CutRowBack) msg()    {}

const draftCutList = "cut-list"

// Keys of a row's fields.
const (
	keyCount     = "count"
	keyCutLength = "cut"
	keyPlate     = "plate"
)

var cutRowSpecs = []Spec{
	numberSpec(keyPlate, "Thickness", "Of the plate, as 3/8 in or 10 mm.", units.QuantityThickness, float64(cut.ThinnestCut), float64(cut.ThickestCut),
		"thinner sheet melts or warps, thicker steel wants data that is not held here").need(),
	numberSpec(keyCutLength, "Length of one cut", "", units.QuantityThickness, 0.001, 1000, "a cut has a length").need(),
	numberSpec(keyCount, "Pieces", "As many cuts of this length.", units.QuantityNumber, 1, cut.MostPieces, "a row has at least one piece").whole().start("1").need(),
}

func reduceCutList(a App, m Msg) (App, []Effect, bool) {
	c := a.CutList
	switch m := m.(type) {
	case CutListShown:
		return a.cutListed(), nil, true
	case CutRowAdded:
		c.order, c.Gone = append(slices.Clone(c.rows()), c.newRow()), false
	case CutRowTyped:
		c.order, c.texts = c.rows(), maps.Clone(c.texts)
		if c.texts == nil {
			c.texts = map[string]string{}
		}
		c.texts[m.ID+"."+m.Key] = m.Text
	case CutRowRemoved:
		c.removed, c.Gone = c.rows(), true
		c.order = slices.DeleteFunc(slices.Clone(c.rows()), func(id string) bool { return id == m.ID })
	case CutRowBack:
		if c.Gone {
			c.order, c.Gone = c.removed, false
		}
	default:
		return a, nil, false
	}
	a.CutList = c
	a = a.cutListed()
	return a, []Effect{KeepDraft{Key: draftCutList, Draft: Draft{Texts: a.CutList.texts, Choices: map[string]string{"rows": strings.Join(a.CutList.order, " ")}, Units: textOf(a.Prefs.Units)}}}, true
}

// rows are the ids of the rows; a list has one at least.
func (c CutList) rows() []string {
	if len(c.order) == 0 {
		return []string{"1"}
	}
	return c.order
}

// newRow is an id that no row has, nor had while its text is kept.
func (c CutList) newRow() string {
	for n := 1; ; n++ {
		id := strconv.Itoa(n)
		used := slices.Contains(c.rows(), id)
		for key := range c.texts {
			used = used || strings.HasPrefix(key, id+".")
		}
		if !used {
			return id
		}
	}
}

// cutListRestored brings back what was typed before a reload.
func (a App) cutListRestored(d Draft) App {
	a.CutList.texts, a.CutList.order = maps.Clone(d.Texts), strings.Fields(d.Choices["rows"])
	before := a.Prefs.Units
	if before.UnmarshalText([]byte(d.Units)) == nil {
		a = a.cutListRetexted(before)
	}
	return a
}

// cutListRetexted keeps the meaning of what was typed when the assumed units change.
func (a App) cutListRetexted(before units.System) App {
	old := a
	old.Prefs.Units = before
	texts := maps.Clone(a.CutList.texts)
	for key, text := range texts {
		_, name, _ := strings.Cut(key, ".")
		for _, s := range cutRowSpecs {
			if s.Key == name {
				texts[key] = retext(old.setupField(s), a.setupField(s), text)
			}
		}
	}
	a.CutList.texts = texts
	return a
}

// cutListed reads the rows and asks calc.
func (a App) cutListed() App {
	c := &a.CutList
	c.Rows, c.Answer, c.Refusal, c.Refused = nil, nil, nil, 0
	var rows []setup.CutRow
	complete := true
	for _, id := range c.rows() {
		row, shown, ok := a.cutRow(id)
		c.Rows = append(c.Rows, shown)
		rows, complete = append(rows, row), complete && ok
	}
	in, no := a.cutQuestion()
	c.Refusal = no
	c.Metal, c.Start, c.Painted = string(in.Metal), in.Cut.Start, in.Cut.Painted
	if !complete || !a.Ready || no != nil {
		return a
	}
	answer, err := in.CutList(rows)
	var row *setup.CutRowError
	switch {
	case errors.As(err, &row):
		c.Refusal, c.Refused = row.Refusal, row.Row
	case err != nil:
		c.Refusal = refusalOf(err)
	default:
		c.Answer = &answer
	}
	return a
}

// cutRow reads one row; ok when it is complete.
func (a App) cutRow(id string) (row setup.CutRow, shown CutRow, ok bool) {
	shown, ok = CutRow{ID: id}, true
	si := map[string]float64{}
	for _, s := range cutRowSpecs {
		text, typed := a.CutList.texts[id+"."+s.Key]
		if !typed {
			text = s.Default
		}
		field := a.setupField(s)
		var r reading
		if text != "" { // nothing typed yet is no mistake
			r = readField(s, field, text)
		}
		si[s.Key], ok = r.si, ok && r.given
		shown.Fields = append(shown.Fields, formField(s, field, text, r))
	}
	if ok {
		shown.Count = int(si[keyCount])
	}
	return setup.CutRow{ThicknessM: si[keyPlate], LengthM: si[keyCutLength], Count: int(si[keyCount])}, shown, ok
}

// cutQuestion is the question of Setup, asked of cutting; a field of Setup that cannot be read is a refusal.
func (a App) cutQuestion() (in setup.Input, no *setup.Refusal) {
	si := map[string]float64{}
	for _, s := range setupSpecs {
		if s.Key != keyPurity && s.Key != "temperature" && s.Key != "altitude" {
			continue
		}
		r := readField(s, a.setupField(s), a.Setup.Typed[s.Key])
		if r.given {
			si[s.Key] = r.si
		}
		if r.err != "" {
			no = &setup.Refusal{Code: "setup_field", Field: s.Label, Read: a.Setup.Typed[s.Key], Why: r.err, WaysOut: []string{"put it right in Setup"}}
		}
	}
	if !a.Setup.cuts() {
		a.Setup.Work, a.Setup.Metal = string(setup.Cut), string(setup.MildSteel)
	}
	return a.question(0, si), no
}
