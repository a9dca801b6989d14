package setup

import (
	"math"

	"torchside/calc/words"
)

// estimate is one number on its way to a card, with everything that its provenance will say.
type estimate struct {
	value float64
	prov  Provenance
}

// newEstimate builds an estimate; low and high are put in order and around the value.
func newEstimate(kind Kind, source string, memory bool, value, low, high float64, reason string) estimate {
	return estimate{value, Provenance{Kind: kind, Source: source, FromMemory: memory,
		Low: min(low, high, value), High: max(low, high, value), Reason: reason}}
}

// exact is an estimate that has no band of its own.
func exact(kind Kind, source string, value float64, reason string) estimate {
	return newEstimate(kind, source, false, value, value, value, reason)
}

func (e estimate) withFormula(formula string, inputs ...NamedValue) estimate {
	e.prov.Formula, e.prov.Inputs = formula, inputs
	return e
}

// scaled multiplies value and band.
func (e estimate) scaled(by float64) estimate {
	e.value *= by
	e.prov.Low *= by
	e.prov.High *= by
	return e
}

// plus adds a second estimate, such as the pressure lost in a hose, to value and band.
func (e estimate) plus(o estimate) estimate {
	e.value += o.value
	e.prov.Low += o.prov.Low
	e.prov.High += o.prov.High
	e.prov.FromMemory = e.prov.FromMemory || o.prov.FromMemory
	return e
}

// over keeps a weaker estimate of the same number as an alternative of a stronger one.
func (e estimate) over(weaker estimate) estimate {
	others := append([]Alternative{}, e.prov.Others...)
	e.prov.Others = append(others, Alternative{weaker.prov.Kind, weaker.prov.Source, weaker.prov.FromMemory, weaker.value})
	return e
}

// disagreement is the share by which two sources may differ before the card says so (design rule: 30 %).
const disagreement = 0.30

// disputed returns the first alternative that differs from the value by more than 30 % of it.
func (e estimate) disputed() (Alternative, bool) {
	for _, o := range e.prov.Others {
		if e.value > 0 && math.Abs(o.Value-e.value) > disagreement*e.value {
			return o, true
		}
	}
	return Alternative{}, false
}

// memoryMark is added to a source that was not read for this project.
func memoryMark(source string) string {
	if words.Says(source, "from memory") {
		return source
	}
	return words.S("%s (from memory)", source)
}
