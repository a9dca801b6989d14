package state

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
)

// FormField is one field ready to show.
type FormField struct {
	Key, Label, Help string
	Hint             string // unit assumed when none is typed
	Type             FieldType
	Text             string // as typed; of a choice the chosen value
	Read, Error      string
	Choices          []string // texts that a refused one may have meant; each is understood
	Down, Up         string   // texts of the steppers, "" where there is no step
	Options          []Option
	Pair             bool   // the low end of a range; the next field is the high end and stands beside it
	Group            string // what the range is of
	Letters          bool   // people type more than digits: fractions, gauge and drill sizes, a minus
}

// reading is what one text was understood as.
type reading struct {
	si    float64
	unit  units.Unit
	given bool // si is an answer
	read  string
	err   string
	meant []string // texts that a refused one may have meant
}

// readField reads a number. An empty text of an optional field is neither an answer nor an error.
func readField(s Spec, f units.Field, text string) reading {
	p, err := f.Parse(text)
	if err != nil {
		return refused(f, text, err)
	}
	if p.Empty {
		return reading{}
	}
	if s.Whole && p.SI != math.Trunc(p.SI) {
		return reading{err: words.S("%s: read %s; allowed: a whole number; it is counted, not measured.", f.Name, p.Read)}
	}
	if p.Read == strings.TrimSpace(text) {
		p.Read = "" // says nothing new
	}
	return reading{si: p.SI, unit: p.Unit, given: true, read: p.Read}
}

// refused is a text that was not taken, with what it may have meant: what the parser offers, or a drill's number.
func refused(f units.Field, text string, err error) reading {
	r := reading{err: err.Error()}
	var e *units.ParseError
	if errors.As(err, &e) {
		r.meant = e.Choices
	}
	if drill := "#" + strings.TrimSpace(text); len(r.meant) == 0 && f.Quantity == units.QuantityBore {
		if _, err := f.Parse(drill); err == nil {
			r.err, r.meant = words.S("%s. Did you mean %s?", r.err, drill), []string{drill}
		}
	}
	if percent := strings.TrimSpace(text) + " %"; len(r.meant) == 0 && f.Quantity == units.QuantityNumber && f.Max <= 1 {
		if _, err := f.Parse(percent); err == nil {
			r.err, r.meant = words.S("%s. Did you mean %s?", r.err, percent), []string{percent}
		}
	}
	if foot := strings.TrimSpace(text) + " ft³"; len(r.meant) == 0 && f.Quantity == units.QuantityStandardVolume {
		if _, err := f.Parse(foot); err == nil {
			r.err, r.meant = words.S("%s. Did you mean %s?", r.err, foot), []string{foot}
		}
	}
	return r
}

// formField puts a number field together for showing.
func formField(s Spec, f units.Field, text string, r reading) FormField {
	out := FormField{Key: s.Key, Label: s.Label, Help: s.Help, Hint: f.Unit.Symbol(), Type: TypeNumber,
		Text: text, Read: r.read, Error: r.err, Choices: r.meant, Pair: s.Pair}
	if s.Pair {
		out.Group, out.Label = strings.TrimSuffix(s.Label, " from"), "from"
	}
	switch f.Quantity {
	case units.QuantityThickness, units.QuantityBore, units.QuantityLength, units.QuantityTemperature:
		out.Letters = true
	}
	out.Down, out.Up = stepTexts(s, f, text, r)
	return out
}

// stepTexts returns the texts one step below and above, in the unit typed or assumed; "" where the step leaves the limits. From
// a text that is refused the steps lead back to the limits.
func stepTexts(s Spec, f units.Field, text string, r reading) (down, up string) {
	unit := f.Unit
	if r.given && !r.unit.IsZero() {
		unit = r.unit
	}
	step, ok := s.Steps[unit.Symbol()]
	if !ok {
		return "", ""
	}
	at := func(si float64) float64 {
		v, err := unit.FromSI(si, f.Standard)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	switch {
	case r.err != "":
		return stepText(s, f, unit, inwardStep(at(f.Max), step)), stepText(s, f, unit, -inwardStep(-at(f.Min), step))
	case !r.given:
		return stepText(s, f, unit, floorStep(0, step)), stepText(s, f, unit, ceilStep(0, step))
	}
	return stepText(s, f, unit, floorStep(at(r.si), step)), stepText(s, f, unit, ceilStep(at(r.si), step))
}

// inwardStep is the step at or below a limit.
func inwardStep(limit, step float64) float64 { return math.Floor(limit/step+nearStep) * step }

// nearStep is how close, in steps, a value must be to a step to stand on it: far below a digit a person types.
const nearStep = 1e-6

func floorStep(v, step float64) float64 { return (math.Ceil(v/step-nearStep) - 1) * step }
func ceilStep(v, step float64) float64  { return (math.Floor(v/step+nearStep) + 1) * step }

func stepText(s Spec, f units.Field, u units.Unit, v float64) string {
	const digits = 9 // hides the last bits of a multiplied step
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	text := strconv.FormatFloat(rounded, 'f', -1, 64)
	if u != f.Unit && u.Symbol() != "" {
		text += " " + u.Symbol()
	}
	if r := readField(s, f, text); !r.given {
		return ""
	}
	return text
}

// sameSI tells whether two readings are the same number but for rounding in the last bits.
func sameSI(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

// retext keeps the meaning of a typed text when the assumed unit changes: it stays when it still says the same, else its unit
// is written out, else the number is written in the new unit.
func retext(from, to units.Field, text string) string {
	p, err := from.Parse(text)
	if err != nil || p.Empty {
		return text
	}
	candidates := []string{text, text + " " + p.Unit.Symbol()}
	for _, c := range candidates {
		if q, err := to.Parse(c); err == nil && !q.Empty && sameSI(q.SI, p.SI) {
			return c
		}
	}
	return units.Format(to.Quantity, p.SI, to.Unit, to.Standard)
}

// textOf is the stored form of a choice of units.
func textOf(s units.System) string {
	text, err := s.MarshalText()
	if err != nil {
		return ""
	}
	return string(text)
}
