package braze

import (
	"slices"
	"strconv"

	"torchside/calc/gas"
	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Process is how the parts are joined.
type Process string

// Braze draws a filler that melts above 450 °C into a close gap, BrazeWeld builds it up as a weld is built up, Solder draws in one that
// melts below 450 °C (AWS A3.0 glossary).
const (
	Braze     Process = "braze"
	BrazeWeld Process = "braze_weld"
	Solder    Process = "solder"
)

// Processes returns every process in the order a list shows them.
func Processes() []Process { return []Process{Braze, BrazeWeld, Solder} }

// Joint is the form of the joint. A Socket is a tube in a cup.
type Joint string

// The joints.
const (
	Lap    Joint = "lap"
	Socket Joint = "socket"
	Butt   Joint = "butt"
	Tee    Joint = "tee"
	Corner Joint = "corner"
	Edge   Joint = "edge"
)

// Joints returns every joint.
func Joints() []Joint { return []Joint{Lap, Socket, Butt, Tee, Corner, Edge} }

// Input is one question. What is 0 or empty takes the default named.
type Input struct {
	Process Process      // Braze
	Metal   Metal        // of one part
	Other   Metal        // of the other; that of Metal
	Filler  string       // class; the best one that suits
	Joint   Joint        // Lap
	Thinner units.Length // thickness of the thinner part

	Length   units.Length // of the seam; of a socket the way round. Without it no rod and flux are worked out
	Diameter units.Length // outside, of the tube in a socket
	Overlap  units.Length // of a lap, an edge or a socket: three times Thinner. A butt, tee or corner has that of its thickness
	Gap      units.Length // between the parts, cold: the middle of what the filler wants. Not of a braze weld
	Leg      units.Length // of a braze-welded fillet: Thinner
	Count    int          // joints alike: 1
	Rod      units.Length // diameter: 1.6 mm, for a braze weld 2.4 mm, for solder 3.2 mm

	// Shop is the temperature of the cold parts: 20 °C.
	Shop units.Temperature
}

// Refusal is an answer too: it says what was read, what is allowed, why, and the way out.
type Refusal struct {
	Code, Field, Read, Allowed, Why, Source string
	WaysOut                                 []string
}

// Error gives the refusal as one readable line.
func (r *Refusal) Error() string {
	return words.F("%s: read %s; allowed is %s: %s", r.Field, r.Read, r.Allowed, words.Join(append([]string{r.Why}, r.WaysOut...), "; "))
}

// Usual diameters of rod and wire where none is given. The choice is ours; the tables of the Copper Tube Handbook are for 1/16 in rod and
// 1/8 in solder.
const (
	usualRod    = 0.0625 * units.Inch
	usualBronze = 0.09375 * units.Inch
	usualSolder = 0.125 * units.Inch
)

func (in Input) withDefaults() Input {
	if in.Process == "" {
		in.Process = Braze
	}
	if in.Other == "" {
		in.Other = in.Metal
	}
	if in.Joint == "" {
		in.Joint = Lap
	}
	if in.Count == 0 {
		in.Count = 1
	}
	if in.Shop == 0 {
		in.Shop = 20 + zeroCelsius
	}
	if in.Overlap == 0 {
		in.Overlap = in.usualOverlap()
	}
	if in.Leg == 0 {
		in.Leg = in.Thinner
	}
	if in.Rod == 0 {
		in.Rod = units.Length(map[Process]float64{Braze: usualRod, BrazeWeld: usualBronze, Solder: usualSolder}[in.Process])
	}
	return in
}

// overlapRatio is the least overlap over the thickness of the thinner part for a joint as strong as the parts: AWS by the Copper Tube
// Handbook, brazed joints.
const overlapRatio = 3

func (in Input) usualOverlap() units.Length {
	if in.overlaps() {
		return overlapRatio * in.Thinner
	}
	return in.Thinner
}

// overlaps reports whether the joint's overlap is chosen; that of the others is the thickness.
func (in Input) overlaps() bool { return in.Joint == Lap || in.Joint == Socket || in.Joint == Edge }

// Limits of a question, in m.
const (
	thinnest, thickest = 0.0002, 0.025
	widestGap          = 0.001
	longestSeam        = 20
	mostJoints         = 10000
)

// check tests a defaulted input but for what the filler has to say. The error is a *Refusal or a *gas.RangeError.
func (in Input) check() error {
	if no := in.checkWords(); no != nil {
		return no
	}
	type limit struct {
		field          string
		v              units.Length
		low, high      float64
		why            string
		asked, present bool
	}
	for _, l := range []limit{
		{"thickness_m", in.Thinner, thinnest, thickest, "of the thinner part; torch work on joints lies in this range", true, true},
		{"length_m", in.Length, 0.001, longestSeam, "the length of one seam", in.Joint != Socket, in.Length != 0},
		{"diameter_m", in.Diameter, 0.003, 0.4, "the outside of the tube that goes into the socket", in.Joint == Socket, in.Diameter != 0},
		{"overlap_m", in.Overlap, 0.0002, 0.15, "how far the parts lie over each other; filler is not drawn in farther", in.overlaps(), true},
		{"clearance_m", in.Gap, 0.00001, widestGap, "no filler is drawn into a wider gap: close it, or braze-weld", in.Process != BrazeWeld, in.Gap != 0},
		{"leg_m", in.Leg, 0.0005, 0.05, "the leg of a braze-welded fillet", in.Process == BrazeWeld, true},
		{"rod_diameter_m", in.Rod, 0.0005, 0.01, "rods and solder are sold in this range", true, true},
		{"count", units.Length(in.Count), 1, mostJoints, "how many joints alike", true, true},
	} {
		if !l.asked || !l.present {
			continue
		}
		unit := "m"
		if l.field == "count" {
			unit = ""
		}
		if err := gas.InRange(l.field, float64(l.v), l.low, l.high, unit, l.why); err != nil {
			return err
		}
	}
	return gas.InRange("shop_k", float64(in.Shop), 253.15, 323.15, "K", "the shop and the cold parts")
}

func (in Input) checkWords() *Refusal {
	switch {
	case !slices.Contains(Processes(), in.Process):
		return unknown("process", string(in.Process), listed(Processes()))
	case !slices.Contains(heat.Metals(), in.Metal):
		return unknown("metal", string(in.Metal), listed(heat.Metals()))
	case !slices.Contains(heat.Metals(), in.Other):
		return unknown("other_metal", string(in.Other), listed(heat.Metals()))
	case !slices.Contains(Joints(), in.Joint):
		return unknown("joint", string(in.Joint), listed(Joints()))
	case in.Process == BrazeWeld && (in.Joint == Socket || in.Joint == Edge):
		return &Refusal{Code: "joint_not_built_up", Field: "joint", Read: string(in.Joint), Allowed: "lap, butt, tee or corner for a braze weld",
			Why: "a socket or a folded edge is a close gap that draws the filler in", WaysOut: []string{"braze it, with the overlap typed in"}}
	}
	return nil
}

func unknown(field, read, allowed string) *Refusal {
	return &Refusal{Code: "unknown_" + field, Field: field, Read: strconv.Quote(read), Allowed: words.S("one of %s", allowed), Why: "no other is known here"}
}

func listed[T ~string](list []T) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return words.Join(out, ", ")
}
