package setup

import (
	"slices"

	"torchside/calc/words"
)

// lesserFlames are the shares of the usual flow that are tried in turn when no tip of the rig gives it for heating or bending: a
// smaller flame heats too, it only takes longer. So does a smaller preheat, down to the least that is printed. Our choice of steps,
// no source.
var lesserFlames = []float64{0.7, 0.5, 0.35, 0.25, 0.18, 0.125, 0.09}

// lesserPreheats are the same for the preheat of a cut, in finer steps: the least that is printed is near half of the usual one.
var lesserPreheats = []float64{0.7, 0.6, 0.55, 0.5, 0.45}

// chosenTips judges the tips and chooses one. For heating, bending and cutting a smaller flame than the usual one will do.
func chosenTips(in Input, need, ratio estimate, fuel stock) (judgement, *candidate, *Refusal) {
	tips := judgeTips(in, need, ratio, fuel)
	c, no := tips.choose(in)
	if no == nil || !tips.wantsLess(in.Work) {
		return tips, c, no
	}
	steps := lesserFlames
	if in.Work == Cut {
		steps = lesserPreheats
	}
	for _, share := range steps {
		less := judgeTips(in, need.scaledAll(share), ratio, fuel)
		if c, _ := less.choose(in); c != nil {
			c.lesser = true
			return less, c, nil
		}
	}
	return tips, nil, no
}

// wantsLess tells that a smaller flame is all that is wanted: the holes are too small for the usual one, it draws more fuel than the
// cylinder may give, or the line cannot bring so much.
func (l judgement) wantsLess(w Work) bool {
	codes := map[Work][]string{Cut: {"withdrawal"}, Heat: {"tip_hole", "withdrawal", "hose_takes_all", "acetylene_pressure", "over_scale"}}
	codes[Bend] = codes[Heat]
	for _, j := range l {
		if j.no != nil && slices.Contains(codes[w], j.no.Code) {
			return true
		}
	}
	return false
}

// noteLesser tells that the flame is smaller than the usual one.
func noteLesser(in Input, need estimate) Warning {
	if in.Work == Cut {
		return Warning{"smaller_flame", Check, "The usual preheat for this thickness draws more than the cylinder may give: this flame is smaller. Heating up takes longer, and the cut goes slower.",
			sourcePreheat, "fuel.flow_std_m3_s"}
	}
	return Warning{"smaller_flame", Check, words.S("The usual flow for this thickness is more than the tips and the cylinder give, %s: this flame is smaller, heating takes longer and may not get there.", flowText(need.value, in.Rig.FuelCylinder.Fuel)), need.prov.Source, "fuel.flow_std_m3_s"}
}
