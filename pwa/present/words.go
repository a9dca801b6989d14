package present

import (
	"strings"

	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/words"
)

// Word is a choice as calc spells it and as a person reads it.
type Word struct{ Value, Label string }

// Works are the works to choose from.
func Works() []Word { return labelled(setup.Works()) }

// Metals are the metals to choose from.
func Metals() []Word { return labelled(setup.Metals()) }

// Joints are the joints to choose from.
func Joints() []Word { return labelled(setup.Joints()) }

func labelled[T ~string](all []T) []Word {
	var list []Word
	for _, w := range all {
		list = append(list, Word{string(w), words.Capital(plain(string(w)))})
	}
	return list
}

// plain writes a word of calc as a person would: "mild_steel" becomes "mild steel".
func plain(word string) string { return words.T(strings.ReplaceAll(word, "_", " ")) }

// Question is a question of Setup as one line: "Weld, mild steel, 1/8 in = 3.175 mm, butt". Empty parts are left out.
func Question(work, metal, thickness, joint string) string {
	var parts []string
	for _, p := range []string{plain(work), plain(metal), thickness, plain(joint)} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return words.Capital(words.Join(parts, ", "))
}

// gasName returns a gas's name for a person, and the word itself for one that is not known.
func gasName(word string) string {
	if g, err := gas.Parse(word); err == nil {
		return g.Name()
	}
	return plain(word)
}

// finished makes a sentence of a reason: a capital at the start, a full stop at the end.
func finished(s string) string {
	s = words.T(s)
	if s == "" || strings.HasSuffix(s, ".") {
		return words.Capital(s)
	}
	return words.Capital(s) + "."
}

// HasJoint reports whether a work has a joint to choose: heating and bending have none.
func HasJoint(work string) bool {
	return work == string(setup.Weld) || work == string(setup.Braze)
}

// IsBrazing reports whether a work is brazing in one of its ways.
func IsBrazing(work string) bool { return work == string(setup.Braze) }
