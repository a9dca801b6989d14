package setup

import (
	"math"
	"strconv"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// maxAcetyleneGaugePa and maxAcetyleneAbsPa are 15 psi gauge and 30 psi absolute: 29 CFR 1910.253(a)(2).
const (
	maxAcetyleneGaugePa = 15 * units.PSI
	maxAcetyleneAbsPa   = 30 * units.PSI
)

const sourceAcetylenePressure = "29 CFR 1910.253(a)(2)"

// checkRig tests the rig alone: what is needed is there, and every number is one that such a part can have.
func checkRig(in Input) *Refusal {
	r := in.Rig
	if miss := missing(r); len(miss) > 0 {
		return &Refusal{Code: "rig_incomplete", Field: "rig", Read: words.S("no %s", words.Join(miss, ", no ")), Allowed: "a rig with fuel cylinder, torch and at least one tip",
			Why: "without them there is nothing to set", WaysOut: []string{"add them under Rig"}}
	}
	if f := r.FuelCylinder.Fuel; !f.IsFuel() {
		return &Refusal{Code: "not_a_fuel", Field: "rig.fuel_cylinder.fuel", Read: quote(string(f)), Allowed: commas(gas.Fuels()), Why: "the fuel decides ratio, flow and cautions"}
	}
	if m := r.Torch.Mixing; m != EqualPressure && m != Injector {
		return &Refusal{Code: "unknown_mixing", Field: "rig.torch.mixing", Read: quote(string(m)), Allowed: words.S("%s, %s", string(EqualPressure), string(Injector)), Why: "the two kinds of torch are set in different ways"}
	}
	if j := r.Torch.InjectorDiameterM; j != nil {
		if no := limitJet.refuse("rig.torch.injector_diameter_m", *j, lengthText); no != nil {
			return no
		}
	}
	return first(checkOxygen(r.OxygenCylinder), checkFuelCylinder(r.FuelCylinder),
		checkRegulator("rig.oxygen_regulator", r.OxygenRegulator), checkRegulator("rig.fuel_regulator", r.FuelRegulator),
		checkHose("rig.oxygen_hose", r.OxygenHose), checkHose("rig.fuel_hose", r.FuelHose), checkTips(r))
}

// missing lists what a rig cannot do without.
func missing(r *Rig) []string {
	if r == nil {
		return []string{"fuel cylinder", "torch", "tip"}
	}
	var out []string
	if r.FuelCylinder == nil {
		out = append(out, "fuel cylinder")
	}
	if r.Torch == nil {
		out = append(out, "torch")
	}
	if len(r.Tips) == 0 {
		out = append(out, "tip")
	}
	return out
}

func checkOxygen(c *OxygenCylinder) *Refusal {
	if c == nil {
		return nil
	}
	const why = "oxygen cylinders are filled to at most 300 bar (4350 psi), and the equation for oxygen holds up to there"
	refusals := []*Refusal{
		limit{0.0001, 0.2, "one cylinder holds 0.1 to 200 L (6 to 12\u00a0200 in³) of water"}.refuse("rig.oxygen_cylinder.water_volume_m3", c.WaterVolumeM3, litreText),
		limit{0, 30e6, why}.refuse("rig.oxygen_cylinder.gauge_pressure_pa", c.GaugePressurePa, pressureText),
		checkCount("rig.oxygen_cylinder.count", c.Count), checkPrice("rig.oxygen_cylinder.price_per_std_m3", c.PricePerStdM3),
	}
	if c.ReserveGaugePa != nil {
		refusals = append(refusals, limit{0, 30e6, why}.refuse("rig.oxygen_cylinder.reserve_gauge_pa", *c.ReserveGaugePa, pressureText))
	}
	return first(refusals...)
}

func checkFuelCylinder(c *FuelCylinder) *Refusal {
	const field = "rig.fuel_cylinder."
	refusals := []*Refusal{checkCount(field+"count", c.Count), checkPrice(field+"price_per_std_m3", c.PricePerStdM3)}
	optional := func(name string, v *float64, l limit, text func(float64) string) {
		if v != nil {
			refusals = append(refusals, l.refuse(field+name, *v, text))
		}
	}
	mass := limit{0.01, 500, "a cylinder one can wheel weighs at most this"}
	optional("gross_mass_kg", c.GrossMassKg, mass, massText)
	optional("tare_mass_kg", c.TareMassKg, mass, massText)
	optional("full_mass_kg", c.FullMassKg, mass, massText)
	optional("gauge_pressure_pa", c.GaugePressurePa, limit{0, 30e6, "no fuel cylinder stands above this"}, pressureText)
	optional("water_volume_m3", c.WaterVolumeM3, limit{0.0001, 0.2, "one cylinder holds 0.1 to 200 L (6 to 12\u00a0200 in³) of water"}, litreText)
	optional("reserve_fraction", c.ReserveFraction, limit{0, 0.9, "the share left in the cylinder"}, number)
	if c.GrossMassKg != nil && c.TareMassKg != nil && *c.GrossMassKg < *c.TareMassKg {
		refusals = append(refusals, &Refusal{Code: "gross_below_tare", Field: field + "gross_mass_kg", Read: massText(*c.GrossMassKg),
			Allowed: words.S("at least the tare, %s", massText(*c.TareMassKg)), Why: "a cylinder cannot weigh less than it does empty", WaysOut: []string{"weigh again, and read the tare off the shoulder"}})
	}
	return first(refusals...)
}

func checkRegulator(field string, r *Regulator) *Refusal {
	if r == nil {
		return nil
	}
	return limitGauge.refuse(field+".max_gauge_pa", r.MaxGaugePa, pressureText)
}

func checkHose(field string, h *Hose) *Refusal {
	if h == nil {
		return nil
	}
	if h.Grade != "" && !known(Grades(), h.Grade) {
		return &Refusal{Code: "unknown_grade", Field: field + ".grade", Read: quote(string(h.Grade)), Allowed: commas(Grades()), Why: "the grade says which fuels the lining stands"}
	}
	parts := limit{0, 20, "that many of them are never screwed in one line"}
	return first(limitBore.refuse(field+".inside_diameter_m", h.InsideDiameterM, lengthText),
		limitHose.refuse(field+".length_m", h.LengthM, metreText),
		limit{0, 0.001, "no hose is rougher inside"}.refuse(field+".roughness_m", h.RoughnessM, lengthText),
		limit{0, 10000, "a line with more loss passes no gas"}.refuse(field+".loss_coefficient", h.LossCoefficient, number),
		parts.refuse(field+".check_valves", float64(h.CheckValves), number), parts.refuse(field+".arrestors", float64(h.Arrestors), number))
}

// mostCylinders is the most that one manifold holds.
const mostCylinders = 20

func checkCount(field string, n int) *Refusal {
	return limit{0, mostCylinders, "cylinders on one manifold"}.refuse(field, float64(n), number)
}

func checkPrice(field string, p float64) *Refusal {
	return limit{0, 1e6, "a price is not negative"}.refuse(field, p, number)
}

func checkTips(r *Rig) *Refusal {
	for i := range r.Tips {
		if no := checkTip("rig.tips["+strconv.Itoa(i)+"]", &r.Tips[i], r); no != nil {
			return no
		}
	}
	return nil
}

func checkTip(field string, t *Tip, r *Rig) *Refusal {
	if t.Label == "" {
		return &Refusal{Code: "tip_without_label", Field: field + ".label", Read: "nothing", Allowed: "the marking stamped on the tip", Why: "the card must name the tip to fit"}
	}
	if t.OrificeDiameterM == nil && len(t.Chart) == 0 {
		return &Refusal{Code: "tip_unknown", Field: field + ".orifice_diameter_m", Read: "nothing", Allowed: words.S("a hole or a chart row for tip %s", t.Label), Why: "without either nothing is known of this tip"}
	}
	if no := (limit{0, 200, "holes in one tip"}).refuse(field+".orifice_count", float64(t.OrificeCount), number); no != nil {
		return no
	}
	if t.OrificeDiameterM != nil {
		if no := limitHole.refuse(field+".orifice_diameter_m", *t.OrificeDiameterM, lengthText); no != nil {
			return no
		}
		if no := checkTipAgainstHose(field, t, r); no != nil {
			return no
		}
	}
	if no := checkPreheatHoles(field, t); no != nil {
		return no
	}
	for j := range t.Chart {
		if no := checkRow(field+".chart["+strconv.Itoa(j)+"]", &t.Chart[j], r.FuelCylinder.Fuel); no != nil {
			return no
		}
	}
	return nil
}

// checkTipAgainstHose refuses a tip with more open area than the narrower hose: such a hole cannot be a flame tip on this rig.
func checkTipAgainstHose(field string, t *Tip, r *Rig) *Refusal {
	bore := math.Inf(1)
	for _, h := range []*Hose{r.OxygenHose, r.FuelHose} {
		if h != nil {
			bore = math.Min(bore, h.InsideDiameterM)
		}
	}
	if d := *t.OrificeDiameterM * math.Sqrt(float64(holes(t))); d > bore {
		return &Refusal{Code: "tip_larger_than_hose", Field: field + ".orifice_diameter_m", Read: lengthText(*t.OrificeDiameterM) + " × " + strconv.Itoa(holes(t)),
			Allowed: words.S("less open area than the hose bore of %s", lengthText(bore)), Why: "a hose cannot feed a tip wider than itself", WaysOut: []string{"measure the hole again, or the hose"}}
	}
	return nil
}

func holes(t *Tip) int { return max(1, t.OrificeCount) }

func litreText(m3 float64) string {
	return number(round(m3*1000, 3)) + " L (" + number(round(m3/units.CubicInch, 1)) + " in³)"
}
func massText(kg float64) string {
	return words.S("%s kg (%s lb)", number(round(kg, 3)), number(round(kg/0.45359237, 2)))
}
func metreText(m float64) string {
	return number(round(m, 3)) + " m (" + number(round(m/0.3048, 2)) + " ft)"
}

// checkHoseGrade refuses a fuel hose that does not suit the fuel.
func checkHoseGrade(in Input) *Refusal {
	return CheckHoseGrade(in.Rig.FuelHose, in.Rig.FuelCylinder.Fuel)
}

// CheckHoseGrade refuses a fuel hose that is lined for acetylene only with any other fuel; nil when the hose suits the fuel, when
// there is no hose, and when its grade is not known. The grades are from memory (RMA IP-7 / CGA E-1): they may only forbid.
func CheckHoseGrade(h *Hose, fuel gas.Gas) *Refusal {
	if h == nil || fuel == gas.Acetylene || h.Grade == "" || h.Grade == GradeT || h.Grade == GradeAllFuels {
		return nil
	}
	return &Refusal{Code: "hose_grade", Field: "rig.fuel_hose.grade", Read: words.S("%s with %s", string(h.Grade), fuel.Name()), Allowed: "T or all_fuels for this fuel",
		Why:     "this hose is lined for acetylene only; other fuels swell and crack its lining",
		Source:  "RMA IP-7 / CGA E-1 hose grades, from memory",
		WaysOut: []string{"fit a hose made for all fuel gases (grade T)"}}
}
