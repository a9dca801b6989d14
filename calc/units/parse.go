package units

import (
	"strconv"
	"strings"
)

// Parse reads a typed text. The error is a *[ParseError].
func (f Field) Parse(text string) (Parsed, error) {
	text = strings.TrimSpace(text)
	end := strings.LastIndexAny(text, "0123456789.") + 1
	x, err := strconv.ParseFloat(text[:end], 64)
	if err != nil {
		return Parsed{}, &ParseError{Field: f.Name, Typed: shorten(text), Why: "a number is needed"}
	}
	u := f.Unit
	if end < len(text) {
		var ok bool
		if u, ok = UnitBySymbol(f.Quantity, text[end:]); !ok {
			return Parsed{}, &ParseError{Field: f.Name, Typed: shorten(text), Why: "unknown unit"}
		}
	}
	si, err := u.SI(x, f.Standard)
	if err != nil {
		return Parsed{}, &ParseError{Field: f.Name, Typed: shorten(text), Why: err.Error()}
	}
	if (f.Min != 0 || f.Max != 0) && (si < f.Min || si > f.Max) {
		return Parsed{}, &ParseError{Field: f.Name, Typed: shorten(text), Read: Format(f.Quantity, si, u, f.Standard), Why: f.Why}
	}
	return Parsed{SI: si, Unit: u, Read: Format(f.Quantity, si, u, f.Standard)}, nil
}
