package cut

import (
	"math"

	"torchside/calc/units"
)

// anchor is one row of cutting data: thickness and orifice in m, gauge pressure in Pa, speed in m/s.
type anchor struct {
	thickness, orifice, gauge, speed float64
	memory                           bool
}

// anchors are printed rows with an end point on either side. Source of the middle rows: Carvill, Mechanical Engineer's Data Handbook,
// p. 210. It prints 3.2 bar for both 50 and 100 mm; within its last digit the pressure rises a little here, so that more
// thickness always asks for more. The end points are from memory, near the middle of handbook ranges for clean low-carbon steel.
var anchors = []anchor{
	row(1.5, 0.5, 1.3, 560, true),
	row(6, 0.8, 1.8, 430, false),
	row(13, 1.2, 2.1, 360, false),
	row(50, 1.6, 3.17, 200, false),
	row(100, 2.0, 3.23, 150, false),
	row(300, 2.9, 5.0, 76, true),
}

// row takes mm, mm, bar and mm/min, as printed.
func row(thickness, orifice, bar, speed float64, memory bool) anchor {
	return anchor{thickness / 1e3, orifice / 1e3, bar * 1e5, speed / 60e3, memory}
}

// at is the row for a thickness within the anchors, straight in logarithms between two of them; memory when one of the two is.
func at(thickness units.Length) anchor {
	t := float64(thickness)
	i := 1
	for i < len(anchors)-1 && t > anchors[i].thickness {
		i++
	}
	a, b := anchors[i-1], anchors[i]
	share := math.Log(t/a.thickness) / math.Log(b.thickness/a.thickness)
	between := func(x, y float64) float64 { return x * math.Pow(y/x, share) }
	return anchor{t, between(a.orifice, b.orifice), between(a.gauge, b.gauge), between(a.speed, b.speed),
		(a.memory && share < 1) || (b.memory && share > 0)}
}

// The speed a hand reaches and that of a machine, as shares of the printed speed. Low: Sheet and Plate Metal Work prints 0.68 of it
// at 1 1/2 in. High: from memory, the upper end of handbook ranges.
const (
	slowest = 0.65
	fastest = 1.35
)

const reasonSpeed = "low end: hand work (Sheet and Plate Metal Work); middle: Carvill p. 210; high end: machine, from memory"

// speeds are the bands of speed in m/s.
func speeds(middle float64) (all, hand, machine units.Band) {
	low, high := middle*slowest, middle*fastest
	return units.Band{Value: middle, Low: low, High: high, Reason: reasonSpeed},
		units.Band{Value: (low + middle) / 2, Low: low, High: middle, Reason: reasonSpeed},
		units.Band{Value: (high + middle) / 2, Low: middle, High: high, Reason: reasonSpeed}
}

// The shares of thin and of thick plate, as printed.
const thinShare, thickShare = 0.25, 0.10

// fuelShare is the volume of acetylene over that of all oxygen: 25 % for thin plate, 10 % for thick (Sheet and Plate Metal Work). That
// the ends are 6 and 100 mm is from memory.
func fuelShare(thickness units.Length) float64 {
	const thin, thick = 0.006, 0.1
	share := math.Log(float64(thickness)/thin) / math.Log(thick/thin)
	return thinShare * math.Pow(thickShare/thinShare, max(share, 0))
}

// The kerf over the orifice, from memory.
const (
	kerfLow, kerfOrifice, kerfHigh = 1.3, 1.6, 2.2
	reasonKerf                     = "1.3 to 2.2 orifices, from memory"
)

// startTime is how long the preheat needs before the cutting oxygen is opened, from memory: about 5 s at the edge of 6 mm and
// half a minute at 100 mm; a pierce in the middle of the plate takes about twice as long.
func startTime(thickness units.Length, s Start) units.Band {
	t := 5 * math.Pow(float64(thickness)/0.006, 0.7)
	if s == Pierce {
		t *= 2
	}
	return units.Band{Value: t, Low: t / 2, High: 2 * t, Reason: "from memory; watch for bright cherry red"}
}
