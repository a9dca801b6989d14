package setup

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/words"
)

// standing cautions, in the order they are read. Their sources: those with a number of a rule in testdata/reference/limits.csv
// were read; the others say that they are from memory.
var (
	cautionAcetylenePressure = Warning{"acetylene_pressure", Caution, "Acetylene: never above 15 psi (1.03 bar) gauge at the regulator.", sourceAcetylenePressure, "fuel.regulator_gauge_pa"}
	cautionUpright           = Warning{"cylinder_upright", Caution, "Acetylene cylinder secured upright; if it lay down, let it stand 2 hours first (sources say 30, 45 or 120 minutes).", "NAVEDTRA 14250, the longest", "fuel.regulator_gauge_pa"}
	cautionOil               = Warning{"oil_on_oxygen", Caution, "No oil or grease on anything that holds oxygen: it can burst into flame.", "29 CFR 1910.253(b)(5), from memory", "oxygen.regulator_gauge_pa"}
	cautionAir               = Warning{"ventilation", Caution, "Fresh air: in a room below 284 m³ (10\u00a0000 ft³) a person, or under 5 m (16 ft) high, it must be moved by a fan.", "29 CFR 1910.252(c)(2)", ""}
	cautionVessel            = Warning{"closed_vessel", Caution, "Never heat a closed vessel or one that held something that burns; not in a confined space.", "29 CFR 1910.252(a)(3) and (c)(4), from memory", ""}
	cautionFire              = Warning{"fire_watch", Caution, "Nothing that burns within 11 m (35 ft); watch for fire for 60 minutes afterwards.", "29 CFR 1910.252(a)(2); 60 min: NFPA 51B 2019 (second-hand), the longer", ""}
	cautionSolvent           = Warning{"chlorinated_solvent", Caution, "No chlorinated solvent on or near the work: its vapour turns into poison gas.", "29 CFR 1910.252(c)(11), from memory", ""}
	cautionZincCoat          = Warning{"zinc_coating", Caution, "Galvanised: zinc fume makes ill. Take the zinc off well beyond the joint, and draw the fume away.", "29 CFR 1910.252(c)(6), from memory", ""}
	cautionCopper            = Warning{"copper_acetylene", Caution, "Never mend an acetylene line with copper, or alloys with 65 % copper or more: an explosive compound forms.", "46 CFR 56.50-103", ""}
	cautionAluminium         = Warning{"aluminium_no_glow", Caution, "Aluminium does not glow before it melts: watch the flux, not the colour.", "common practice, no source", ""}
)

// standing picks the cautions of the chosen work, metal and fuel. Those of a brazed joint come from calc/braze.
func standing(in Input) []Warning {
	out := []Warning{cautionAir, cautionFire, cautionVessel, cautionSolvent, cautionOil}
	if in.Rig.FuelCylinder.Fuel == gas.Acetylene {
		out = append(out, cautionAcetylenePressure, cautionUpright)
	}
	switch {
	case in.Metal == GalvanisedSteel && in.Work != Braze:
		out = append(out, cautionZincCoat)
	case (in.Metal == Copper || in.OtherMetal == Copper) && in.Rig.FuelCylinder.Fuel == gas.Acetylene:
		out = append(out, cautionCopper)
	case in.Metal == Aluminium && in.Work != Braze:
		out = append(out, cautionAluminium)
	}
	return out
}

// ofRig tells what is missing or unfit in the rig.
func ofRig(in Input, c *candidate) []Warning {
	var out []Warning
	check := func(missing bool, code, text, concerns string) {
		if missing {
			out = append(out, Warning{code, Check, text, "Torchside", concerns})
		}
	}
	r, fuel := in.Rig, in.Rig.FuelCylinder.Fuel
	check(r.OxygenCylinder == nil, "oxygen_contents_unknown", "Enter the oxygen cylinder to see how long it lasts.", "endurance_s")
	check(r.FuelHose == nil, "fuel_hose_unknown", "No fuel hose entered: what it loses is missing from the regulator pressure.", "fuel.regulator_gauge_pa")
	check(r.OxygenHose == nil, "oxygen_hose_unknown", "No oxygen hose entered: what it loses is missing from the regulator pressure.", "oxygen.regulator_gauge_pa")
	check(r.FuelRegulator == nil, "fuel_regulator_unknown", "Enter the fuel regulator: its scale is not checked.", "fuel.regulator_gauge_pa")
	check(r.OxygenRegulator == nil, "oxygen_regulator_unknown", "Enter the oxygen regulator: its scale is not checked.", "oxygen.regulator_gauge_pa")
	check(r.FuelHose != nil && r.FuelHose.Grade == "" && fuel != gas.Acetylene, "hose_grade_unknown", words.S("Read the grade on the fuel hose: only T, or one for all fuels, stands %s.", fuel.Name()), "fuel.regulator_gauge_pa")
	check(c.row == nil, "no_chart_row", "No row of the torch maker's chart covers this: type it in under Rig, it beats the numbers here.", "tip")
	check(c.row == nil && r.Torch.Mixing == Injector && r.Torch.InjectorDiameterM == nil, "injector_unknown", "The oxygen pressure of an injector torch depends on its jet: this is only a place to start from.", "oxygen.regulator_gauge_pa")
	return append(append(out, ofRow(in, c)...), ofScale(r, c)...)
}

// poorlyRead is the share of a gauge's scale below which a pressure is hard to set. Common practice, from memory.
const poorlyRead = 0.05

func ofScale(r *Rig, c *candidate) []Warning {
	var out []Warning
	for _, g := range []struct {
		name string
		r    *Regulator
		pa   float64
	}{{"oxygen", r.OxygenRegulator, c.regulator.oxygen.value}, {"fuel", r.FuelRegulator, c.regulator.fuel.value}} {
		if g.r != nil && g.pa < poorlyRead*g.r.MaxGaugePa {
			out = append(out, Warning{"poorly_read", Note, words.S("The %s gauge is hard to read this low on its scale.", g.name), "common practice, from memory", g.name + ".regulator_gauge_pa"})
		}
	}
	return out
}

// ukThresholdPa is the pressure above which acetylene falls under the rules of Great Britain: Acetylene Safety Regulations
// 2014, 0.62 bar gauge (trust B: read second-hand).
const ukThresholdPa = 0.62e5

var noteUKThreshold = Warning{"uk_threshold", Note, "Above 0.62 bar (9 psi) the acetylene regulations of Great Britain apply.", "Acetylene Safety Regulations 2014 (read second-hand)", "fuel.regulator_gauge_pa"}

// ofFlame tells what the numbers of the flame mean.
func ofFlame(in Input, c *candidate, hold *flame.HoldOnResult) []Warning {
	var out []Warning
	if hold != nil && hold.Advice != flame.NothingToAdd {
		out = append(out, Warning{"may_pop_back", Caution, "Turn the fuel up or fit a smaller tip: at this flow the flame can pop back.", "pop-back estimate, an order of magnitude (from memory)", "hold_on_margin"})
	}
	if in.Rig.FuelCylinder.Fuel == gas.Acetylene && c.regulator.fuel.value > ukThresholdPa {
		out = append(out, noteUKThreshold)
	}
	out = append(append(out, ofHole(in, c)...), ofExit(in, c)...)
	return append(append(out, ofClass(in, c)...), disputes(c, in.Rig.FuelCylinder.Fuel)...)
}

// ofClass warns of a welding flame that is not neutral: asked for so, or so by the flows of the chart.
func ofClass(in Input, c *candidate) []Warning {
	class := flame.Classify(in.Rig.FuelCylinder.Fuel, c.ratio.value)
	switch {
	case in.Work != Weld || class == flame.Neutral:
		return nil
	case in.Ratio > 0:
		return []Warning{{"not_neutral", Caution, "This is no neutral flame: it puts carbon or oxygen into the steel puddle.", "Army Ordnance OD0017, flame types", "oxygen.regulator_gauge_pa"}}
	}
	return []Warning{{"chart_not_neutral", Caution, words.S("By the flows of the chart this flame is %s: it puts carbon or oxygen into the steel puddle. Set it neutral by its looks.", string(class)),
		words.S("%s; Army Ordnance OD0017, flame types", sourceChart), "oxygen.regulator_gauge_pa"}}
}

// disputes tells where sources differ by more than 30 %. Of the fuel flow the sources are compared as they are, before a tip
// moves it: that has its own word, see ofHole.
func disputes(c *candidate, fuel gas.Gas) []Warning {
	var out []Warning
	for _, n := range []struct {
		field, what string
		e           estimate
		text        func(float64) string
	}{
		{"fuel.flow_std_m3_s", "fuel flow", c.asked(), flowOf(fuel)}, {"oxygen.flow_std_m3_s", "oxygen flow", c.oxyFlow, flowOf(gas.Oxygen)},
		{"fuel.regulator_gauge_pa", "fuel pressure", c.regulator.fuel, pressureText}, {"oxygen.regulator_gauge_pa", "oxygen pressure", c.regulator.oxygen, pressureText},
	} {
		if o, ok := n.e.disputed(); ok {
			text := words.S("Sources differ on the %s: %s %s, %s %s.", n.what, string(n.e.prov.Kind), n.text(n.e.value), string(o.Kind), n.text(o.Value))
			out = append(out, Warning{"disagreement", Check, text, n.e.prov.Source + " / " + o.Source, n.field})
		}
	}
	return out
}
