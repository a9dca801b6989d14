package present

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/words"
)

// PathSource says where the path of drills is from.
const PathSource = "Source: " + journal.PathSource + "."

// DrillMark is how far a drill has come, as word, shape and colour.
type DrillMark struct {
	Level string // "bare", "straw", "bronze", "purple" or "blue"
	Name  string // "Bare", "Straw" …: the colour's name
	Words string // the same in words
	Steps int    // 0 to 4: as many parts of the scale are run through
}

// NewDrillMark writes the progress of a drill in the scale of oxide colours.
func NewDrillMark(p journal.DrillProgress) DrillMark {
	m := DrillMark{Level: string(p.Level), Words: p.Words}
	for i, l := range []journal.Level{journal.Bare, journal.Straw, journal.Bronze, journal.Purple, journal.Blue} {
		if l == p.Level {
			m.Steps = i
		}
	}
	if p.Sample {
		m.Words += words.T(" (sample journal)")
	}
	if m.Level == "" {
		m.Level = "bare"
	}
	m.Name = words.Capital(m.Level)
	return m
}

// DrillFacts are what there is to know of a drill.
func DrillFacts(d journal.Drill, p journal.DrillProgress, o Options) []Fact {
	var list []Fact
	add := func(name, value, val string) {
		if value != "" {
			list = append(list, Fact{name, value, val})
		}
	}
	add("Aim", d.Aim, "drill-aim")
	add("What to look for", d.Look, "drill-look")
	sheets, score := d.MoveOn()
	add("When to move on", words.S("The last %s sheets in a row with an overall score of %s or better", strconv.Itoa(sheets), words.Number(strconv.FormatFloat(score, 'f', -1, 64))), "drill-moveon")
	var parts []string
	for _, text := range []string{journal.Name(d.Work), journal.Name(d.Metal), Thickness(d.ThicknessM, o), journal.Name(d.Joint), journal.Name(d.Position)} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	add("Practised on", words.Join(parts, ", "), "drill-on")
	add("Flame", journal.Name(d.Flame), "drill-flame")
	if p.Sheets > 0 {
		add("Last and best", words.S("%s and %s, of %s scored", words.Number(strconv.FormatFloat(p.Last, 'f', 1, 64)), words.Number(strconv.FormatFloat(p.Best, 'f', 1, 64)), strconv.Itoa(p.Sheets)), "drill-best")
	}
	if p.Unrated > 0 {
		add("Without an overall score", words.S("%s: give at least %s scores", words.Count(p.Unrated, "sheet"), strconv.Itoa(journal.NeedScores)), "drill-unrated")
	}
	return list
}
