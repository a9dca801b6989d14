package setup

// lightBelow and mediumTo are the thicknesses at which the shade for gas welding changes: 1/8 in and 1/2 in.
const (
	lightBelow = 0.125 * 0.0254
	mediumTo   = 0.5 * 0.0254
)

// shadeOfCut is the row for oxygen cutting: light under 1 in, medium from 1 in to 6 in, heavy over 6 in.
func shadeOfCut(thicknessM float64) Shade {
	switch {
	case thicknessM < 0.0254*(1-1e-9):
		return Shade{3, 3, 4}
	case thicknessM <= 6*0.0254*(1+1e-9):
		return Shade{4, 4, 5}
	}
	return Shade{5, 5, 6}
}

const sourceShade = "29 CFR 1910.133(a)(5); recommended range 8 CCR 3382"

// shadeFor is the filter lens for gas welding. Heating and bending have no row of their own: the row for gas welding is taken, the darker one.
func shadeFor(in Input) (Shade, Provenance) {
	p := Provenance{Kind: Handbook, Source: sourceShade, Formula: "row of the table for work and thickness",
		Inputs: []NamedValue{{Name: "thickness", Quantity: "length", SI: in.ThicknessM}}}
	s := Shade{6, 6, 8}
	switch {
	case in.Work == Cut:
		s = shadeOfCut(in.ThicknessM)
	case in.ThicknessM < lightBelow*(1-1e-9):
		s = Shade{4, 4, 5}
	case in.ThicknessM <= mediumTo*(1+1e-9):
		s = Shade{5, 5, 6}
	}
	if in.Work == Heat || in.Work == Bend {
		p.Reason = "no row for heating: the darker row for gas welding is taken"
	}
	p.Low, p.High = float64(s.RecommendedLow), float64(s.RecommendedHigh)
	return s, p
}

// rodAndSpeed is Carvill, Mechanical Engineer's Data Handbook, p. 207 (trust B: read second-hand, off a scan): rod diameter and hand travel speed,
// leftward up to 4 mm and rightward above, for steel.
var rodAndSpeed = []struct{ thickness, rodLow, rodHigh, slow, fast float64 }{
	{0.8, 1.5, 1.5, 127, 152}, {1.5, 1.5, 1.5, 100, 127}, {3.0, 1.5, 3, 90, 100}, {4.0, 3, 4, 75, 90}, {4.8, 3, 4, 60, 75}, {8.0, 3, 4, 35, 40},
}

const (
	sourceCarvill = "Carvill, Mechanical Engineer's Data Handbook, p. 207 (read second-hand)"
	sourceA52     = "AWS A5.2-92, table 1"
)

// rodRow is the row of rodAndSpeed nearest to a thickness.
func rodRow(thicknessM float64) (rod, speed Range) {
	best := rodAndSpeed[0]
	for _, r := range rodAndSpeed {
		if abs(r.thickness-thicknessM*1000) < abs(best.thickness-thicknessM*1000) {
			best = r
		}
	}
	const mmPerMin = 1e-3 / 60
	return Range{best.rodLow / 1000, best.rodHigh / 1000}, Range{best.slow * mmPerMin, best.fast * mmPerMin}
}

func abs(v float64) float64 { return max(v, -v) }

// sourceNoFlux is why a gas weld in mild steel has no flux.
const sourceNoFlux = "none on mild steel with a neutral flame (from memory)"

// steelRod is the rod for gas welding mild steel.
func steelRod(thicknessM float64) *Filler {
	rod, _ := rodRow(thicknessM)
	return &Filler{Classes: []string{"R45", "R60"}, DiameterM: &rod}
}
