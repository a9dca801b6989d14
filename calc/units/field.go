package units

import "unicode/utf8"

// Field says how one input is read: its limits, the unit assumed when none is typed, and why the limits are what they are.
type Field struct {
	Name     string   // what the person sees beside the input: "Thickness"
	Quantity Quantity // what is read
	Unit     Unit     // assumed when none is typed; the zero Unit means the metric preset's

	// Min and Max are the limits in SI, inclusive. Both zero means no limits but those of physics.
	Min, Max float64
	Why      string // the reason of the limits, in trade words

	Sheet    SheetTable    // which table "16 ga" means; thickness only
	Standard StandardRatio // of the gas, for ft³ of gas; zero refuses ft³ with the reason
	Optional bool          // nothing typed is an answer
}

// Parsed is what a text was understood as.
type Parsed struct {
	SI    float64 // within the field's limits
	Unit  Unit    // as typed, else the field's
	Read  string  // for the person: "1/8 in = 3.175 mm"
	Empty bool    // nothing was typed into an optional field; SI is then no answer
}

// ParseError says what was wrong with a typed text. Its parts are sentences' parts for a person; the text itself stays with
// the caller.
type ParseError struct {
	Field   string   // the field's name
	Typed   string   // what was typed, shortened if very long
	Read    string   // how far it was understood: "4 km = 157480 in"; empty if not at all
	Allowed string   // what is allowed: "0.02 in to 1/2 in"
	Why     string   // why
	Choices []string // texts the person may have meant; each parses without this error
}

// Error returns one readable sentence.
func (e *ParseError) Error() string {
	s := e.Field + ": "
	switch {
	case e.Read != "":
		s += e.Read
	case e.Typed == "":
		s += "nothing typed"
	default:
		s += "“" + e.Typed + "” is not understood"
	}
	if e.Why != "" {
		s += "; " + e.Why
	}
	if e.Allowed != "" {
		s += "; allowed: " + e.Allowed
	}
	return s + "."
}

// shorten cuts a typed text so that it fits in a message.
func shorten(s string) string {
	const limit = 40
	if utf8.RuneCountInString(s) <= limit {
		return s
	}
	return string([]rune(s)[:limit]) + "…"
}
