package present

import (
	"encoding/json"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// JournalSheet is a sheet of the journal ready to read.
type JournalSheet struct {
	Title string
	Facts []Fact
	Next  string   // what to try next
	Texts []Fact   // what else the owner wrote
	Tests []string // bend and break tests with what was seen
	Card  *Card    // the settings card as it was; nil when there is none or it cannot be read
	// CardNote says what has to be known of it.
	CardNote string
}

// NewJournalSheet writes a sheet for a person. drill is the name of its drill.
func NewJournalSheet(s journal.Sheet, drill string, o Options) JournalSheet {
	v := JournalSheet{Title: words.Own(s.Title, s.Sample), Next: words.Own(s.Next, s.Sample), Facts: sheetFacts(s, drill, o)}
	if v.Title == "" {
		v.Title = sheetWork(s, o)
	}
	if v.Title == "" {
		v.Title = words.T("Sheet without a name")
	}
	for _, t := range []Fact{{Name: "What was wrong", Value: s.Wrong, Val: "wrong"}, {Name: "Notes", Value: s.Note, Val: "note"}} {
		if t.Value != "" {
			t.Value = words.Own(t.Value, s.Sample)
			v.Texts = append(v.Texts, t)
		}
	}
	for _, t := range s.Tests {
		v.Tests = append(v.Tests, joined(TestLine(t), t.Seen))
	}
	v.Card, v.CardNote = frozenCard(s.Card, o)
	return v
}

func joined(head, rest string) string {
	if rest == "" {
		return head
	}
	return words.S("%s: %s", head, rest)
}

// TestLine is a test and how it came out.
func TestLine(t journal.TestResult) string {
	if t.Pass {
		return words.S("%s, passed", journal.Name(t.Test))
	}
	return words.S("%s, failed", journal.Name(t.Test))
}

// frozenCard reads the card frozen into a sheet.
func frozenCard(text []byte, o Options) (*Card, string) {
	if len(text) == 0 {
		return nil, ""
	}
	var frozen struct {
		Cut bool       `json:"cut"`
		Out setup.Card `json:"out"`
	}
	if json.Unmarshal(text, &frozen) != nil || frozen.Out.Tip == "" {
		return nil, ""
	}
	note := "not computed anew"
	if frozen.Cut {
		note = "without where its numbers come from"
	}
	c := NewCard(frozen.Out, o)
	return &c, note
}

// sheetFacts are the short facts in the order of the work.
func sheetFacts(s journal.Sheet, drill string, o Options) []Fact {
	var list []Fact
	add := func(name, value, val string) {
		if value != "" {
			list = append(list, Fact{Name: name, Value: value, Val: "sheet." + val})
		}
	}
	own := func(name, value, val string) {
		if value != "" {
			list = append(list, Fact{Name: name, Value: words.Own(value, s.Sample), Val: "sheet." + val})
		}
	}
	number := func(name, field string) { add(name, sheetNumber(s, field, o), field) }
	add("When", sheetMoment(s.At), "at")
	own("Place", s.Place, "place")
	add("Drill", drill, "drill")
	if s.Title != "" { // without one this is the heading
		add("Work", sheetWork(s, o), "work")
	}
	add("Position", sheetPosition(s), "position")
	own("Tip", s.Tip, "tip")
	number("Oxygen at the regulator", "oxygen_gauge_pa")
	number(fuelFact(s), "fuel_gauge_pa")
	add("Flame, by eye", journal.Name(s.Flame), "flame")
	number("Oxygen to fuel", "ratio")
	own("Rod", strings.TrimSpace(words.Own(s.Filler, s.Sample)+" "+sheetNumber(s, "filler_diameter_m", o)), "filler")
	own("Flux", s.Flux, "flux")
	if v, ok := s.TravelSpeed(); ok {
		speed := words.Number(units.Format(units.QuantitySpeed, v, o.Units.Unit(units.QuantitySpeed), 0))
		add("Travel", speed+" ("+sheetNumber(s, "travel_length_m", o)+" in "+sheetNumber(s, "travel_s", o)+")", "travel")
	} else {
		number("Travel, length", "travel_length_m")
		number("Travel, time", "travel_s")
	}
	number("Time taken", "duration_s")
	number("Oxygen used", "oxygen_used_std_m3")
	number("Fuel used", "fuel_used_std_m3")
	return list
}

// sheetWork is the work with its metal, thickness and joint.
func sheetWork(s journal.Sheet, o Options) string {
	return Question(s.Work, s.Metal, sheetThickness(s, o), s.Joint)
}

// sheetThickness is the thickness; one that was typed as a gauge says so, because that is what stands on the sheet of steel.
func sheetThickness(s journal.Sheet, o Options) string {
	text := sheetNumber(s, "thickness_m", o)
	if typed := s.Typed["thickness_m"]; text != "" && strings.Contains(strings.ToLower(typed), "ga") {
		return typed + " (" + text + ")"
	}
	return text
}

func fuelFact(s journal.Sheet) string {
	if s.Fuel == "" {
		return "Fuel at the regulator"
	}
	return words.S("%s at the regulator", words.Capital(gasName(s.Fuel)))
}

func sheetPosition(s journal.Sheet) string {
	for _, p := range journal.Positions() {
		if p.ID == s.Position {
			if code := p.Code(s.Joint); code != "" {
				return words.S("%s (%s)", p.Name, code)
			}
			return p.Name
		}
	}
	return s.Position
}

// sheetMoment is a time as noted, to the minute and by the clock of the place.
func sheetMoment(at string) string {
	if len(at) < len("2006-01-02T15:04") || at[10] != 'T' {
		return at
	}
	return at[:10] + " " + at[11:16]
}

// sheetNumber is a number of a sheet in the owner's units; "" when it was not noted.
func sheetNumber(s journal.Sheet, field string, o Options) string {
	v := s.Number(field)
	if v == nil {
		return ""
	}
	q, unit := sheetUnit(field, o)
	g := gas.Oxygen
	if field == "fuel_used_std_m3" {
		g = gas.Acetylene
		if known := gas.Gas(s.Fuel); known.Known() {
			g = known
		}
	}
	return words.Number(units.Format(q, *v, unit, g.StandardRatio()))
}

// sheetUnit is the unit a number of a sheet is shown in: small lengths in small units, as they are measured at the bench.
func sheetUnit(field string, o Options) (units.Quantity, units.Unit) {
	var quantity units.Quantity
	for _, n := range journal.Numbers() {
		for _, q := range units.Quantities() {
			if n.Field == field && q.String() == n.Quantity {
				quantity = q
			}
		}
	}
	small := "mm"
	if o.Units.IsUS() {
		small = "in"
	}
	switch field {
	case "thickness_m", "filler_diameter_m", "travel_length_m":
		if u, ok := units.UnitBySymbol(quantity, small); ok {
			return quantity, u
		}
	}
	return quantity, o.Units.Unit(quantity)
}

// SheetSettings is what a sheet is about in one line, of its fields as they stand by key.
func SheetSettings(texts map[string]string) string {
	parts := []string{Question(texts["work"], texts["metal"], texts["thickness_m"], texts["joint"])}
	for _, p := range []struct{ name, key string }{{"tip", "tip"}, {"oxygen", "oxygen_gauge_pa"}, {"fuel", "fuel_gauge_pa"}} {
		if t := texts[p.key]; t != "" {
			parts = append(parts, words.S("%s %s", p.name, t))
		}
	}
	return words.Join(parts, " · ")
}

// Understood is the half of what a field says it has read that is in the owner's unit: of "1/8 in = 3.175 mm" it is 3.175 mm where
// that is mm, else 1/8 in.
func Understood(read, unit string) string {
	typed, same, ok := strings.Cut(read, " = ")
	if ok && strings.HasSuffix(same, " "+unit) {
		return same
	}
	return typed
}

// FlagText says an oddity of a sheet in words.
func FlagText(p *journal.Problem) string {
	if p.Field == "at" {
		return words.S("The date is %s: %s.", strings.Trim(sheetMoment(strings.Trim(p.Read, `"`)), " "), p.Why)
	}
	return words.S("%s: %s.", p.Field, p.Why)
}

// StopWatch writes the time of a stopwatch: minutes and seconds.
func StopWatch(ms int64) string { return CountDown(ms - 999) } // CountDown rounds up: a watch shows only what has passed

// DifferenceTexts are the two readings of a field in which two versions of a sheet differ.
func DifferenceTexts(d journal.Difference, o Options) (a, b string) {
	write := func(text string, v *float64) string {
		switch {
		case v != nil && d.Quantity == "score":
			return words.S("%s of %s", words.Number(strconv.FormatFloat(*v, 'f', 0, 64)), strconv.Itoa(journal.MaxScore))
		case v != nil:
			return sheetNumber(journal.Sheet{}.WithNumber(d.Field, v), d.Field, o)
		case d.Field == "at":
			return sheetMoment(text)
		case text == "":
			return "Nothing noted"
		}
		return text
	}
	return write(d.A, d.NumA), write(d.B, d.NumB)
}
