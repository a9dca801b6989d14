package journal

import (
	"slices"
	"strconv"

	"torchside/calc/words"
)

// Level is how far a drill has come, named after the oxide (temper) colours of steel.
type Level string

// The levels, the first is none. Straw: begun. Bronze: one of the sheets that count reaches the mark. Purple: all but one do.
// Blue: all do; time to move on.
const (
	Bare   Level = ""
	Straw  Level = "straw"
	Bronze Level = "bronze"
	Purple Level = "purple"
	Blue   Level = "blue"
)

// DrillProgress is how one drill stands.
type DrillProgress struct {
	Level      Level
	Share      float64 // 0 to 1
	Words      string  // the same in words; never only the colour
	Sheets     int     // finished sheets of the drill with an overall score
	Unrated    int     // sheets of the drill without one
	Reached    int     // of the last sheets that count, how many reach the mark
	Need       int
	Score      float64
	Last, Best float64 // overall scores; 0 without sheets
	MoveOn     bool
	Sample     bool // by sheets of the sample journal: there are none of the owner's own
}

// Progress looks at the sheets of one drill, in any order: of the last ones (as many as its rule asks for) it counts those that
// reach the mark. An older good sheet does not make up for a bad one today, and a sheet without an overall score counts for
// nothing but is told. The sample journal is left out as soon as there is one sheet of the owner's own.
func Progress(d Drill, sheets []Brief) DrillProgress {
	need, score := d.MoveOn()
	p := DrillProgress{Need: need, Score: score}
	var rated []Brief
	sheets = ownFirst(sheets)
	p.Sample = len(sheets) > 0 && sheets[0].Sample
	for _, b := range sheets {
		switch {
		case b.Draft:
		case b.Overall == nil:
			p.Unrated++
		default:
			rated = append(rated, b)
		}
	}
	slices.SortStableFunc(rated, func(a, b Brief) int { return compareTimes(b.At, a.At) })
	p.Sheets = len(rated)
	for i, b := range rated {
		if i < need && *b.Overall >= score {
			p.Reached++
		}
		p.Best = max(p.Best, *b.Overall)
	}
	if len(rated) > 0 {
		p.Last = *rated[0].Overall
	}
	p.grade()
	return p
}

// grade sets level, share and words from the counts.
func (p *DrillProgress) grade() {
	p.MoveOn = p.Reached >= p.Need
	mark := strconv.FormatFloat(p.Score, 'f', -1, 64)
	of := words.S("%s of the last %s at %s or better", strconv.Itoa(p.Reached), strconv.Itoa(p.Need), mark)
	begun := p.Sheets+p.Unrated > 0
	if begun {
		p.Share = float64(1+p.Reached) / float64(1+p.Need)
	}
	switch {
	case p.MoveOn:
		p.Level, p.Words = Blue, words.S("Move on: the last %s at %s or better", strconv.Itoa(p.Need), mark)
	case p.Reached > 0 && p.Reached == p.Need-1:
		p.Level, p.Words = Purple, words.S("Nearly: %s", of)
	case p.Reached > 0:
		p.Level, p.Words = Bronze, words.S("Coming on: %s", of)
	case begun:
		p.Level, p.Words = Straw, words.S("Begun: %s", of)
	default:
		p.Words = "Not begun"
	}
}

// Next is the drill to practise next: the first of the path that is not at blue. ok is false when all are.
func Next(path []Drill, progress func(Drill) DrillProgress) (Drill, bool) {
	for _, d := range path {
		if !progress(d).MoveOn {
			return d, true
		}
	}
	return Drill{}, false
}
