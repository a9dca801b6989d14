package present

import (
	"math"
	"strconv"
	"strings"
	"time"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// SheetLine is one sheet of the list ready to show.
type SheetLine struct {
	Title string // what it is called, or what was done
	What  string // work, metal, thickness, joint
	When  string // day and time of the place
	Drill string
	Next  string // what to try next, with that word
	Tags  []string
	Score ScoreMark
}

// ScoreMark is an overall score as word, shape and number.
type ScoreMark struct {
	Word   string // "Good"; "Not scored"
	Number string // "3.2"; "" when there is none
	Level  int    // 0 to 4: as many bars are full; -1 when there is none
}

// scoreWords are our own words for the whole numbers of an overall score.
var scoreWords = [...]string{"Poor", "Weak", "Usable", "Good", "Clean"}

// NewScoreMark writes an overall score; nil is none.
func NewScoreMark(v *float64) ScoreMark {
	if v == nil || math.IsNaN(*v) {
		return ScoreMark{Word: "Not scored", Level: -1}
	}
	level := int(min(max(*v, 0), journal.MaxScore))
	return ScoreMark{Word: scoreWords[level], Number: words.Number(strconv.FormatFloat(*v, 'f', 1, 64)), Level: level}
}

// Text is the score in one line.
func (m ScoreMark) Text() string {
	if m.Number == "" {
		return m.Word
	}
	return words.S("%s, %s of %s", m.Word, m.Number, strconv.Itoa(journal.MaxScore))
}

// NewSheetLine writes the row of a sheet.
func NewSheetLine(b journal.Brief, drill string, o Options) SheetLine {
	line := SheetLine{Title: b.Title, What: sheetWhat(b, o), When: Stamp(b.At), Drill: drill, Next: b.Next, Score: NewScoreMark(b.Overall)}
	if line.Next != "" {
		line.Next = words.S("Next: %s", line.Next)
	}
	if line.Title == "" {
		line.Title, line.What = line.What, ""
	}
	if line.Title == "" {
		line.Title = "Sheet without a title"
	}
	for _, t := range []struct {
		on   bool
		text string
	}{{b.Draft, "Draft"}, {b.Test == "pass", "Test passed"}, {b.Test == "fail", "Test failed"}, {b.Sample, "Sample"}} {
		if t.on {
			line.Tags = append(line.Tags, t.text)
		}
	}
	return line
}

func sheetWhat(b journal.Brief, o Options) string {
	var parts []string
	for _, text := range []string{journal.Name(b.Work), journal.Name(b.Metal), strings.ReplaceAll(Thickness(b.Thick, o), " ", "\u00a0"), journal.Name(b.Joint)} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	return words.Join(parts, "\u00a0· ") // a line may end after the dot, not before it
}

// Thickness writes a thickness in the owner's unit; "" for none.
func Thickness(m *float64, o Options) string {
	if m == nil {
		return ""
	}
	return words.Number(units.Format(units.QuantityThickness, *m, o.Units.Unit(units.QuantityThickness), 0))
}

// ThicknessClass is the name of a class of thickness in the owner's way of thinking.
func ThicknessClass(id string, o Options) string {
	for _, c := range journal.Classes() {
		if c.ID != id {
			continue
		}
		if o.Units.Unit(units.QuantityThickness).Symbol() == "in" {
			return c.US
		}
		return c.Name
	}
	return id
}

// Stamp writes the time of a record as day and time of the place it was written at; a text that is no time as it is.
func Stamp(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Format("2006-01-02 15:04")
}
