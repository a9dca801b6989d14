package flame

import (
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// Term is one kind of molecule in an equation and how many of them take part.
type Term struct {
	Coefficient int
	Species     string // formula, as in the NASA-9 data: "C2H2", "H2O"
}

// Equation is a whole-number chemical equation in lowest terms. A species that takes no part is left out.
type Equation struct {
	Left, Right []Term
}

// ElementCount is the number of atoms of one element on each side of an Equation.
type ElementCount struct {
	Element     string
	Left, Right int
}

// Equations are the two ways a fuel burns that matter at a torch.
type Equations struct {
	// Complete is burning to CO2 and H2O, torch oxygen and air together.
	Complete Equation
	// TorchNeutral is burning to CO and H2, the first stage; both burn on, with what torch oxygen is left and then with air.
	// Hydrogen has no such stage: for it this is Complete.
	TorchNeutral Equation
}

// Balance returns the balanced equations of a fuel. Errors: one wrapping gas.ErrUnknown for a gas that is no fuel.
func Balance(fuel gas.Gas) (Equations, error) {
	if !fuel.IsFuel() {
		return Equations{}, fmt.Errorf(words.T("%w: %q is no fuel, fuels are %v"), gas.ErrUnknown, string(fuel), gas.Fuels())
	}
	return balance(fuel), nil
}

// balance counts atoms: CxHy needs x + y/4 oxygen molecules for CO2 and H2O, x/2 for CO and H2; four or two molecules of fuel
// make every count whole, and the common divisor brings it to lowest terms.
func balance(fuel gas.Gas) Equations {
	formula := fuel.Formula()
	count, _ := atomsOf(formula)
	x, y := count[0], count[1]
	complete := reduced(
		[]Term{{4, formula}, {4*x + y, "O2"}},
		[]Term{{4 * x, "CO2"}, {2 * y, "H2O"}},
	)
	if x == 0 {
		return Equations{Complete: complete, TorchNeutral: complete}
	}
	return Equations{Complete: complete, TorchNeutral: reduced(
		[]Term{{2, formula}, {x, "O2"}},
		[]Term{{2 * x, "CO"}, {y, "H2"}},
	)}
}

// reduced divides all coefficients by their greatest common divisor and drops the terms that are zero.
func reduced(left, right []Term) Equation {
	divisor := 0
	for _, side := range [][]Term{left, right} {
		for _, t := range side {
			divisor = greatestCommonDivisor(divisor, t.Coefficient)
		}
	}
	return Equation{Left: divided(left, divisor), Right: divided(right, divisor)}
}

func divided(side []Term, divisor int) []Term {
	var out []Term
	for _, t := range side {
		if t.Coefficient != 0 {
			out = append(out, Term{t.Coefficient / divisor, t.Species})
		}
	}
	return out
}

// greatestCommonDivisor is Euclid's algorithm; with zero it returns the other number.
func greatestCommonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Elements counts the atoms on both sides, in the order C, H, O, leaving out elements that occur on neither.
func (e Equation) Elements() []ElementCount {
	left, right := sum(e.Left), sum(e.Right)
	var counts []ElementCount
	for i := range elements {
		if left[i] != 0 || right[i] != 0 {
			counts = append(counts, ElementCount{elements[i : i+1], left[i], right[i]})
		}
	}
	return counts
}

func sum(side []Term) atoms {
	var total atoms
	for _, t := range side {
		count, _ := atomsOf(t.Species)
		for i := range total {
			total[i] += t.Coefficient * count[i]
		}
	}
	return total
}

// Coefficient returns how many molecules of a species take part on the left (negative) and right (positive) together.
func (e Equation) Coefficient(species string) int {
	total := 0
	for _, t := range e.Right {
		if t.Species == species {
			total += t.Coefficient
		}
	}
	for _, t := range e.Left {
		if t.Species == species {
			total -= t.Coefficient
		}
	}
	return total
}

// String writes the equation: "2 C2H2 + 5 O2 → 4 CO2 + 2 H2O".
func (e Equation) String() string {
	return write(e.Left) + " → " + write(e.Right)
}

func write(side []Term) string {
	texts := make([]string, len(side))
	for i, t := range side {
		texts[i] = t.Species
		if t.Coefficient != 1 {
			texts[i] = fmt.Sprintf("%d %s", t.Coefficient, t.Species)
		}
	}
	return words.Join(texts, " + ")
}
