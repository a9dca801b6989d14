package cut

import "math"

// What one percent below 99.5 % costs. Source: course notes on oxygen cutting, at 98.5 %: 15 % of speed, about 25 % more oxygen.
const (
	printedPurity  = 0.985
	speedAtPrinted = 0.85
	useAtPrinted   = 1.25
)

// Impurity is what oxygen below 99.5 % does, against 99.5 % and better.
type Impurity struct {
	Speed float64 // share of the speed that is left
	Use   float64 // oxygen for a length of cut
	// Extrapolated is true below the printed 98.5 %.
	Extrapolated bool
}

// ImpurityAt returns the effect of a purity from PoorestOxygen to 1. Each percent costs the same share again; below 98.5 % that is
// an extrapolation.
func ImpurityAt(purity float64) Impurity {
	percents := max(0, (UsualPurity-purity)*100)
	return Impurity{math.Pow(speedAtPrinted, percents), math.Pow(useAtPrinted, percents), purity < printedPurity}
}

// flow is the oxygen flow: use for a length times length in a time.
func (i Impurity) flow() float64 { return i.Speed * i.Use }
