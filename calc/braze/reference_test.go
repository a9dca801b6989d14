package braze

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/heat"
	"torchside/calc/units"
)

// Every row of the table is the row of the reference, and every brazing filler and solder of the reference is in the table.
func TestFillers_areThoseOfTheReference(t *testing.T) {
	want := map[string]calctest.Row{}
	for _, r := range calctest.Reference(t, "fillers.csv") {
		if !strings.Contains(r.Text("family"), "rod") { // rods of gas welding
			want[strings.TrimPrefix(r.Text("filler_class"), "solder ")] = r
		}
	}
	worst := calctest.NewWorst("melting and brazing temperatures", 0, "copied from the source, °F")
	for _, f := range Fillers() {
		r, ok := want[f.Class]
		if !ok {
			t.Errorf("%s is not in the reference", f.Class)
			continue
		}
		delete(want, f.Class)
		worst.Add(t, f.Solidus, r.Number("solidus_degF"), f.Class)
		worst.Add(t, f.Liquidus, r.Number("liquidus_degF"), f.Class)
		if r.Has("braze_low_degF") {
			worst.Add(t, f.BrazeLow, r.Number("braze_low_degF"), f.Class)
			worst.Add(t, f.BrazeHigh, r.Number("braze_high_degF"), f.Class)
		}
		if string(f.Family) != r.Text("family") || f.Cadmium != strings.Contains(r.Text("note"), "cadmium") || f.FromMemory != (r.Text("trust") == "C") {
			t.Errorf("%+v against %s", f, r)
		}
		if z := r.Text("composition"); z != "" && f.Family == Silver && f.Zinc != strings.Contains(z, "Zn") {
			t.Errorf("%s: zinc %v, composition %s", f.Class, f.Zinc, z)
		}
	}
	for class := range want {
		t.Errorf("%s is missing", class)
	}
	worst.Report(t)
}

// socket is one joint of the copper tube tables.
func socket(r calctest.Row) Input {
	return Input{Process: Braze, Metal: heat.Copper, Joint: Socket, Thinner: 0.001, Diameter: units.Length(r.Number("outside_diameter_in") * units.Inch),
		Overlap: units.Length(r.Number("cup_depth_in") * units.Inch), Rod: units.Length(r.Number("wire_diameter_in") * units.Inch)}
}

// The wire that fills a cup is the printed length: 180 lengths of table 14.10, cups of 3/8 to 12 in tube and gaps of 0.001 to 0.010 in.
// A foot note says that the weights count losses; by their own lengths they do not.
func TestUsed_solderIsThatOfTheTubeHandbook(t *testing.T) {
	lengths := calctest.NewWorst("wire that fills a soldered cup", 0.009, "lengths are printed to 0.001 in, the shortest is 0.030 in")
	weights := calctest.NewWorst("weight of solder 95-5", 0.02, "the alloy is not named; 95-5 by the rule of mixtures")
	for _, r := range calctest.Where(t, calctest.Reference(t, "copper_tube_joints.csv"), "process", "solder") {
		in := socket(r)
		in.Process, in.Gap = Solder, units.Length(r.Number("clearance_in")*units.Inch)
		got, err := Compute(in)
		if err != nil {
			t.Fatal(r, err)
		}
		section := math.Pi / 4 * float64(in.Rod) * float64(in.Rod)
		lengths.Add(t, got.Used.Joint/section/units.Inch, r.Number("length_in"), r.String())
		if r.Has("weight_lb_per_100") {
			middle := (densities[TinAntimony].Low + densities[TinAntimony].High) / 2
			weights.Add(t, 100*got.Used.Joint*middle/0.45359237, r.Number("weight_lb_per_100"), r.String())
		}
	}
	if lengths.Count() != 180 || weights.Count() != 18 {
		t.Errorf("%d lengths and %d weights", lengths.Count(), weights.Count())
	}
	lengths.Report(t)
	weights.Report(t)
}

// The low end of what brazing takes is table 14.11: cups filled to two thirds. Its gap is not printed; 0.005 in is the one that gives
// every weight. What is used is two to three times that.
func TestUsed_brazingIsThatOfTheTubeHandbook(t *testing.T) {
	weights := calctest.NewWorst("filler for a brazed cup", 0.02, "weights are printed to 0.01 lb; those below 0.3 lb are left out; density 268 in of 1/8 in wire to the pound")
	lengths := calctest.NewWorst("rod for a brazed cup", 0.05, "lengths are printed to 1/8 in; those below 3 in are left out")
	pound := 268 * units.Inch * math.Pi / 4 * 0.125 * units.Inch * 0.125 * units.Inch
	for _, r := range calctest.Where(t, calctest.Reference(t, "copper_tube_joints.csv"), "process", "braze") {
		in := socket(r)
		in.Gap = 0.005 * units.Inch
		got, err := Compute(in)
		if err != nil {
			t.Fatal(r, err)
		}
		if got.Filler.Family != CopperPhosphorus || !got.Flux.None() {
			t.Fatalf("%s: %+v, flux %s", r, got.Filler, got.Flux.Name)
		}
		if r.Number("length_in") >= 3 {
			lengths.Add(t, got.Used.Rod.Low/units.Inch, r.Number("length_in"), r.String())
		}
		if r.Has("weight_lb_per_100") && r.Number("weight_lb_per_100") >= 0.3 {
			weights.Add(t, 100*got.Used.Volume.Low/pound, r.Number("weight_lb_per_100"), r.String())
		}
		calctest.Near(t, got.Used.Volume.Value/got.Used.Volume.Low, 2.5, 1e-12, "two to three times")
		calctest.Near(t, got.Used.Volume.High/got.Used.Volume.Low, 3, 1e-12, "two to three times")
	}
	if weights.Count() < 13 || lengths.Count() < 20 {
		t.Errorf("%d weights, %d lengths", weights.Count(), lengths.Count())
	}
	weights.Report(t)
	lengths.Report(t)
}

// A braze weld is drawn as a weld is: a 1/2 in fillet of steel at 0.283 lb/in³ weighs 0.424 lb/ft (worked example of a handbook on filler
// metal consumption), and a V of 45 degrees on either side twice the printed triangle, 0.106 lb/ft through 1/4 in.
func TestUsed_builtUpIsTheSectionOfTheHandbook(t *testing.T) {
	perFoot := func(in Input) float64 {
		in.Process, in.Metal, in.Length = BrazeWeld, heat.MildSteel, 12*units.Inch
		r, err := Compute(in)
		if err != nil {
			t.Fatal(err)
		}
		return r.Used.Joint / (units.Inch * units.Inch * units.Inch) * 0.283
	}
	calctest.Near(t, perFoot(Input{Joint: Tee, Thinner: 0.25 * units.Inch, Leg: 0.5 * units.Inch}), 0.424, 0.002, "printed to three digits")
	calctest.Near(t, perFoot(Input{Joint: Butt, Thinner: 0.25 * units.Inch}), 2*0.106, 0.005, "printed to three digits")
}

// The densities hold the alloys whose composition or rod length was read.
func TestDensities_holdWhatWasRead(t *testing.T) {
	element := map[string]float64{"P": 0, "Sb": 6697, "Cd": 8650} // from memory; phosphorus is left to the rods below
	for _, r := range calctest.Where(t, calctest.Reference(t, "materials.csv"), "property", "density") {
		for metal, symbol := range map[string]string{"copper": "Cu", "zinc": "Zn", "silver": "Ag", "tin": "Sn", "lead": "Pb"} {
			if r.Text("material") == metal {
				element[symbol] = r.Number("value")
			}
		}
	}
	for _, c := range []struct {
		family Family
		shares map[string]float64
	}{
		{Silver, map[string]float64{"Ag": 45, "Cu": 30, "Zn": 25}}, {Silver, map[string]float64{"Ag": 56, "Cu": 22, "Zn": 17, "Sn": 5}},
		{CopperZinc, map[string]float64{"Cu": 59, "Zn": 41}}, {TinLead, map[string]float64{"Sn": 63, "Pb": 37}}, {TinLead, map[string]float64{"Sn": 40, "Pb": 60}},
		{TinAntimony, map[string]float64{"Sn": 95, "Sb": 5}},
	} {
		volume := 0.0
		for symbol, share := range c.shares {
			volume += share / 100 / element[symbol]
		}
		if got, band := 1/volume, densities[c.family]; got < band.Low || got > band.High {
			t.Errorf("%s %v: %.0f kg/m³ is outside %v", c.family, c.shares, got, band)
		}
	}
	for diameter, inches := range map[float64]float64{0.0625: 1090, 0.09375: 484, 0.125: 268} { // to the pound, table 14.11
		d := diameter * units.Inch
		if got := 0.45359237 / (inches * units.Inch * math.Pi / 4 * d * d); got < densities[CopperPhosphorus].Low || got > densities[CopperPhosphorus].High {
			t.Errorf("%v in wire: %.0f kg/m³", diameter, got)
		}
	}
}

// Shades are the rows of 29 CFR 1910.133.
func TestShade_isThatOfTheTable(t *testing.T) {
	rows := calctest.Reference(t, "filter_shades.csv")
	for _, c := range []struct {
		process   Process
		thickness float64
		row       string
	}{
		{Braze, 0.003, "torch brazing"}, {Solder, 0.003, "torch soldering"}, {BrazeWeld, 0.003, "gas welding, light"},
		{BrazeWeld, 0.005, "gas welding, medium"}, {BrazeWeld, 0.02, "gas welding, heavy"},
	} {
		r := calctest.Where(t, rows, "operation", c.row)[0]
		s := Input{Process: c.process, Thinner: units.Length(c.thickness)}.shade()
		if float64(s.Minimum) != r.Number("shade_minimum") || float64(s.Low) != r.Number("shade_recommended_low") || float64(s.High) != r.Number("shade_recommended_high") {
			t.Errorf("%s: %+v", c.row, s)
		}
		if c.process == BrazeWeld && s.Reason == "" {
			t.Error("nothing says that the row is another's")
		}
	}
}

// The border between solder and brazing filler is 450 °C, and the gap of silver filler is that of the handbook.
func TestFacts_areThoseOfTheReference(t *testing.T) {
	rows := calctest.Reference(t, "brazing.csv")
	border := calctest.Where(t, rows, "topic", "boundary")[0].Number("value")
	for _, f := range Fillers() {
		if liquid := f.Melts().High - 273.15; f.soft() != (liquid < border) {
			t.Errorf("%s is liquid at %.0f °C", f.Class, liquid)
		}
	}
	silver := calctest.Where(t, rows, "item", "silver brazing joint gap")[0].Text("value")
	low, high, _ := strings.Cut(silver, " to ")
	f, _ := ByClass("BAg-7")
	g := gapFor(f, 0.01)
	if trimmed(g.low, 3) != low || trimmed(g.high, 3) != high {
		t.Errorf("%+v against %s", g, silver)
	}
}
