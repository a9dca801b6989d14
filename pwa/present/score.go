package present

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/words"
)

// Score is one score of a sheet ready to show.
type Score struct {
	ID, Name, About string
	Steps           []string // what 0 to the best mean
	Limits          []Limit
	Source          string // where the term and the words of the steps come from
	Given           bool
	Value           int
	Skipped         bool
}

// Limit is a published limit ready to show.
type Limit struct{ Text, Source string }

// NewScore writes a score for a person.
func NewScore(s journal.Score, given bool, value int, skipped bool) Score {
	return Score{ID: s.ID, Name: s.Name, About: s.About, Steps: s.Steps[:], Limits: NewLimits(s.Limits), Given: given, Value: value, Skipped: skipped,
		Source: finished(words.S("Term: %s; %s", s.Source, journal.ScaleSource))}
}

// NewLimits writes published limits. One from memory says that it lets nothing pass.
func NewLimits(list []journal.Limit) []Limit {
	out := make([]Limit, 0, len(list))
	for _, l := range list {
		source := l.Source
		if l.FromMemory {
			source = words.S("%s, from memory: not read in its source yet", words.Before(source, ", from memory"))
		}
		out = append(out, Limit{Text: l.Text, Source: source})
	}
	return out
}

// TestLimits are the published limits for what is seen in a bend test.
func TestLimits() []Limit { return NewLimits(journal.TestLimits()) }

// Words say what was given: "3 of 4: regular, few breaks".
func (s Score) Words() string {
	switch {
	case s.Given && s.Value >= 0 && s.Value < len(s.Steps):
		return words.S("%s of %s: %s", strconv.Itoa(s.Value), strconv.Itoa(len(s.Steps)-1), s.Steps[s.Value])
	case s.Skipped:
		return "Skipped"
	}
	return "Not scored"
}
