package braze

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Area is what the filler has to wet between the parts of one joint, m²: seam × overlap, or the inside of a socket.
func (in Input) area() float64 {
	return in.seam() * float64(in.Overlap)
}

// seam is the length of one joint, m; 0 when it is not known.
func (in Input) seam() float64 {
	if in.Joint == Socket {
		return math.Pi * float64(in.Diameter)
	}
	return float64(in.Length)
}

// Angles of the V of a braze-welded butt: 60 to 90 degrees, as for cast iron (Army training text on brazing grey iron, read in a copy).
// The widest is taken, so that the rod lasts.
const vAngleLow, vAngleHigh = 60, 90

// section is the area across a braze weld as drawn, m²: half the square of the leg, or the V through the thickness at an angle.
func (in Input) section(angle float64) float64 {
	if in.Joint == Butt {
		t := float64(in.Thinner)
		return t * t * math.Tan(angle/2*math.Pi/180)
	}
	return float64(in.Leg) * float64(in.Leg) / 2
}

// How much more filler is used than the joint holds.
//
// Of a close gap, by the note under table 14.11 of the Copper Tube Handbook: its figures are for a gap filled to two thirds, and two to
// three times as much is used. So 2/3 at least, 2 at most, and 5/3 between. It is printed for copper tube and taken for every close gap.
//
// Of a braze weld: the crown on the bead and the stub ends thrown away, from memory.
const (
	closeLow, closeUsual, closeHigh = 2. / 3, 5. / 3, 2.
	builtLow, builtUsual, builtHigh = 1., 1.2, 1.6
)

const (
	reasonClose = "the gap is filled to two thirds at least, and two to three times that is used (Copper Tube Handbook, note to table 14.11)"
	reasonBuilt = "from the bare weld to one with a high crown and stubs thrown away (from memory)"
)

// volumes returns what the joints hold as drawn and what is used up, m³. A gap that was typed is taken as it is, else the ends of what
// the filler wants widen the band.
func (in Input) volumes(gap units.Band) (joint float64, used units.Band) {
	n := float64(in.Count)
	if in.Process == BrazeWeld {
		wide, narrow := in.section(vAngleHigh)*in.seam()*n, in.section(vAngleLow)*in.seam()*n
		return wide, units.Band{Value: wide * builtUsual, Low: narrow * builtLow, High: wide * builtHigh, Reason: reasonBuilt}
	}
	a := in.area() * n
	return a * gap.Value, units.Band{Value: a * gap.Value * closeUsual, Low: a * gap.Low * closeLow, High: a * gap.High * closeHigh, Reason: reasonClose}
}

// times multiplies a band by a range of positive factors.
func times(b units.Band, low, value, high float64) units.Band {
	return units.Band{Value: b.Value * value, Low: b.Low * low, High: b.High * high, Reason: b.Reason}
}

func rounded(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }

// trimmed writes a number without trailing zeros.
func trimmed(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return words.Number(s)
}
