package journal

import (
	"slices"
	"strconv"

	"torchside/calc/words"
)

// Rules of the overall score, our own choice.
const (
	// NeedScores is how many of the set must be scored before a sheet gets an overall score: a mean of two says little.
	NeedScores = 3
	// FailedCap is the most a sheet can have whose bend or break test failed, however fine its face: what broke did not hold.
	FailedCap = 1.0
)

// Overall sums up the scores of one sheet. It always says how many of the set are behind it and what was left out.
type Overall struct {
	Known   bool    // enough was scored
	Value   float64 // 0 to MaxScore; 0 unless Known
	Mean    float64 // before the cap
	Capped  bool    // a failed test holds Value down
	Scored  int
	Of      int      // size of the set
	Skipped []string // names of what was not scored, in the order of the set
}

// Overall is the mean of what was scored of the work's set, if at least [NeedScores] were; a failed test caps it at
// [FailedCap]. Scores of another work's set count for nothing, but stay on the sheet.
func (s Sheet) Overall() Overall {
	var o Overall
	sum := 0
	for _, score := range ScoresFor(s.Work) {
		o.Of++
		v, ok := s.Scores[score.ID]
		if !ok {
			o.Skipped = append(o.Skipped, score.Name)
			continue
		}
		o.Scored++
		sum += min(max(v, 0), MaxScore)
	}
	if o.Scored == 0 {
		return o
	}
	o.Mean = float64(sum) / float64(o.Scored)
	o.Known = o.Scored >= NeedScores
	if !o.Known {
		return o
	}
	o.Value = o.Mean
	if s.failed() && o.Value > FailedCap {
		o.Value, o.Capped = FailedCap, true
	}
	return o
}

// Words says the overall score as text, with what is behind it.
func (o Overall) Words() string {
	switch {
	case o.Of == 0:
		return "no scores for this work"
	case !o.Known:
		return words.S("%s of %s; %s give an overall score", words.Count(o.Scored, "score"), strconv.Itoa(o.Of), strconv.Itoa(NeedScores))
	}
	text := words.S("%s of %s, from %s of %s", strconv.FormatFloat(o.Value, 'f', 1, 64), strconv.Itoa(MaxScore), strconv.Itoa(o.Scored), words.Count(o.Of, "score"))
	if o.Capped {
		text += words.T("; held down because a test failed")
	}
	return text
}

// failed reports whether any test failed.
func (s Sheet) failed() bool {
	return slices.ContainsFunc(s.Tests, func(t TestResult) bool { return !t.Pass })
}

// passed reports whether there were tests and all passed.
func (s Sheet) passed() bool { return len(s.Tests) > 0 && !s.failed() }
