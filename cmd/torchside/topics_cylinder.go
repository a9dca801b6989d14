package main

import (
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// roomTemperature is 20 °C: the temperature taken when a question names none.
const roomTemperature = 293.15

type cylinderQuestion struct {
	Gas             gas.Gas `json:"gas"`
	WaterVolumeM3   float64 `json:"water_volume_m3"`
	GaugePressurePa float64 `json:"gauge_pressure_pa"`
	TemperatureK    float64 `json:"temperature_k"`
	AmbientAbsPa    float64 `json:"ambient_abs_pa,omitempty"`
}

type cylinderAnswer struct {
	MassKg           float64 `json:"mass_kg"`
	ContentsStdM3    float64 `json:"contents_std_m3"`
	DeliverableStdM3 float64 `json:"deliverable_std_m3"`
	DensityKgM3      float64 `json:"density_kg_m3"`
	Compressibility  float64 `json:"compressibility"`
	IdealGasError    float64 `json:"ideal_gas_error"`
}

func answerCylinder(q cylinderQuestion) (any, error) {
	c, err := cylinder.Compressed{Gas: q.Gas, WaterVolume: units.Volume(q.WaterVolumeM3), Gauge: units.GaugePressure(q.GaugePressurePa),
		Temperature: units.Temperature(q.TemperatureK), Ambient: units.AbsolutePressure(q.AmbientAbsPa)}.Contents()
	return cylinderAnswer{float64(c.Mass), float64(c.Contents), float64(c.Deliverable), float64(c.Density), c.Compressibility, c.IdealGasError}, err
}

type acetyleneQuestion struct {
	GrossMassKg     float64                 `json:"gross_mass_kg"`
	TareMassKg      float64                 `json:"tare_mass_kg"`
	FullMassKg      float64                 `json:"full_mass_kg"`
	GaugePressurePa *float64                `json:"gauge_pressure_pa,omitempty"`
	TemperatureK    float64                 `json:"temperature_k,omitempty"`
	WithdrawalRule  cylinder.WithdrawalRule `json:"withdrawal_rule,omitempty"`
}

type acetyleneAnswer struct {
	MassKg                  float64     `json:"mass_kg"`
	ContentsStdM3           float64     `json:"contents_std_m3"`
	FractionFull            float64     `json:"fraction_full"`
	FractionFullBand        units.Band  `json:"fraction_full_band"`
	FractionByPressure      *units.Band `json:"fraction_by_pressure"`
	IntermittentLimitStdM3S float64     `json:"intermittent_limit_std_m3_s"`
	ContinuousLimitStdM3S   float64     `json:"continuous_limit_std_m3_s"`
	WithdrawalRule          string      `json:"withdrawal_rule"`
	WithdrawalSource        string      `json:"withdrawal_source"`
	Notes                   []noteOut   `json:"notes"`
}

// noteOut is a note of the cylinder package as it is written out.
type noteOut struct {
	Code   string `json:"code"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

func answerAcetylene(q acetyleneQuestion) (any, error) {
	a := cylinder.Acetylene{Gross: units.Mass(q.GrossMassKg), Tare: units.Mass(q.TareMassKg), Full: units.Mass(q.FullMassKg),
		Temperature: units.Temperature(q.TemperatureK), Rule: q.WithdrawalRule}
	if q.GaugePressurePa != nil {
		g := units.GaugePressure(*q.GaugePressurePa)
		a.Gauge = &g
	}
	c, err := a.Contents()
	if err != nil {
		return nil, err
	}
	out := acetyleneAnswer{float64(c.Mass), float64(c.Contents), c.FractionFull.Value, c.FractionFull, c.ByPressure,
		float64(c.Intermittent), float64(c.Continuous), string(c.Withdrawal.Rule), c.Withdrawal.Source, []noteOut{}}
	for _, n := range c.Notes {
		out.Notes = append(out.Notes, noteOut{n.Code, n.Text, n.Source})
	}
	return out, nil
}
