package setup

import (
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// acetyleneStock works out a cylinder of dissolved acetylene: by weight, or roughly by pressure when it was not weighed.
func acetyleneStock(in Input) (stock, error) {
	c := in.Rig.FuelCylinder
	switch {
	case weighed(c) && c.FullMassKg != nil:
		return weighedAcetylene(in, *c.GrossMassKg, *c.TareMassKg, *c.FullMassKg)
	case c.GaugePressurePa != nil && c.FullMassKg != nil:
		return gaugedAcetylene(in, *c.GaugePressurePa, *c.FullMassKg)
	}
	return stock{notes: []Warning{unknownFuel("Weigh the acetylene cylinder and enter gross, tare and full charge: without them neither the minutes nor the withdrawal limit are known.")}}, nil
}

func weighedAcetylene(in Input, gross, tare, full float64) (stock, error) {
	c := in.Rig.FuelCylinder
	a := cylinder.Acetylene{Gross: units.Mass(gross), Tare: units.Mass(tare), Full: units.Mass(full),
		Temperature: units.Temperature(in.TemperatureK), Rule: cylinder.WithdrawalRule(in.Rig.WithdrawalRule)}
	if c.GaugePressurePa != nil {
		g := units.GaugePressure(*c.GaugePressurePa)
		a.Gauge = &g
	}
	got, err := a.Contents()
	if err != nil {
		return stock{}, err
	}
	e := byWeight(c, float64(got.Contents), float64(got.Mass))
	s := limited(got, max(1, c.Count))
	s.drawable, s.notes = &e, cylinderNotes(got.Notes)
	s.spent = spentByWeight(c, float64(got.Mass))
	s.drawn = &drawn{held: weighedVolume(c, float64(got.Contents), float64(got.Mass), 0, false), rule: got.Withdrawal, coldFactor: got.ColdFactor}
	return s, nil
}

// limited takes the withdrawal limits of one cylinder times their number.
func limited(got cylinder.AcetyleneContents, count int) stock {
	intermittent, continuous := float64(got.Intermittent)*float64(count), float64(got.Continuous)*float64(count)
	ceiling := float64(cylinder.FlatWithdrawal()) * got.ColdFactor * (1 - 1e-9)
	source := func(limit units.StandardFlow) string {
		if float64(limit) >= ceiling {
			return cylinder.FlatSource
		}
		return got.Withdrawal.Source
	}
	return stock{intermittent: &intermittent, continuous: &continuous, perCylinder: float64(got.Intermittent),
		intermittentSource: source(got.Intermittent), continuousSource: source(got.Continuous), flat: float64(got.Intermittent) >= ceiling}
}

// cylinderNotes turns the notes of the cylinder package into warnings.
func cylinderNotes(notes []cylinder.Note) []Warning {
	var out []Warning
	for _, n := range notes {
		level := Note
		switch {
		case n.Stop:
			level = Caution
		case n.Code == "weight_and_pressure_disagree":
			level = Check
		}
		out = append(out, Warning{n.Code, level, n.Text, n.Source, "fuel.flow_std_m3_s"})
	}
	return out
}

// gaugedAcetylene takes the rough fraction that the gauge suggests. The withdrawal limits follow its low end, the safer.
func gaugedAcetylene(in Input, gauge, full float64) (stock, error) {
	c := in.Rig.FuelCylinder
	f, err := cylinder.FractionByPressure(units.GaugePressure(gauge), units.AbsolutePressure(in.AmbientAbsPa), units.Temperature(in.TemperatureK))
	if err != nil {
		return stock{}, err
	}
	const tare = 1.0 // any tare does: only the difference counts
	s, err := weighedAcetylene(withoutGauge(in), tare+f.Low*full, tare, full)
	if err != nil {
		return stock{}, err
	}
	volume := 1 / float64(gas.Acetylene.StandardDensity()) * full * float64(max(1, c.Count))
	share := reserveShare(c)
	e := newEstimate(Computed, "pressure over acetylene dissolved in acetone, models", true, max(0, f.Value-share)*volume, max(0, f.Low-share)*volume, max(0, f.High-share)*volume, f.Reason).
		withFormula("fraction of full by gauge and temperature, less the reserve", NamedValue{Name: "gauge", Quantity: "pressure", SI: gauge},
			NamedValue{Name: "temperature", Quantity: "temperature", SI: in.TemperatureK}, NamedValue{Name: "full charge", Quantity: "mass", SI: full})
	s.drawable = &e
	s.spent = nil
	if f.Low <= share {
		s.spent = &spent{read: words.S("between %s and %s of full", number(round(f.Low, 2)), number(round(f.High, 2))), allowed: words.S("%s of full", number(share)), guessed: true}
	}
	s.drawn.held = newEstimate(Computed, e.prov.Source, true, f.Low*volume, f.Low*volume, f.High*volume, f.Reason)
	s.notes = append(s.notes, Warning{"contents_by_pressure", Check, "Contents are guessed from the gauge, ± 0.2 of full: weigh the cylinder to know.", "models of acetylene in acetone", "endurance_s"})
	return s, nil
}

// withoutGauge is the question with the gauge left out, so that a weight made from it is not compared with it.
func withoutGauge(in Input) Input {
	rig, c := *in.Rig, *in.Rig.FuelCylinder
	c.GaugePressurePa = nil
	rig.FuelCylinder = &c
	in.Rig = &rig
	return in
}
