package present

import (
	"strconv"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/words"
)

// Balanced is the equation of a fuel, step by step.
type Balanced struct {
	Equation string   // "2 C₂H₂ + 5 O₂ → 4 CO₂ + 2 H₂O"
	Steps    []string // how it is found
	Atoms    []Line   // the count of both sides
	Torch    string   // what the torch alone burns
}

// NewBalanced writes the balanced equation of a fuel for whoever wants to see why it takes so much oxygen; ok is false for what
// is no fuel.
func NewBalanced(fuel gas.Gas) (Balanced, bool) {
	e, err := flame.Balance(fuel)
	if err != nil {
		return Balanced{}, false
	}
	b := Balanced{Equation: equationText(e.Complete), Steps: steps(fuel, e.Complete)}
	for _, c := range e.Complete.Elements() {
		b.Atoms = append(b.Atoms, Line{elementNames[c.Element], words.S("%s left, %s right", strconv.Itoa(c.Left), strconv.Itoa(c.Right))})
	}
	if fuel == gas.Hydrogen {
		b.Torch = "The torch gives all of the oxygen: hydrogen has no second stage."
		return b, true
	}
	r := flame.NeutralRatio(fuel)
	b.Torch = words.S("It burns in two stages: first %s, %s to one; then CO and H₂ take the rest, up to %s to one. The torch gives about %s of it, the air around the flame what is left.", equationText(e.TorchNeutral), decimal(r.Primary, 2), decimal(r.Complete, 2), decimal(r.Neutral.Value, 2))
	return b, true
}

var elementNames = map[string]string{"C": "Carbon", "H": "Hydrogen", "O": "Oxygen"}

// steps count the atoms of one molecule of fuel, then make every number whole.
func steps(fuel gas.Gas, e flame.Equation) []string {
	formula := subscripted(fuel.Formula())
	fuels := -e.Coefficient(fuel.Formula())
	carbon, water, oxygen := e.Coefficient("CO2"), e.Coefficient("H2O"), -e.Coefficient("O2")
	per := func(n int) string { return decimal(float64(n)/float64(fuels), 2) }
	var list []string
	if carbon > 0 {
		list = append(list, words.S("Carbon: one %s holds %s C, so it makes %s CO₂.", formula, per(carbon), per(carbon)))
	}
	list = append(list,
		words.S("Hydrogen: it holds %s H, two to a water, so it makes %s H₂O.", per(2*water), per(water)),
		words.S("Oxygen: %s O atoms in all, two to a molecule: %s O₂.", per(2*carbon+water), per(oxygen)))
	if fuels > 1 {
		list = append(list, words.S("No half molecules: take everything %s times.", strconv.Itoa(fuels)))
	}
	return append(list, words.S("So %s %s take %s O₂: %s volumes of oxygen to one of fuel.", strconv.Itoa(fuels), formula, strconv.Itoa(oxygen), decimal(float64(oxygen)/float64(fuels), 2)))
}

func equationText(e flame.Equation) string { return subscripted(e.String()) }

// subscripted lowers the digits that follow a letter: they count atoms; those before a formula count molecules.
func subscripted(text string) string {
	var b strings.Builder
	letter := false
	for _, r := range text {
		digit := r >= '0' && r <= '9'
		if digit && letter {
			b.WriteRune('₀' + r - '0')
			continue
		}
		b.WriteRune(r)
		letter = r >= 'A' && r <= 'Z'
	}
	return b.String()
}
