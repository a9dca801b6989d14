package setup

import (
	"strconv"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// limits of the inputs, SI, with the reason that is told with a refusal.
var (
	limitWeld  = limit{0.0005, 0.006, "settings for fusion welding are worked out for sheet and plate of this thickness; thinner burns through, thicker is slow and wants another process"}
	limitBraze = limit{0.0003, 0.012, "the flow for brazing is worked out for this range; a thicker part is a job of preheating"}
	limitHeat  = limit{0.001, 0.025, "the handbook's flow per thickness ends here; thicker parts need several flames"}
	limitHole  = limit{0.0002, 0.006, "holes of flame tips lie in this range"}
	limitBore  = limit{0.002, 0.026, "bores of torch hoses lie in this range"}
	limitHose  = limit{0.1, 100, "a hose has a length, and the pressure lost in it depends on it"}
	limitTemp  = limit{253.15, 323.15, "hoses and gas data hold from −20 to 50 °C (−4 to 122 °F)"}
	limitAir   = limit{60e3, 110e3, "ambient pressure lies between that of a high mountain and of a deep low valley"}
	limitGauge = limit{1e3, 30e6, "the end of the scale of a delivery gauge"}
	limitSet   = limit{0, 4e6, "working pressures of flame tips lie far below this"}
	limitFlow  = limit{1e-7, 0.05, "flows of flame tips lie in this range"}
	limitJet   = limit{0.0001, 0.003, "the oxygen jet of an injector is a hole in this range"}
)

type limit struct {
	low, high float64
	why       string
}

// refuse returns a Refusal when v lies outside the limit; NaN is outside.
func (l limit) refuse(field string, v float64, text func(float64) string) *Refusal {
	const slack = 1e-9 // a limit typed in inches and read back in metres must not fail on its last digit
	if v >= l.low*(1-slack) && v <= l.high*(1+slack) {
		return nil
	}
	return &Refusal{Code: "out_of_range", Field: field, Read: text(v), Allowed: words.S("%s to %s", text(l.low), text(l.high)), Why: l.why}
}

// first returns the first refusal there is.
func first(list ...*Refusal) *Refusal {
	for _, r := range list {
		if r != nil {
			return r
		}
	}
	return nil
}

// check tests everything of the question that needs no computation.
func check(in Input) *Refusal {
	for _, part := range []func(Input) *Refusal{checkWork, checkPlace, checkRig, checkPrices, checkFuelForWork, checkHoseGrade} {
		if no := part(in); no != nil {
			return no // the later parts rely on what the earlier ones found in order
		}
	}
	return nil
}

func checkWork(in Input) *Refusal {
	switch {
	case !known(Works(), in.Work):
		return &Refusal{Code: "unknown_work", Field: "work", Read: quote(string(in.Work)), Allowed: commas(Works()), Why: "these are the works of a torch"}
	case !known(Metals(), in.Metal):
		return &Refusal{Code: "unknown_metal", Field: "metal", Read: quote(string(in.Metal)), Allowed: commas(Metals()), Why: "flow and cautions depend on the metal"}
	case in.Joint != "" && !known(Joints(), in.Joint):
		return &Refusal{Code: "unknown_joint", Field: "joint", Read: quote(string(in.Joint)), Allowed: commas(Joints()), Why: "the heat a joint takes depends on its form"}
	case in.Joint == "" && in.Work == Weld:
		return &Refusal{Code: "joint_missing", Field: "joint", Read: "none", Allowed: commas(Joints()), Why: "a weld has a joint, and the heat it takes depends on it"}
	case in.Work == Weld && in.Metal != MildSteel:
		return refuseMetal(in.Metal)
	case in.Work == Cut:
		return first(checkCut(in), onlyBrazing(in))
	}
	return first(thicknessLimit(in.Work).refuse("thickness_m", in.ThicknessM, lengthText), checkJoining(in))
}

func thicknessLimit(w Work) limit {
	switch w {
	case Weld:
		return limitWeld
	case Braze:
		return limitBraze
	case Cut:
		return limitCut
	}
	return limitHeat
}

// refuseMetal says why a metal is not fusion-welded here and what can be done instead.
func refuseMetal(m Metal) *Refusal {
	r := &Refusal{Code: "metal_not_welded", Field: "metal", Read: string(m), Allowed: "mild_steel for welding",
		Why: "settings for fusion welding are worked out for mild steel only", WaysOut: []string{"braze it: choose braze as the work"}}
	if m == GalvanisedSteel {
		r.Why = "zinc boils below the melting point of steel: its fume makes ill and the weld is full of holes"
		r.Source = "common practice, no source"
		r.WaysOut = []string{"take the zinc off both sides well beyond the weld and choose mild_steel", "then it can be brazed too; with the zinc on it can only be soldered"}
	}
	return r
}

func checkPlace(in Input) *Refusal {
	return first(limitTemp.refuse("temperature_k", in.TemperatureK, temperatureText),
		limitAir.refuse("ambient_abs_pa", in.AmbientAbsPa, pressureText), checkRatio(in.Ratio))
}

func checkRatio(r float64) *Refusal {
	if r == 0 {
		return nil
	}
	return limit{0.3, 6, "outside this no torch flame burns in a useful way"}.refuse("ratio", r, number)
}

// checkFuelForWork refuses fusion welding of steel with any fuel but acetylene (design rule of this project; common practice,
// no source): the primary flame of the other fuels gives too little heat where the puddle is, and with enough oxygen to reach
// the temperature the flame oxidizes the steel.
func checkFuelForWork(in Input) *Refusal {
	fuel := in.Rig.FuelCylinder.Fuel
	if in.Work != Weld || fuel == gas.Acetylene {
		return nil
	}
	return &Refusal{Code: "fuel_cannot_weld_steel", Field: "rig.fuel_cylinder.fuel", Read: fuel.Name(), Allowed: "acetylene for fusion welding of steel",
		Why:     "the cone of this fuel gives the puddle too little heat, and a flame hot enough oxidizes the steel",
		Source:  "common practice, no source",
		WaysOut: []string{"with this fuel choose braze, heat or bend", "for welding put an acetylene cylinder in use"}}
}

func quote(s string) string {
	if s == "" {
		return "nothing"
	}
	return strconv.Quote(s)
}
