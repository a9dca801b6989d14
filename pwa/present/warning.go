package present

import (
	"sort"

	"torchside/calc/setup"
	"torchside/calc/words"
)

// Warning is one caution, check or note.
type Warning struct {
	Code   string
	Level  string // "caution", "check" or "note": names the shape
	Word   string // "Caution"
	Short  string // a few words, for the standing cautions only
	Text   string
	Source string
}

// levelRank puts what concerns safety first.
var levelRank = map[setup.Level]int{setup.Caution: 0, setup.Check: 1, setup.Note: 2}

// levelWords are the words beside the shapes.
var levelWords = map[setup.Level]string{setup.Caution: "Caution", setup.Check: "Check", setup.Note: "Note"}

func newWarning(w setup.Warning) Warning {
	level := w.Level
	if _, ok := levelWords[level]; !ok {
		level = setup.Caution // a level that is not known is shown as the gravest
	}
	return Warning{Code: w.Code, Level: string(level), Word: levelWords[level], Text: w.Text, Source: w.Source}
}

// warnings hands out a card's warnings, each once.
type warnings struct{ left []setup.Warning }

// newWarnings puts the gravest first, leaves the order alone otherwise, and says quantities in the owner's units.
func newWarnings(list []setup.Warning, o Options) *warnings {
	left := append([]setup.Warning(nil), list...)
	for i := range left {
		left[i].Text = o.Units.Say(left[i].Text)
	}
	sort.SliceStable(left, func(i, j int) bool { return levelRank[left[i].Level] < levelRank[left[j].Level] })
	return &warnings{left}
}

// take hands out the warnings that concern one of the keys.
func (ws *warnings) take(keys ...string) []Warning {
	var out []Warning
	var left []setup.Warning
	for _, w := range ws.left {
		if w.Concerns != "" && contains(keys, w.Concerns) {
			out = append(out, newWarning(w))
			continue
		}
		left = append(left, w)
	}
	ws.left = left
	return out
}

// rest hands out what concerns the card as a whole, or a field that is not shown.
func (ws *warnings) rest() []Warning {
	var out []Warning
	for _, w := range ws.left {
		out = append(out, newWarning(w))
	}
	ws.left = nil
	return out
}

func contains(keys []string, key string) bool {
	for _, k := range keys {
		if k == key {
			return true
		}
	}
	return false
}

// CountWarnings counts warnings in words: "4 cautions, 1 check".
func CountWarnings(list []Warning) string {
	counts := map[string]int{}
	for _, w := range list {
		counts[w.Level]++
	}
	var parts []string
	for _, level := range []setup.Level{setup.Caution, setup.Check, setup.Note} {
		if n := counts[string(level)]; n > 0 {
			parts = append(parts, words.Count(n, string(level)))
		}
	}
	return words.Join(parts, ", ")
}
