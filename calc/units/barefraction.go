package units

import (
	"torchside/calc/words"
)

// askUnit refuses a fraction without a unit in a field of metric lengths. Who writes 5/8 means inches, and nobody measures in
// fractions of a millimetre, but a length is never guessed at: each reading within the limits is offered.
func (f Field) askUnit(s string, r reading) *ParseError {
	e := f.refuse(s, "a fraction needs its unit here")
	us := "in"
	if f.unit().Symbol() == "m" {
		us = "ft"
	}
	var readings []string
	for _, text := range []string{r.bare + " " + us, withSymbol(significant(f.unit().plain(r.si, f.Standard), 4), f.unit())} {
		p, err := f.Parse(text)
		if err == nil {
			e.Choices = append(e.Choices, text)
			readings = append(readings, p.Read)
			continue
		}
		if outside, ok := err.(*ParseError); ok && outside.Read != "" {
			readings = append(readings, outside.Read)
		}
	}
	e.Read = words.Join(readings, " or ")
	if len(e.Choices) == 0 && f.Why != "" {
		e.Why = f.Why
	}
	return e
}
