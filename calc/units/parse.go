package units

import (
	"math"
	"strings"

	"torchside/calc/words"
)

// longestText is how many bytes a typed text may have; no number a person types needs more.
const longestText = 200

// currencySigns are left out of a price: it is in the owner's currency whatever the sign.
var currencySigns = strings.NewReplacer("$", "", "€", "", "£", "")

// reading is a text understood, before the limits.
type reading struct {
	si        float64
	unit      Unit   // the zero Unit for a gauge or drill size
	text      string // as understood: "6 ft 3 in"
	ambiguous bool   // the commaMark decided si
	bare      string // a fraction without its unit, in a field of metric lengths: "5/8"
}

// Parse reads a typed text: a number in any form people use, then a unit, else the field's own; for a thickness also a
// sheet gauge, for a bore also a drill size. Feet and inches, hours and minutes, pounds and ounces may follow each other.
//
// The error is a *[ParseError]. Without one, the result is finite and within the limits. A text is never guessed at: a
// comma before exactly three digits is refused with both readings offered, unless the limits rule one out; so is a fraction
// without a unit where a metric length is asked for, whatever the limits.
func (f Field) Parse(text string) (Parsed, error) {
	if len(text) > longestText {
		return Parsed{}, f.refuse(text, "it is too long for a number")
	}
	s := clean(text)
	switch {
	case s == "" && f.Optional:
		return Parsed{Unit: f.unit(), Empty: true}, nil
	case s == "":
		return Parsed{}, f.refuse("", "an answer is needed here")
	}
	r, err := f.read(s, commaDecimal)
	if err != nil {
		return Parsed{}, err
	}
	switch {
	case r.ambiguous:
		return f.choose(s, r)
	case r.bare != "":
		return Parsed{}, f.askUnit(s, r)
	}
	return f.accept(s, r)
}

// choose settles a text that has two readings: the one within the limits if there is only one.
func (f Field) choose(s string, decimal reading) (Parsed, error) {
	p, errDecimal := f.accept(s, decimal)
	thousand, err := f.read(s, commaThousand)
	if err != nil {
		return Parsed{}, err
	}
	other, errThousand := f.accept(s, thousand)
	switch {
	case errDecimal == nil && errThousand != nil:
		return p, nil
	case errDecimal != nil && errThousand == nil:
		return other, nil
	case errDecimal != nil:
		e := errDecimal.(*ParseError)
		e.Read = words.S("%s or %s", e.Read, f.describe(thousand))
		return Parsed{}, e
	}
	e := f.refuse(s, "the comma before three digits may be a thousand mark or a decimal comma")
	e.Read = words.S("%s or %s", thousand.text, decimal.text)
	e.Choices = []string{thousand.text, decimal.text}
	return Parsed{}, e
}

// accept checks a reading against physics and the field's limits.
func (f Field) accept(s string, r reading) (Parsed, error) {
	e := f.refuse(s, f.Why)
	e.Read = f.describe(r)
	if f.Quantity == QuantityTemperature && r.si < 0 {
		e.Why = "nothing is colder than absolute zero, 0 K = -273.15 °C = -459.67 °F"
		return Parsed{}, e
	}
	si, ok := f.clamp(r.si)
	if !ok {
		return Parsed{}, e
	}
	return Parsed{SI: si, Unit: unitFor(f.Quantity, r.typedUnit(f)), Read: e.Read}, nil
}

// typedUnit is the reading's unit, the field's for a size.
func (r reading) typedUnit(f Field) Unit {
	if r.unit.IsZero() {
		return f.unit()
	}
	return r.unit
}

// describe says what was understood and what that is in the field's unit, or in the metric one where that is the same; a
// size is always given in mm.
func (f Field) describe(r reading) string {
	metric := Metric().Unit(f.Quantity)
	other := f.unit()
	switch {
	case r.unit.IsZero():
		other, _ = UnitBySymbol(f.Quantity, "mm")
	case other == r.unit && other.def().us:
		other = metric
	}
	if other.NeedsGas() && f.Standard == 0 {
		other = metric
	}
	x := other.plain(r.si, f.Standard)
	if other == r.unit || math.IsNaN(x) {
		return r.text
	}
	return r.text + " = " + withSymbol(significant(x, 4), other)
}

// read understands a cleaned text without looking at the limits.
func (f Field) read(s string, comma commaMark) (reading, *ParseError) {
	switch f.Quantity {
	case QuantityThickness:
		if number, ok := sizeText(s, gaugeWords); ok {
			return f.readGauge(s, number)
		}
	case QuantityBore:
		if size, ok := sizeText(s, drillWords); ok {
			return f.readDrill(s, size)
		}
	case QuantityMoneyPerVolume, QuantityMoney, QuantityMoneyPerMass:
		s = currencySigns.Replace(s)
	}
	sign, rest := 1.0, strings.TrimLeft(s, " ")
	if rest != "" && (rest[0] == '-' || rest[0] == '+') {
		if rest[0] == '-' {
			sign = -1
		}
		rest = rest[1:]
	}
	r, problem := f.readParts(rest, comma, sign)
	if problem != "" {
		return r, f.refuse(s, problem)
	}
	return r, nil
}

// readParts reads numbers with units up to the end of s: one, or several of one chain, larger units first.
func (f Field) readParts(s string, comma commaMark, sign float64) (r reading, problem string) {
	if sign < 0 {
		r.text = "-"
	}
	var last Unit
	for first := true; first || s != ""; first = false {
		n, rest, problem := scanNumber(s, comma, !f.Quantity.IsMoney())
		if problem != "" {
			return r, problem
		}
		token, rest := f.scanUnit(rest)
		u := f.unit()
		if token != "" || !first {
			var ok bool
			if u, ok = UnitBySymbol(f.Quantity, token); !ok {
				return r, f.unitProblem(token, rest)
			}
		}
		if !first && (u.def().chain == 0 || u.def().chain != last.def().chain || u.def().factor >= last.def().factor) {
			return r, "it holds two numbers that do not belong together; one is needed"
		}
		part, err := u.SI(sign*n.value, f.Standard)
		if err != nil {
			return r, err.Error()
		}
		if math.IsInf(part, 0) || (part == 0 && n.value != 0 && u.def().offset == 0) {
			return r, "the number is too large or too small to compute with"
		}
		if first {
			r.unit = u
		} else {
			r.text += " "
		}
		if r.bare = ""; first && token == "" && n.fraction && f.Quantity.isLength() && !u.def().us {
			r.bare = r.text + n.text
		}
		r.si, r.text, r.ambiguous = r.si+part, r.text+withSymbol(n.text, u), r.ambiguous || n.ambiguous
		last, s = u, rest
	}
	return r, ""
}

// scanUnit takes the unit at the start of s: all of it, or up to the next number where units may follow each other. A
// dash between feet and inches, 6'-3", joins them.
func (f Field) scanUnit(s string) (token, rest string) {
	s = strings.TrimLeft(s, " ")
	if f.unit().def().chain == 0 {
		return strings.TrimRight(s, " "), ""
	}
	end := len(s)
	for i := range s {
		power := i > 0 && (s[i] == '3' || s[i] == '2') && isLetter(s[i-1]) && (i+1 == len(s) || s[i+1] == ' ' || s[i+1] == '/')
		if isDigit(s[i]) && !power || (s[i] == '.' && i+1 < len(s) && isDigit(s[i+1])) {
			end = i
			break
		}
	}
	token, rest = strings.TrimRight(s[:end], " "), s[end:]
	if rest != "" && f.Quantity.isLength() {
		token = strings.TrimRight(token, "- ")
	}
	return token, rest
}

func isLetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }

// unitProblem says why a unit was not taken: it measures something else, there are two, or nobody knows it.
func (f Field) unitProblem(token, rest string) string {
	switch {
	case token == "":
		return "it holds a second number without a unit; one number is needed"
	case token[0] == '-' || token[0] == '+':
		return "it holds more than one number or sign; one number is needed"
	case f.Quantity == QuantityPressure && strings.HasSuffix(unitKey(token), "a") && known(f.Quantity, strings.TrimSuffix(unitKey(token), "a")):
		return words.S("“%s” is marked absolute; write the pressure without that mark, as this field asks for it", shorten(token))
	}
	for _, q := range Quantities() {
		if q != f.Quantity && known(q, token) {
			return words.S("“%s” measures %s; %s is needed%s", shorten(token), q.article(), f.Quantity.article(), inUnits(f.Quantity))
		}
	}
	parts := strings.Fields(token)
	if len(parts) > 1 && known(f.Quantity, parts[0]) && known(f.Quantity, parts[len(parts)-1]) {
		return "it holds two units; one is needed"
	}
	return words.S("“%s” is no unit of %s known here%s", shorten(token+rest), f.Quantity.article(), inUnits(f.Quantity))
}

// known reports whether the text is a unit of the quantity.
func known(q Quantity, text string) bool {
	_, ok := UnitBySymbol(q, text)
	return ok
}
