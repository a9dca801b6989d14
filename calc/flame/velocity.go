package flame

import (
	"errors"
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// ErrNoBurningVelocity is wrapped by BurningVelocity for a fuel without data.
var ErrNoBurningVelocity = errors.New("no burning velocity known")

// modelled is one oxygen to fuel ratio with the burning velocity in m/s that flame models give at 298.15 K and 1 atm: the mean
// and the lowest of them.
type modelled struct{ ratio, mean, lowest float64 }

// burning is what is known of one fuel with oxygen.
type burning struct {
	models []modelled // by growing ratio
	// highestModel is the highest velocity of any model at any ratio.
	highestModel float64
	// remembered is the largest burning velocity that combustion handbooks are remembered to print; from memory, 0 for none.
	remembered float64
	source     string
}

const (
	freeFlames = "one-dimensional free flames at 25 °C and 1 atm, mean of models: "
	threeModel = freeFlames + "GRI-Mech 3.0, You and Wang 2007, a 158-species aromatic model"
	twoModel   = freeFlames + "GRI-Mech 3.0, You and Wang 2007"
	youWang    = freeFlames + "You and Wang 2007"
	griMech    = freeFlames + "GRI-Mech 3.0"
)

// burnings: the models are computed free flames (Cantera 3.2.0, mixture-averaged and multicomponent transport). The remembered
// maxima are those of Lewis and von Elbe and other combustion handbooks, all from memory.
var burnings = map[gas.Gas]burning{
	gas.Acetylene: {[]modelled{
		{0.9, 4.3866, 4.1228}, {1, 4.8574, 4.5419}, {1.1, 5.2627, 4.9136}, {1.3, 5.9023, 5.5318},
		{1.5, 6.3134, 5.9339}, {2, 6.6384, 6.2320}, {2.5, 6.4935, 6.0755}, {4, 5.5526, 5.1766},
	}, 7.1462, 11.40, threeModel},
	gas.Methylacetylene: {[]modelled{{2.5, 3.1254, 3.0623}, {4, 3.5568, 3.5111}}, 3.6026, 0, youWang},
	gas.Propylene:       {[]modelled{{3.7, 2.9345, 2.8880}, {4.5, 3.1241, 3.0835}}, 3.1647, 4.30, youWang},
	gas.Propane:         {[]modelled{{4.3, 2.5992, 2.5740}, {5, 2.7686, 2.7463}}, 2.7908, 3.90, griMech},
	gas.Methane:         {[]modelled{{1.8, 2.9634, 2.8835}, {2, 3.0579, 2.9783}}, 3.1385, 3.93, twoModel},
	gas.Hydrogen:        {[]modelled{{0.42, 9.6654, 9.0619}, {0.5, 9.5681, 8.9853}}, 10.2659, 11.75, twoModel},
}

// BurningVelocity returns the laminar burning velocity of a fuel with oxygen in m/s, for a mixture at 25 °C and 1 atm. Value
// is the mean of flame models at the ratio, read between tabulated ratios on a straight line; Low the lowest model there; High
// the largest measurement remembered from combustion handbooks at any ratio, or without one the highest model. The spread of
// the models is no bound of the error, and Reason names the sources.
//
// Errors: ErrNoBurningVelocity for propadiene and for what is no fuel; *gas.RangeError for a ratio outside the models.
func BurningVelocity(fuel gas.Gas, ratio float64) (units.Band, error) {
	b, ok := burnings[fuel]
	if !ok {
		return units.Band{}, fmt.Errorf(words.T("%w for %q with oxygen: no measurement and no model at hand"), ErrNoBurningVelocity, string(fuel))
	}
	low, high := b.limits()
	if err := gas.InRange("oxidizer_fuel_ratio", ratio, low, high, "", "flame models of this fuel with oxygen cover these ratios"); err != nil {
		return units.Band{}, err
	}
	return b.at(ratio), nil
}

// NearestBurningVelocity is BurningVelocity at the nearest ratio that the models cover, as HoldOn takes it.
//
// Errors: ErrNoBurningVelocity.
func NearestBurningVelocity(fuel gas.Gas, ratio float64) (units.Band, error) {
	b, ok := burnings[fuel]
	if !ok {
		return BurningVelocity(fuel, ratio)
	}
	return b.at(ratio), nil
}

func (b burning) limits() (low, high float64) {
	return b.models[0].ratio, b.models[len(b.models)-1].ratio
}

// at interpolates; a ratio outside the models takes their nearest.
func (b burning) at(ratio float64) units.Band {
	low, high := b.limits()
	ratio = min(max(ratio, low), high)
	i := 1
	for ratio > b.models[i].ratio {
		i++
	}
	from, to := b.models[i-1], b.models[i]
	share := (ratio - from.ratio) / (to.ratio - from.ratio)
	band := units.Band{
		Value: from.mean + share*(to.mean-from.mean),
		Low:   from.lowest + share*(to.lowest-from.lowest),
		High:  b.highestModel, Reason: words.S("%s; high end: highest model", b.source),
	}
	if b.remembered > 0 {
		band.High = b.remembered
		band.Reason = words.S("%s; high end: largest measurement in combustion handbooks, from memory", b.source)
	}
	return band
}

// peak is the largest mean of the models in m/s.
func (b burning) peak() float64 {
	top := 0.0
	for _, m := range b.models {
		top = max(top, m.mean)
	}
	return top
}
