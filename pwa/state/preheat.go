package state

import (
	"torchside/calc/heat"
	"torchside/calc/units"
)

// Preheat is the page of carbon equivalent and preheat.
type Preheat struct {
	Worksheet
	Answer  *heat.Preheat // nil while the question is not complete
	Problem string
}

// preheatSpecs are the fields: thickness, and per cent of mass as a mill certificate has them.
var preheatSpecs = []Spec{
	numberSpec("thickness", "Thickness", "Of the thicker part, as 1 in or 25 mm.", units.QuantityThickness, 0.0005, 0.3, "torch work lies in this range").need(),
	element("c", "Carbon, C", 2).need(), element("mn", "Manganese, Mn", 15), element("si", "Silicon, Si", 5), element("cr", "Chromium, Cr", 15), element("mo", "Molybdenum, Mo", 5),
	element("v", "Vanadium, V", 2), element("ni", "Nickel, Ni", 15), element("cu", "Copper, Cu", 5), element("b", "Boron, B", 0.1),
}

// element is the share of an element in the steel, typed in per cent.
func element(key, label string, most float64) Spec {
	return numberSpec(key, label, "", units.QuantityNumber, 0, most/100, "per cent of mass in a steel").in("%", "%")
}

// preheatAnswered asks package heat.
func (a App) preheatAnswered() App {
	p := &a.Preheat
	p.Answer, p.Problem = nil, ""
	if !p.complete {
		return a
	}
	percent := func(key string) float64 { return 100 * p.si[key] }
	steel := heat.Steel{C: percent("c"), Mn: percent("mn"), Si: percent("si"), Cr: percent("cr"), Mo: percent("mo"), V: percent("v"), Ni: percent("ni"), Cu: percent("cu"), B: percent("b")}
	answer, err := steel.Preheat(units.Length(p.si["thickness"]))
	if err != nil {
		p.Problem = err.Error()
		return a
	}
	p.Answer = &answer
	return a
}
