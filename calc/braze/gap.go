package braze

import (
	"math"

	"torchside/calc/heat"
	"torchside/calc/units"
)

// gapRow is how wide a gap a family of fillers wants, in.
type gapRow struct {
	low, high  float64
	source     string
	fromMemory bool
}

// gapFor is the gap a filler wants. Of aluminium it depends on how far the filler must run.
func gapFor(f Filler, overlap units.Length) gapRow {
	switch f.Family {
	case Silver:
		return gapRow{0.002, 0.005, "Machinery's Handbook, 31st edition", false}
	case CopperPhosphorus:
		return gapRow{0.001, 0.005, "AWS brazing tables", true}
	case AluminiumSilicon:
		if overlap > shortRun {
			return gapRow{0.010, 0.025, "AWS brazing tables, laps over 1/4 in", true}
		}
		return gapRow{0.006, 0.010, "AWS brazing tables, laps up to 1/4 in", true}
	case TinLead, TinAntimony:
		return gapRow{0.002, 0.010, "Copper Tube Handbook, table 14.10, the gaps it lists", false}
	}
	return gapRow{0.002, 0.005, "AWS brazing tables", true}
}

// shortRun is 1/4 in.
const shortRun = 0.25 * units.Inch

// band is the gap in m, the middle between its ends.
func (g gapRow) band() units.Band {
	return units.Band{Value: (g.low + g.high) / 2 * units.Inch, Low: g.low * units.Inch, High: g.high * units.Inch, Reason: "what the filler wants to be drawn in"}
}

// expansions are coefficients of linear expansion, 1e-6/K: Callister, Fundamentals of Materials Science and Engineering, 3rd edition,
// table B.6 (copper C11000, cartridge brass, aluminium 1100, read); grey iron of the same table in a copy; steels from memory.
var expansions = map[Metal]float64{heat.MildSteel: 12, heat.MediumCarbonSteel: 12, heat.GalvanisedSteel: 12, heat.StainlessSteel: 17.2,
	heat.CastIron: 11.4, heat.Copper: 17, heat.Brass: 19.9, heat.Aluminium: 23.6}

const sourceExpansion = "Callister, Fundamentals of Materials Science and Engineering, table B.6; steels from memory"

// closes is how much the gap of a socket narrows by the time it is hot, m, when the metal that expands more is the tube inside; it opens
// by as much when that one is the cup. It is the difference of the radii, at room-temperature coefficients.
func (in Input) closes(hot float64) float64 {
	if in.Joint != Socket {
		return 0
	}
	return math.Abs(expansions[in.Metal]-expansions[in.Other]) * 1e-6 * (hot - float64(in.Shop)) * float64(in.Diameter) / 2
}

// wider is the metal that expands more.
func (in Input) wider() Metal {
	if expansions[in.Other] > expansions[in.Metal] {
		return in.Other
	}
	return in.Metal
}
