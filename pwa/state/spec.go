package state

import (
	"torchside/calc/units"
)

// FieldType is how a field is entered.
type FieldType string

// The ways of entering.
const (
	TypeNumber FieldType = "number"
	TypeText   FieldType = "text"
	TypeChoice FieldType = "choice"
	TypeDate   FieldType = "date"
	TypeMoment FieldType = "moment" // date and time of day, as the browser's own field has it: 2026-05-17T14:30
	TypeLong   FieldType = "long"   // text of several lines
)

// Option is one answer of a choice.
type Option struct{ Value, Label, Note string }

// Spec says how one field of a part is entered.
type Spec struct {
	Key     string
	Label   string // in trade words
	Help    string // one sentence, when the label is not enough
	Type    FieldType
	Field   units.Field // of a number; unit and gas are filled in from the form
	Options []Option    // of a choice
	Default string      // of a choice, and of the first text
	Steps   stepTable   // of a number with steppers
	Whole   bool        // a number without a fraction
	Brief   string      // name of the value in the list of parts; the label when empty
	Pair    bool        // a low end; the next field is the high end and stands beside it
	PerGas  string      // the line whose gas a flow or a price is of
	// Metric and US are the units of a number that is of another size than its quantity usually is; empty takes the chosen one.
	Metric, US string
	shown      func(fill) bool
	required   bool
}

// fill is what a form has been given so far, as far as it decides which fields it has.
type fill struct {
	choices map[string]string
	fuel    string // JSON name of the fuel in use
}

func isGas(names ...string) func(fill) bool {
	return func(f fill) bool {
		for _, n := range names {
			if f.choices["gas"] == n {
				return true
			}
		}
		return false
	}
}

func isChoice(key, value string) func(fill) bool {
	return func(f fill) bool { return f.choices[key] == value }
}

func isNotChoice(key, value string) func(fill) bool {
	return func(f fill) bool { return f.choices[key] != value }
}

// stepTable gives the step of a stepper by the symbol of the unit it works in.
type stepTable map[string]float64

var (
	stepsWorking  = stepTable{"psi": 1, "bar": 0.1, "kPa": 10, "MPa": 0.01, "mbar": 100}
	stepsCylinder = stepTable{"psi": 100, "bar": 10, "kPa": 1000, "MPa": 1, "mbar": 10000}
	stepsOne      = stepTable{"": 1}
	stepsMass     = stepTable{"kg": 0.1, "lb": 0.25}
	stepsWarmth   = stepTable{"°C": 1, "°F": 2, "K": 1}
	stepsHeight   = stepTable{"m": 100, "ft": 250}
)

// Specs returns the fields of a kind in the order they are entered.
func Specs(k Kind) []Spec { return specs[k] }

var specs = map[Kind][]Spec{
	KindCylinder: cylinderSpecs, KindRegulator: regulatorSpecs, KindHose: hoseSpecs, KindArrestor: arrestorSpecs,
	KindTorch: torchSpecs, KindTip: tipSpecs, KindChartRow: chartRowSpecs,
}

func textSpec(key, label, help string) Spec {
	return Spec{Key: key, Label: label, Help: help, Type: TypeText}
}

func dateSpec(key, label, help string) Spec {
	return Spec{Key: key, Label: label, Help: help, Type: TypeDate}
}

func choiceSpec(key, label string, options []Option) Spec {
	return Spec{Key: key, Label: label, Type: TypeChoice, Options: options, Default: options[0].Value}
}

func lineSpec() Spec {
	return choiceSpec("line", "For which gas?", []Option{{Value: LineOxygen, Label: "Oxygen"}, {Value: LineFuel, Label: "Fuel gas"}})
}

// numberSpec is a number that may be left empty unless need is called on it.
func numberSpec(key, label, help string, q units.Quantity, low, high float64, why string) Spec {
	return Spec{Key: key, Label: label, Help: help, Type: TypeNumber,
		Field: units.Field{Name: label, Quantity: q, Min: low, Max: high, Why: why, Optional: true}}
}

func (s Spec) need() Spec { s.Field.Optional = false; s.required = true; return s }
func (s Spec) only(when func(fill) bool) Spec {
	s.shown = when
	return s
}
func (s Spec) steps(t stepTable) Spec { s.Steps = t; return s }
func (s Spec) brief(name string) Spec { s.Brief = name; return s }
func (s Spec) whole() Spec            { s.Whole = true; s.Steps = stepsOne; return s }
func (s Spec) of(line string) Spec    { s.PerGas = line; return s }
func (s Spec) pair() Spec             { s.Pair = true; return s }
func (s Spec) start(text string) Spec { s.Default = text; return s }
func (s Spec) in(metric, us string) Spec {
	s.Metric, s.US = metric, us
	return s
}

// unit is the unit assumed when none is typed.
func (s Spec) unit(system units.System) units.Unit {
	symbol := s.Metric
	if system.IsUS() {
		symbol = s.US
	}
	if u, ok := units.UnitBySymbol(s.Field.Quantity, symbol); ok && symbol != "" {
		return u
	}
	return system.Unit(s.Field.Quantity)
}

// briefly names the value in the list of parts. A choice speaks for itself unless it has a brief name.
func (s Spec) briefly() string {
	switch {
	case s.Brief != "" || s.Type == TypeChoice:
		return s.Brief
	}
	return s.Label
}

// isShown tells whether the field belongs to the form as filled in so far.
func (s Spec) isShown(f fill) bool { return s.shown == nil || s.shown(f) }
