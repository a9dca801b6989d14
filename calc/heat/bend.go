package heat

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Bend is a bend in a bar or plate.
type Bend struct {
	InsideRadius float64 // m
	Thickness    float64 // of the metal in the plane of the bend: the diameter of a round bar, m
	Angle        float64 // through which it is bent, degrees; 90 makes a right angle
	// Legs are the straight lengths before and after the bend, from where it begins, m; 0 when they are not asked for.
	Legs [2]float64
}

// Bent is how a bend is laid out.
type Bent struct {
	NeutralRadius float64    // of the line that keeps its length, m
	Allowance     units.Band // length along that line through the bend, m
	Developed     units.Band // legs and allowance: the length to cut, m
	Zone          float64    // to heat: the bend and a thickness on either side, m
	OutsideStrain float64    // stretch of the outer fibre, as a share
	Notes         []Note
}

// Where the neutral line lies, as a share of the thickness from the inside. A hot bend is reckoned along the middle, 1/2 (common
// practice, no source), which also gives the longest piece: what is too long can be cut. Bent cold, the line moves inward: sheet-metal
// texts put it at 1/3 to 1/2.
const (
	neutralHot    = 0.5
	neutralLowest = 1. / 3
)

const sourceNeutral = "middle of the bar: common practice, no source; a third to a half of the thickness: sheet-metal texts"

// Work lays the bend out. The error is a *gas.RangeError.
func (b Bend) Work() (Bent, error) {
	for _, err := range []error{
		gas.InRange("thickness_m", b.Thickness, thinnest, thickest, "m", whySize),
		gas.InRange("inside_radius_m", b.InsideRadius, 0, 3, "m", "a bend has an inside radius of nothing or more"),
		gas.InRange("angle_deg", b.Angle, 1, 360, "", "a bend turns the bar by 1 to 360 degrees"),
		gas.InRange("leg_m", b.Legs[0], 0, longest, "m", whyLength),
		gas.InRange("leg_m", b.Legs[1], 0, longest, "m", whyLength),
	} {
		if err != nil {
			return Bent{}, err
		}
	}
	turn := b.Angle * math.Pi / 180
	along := func(neutral float64) float64 { return turn * (b.InsideRadius + neutral*b.Thickness) }
	legs := b.Legs[0] + b.Legs[1]
	allowance := units.Band{Value: along(neutralHot), Low: along(neutralLowest), High: along(neutralHot), Reason: sourceNeutral}
	r := Bent{
		NeutralRadius: b.InsideRadius + neutralHot*b.Thickness, Allowance: allowance,
		Developed:     units.Band{Value: legs + allowance.Value, Low: legs + allowance.Low, High: legs + allowance.High, Reason: sourceNeutral},
		Zone:          allowance.Value + 2*b.Thickness,
		OutsideStrain: (1 - neutralHot) * b.Thickness / (b.InsideRadius + neutralHot*b.Thickness),
	}
	if b.InsideRadius < b.Thickness {
		r.Notes = append(r.Notes, noteTight)
	}
	return r, nil
}

// noteTight is for bends whose outer fibre stretches by more than a third.
var noteTight = Note{Code: "tight_bend", Source: commonPractice,
	Text: "The inside radius is smaller than the thickness: the bar thins outside and bulges inside, and may tear. Bend it hot in one go, or upset it first."}
