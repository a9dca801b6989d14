package units

import (
	"strings"
	"unicode/utf8"

	"torchside/calc/words"
)

// Texts of the other packages state a quantity in both systems, as “15 psi (1.03 bar)” or “4 to 52 °C (40 to 125 °F)”: a text is
// written before anybody knows who will read it, and for whoever has no choice of units it can stand as it is. What comes first
// is what the source has. A group of thousands is held together by a space that does not break.

// Say writes a text for an owner of these units: of every quantity that stands there in both systems it keeps the one of the
// owner's system or unit, see pick. All else is left as it is.
func (s System) Say(text string) string {
	text = words.T(text)
	var out strings.Builder
	for {
		open := strings.Index(text, " (")
		if open < 0 {
			break
		}
		end := strings.IndexByte(text[open:], ')')
		if end < 0 {
			break
		}
		end += open
		second, whole := lastPhrase(text[open+2 : end])
		first, _ := lastPhrase(text[:open])
		q, ok := bothMeasure(first, second)
		if !whole || !ok {
			out.WriteString(text[:open+2])
			text = text[open+2:]
			continue
		}
		out.WriteString(text[:open-len(first.text)])
		out.WriteString(s.pick(q, first, second))
		text = text[end+1:]
	}
	return out.String() + text
}

// phrase is one quantity of a text: "15 psi", "4 to 52 °C", "±0.2 kg".
type phrase struct {
	text   string
	before string // in front of the first number: "±"
	values []float64
	join   string // between two values: " to " or " and "
	unit   string
}

// joins are the words between the ends of a range, in each language.
var joins = []string{" to ", " and ", " or ", " a ", " y ", " o ", " bis ", " und ", " oder "}

// lastPhrase reads the quantity at the end of a text; whole tells whether the text is nothing else. The zero phrase is none.
func lastPhrase(text string) (p phrase, whole bool) {
	at := strings.LastIndexByte(text, ' ')
	if at < 0 {
		return phrase{}, false
	}
	unit, rest := text[at+1:], text[:at]
	if _, size := utf8.DecodeRuneInString(unit); size == 0 {
		return phrase{}, false
	}
	start := strings.LastIndexByte(rest, ' ') + 1
	last, mark, ok := plainNumber(rest[start:])
	if !ok {
		return phrase{}, false
	}
	p = phrase{text: text[start:], before: mark, values: []float64{last}, unit: unit}
	for _, join := range joins {
		head, found := strings.CutSuffix(rest[:start], join)
		from := strings.LastIndexByte(head, ' ') + 1
		low, mark, ok := plainNumber(head[from:])
		if found && ok && p.before == "" {
			p.text, p.before, p.values, p.join, start = text[from:], mark, []float64{low, last}, join, from
			break
		}
	}
	return p, start == 0
}

// printedSigns are the signs of printed numbers that the scanner does not take.
var printedSigns = strings.NewReplacer("−", "-", "\u00a0", "")

// plainNumber reads a number as texts hold them: digits, a point, a minus of either kind, a group of thousands, a fraction.
func plainNumber(s string) (value float64, mark string, ok bool) {
	if s, ok = strings.CutPrefix(s, "±"); ok {
		mark = "±"
	}
	s = printedSigns.Replace(s)
	sign := 1.0
	if strings.HasPrefix(s, "-") {
		sign, s = -1, s[1:]
	}
	n, rest, problem := scanNumber(s, commaDecimal, true)
	return sign * n.value, mark, problem == "" && rest == "" && isDigit(s[0])
}

// bothMeasure returns the quantity that the units of two phrases measure.
func bothMeasure(a, b phrase) (Quantity, bool) {
	if len(a.values) == 0 || len(a.values) != len(b.values) || a.unit == b.unit {
		return 0, false
	}
	for _, q := range Quantities() {
		if known(q, a.unit) && known(q, b.unit) {
			return q, true
		}
	}
	return 0, false
}

// pick writes the phrase for the owner: in the owner's unit where that is one of the two, else in that of the owner's system. What
// is read off a gauge, a flow meter or a scale is converted for an owner who has chosen a third unit.
func (s System) pick(q Quantity, first, second phrase) string {
	want := s.Unit(q)
	for _, p := range []phrase{first, second} {
		if u, _ := UnitBySymbol(q, p.unit); u == want {
			return p.written(q)
		}
	}
	switch q {
	case QuantityPressure, QuantityStandardFlow, QuantityMass:
		if want != s.preset(q) {
			return first.in(q, want)
		}
	}
	for _, p := range []phrase{first, second} {
		if u, _ := UnitBySymbol(q, p.unit); u.def().us == s.us {
			return p.written(q)
		}
	}
	return first.text
}

// written is the phrase as it stands; inches that are a fraction are written as one.
func (p phrase) written(q Quantity) string {
	u, _ := UnitBySymbol(q, p.unit)
	if !q.isLength() || u.Symbol() != "in" {
		return p.text
	}
	return p.in(q, u)
}

// textRatio stands for the gas of a flow in a text, which is not named there: that of an ideal gas, good to 0.5 % for the gases
// of a rig, as are three digits.
const textRatio = StandardRatio(float64(StandardTemperature) / float64(USStandardTemperature))

// in converts the phrase.
func (p phrase) in(q Quantity, u Unit) string {
	from, ok := UnitBySymbol(q, p.unit)
	var numbers []string
	for _, v := range p.values {
		si, err := from.SI(v, textRatio)
		if !ok || err != nil {
			return p.text
		}
		numbers = append(numbers, words.Number(FormatNumber(q, si, u, textRatio)))
	}
	return p.before + withSymbol(strings.Join(numbers, p.join), u)
}
