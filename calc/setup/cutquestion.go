package setup

import (
	"errors"

	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// CutQuestion is what cutting is asked besides metal and thickness.
type CutQuestion struct {
	// OxygenPurity is the mole fraction of oxygen in the cylinder; 0 means that of oxygen as delivered, see cut.UsualPurity.
	OxygenPurity float64 `json:"oxygen_purity,omitempty"`
	// Start is where the cut begins; empty means an edge.
	Start cut.Start `json:"start,omitempty"`
	// Painted tells of a plate that is painted, greased or of unknown coating.
	Painted bool `json:"painted,omitempty"`
}

var limitCut = limit{float64(cut.ThinnestCut), float64(cut.ThickestCut), "thinner sheet melts or warps before it is cut, and thicker steel wants data that is not held here"}

const wayCuttingTip = "add a cutting tip under Rig: its work is cut, its hole that of the cutting oxygen"

// checkCut tests what only cutting asks, with the words of calc/cut.
func checkCut(in Input) *Refusal {
	if no := refuseUncuttable(in.Metal); no != nil {
		return no
	}
	if s := in.cut().Start; s != "" && s != cut.Edge && s != cut.Pierce {
		return &Refusal{Code: "unknown_start", Field: "cut.start", Read: quote(string(s)), Allowed: "edge, pierce", Why: "a cut starts at an edge, or pierces the plate"}
	}
	if p := in.cut().OxygenPurity; p != 0 {
		why := "below 95 % oxygen no cut is possible (course notes on oxygen cutting), and nothing is purer than 1"
		if no := (limit{cut.PoorestOxygen, 1, why}).refuse("cut.oxygen_purity", p, number); no != nil {
			no.WaysOut = []string{"take a cylinder of oxygen as delivered for cutting, 99.5 % or better"}
			return no
		}
	}
	return limitCut.refuse("thickness_m", in.ThicknessM, lengthText)
}

// refuseUncuttable says why oxygen does not cut a metal, nil for one that it cuts.
func refuseUncuttable(m Metal) *Refusal {
	var no *cut.MetalError
	if !errors.As(cut.CheckMetal(cut.Metal(m)), &no) {
		return nil
	}
	return &Refusal{Code: "metal_not_cut", Field: "metal", Read: string(m), Allowed: "mild_steel or galvanised_steel for cutting with oxygen", Why: no.Why, Source: no.Source,
		WaysOut: []string{"saw it, or part it with a grinding disc", "choose another process than oxygen cutting"}}
}

// cut is what cutting is asked, with everything usual when nothing is.
func (in Input) cut() CutQuestion {
	if in.Cut == nil {
		return CutQuestion{}
	}
	return *in.Cut
}

// input is the question to calc/cut, without the tip.
func (q CutQuestion) input(in Input) cut.Input {
	return cut.Input{Metal: cut.Metal(in.Metal), Painted: q.Painted, Thickness: units.Length(in.ThicknessM), Length: 1, Purity: q.OxygenPurity,
		Fuel: in.Rig.FuelCylinder.Fuel, Start: q.Start, Brief: true, Temperature: units.Temperature(in.TemperatureK), Ambient: units.AbsolutePressure(in.AmbientAbsPa)}
}

// checkPreheatHoles tests the holes of the preheat of a cutting tip.
func checkPreheatHoles(field string, t *Tip) *Refusal {
	if no := (limit{0, 200, "holes in one tip"}).refuse(field+".preheat_count", float64(t.PreheatCount), number); no != nil || t.PreheatDiameterM == nil {
		return no
	}
	return limitHole.refuse(field+".preheat_diameter_m", *t.PreheatDiameterM, lengthText)
}

// cutRefusal turns an error of calc/cut into a refusal of a tip.
func cutRefusal(label string, err error) *Refusal {
	var outside *gas.RangeError
	if errors.As(err, &outside) && outside.Field == "orifice_diameter_m" {
		size := "wide"
		if outside.Value < outside.Low {
			size = "narrow"
		}
		return &Refusal{Code: "cutting_hole", Field: words.S("tip %s", label), Read: words.S("hole %s", lengthText(outside.Value)), Allowed: words.S("%s to %s", lengthText(outside.Low), lengthText(outside.High)),
			Why: words.S("its hole of %s is too %s: %s", lengthText(outside.Value), size, outside.Why), WaysOut: []string{"fit a cutting tip for this thickness"}}
	}
	return refusalOf(words.S("tip %s", label), err)
}
