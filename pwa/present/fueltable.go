package present

import (
	"errors"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// FuelRow is one fuel of the comparison.
type FuelRow struct {
	Key, Name string
	Lines     []Line
	Source    string
}

// btu is the international table British thermal unit in J: NIST SP 811 (2008), appendix B.8.
const btu = 1055.05585262

const cubicFoot = 0.028316846592 // m³, exact: NIST SP 811 (2008), appendix B.8

// NewFuelTable compares the fuels at their usual neutral flame with oxygen.
func NewFuelTable(o Options) []FuelRow {
	var rows []FuelRow
	for _, g := range gas.Fuels() {
		rows = append(rows, fuelRow(g, o))
	}
	return rows
}

func fuelRow(g gas.Gas, o Options) FuelRow {
	r, h := flame.NeutralRatio(g), flame.HeatingValue(g).PerVolume(g)
	row := FuelRow{Key: string(g), Name: words.Capital(g.Name()), Source: words.S("Ratio: %s.", marked(r.Source, r.FromMemory))}
	add := func(name, text string) {
		if text != "" {
			row.Lines = append(row.Lines, Line{name, text})
		}
	}
	add("Heat, all of it", heatText(h.Lower, g, o))
	addSplit(add, g, h, o)
	add("Oxygen from the torch, neutral", marked(words.S("%s (%s to %s)", ratioText(r.Neutral.Value), decimal(r.Neutral.Low, 2), decimal(r.Neutral.High, 2)), r.FromMemory))
	add("Oxygen in all", ratioText(r.Complete))
	add("Temperature by equilibrium, neutral", equilibriumText(g, r.Neutral.Value, o))
	add("Burning velocity", velocityText(g, r.Neutral.Value, o))
	limits, source := limitsText(g)
	add("Burns in air, fuel share", limits)
	row.Source += words.S(" Heat: lower heat at 25 °C, per volume at %s. Limits: %s.", volumesAt(o), source)
	return row
}

// addSplit tells what the torch oxygen can release beside what handbooks print for the inner cone. Hydrogen burns in one stage.
func addSplit(add func(name, text string), g gas.Gas, h flame.Heats, o Options) {
	ratio := flame.NeutralRatio(g).Neutral.Value
	if split, err := flame.HeatsAt(gas.Pure(g), ratio); err == nil {
		add("Released by the torch oxygen, neutral", inPercent(split.Primary/split.Total))
	}
	if g == gas.Hydrogen {
		return
	}
	add("Burning to CO and H₂ alone", words.S("%s, %s", heatText(h.Primary, g, o), inPercent(h.Primary/h.Lower)))
	if printed, ok := flame.PrintedHeatSplit(g); ok {
		add("Handbooks print in the inner cone", words.S("%s (%s): burning to CO and H₂ alone, of gross heat", inPercent(printed.Share()), printed.Source))
	}
}

func marked(text string, memory bool) string {
	if memory && !words.Says(text, "from memory") {
		return words.S("%s, from memory", text)
	}
	return text
}

// heatText writes a heat in J per m³ at 15 °C, in US units per ft³ at 70 °F.
func heatText(perVolume float64, g gas.Gas, o Options) string {
	if o.Units.IsUS() {
		return words.S("%s Btu/ft³", decimal(perVolume*float64(g.StandardRatio())*cubicFoot/btu, 0))
	}
	return words.S("%s MJ/m³", decimal(perVolume/1e6, 1))
}

func volumesAt(o Options) string {
	if o.Units.IsUS() {
		return "70 °F and 1 atm"
	}
	return "15 °C and 1 atm"
}

func equilibriumText(g gas.Gas, ratio float64, o Options) string {
	q := setup.ExampleFlame(g)
	q.Ratio = ratio
	a, err := setup.FlameAt(q)
	if err != nil {
		return ""
	}
	return temperatureText(a.TemperatureK, o)
}

// velocityText names both ends: flame models and what handbooks are remembered to print. Outside the ratios of the models it
// takes the nearest, and says so.
func velocityText(g gas.Gas, ratio float64, o Options) string {
	at := ""
	b, err := flame.BurningVelocity(g, ratio)
	var outside *gas.RangeError
	if errors.As(err, &outside) {
		nearest := min(max(ratio, outside.Low), outside.High)
		at = words.S(", at %s", ratioText(nearest))
		b, err = flame.BurningVelocity(g, nearest)
	}
	if err != nil {
		return "not known"
	}
	jet := scale{quantity: units.QuantitySpeed, unit: newScaler(o, g).jet()}
	return words.S("%s%s (models from %s; %s%s)", jet.text(b.Value), at, jet.text(b.Low), topVelocity(g), jet.text(b.High))
}

// topVelocity says what the high end of the band is. Propyne alone has no remembered measurement.
func topVelocity(g gas.Gas) string {
	if g == gas.Methylacetylene {
		return "to "
	}
	return "measured up to, from memory, "
}

// limitsText is the range of flammability in air and its source.
func limitsText(g gas.Gas) (text, source string) {
	b, err := flame.Burns(flame.Reactants{Fuel: gas.Pure(g), Oxidizer: gas.Air, Ratio: 1, Purity: 1, Temperature: units.StandardTemperature, Pressure: units.StandardAtmosphere})
	if err != nil || b.High == 0 {
		return "", "none read"
	}
	return words.S("%s to %s %%", decimal(100*b.Low, 1), decimal(100*b.High, 1)), marked(b.Source, b.FromMemory)
}
