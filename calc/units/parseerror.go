package units

import (
	"strings"
	"unicode/utf8"

	"torchside/calc/words"
)

// ParseError says what was wrong with a typed text, in parts of sentences for a person. The text itself stays with the
// caller.
type ParseError struct {
	Field   string   // the field's name
	Typed   string   // what was typed, shortened if very long; empty if nothing was
	Read    string   // what it was understood as: "4 km = 4000000 mm"; empty if it was not understood
	Allowed string   // what is allowed: "0.3 to 50 mm"
	Why     string   // what is wrong with the text, or the reason of the limits
	Choices []string // texts the person may have meant; each is understood
}

// Error returns one readable sentence: what was read, why it is refused, what is allowed.
func (e *ParseError) Error() string {
	s := words.S("read %s", e.Read)
	switch {
	case e.Read != "":
	case e.Typed == "":
		s = "nothing was typed"
	default:
		s = words.S("“%s” was not understood", e.Typed)
	}
	if e.Field != "" {
		s = e.Field + ": " + s
	}
	if e.Allowed != "" {
		s += words.S("; allowed is %s", e.Allowed)
	}
	if e.Why != "" {
		s += "; " + e.Why
	}
	if len(e.Choices) > 0 {
		s += words.S("; write %s", words.Join(e.Choices, " or "))
	}
	return s
}

// refuse makes the error for a text that was not understood.
func (f Field) refuse(typed, why string) *ParseError {
	return &ParseError{Field: f.Name, Typed: shorten(typed), Allowed: f.allowed(), Why: why}
}

// thousandth is the finest step of a thickness in inches that anybody measures.
const thousandth = 0.001

// allowed states the limits in the field's unit, rounded inwards so that every number it names is accepted; without limits, the
// quantity.
func (f Field) allowed() string {
	u := f.unit()
	if u.NeedsGas() && f.Standard == 0 {
		u = Metric().Unit(f.Quantity)
	}
	low, high := u.plain(f.Min, f.Standard), u.plain(f.Max, f.Standard)
	finest := 0.0
	if f.Quantity == QuantityThickness && u.Symbol() == "in" && high > thousandth {
		finest = thousandth
	}
	from, to := roundTo(low, true, finest), roundTo(high, false, finest)
	switch {
	case f.unlimited() || (from == "" && to == ""):
		return f.Quantity.article()
	case from == "":
		return words.S("%s or less", withSymbol(to, u))
	case to == "":
		return words.S("%s or more", withSymbol(from, u))
	}
	return words.S("%s to %s", from, withSymbol(to, u))
}

// article returns the quantity with its article: "a length".
func (q Quantity) article() string { return "a " + q.String() }

// inUnits lists the units of a quantity: ", in mm, cm, m, in or ft".
func inUnits(q Quantity) string {
	var symbols []string
	for _, u := range UnitsOf(q) {
		if s := u.Symbol(); s != "" {
			symbols = append(symbols, s)
		}
	}
	switch n := len(symbols); n {
	case 0:
		return ""
	case 1:
		return words.S(", with %s or without", symbols[0])
	default:
		return words.S(", in %s or %s", words.Join(symbols[:n-1], ", "), symbols[n-1])
	}
}

// shorten cuts a typed text so that it fits in a message.
func shorten(s string) string {
	const limit = 40
	s = strings.ToValidUTF8(s, "�")
	if utf8.RuneCountInString(s) <= limit {
		return s
	}
	return string([]rune(s)[:limit]) + "…"
}
