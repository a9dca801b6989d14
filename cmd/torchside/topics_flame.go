package main

import (
	"fmt"
	"slices"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

type flameQuestion struct {
	Fuel              string             `json:"fuel,omitempty"`
	FuelMixture       map[string]float64 `json:"fuel_mixture,omitempty"`
	Oxidizer          string             `json:"oxidizer"`
	OxidizerFuelRatio float64            `json:"oxidizer_fuel_ratio"`
	OxygenPurity      float64            `json:"oxygen_purity,omitempty"`
	TemperatureK      float64            `json:"temperature_k"`
	AbsPressurePa     float64            `json:"abs_pressure_pa"`
	Graphite          bool               `json:"graphite,omitempty"`
}

// flameDefaults are the fields of a flame question that may be missing.
var flameDefaults = flameQuestion{OxygenPurity: 1, Graphite: true}

type flameAnswer struct {
	TemperatureK      float64            `json:"temperature_k"`
	MoleFractions     map[string]float64 `json:"mole_fractions"`
	FlameClass        flame.Class        `json:"flame_class"`
	FlameClassSource  string             `json:"flame_class_source"`
	Burns             bool               `json:"burns"`
	BurnsSource       string             `json:"burns_source"`
	PrimaryHeatJMol   float64            `json:"primary_heat_j_mol"`
	TotalHeatJMol     float64            `json:"total_heat_j_mol"`
	BurningVelocityMS *velocityOut       `json:"burning_velocity_m_s"`
}

// velocityOut is a burning velocity as it is written out.
type velocityOut struct {
	Value  float64 `json:"value"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Source string  `json:"source"`
}

func answerFlame(q flameQuestion) (any, error) {
	r, err := q.reactants()
	if err != nil {
		return nil, err
	}
	e, err := flame.Solve(r)
	if err != nil {
		return nil, err
	}
	heat, err := flame.HeatsAt(r.Fuel, r.Ratio)
	if err != nil {
		return nil, err
	}
	burns, err := flame.Burns(r)
	if err != nil {
		return nil, err
	}
	neutral, err := flame.MixedNeutral(r.Fuel)
	if err != nil {
		return nil, err
	}
	a := flameAnswer{
		TemperatureK: float64(e.Temperature), MoleFractions: map[string]float64{},
		FlameClass: neutral.Class(r.Ratio), FlameClassSource: markedMemory(neutral.Source, neutral.FromMemory),
		Burns: burns.Burns, BurnsSource: burns.String(),
		PrimaryHeatJMol: heat.Primary, TotalHeatJMol: heat.Total, BurningVelocityMS: q.velocity(),
	}
	for species, x := range e.All() {
		a.MoleFractions[species] = x
	}
	return a, nil
}

// markedMemory adds to a source that it was not read.
func markedMemory(source string, memory bool) string {
	if memory && !strings.Contains(source, "memory") {
		return source + " (from memory)"
	}
	return source
}

// purestModelled is the purity from which oxygen counts as the pure oxygen of the burning velocities: torch oxygen is sold at
// 99.5 % and better, and the models' spread is far wider than half a percent of argon.
const purestModelled = 0.995

// velocity is null where nothing is known: with air, with diluted oxygen, for mixtures, and outside the ratios of the models.
func (q flameQuestion) velocity() *velocityOut {
	if q.Fuel == "" || q.Oxidizer != string(gas.Oxygen) || q.OxygenPurity < purestModelled {
		return nil
	}
	v, err := flame.BurningVelocity(gas.Gas(q.Fuel), q.OxidizerFuelRatio)
	if err != nil {
		return nil
	}
	return &velocityOut{v.Value, v.Low, v.High, v.Reason}
}

// reactants checks the words of the question; numbers are checked by package flame.
func (q flameQuestion) reactants() (flame.Reactants, error) {
	fuel, err := q.mixture()
	if err != nil {
		return flame.Reactants{}, err
	}
	if q.Oxidizer != string(gas.Oxygen) && q.Oxidizer != string(gas.Air) {
		return flame.Reactants{}, fieldError{"oxidizer", fmt.Sprintf("read %q; allowed is oxygen or air", q.Oxidizer)}
	}
	return flame.Reactants{Fuel: fuel, Oxidizer: gas.Gas(q.Oxidizer), Ratio: q.OxidizerFuelRatio, Purity: q.OxygenPurity,
		Temperature: units.Temperature(q.TemperatureK), Pressure: units.AbsolutePressure(q.AbsPressurePa), Graphite: q.Graphite}, nil
}

// mixture is the fuel or the mixture of fuels; one of the two is needed, and only one.
func (q flameQuestion) mixture() (gas.Mixture, error) {
	switch {
	case q.Fuel != "" && q.FuelMixture != nil:
		return nil, fieldError{"fuel_mixture", "given beside fuel; allowed is one of the two"}
	case q.FuelMixture != nil:
		return fuelMixture(q.FuelMixture)
	case q.Fuel == "":
		return nil, fieldError{"fuel", "missing; it is needed, or fuel_mixture in its place"}
	case !gas.Gas(q.Fuel).IsFuel():
		return nil, fieldError{"fuel", fmt.Sprintf("read %q; allowed is one of %s", q.Fuel, fuelNames())}
	}
	return gas.Pure(gas.Gas(q.Fuel)), nil
}

func fuelMixture(parts map[string]float64) (gas.Mixture, error) {
	m := gas.Mixture{}
	for name, x := range parts {
		if !gas.Gas(name).IsFuel() {
			return nil, fieldError{"fuel_mixture." + name, "no fuel; allowed are " + fuelNames()}
		}
		m[gas.Gas(name)] = x
	}
	if err := m.Check(); err != nil {
		return nil, mixtureError("fuel_mixture", err)
	}
	return m, nil
}

func fuelNames() string {
	var names []string
	for _, g := range gas.Fuels() {
		names = append(names, string(g))
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}
