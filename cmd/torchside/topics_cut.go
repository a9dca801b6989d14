package main

import (
	"errors"

	"torchside/calc/cut"
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// cutCommon are the fields that a single cut and a cut list share.
type cutCommon struct {
	Metal        cut.Metal
	Painted      bool
	Fuel         gas.Gas
	Start        cut.Start
	TemperatureK float64
	AmbientAbsPa float64
}

type cutQuestion struct {
	ThicknessM       float64   `json:"thickness_m"`
	OrificeDiameterM *float64  `json:"orifice_diameter_m,omitempty"`
	LengthM          float64   `json:"length_m"`
	OxygenPurity     float64   `json:"oxygen_purity,omitempty"`
	Metal            cut.Metal `json:"metal,omitempty"`
	Painted          bool      `json:"painted,omitempty"`
	Fuel             gas.Gas   `json:"fuel,omitempty"`
	Start            cut.Start `json:"start,omitempty"`
	OxygenHose       *cutHose  `json:"oxygen_hose,omitempty"`
	TemperatureK     float64   `json:"temperature_k,omitempty"`
	AmbientAbsPa     float64   `json:"ambient_abs_pa,omitempty"`
}

type cutHose struct {
	InsideDiameterM float64 `json:"inside_diameter_m"`
	LengthM         float64 `json:"length_m"`
	RoughnessM      float64 `json:"roughness_m,omitempty"`
	LossCoefficient float64 `json:"loss_coefficient,omitempty"`
}

// cutDefaults are the fields of a question that may be missing.
var cutDefaults = cutQuestion{OxygenPurity: cut.UsualPurity, Metal: cut.MildSteel, Fuel: gas.Acetylene, Start: cut.Edge,
	TemperatureK: roomTemperature, AmbientAbsPa: float64(units.StandardAtmosphere)}

type cutPreheat struct {
	FuelStdM3S   float64 `json:"fuel_std_m3_s"`
	OxygenStdM3S float64 `json:"oxygen_std_m3_s"`
	Ratio        float64 `json:"ratio"`
}

type cutBalance struct {
	FreedJKg  units.Band  `json:"freed_j_kg"`
	NeededJKg units.Band  `json:"needed_j_kg"`
	Ratio     units.Band  `json:"ratio"`
	Verdict   cut.Verdict `json:"verdict"`
	// ThinM and ThickM are null when the middle of the ratio is nowhere above 1.
	ThinM  *float64 `json:"middle_above_one_from_m"`
	ThickM *float64 `json:"middle_above_one_to_m"`
}

type cutAnswer struct {
	Notes                []noteOut  `json:"notes"`
	OrificeDiameterM     float64    `json:"orifice_diameter_m"`
	CuttingOxygenGaugePa float64    `json:"cutting_oxygen_gauge_pa"`
	RegulatorGaugePa     *float64   `json:"regulator_gauge_pa"`
	CuttingOxygenStdM3S  float64    `json:"cutting_oxygen_std_m3_s"`
	CuttingOxygenBand    units.Band `json:"cutting_oxygen_band"`
	Preheat              cutPreheat `json:"preheat"`
	SpeedMS              units.Band `json:"speed_m_s"`
	HandSpeedMS          units.Band `json:"hand_speed_m_s"`
	MachineSpeedMS       units.Band `json:"machine_speed_m_s"`
	KerfM                float64    `json:"kerf_m"`
	KerfBand             units.Band `json:"kerf_band"`
	DragM                units.Band `json:"drag_m"`
	StartTimeS           float64    `json:"start_time_s"`
	StartTimeBand        units.Band `json:"start_time_band"`
	TimeS                float64    `json:"time_s"`
	TimeBand             units.Band `json:"time_band"`
	OxygenStdM3          float64    `json:"oxygen_std_m3"`
	OxygenBand           units.Band `json:"oxygen_band"`
	FuelStdM3            float64    `json:"fuel_std_m3"`
	FuelBand             units.Band `json:"fuel_band"`
	IronHeatShare        float64    `json:"iron_heat_share"`
	IronHeatShareBand    units.Band `json:"iron_heat_share_band"`
	IronPowerW           float64    `json:"iron_power_w"`
	FlamePowerW          float64    `json:"flame_power_w"`
	HeatBalance          cutBalance `json:"heat_balance"`
	Source               string     `json:"source"`
}

func (q cutQuestion) input() (cut.Input, error) {
	c := cutCommon{q.Metal, q.Painted, q.Fuel, q.Start, q.TemperatureK, q.AmbientAbsPa}
	in, err := c.input(q.OxygenPurity)
	if err != nil {
		return in, err
	}
	in.Thickness, in.Length = units.Length(q.ThicknessM), units.Length(q.LengthM)
	if in.Orifice, err = givenOrifice(q.OrificeDiameterM); err != nil {
		return in, err
	}
	if h := q.OxygenHose; h != nil {
		in.OxygenHose = &flow.Hose{InsideDiameter: units.Length(h.InsideDiameterM), Length: units.Length(h.LengthM),
			Roughness: units.Length(h.RoughnessM), LossCoefficient: h.LossCoefficient}
	}
	return in, nil
}

// input refuses the zeros that package cut takes for a missing field.
func (c cutCommon) input(purity float64) (cut.Input, error) {
	in := cut.Input{Metal: c.Metal, Painted: c.Painted, Purity: purity, Fuel: c.Fuel, Start: c.Start,
		Temperature: units.Temperature(c.TemperatureK), Ambient: units.AbsolutePressure(c.AmbientAbsPa)}
	for _, zero := range []struct {
		field, why string
		is         bool
	}{
		{"oxygen_purity", "read 0; allowed is 0.95 to 1: below it no cut is possible", purity == 0},
		{"temperature_k", "read 0; allowed is 253.15 to 323.15 K", c.TemperatureK == 0},
		{"ambient_abs_pa", "read 0; allowed is 50000 to 120000 Pa", c.AmbientAbsPa == 0},
		{"metal", `read ""; allowed is mild_steel, medium_carbon_steel or galvanised_steel`, c.Metal == ""},
		{"fuel", `read ""; allowed is one of ` + fuelNames(), c.Fuel == ""},
		{"start", `read ""; allowed is edge or pierce`, c.Start == ""},
	} {
		if zero.is {
			return in, fieldError{zero.field, zero.why}
		}
	}
	return in, nil
}

// givenOrifice is 0 for one that is to be chosen.
func givenOrifice(d *float64) (units.Length, error) {
	switch {
	case d == nil:
		return 0, nil
	case *d == 0:
		return 0, fieldError{"orifice_diameter_m", "read 0; allowed is more than 0: leave it out to have it chosen"}
	}
	return units.Length(*d), nil
}

func answerCut(q cutQuestion) (any, error) {
	in, err := q.input()
	if err != nil {
		return nil, err
	}
	r, err := cut.Compute(in)
	if err != nil {
		return nil, cutError(err)
	}
	a := cutAnswer{
		Notes: notesOfCut(r.Notes), OrificeDiameterM: float64(r.Orifice), CuttingOxygenGaugePa: float64(r.Gauge),
		CuttingOxygenStdM3S: r.Cutting.Value, CuttingOxygenBand: r.Cutting,
		Preheat: cutPreheat{float64(r.PreheatFuel), float64(r.PreheatOxygen), r.PreheatRatio},
		SpeedMS: r.Speed, HandSpeedMS: r.Hand, MachineSpeedMS: r.Machine, KerfM: r.Kerf.Value, KerfBand: r.Kerf, DragM: r.Drag,
		StartTimeS: r.Start.Value, StartTimeBand: r.Start, TimeS: r.Time.Value, TimeBand: r.Time, OxygenStdM3: r.Oxygen.Value, OxygenBand: r.Oxygen,
		FuelStdM3: r.Fuel.Value, FuelBand: r.Fuel, IronHeatShare: r.IronShare.Value, IronHeatShareBand: r.IronShare,
		IronPowerW: r.IronPower, FlamePowerW: r.FlamePower, HeatBalance: balanceOut(r.Balance, in.Temperature),
		Source: markedMemory("Carvill, Mechanical Engineer's Data Handbook, p. 210", r.FromMemory),
	}
	if r.Regulator != nil {
		g := float64(*r.Regulator)
		a.RegulatorGaugePa = &g
	}
	return a, nil
}

func balanceOut(b cut.HeatBalance, plate units.Temperature) cutBalance {
	out := cutBalance{FreedJKg: b.Freed, NeededJKg: b.Needed, Ratio: b.Ratio, Verdict: b.Verdict}
	if thin, thick, ok := cut.SustainedRange(plate); ok {
		low, high := float64(thin), float64(thick)
		out.ThinM, out.ThickM = &low, &high
	}
	return out
}

func notesOfCut(notes []cut.Note) []noteOut {
	out := []noteOut{}
	for _, n := range notes {
		out = append(out, noteOut{n.Code, n.Text, markedMemory(n.Source, n.FromMemory)})
	}
	return out
}

// cutError puts a metal that does not cut, or a word that is not known, on its field.
func cutError(err error) error {
	var metal *cut.MetalError
	var word *cut.WordError
	switch {
	case errors.As(err, &metal):
		return fieldError{"metal", `read "` + metal.Read + `"; allowed is mild_steel, medium_carbon_steel or galvanised_steel: ` + metal.Why + " (" + metal.Source + ")"}
	case errors.As(err, &word):
		allowed := word.Allowed
		if word.Field == "fuel" {
			allowed = "one of " + fuelNames()
		}
		return fieldError{word.Field, `read "` + word.Read + `"; allowed is ` + allowed}
	}
	return err
}

const helpCut = `cut: settings, time and gas of one cut through steel, and what of the heat the iron gives

in   thickness_m         0.0015 to 0.3
     orifice_diameter_m  optional, of the cutting oxygen; chosen when missing or null: every result but heat_balance then moves
                         one way with the thickness
     length_m            of the cut
     oxygen_purity       optional, mole fraction, 0.95 to 1, the rest taken as argon; 0.995 when missing
     metal               optional, mild_steel when missing; medium_carbon_steel or galvanised_steel. Others are refused with the reason
     painted             optional, also for a coating nobody knows; false when missing
     fuel                optional, acetylene when missing
     start               optional, edge when missing, or pierce
     oxygen_hose         optional {inside_diameter_m, length_m, roughness_m, loss_coefficient}, the last two 0 when missing
     temperature_k       optional, of plate and gas, 293.15 when missing
     ambient_abs_pa      optional, 101325 when missing
out  notes [ {code, text, source} ]  warnings first
     orifice_diameter_m
     cutting_oxygen_gauge_pa  at the torch, with the cutting oxygen open
     regulator_gauge_pa       with what the hose loses at that flow; null without oxygen_hose
     cutting_oxygen_std_m3_s, cutting_oxygen_band
     preheat {fuel_std_m3_s, oxygen_std_m3_s, ratio}  a neutral flame
     speed_m_s {value, low, high, reason}; hand_speed_m_s and machine_speed_m_s are its two halves
     kerf_m, kerf_band
     drag_m {value, low, high, reason}  how far the bottom lags
     start_time_s, start_time_band      preheat before the cutting oxygen is opened
     time_s, time_band                  cutting alone
     oxygen_std_m3, oxygen_band         cutting and preheat oxygen, start included
     fuel_std_m3, fuel_band             start included
     iron_heat_share, iron_heat_share_band  iron_power_w over it and flame_power_w, what the torch oxygen releases in the preheat flame
     iron_power_w, flame_power_w
     heat_balance {freed_j_kg, needed_j_kg, ratio, verdict}  of a started cut without its flame, per kg out of the kerf; verdict is
       sustains, fails or undecided by the whole band of ratio. middle_above_one_from_m and middle_above_one_to_m: thickness between
       which the middle of ratio is above 1 at usual settings, null when nowhere
     source

A band is {value, low, high, reason}.

A rounded example: {"thickness_m":0.013,"length_m":1,"oxygen_purity":0.995,"orifice_diameter_m":null}
`
