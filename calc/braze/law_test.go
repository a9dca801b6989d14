package braze

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/heat"
	"torchside/calc/units"
)

// anyInput draws a question within all limits of size; the metals need not go together.
func anyInput(r *rand.Rand) Input {
	between := func(low, high float64) units.Length { return units.Length(low + r.Float64()*(high-low)) }
	metals, joints, processes := heat.Metals(), Joints(), Processes()
	in := Input{Process: processes[r.IntN(3)], Metal: metals[r.IntN(len(metals))], Other: metals[r.IntN(len(metals))], Joint: joints[r.IntN(len(joints))],
		Thinner: between(0.0005, 0.01), Length: between(0.01, 1), Diameter: between(0.005, 0.1), Count: 1 + r.IntN(5)}
	if in.Process == BrazeWeld && (in.Joint == Socket || in.Joint == Edge) {
		in.Joint = Tee
	}
	return in
}

// Whatever is proposed flows well below where either part melts, is named for both metals by its source, works under its flux, holds no
// cadmium; what is used is more than the joint holds, and the band is in order.
func TestCompute_lawsOfAnAnswer(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	answers := 0
	for range 5000 {
		in := anyInput(r)
		got, err := Compute(in)
		if err != nil {
			var no *Refusal
			if !errors.As(err, &no) || no.Why == "" || no.Allowed == "" || no.Read == "" || no.Field == "" {
				t.Fatalf("%+v: %v", in, err)
			}
			continue
		}
		answers++
		for _, f := range got.Fillers {
			checkFiller(t, in, f)
		}
		u := got.Used
		if !(got.HeatTo.Low < got.HeatTo.High) || !(0 < u.Volume.Low && u.Volume.Low < u.Volume.Value && u.Volume.Value < u.Volume.High) || !(u.Volume.Value > u.Joint) {
			t.Fatalf("%+v: %+v, used %+v", in, got.HeatTo, u)
		}
		if a := got.Flux.Active; a.High > 0 && (a.Low > got.HeatTo.Low+meltMargin || a.High < got.HeatTo.Low) {
			t.Errorf("%s: flux %+v, heat %+v", got.Filler.Class, got.Flux, got.HeatTo)
		}
	}
	if answers < 500 {
		t.Errorf("only %d answers", answers)
	}
}

func checkFiller(t *testing.T, in Input, f Filler) {
	t.Helper()
	for _, m := range []Metal{in.Metal, in.Other} {
		p, err := heat.PropertiesOf(m)
		if err != nil || f.Works().Low > p.Melts.Low-meltMargin || !slices.Contains(suits[f.Family], m) {
			t.Errorf("%s for %s", f.Class, m)
		}
	}
	if f.Cadmium {
		t.Errorf("%s is proposed", f.Class)
	}
}

// The order of the parts does not matter.
func TestCompute_isTheSameBothWaysRound(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		in := anyInput(r)
		back := in
		back.Metal, back.Other = in.Other, in.Metal
		a, errA := Compute(in)
		b, errB := Compute(back)
		if (errA == nil) != (errB == nil) || errA == nil && (a.Filler != b.Filler || a.HeatTo != b.HeatTo || a.Closes != b.Closes || a.Used.Mass != b.Used.Mass || len(a.Notes) != len(b.Notes)) {
			t.Fatalf("%+v: %v, %v", in, errA, errB)
		}
	}
}

// Twice the length, or twice the joints, takes twice the rod; a wider gap or a larger leg takes more.
func TestUsed_growsWithTheJoint(t *testing.T) {
	lap := Input{Metal: heat.MildSteel, Joint: Lap, Thinner: 0.003, Length: 0.05, Gap: 0.0001}
	one := used(t, lap)
	twice, many, wide := lap, lap, lap
	twice.Length, many.Count, wide.Gap = 0.1, 2, 0.0002
	for _, in := range []Input{twice, many, wide} {
		calctest.Near(t, used(t, in).Rod.Value, 2*one.Rod.Value, 1e-12, "proportion")
	}
	calctest.Near(t, used(t, twice).Flux.Value, 2*one.Flux.Value, 1e-12, "proportion")
	fillet := Input{Process: BrazeWeld, Metal: heat.MildSteel, Joint: Tee, Thinner: 0.003, Length: 0.05}
	larger := fillet
	larger.Leg = 0.006
	calctest.Near(t, used(t, larger).Volume.High, 4*used(t, fillet).Volume.High, 1e-12, "the square of the leg")
	thin := lap
	thin.Rod = usualRod / 2
	calctest.Near(t, used(t, thin).Rod.Value, 4*one.Rod.Value, 1e-12, "the section of the rod")
}

func used(t *testing.T, in Input) *Used {
	t.Helper()
	r, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	return r.Used
}

// Hot, a 22 mm copper tube in a steel cup narrows the gap by its radius × (17 − 12)e-6 × the rise; two parts of one metal leave it.
func TestCloses_isTheDifferenceOfTheRadii(t *testing.T) {
	in := Input{Metal: heat.Copper, Other: heat.MildSteel, Joint: Socket, Thinner: 0.001, Diameter: 0.022}
	r, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, r.Closes, 0.011*5e-6*(r.HeatTo.Low-293.15), 1e-9, "coefficients of table B.6; steel from memory")
	if r.HeatTo.Low < 900 || r.HeatTo.Low > 950 || !noted(r, "gap_when_hot") {
		t.Errorf("%+v %+v", r.HeatTo, r.Notes)
	}
	in.Other = heat.Copper
	if r, _ := Compute(in); r.Closes != 0 || noted(r, "gap_when_hot") {
		t.Errorf("%v", r.Closes)
	}
}

func noted(r Result, code string) bool {
	return slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Code == code })
}

// What makes ill is told first, each for the joint that has it.
func TestCompute_cautions(t *testing.T) {
	for code, in := range map[string]Input{
		"zinc_in_rod":       {Process: BrazeWeld, Metal: heat.CastIron, Joint: Butt},
		"cadmium":           {Metal: heat.StainlessSteel},
		"cadmium_chosen":    {Metal: heat.MildSteel, Filler: "BAg-1"},
		"lead":              {Process: Solder, Metal: heat.Copper, Filler: "50-50"},
		"fluoride_flux":     {Metal: heat.Brass},
		"acid_flux":         {Process: Solder, Metal: heat.MildSteel},
		"zinc_coating":      {Process: Solder, Metal: heat.GalvanisedSteel},
		"aluminium_no_glow": {Metal: heat.Aluminium},
		"closed_vessel":     {Metal: heat.Copper},
		"butt_is_weak":      {Metal: heat.Copper, Joint: Butt},
		"stainless_crevice": {Metal: heat.StainlessSteel},
		"cast_iron_warm":    {Metal: heat.CastIron},
		"gap_wide":          {Metal: heat.Copper, Gap: 0.0005},
		"gap_tight":         {Metal: heat.Brass, Gap: 0.00002},
		"overlap_short":     {Metal: heat.Copper, Overlap: 0.002},
		"gap_when_hot":      {Metal: heat.Brass, Other: heat.MildSteel, Joint: Socket, Diameter: 0.03},
	} {
		in.Thinner = 0.0015
		r, err := Compute(in)
		if err != nil {
			t.Errorf("%s: %v", code, err)
			continue
		}
		if !noted(r, code) {
			t.Errorf("%s is not among %+v", code, r.Notes)
		}
		stop := true
		for _, n := range r.Notes {
			if n.Stop && !stop {
				t.Errorf("%s stands after what is only good to know", n.Code)
			}
			stop = n.Stop
			if n.Text == "" || n.Source == "" {
				t.Errorf("%+v", n)
			}
		}
	}
	if r, err := Compute(Input{Metal: heat.Copper, Thinner: 0.001, Filler: "BCuP-5"}); err != nil || noted(r, "fluoride_flux") || noted(r, "zinc_in_rod") {
		t.Errorf("a joint without flux or zinc warns of them: %+v, %v", r.Notes, err)
	}
}

// What cannot be done is refused with the reason and the way out.
func TestCompute_refusesInWordsOfTheTrade(t *testing.T) {
	for name, c := range map[string]struct {
		in          Input
		field, word string
	}{
		"aluminium with brass":              {Input{Metal: heat.Aluminium, Filler: "RBCuZn-A"}, "filler", "begins to melt at 660 °C (1221 °F)"},
		"aluminium braze-welded":            {Input{Process: BrazeWeld, Metal: heat.Aluminium}, "process", "more heat than aluminium stands"},
		"aluminium soldered":                {Input{Process: Solder, Metal: heat.Aluminium}, "process", "oxide keeps solder off"},
		"aluminium to steel":                {Input{Metal: heat.Aluminium, Other: heat.MildSteel}, "other_metal", "brittle"},
		"galvanised":                        {Input{Metal: heat.GalvanisedSteel}, "metal", "fume makes ill"},
		"galvanised on the other side":      {Input{Process: BrazeWeld, Metal: heat.MildSteel, Other: heat.GalvanisedSteel}, "metal", "take the zinc off"},
		"copper-phosphorus on steel":        {Input{Metal: heat.Copper, Other: heat.MildSteel, Filler: "BCuP-5"}, "filler", "cracks off"},
		"copper-phosphorus on cast iron":    {Input{Metal: heat.CastIron, Filler: "BCuP-2"}, "filler", "brittle layer"},
		"brass rod on brass":                {Input{Metal: heat.Brass, Filler: "RBCuZn-C"}, "filler", "the part is gone first"},
		"brass rod on stainless":            {Input{Metal: heat.StainlessSteel, Filler: "RBCuZn-A"}, "filler", "silver filler"},
		"braze weld of brass":               {Input{Process: BrazeWeld, Metal: heat.Brass}, "filler", "silver filler"},
		"aluminium rod on copper":           {Input{Metal: heat.Copper, Filler: "BAlSi-4"}, "filler", "aluminium alone"},
		"silver built up":                   {Input{Process: BrazeWeld, Metal: heat.MildSteel, Filler: "BAg-7"}, "filler", "thin film"},
		"phosphorus built up":               {Input{Process: BrazeWeld, Metal: heat.Copper, Filler: "BCuP-5"}, "filler", "runs thin"},
		"solder for brazing":                {Input{Metal: heat.Copper, Filler: "50-50"}, "filler", "too weak"},
		"brazing rod for solder":            {Input{Process: Solder, Metal: heat.Copper, Filler: "BAg-7"}, "filler", "choose brazing"},
		"copper by torch":                   {Input{Metal: heat.MildSteel, Filler: "BCu-1"}, "filler", "furnace"},
		"cast iron soldered":                {Input{Process: Solder, Metal: heat.CastIron}, "metal", "graphite"},
		"no such filler":                    {Input{Metal: heat.Copper, Filler: "BAg-99"}, "filler", "BAg-7"},
		"no such metal":                     {Input{Metal: "gold"}, "metal", "mild_steel"},
		"no such other metal":               {Input{Metal: heat.Copper, Other: "tin"}, "other_metal", "mild_steel"},
		"no such process":                   {Input{Process: "glue", Metal: heat.Copper}, "process", "braze_weld"},
		"no such joint":                     {Input{Metal: heat.Copper, Joint: "scarf"}, "joint", "socket"},
		"socket built up":                   {Input{Process: BrazeWeld, Metal: heat.MildSteel, Joint: Socket}, "joint", "draws the filler in"},
		"unknown filler for a pair refused": {Input{Metal: heat.Aluminium, Other: heat.Copper, Filler: "BAg-7"}, "other_metal", "bolt or rivet"},
	} {
		c.in.Thinner = 0.002
		_, err := Compute(c.in)
		var no *Refusal
		if !errors.As(err, &no) || no.Field != c.field || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for field, in := range map[string]Input{
		"thickness_m":    {Metal: heat.Copper, Thinner: 0.1},
		"length_m":       {Metal: heat.Copper, Thinner: 0.001, Length: 50},
		"diameter_m":     {Metal: heat.Copper, Thinner: 0.001, Joint: Socket, Diameter: 1},
		"overlap_m":      {Metal: heat.Copper, Thinner: 0.001, Overlap: 0.5},
		"clearance_m":    {Metal: heat.Copper, Thinner: 0.001, Gap: 0.002},
		"leg_m":          {Process: BrazeWeld, Metal: heat.MildSteel, Thinner: 0.001, Joint: Tee, Leg: 0.2},
		"rod_diameter_m": {Metal: heat.Copper, Thinner: 0.001, Rod: 0.1},
		"count":          {Metal: heat.Copper, Thinner: 0.001, Count: -1},
		"shop_k":         {Metal: heat.Copper, Thinner: 0.001, Shop: 500},
	} {
		_, err := Compute(in)
		var outside *gas.RangeError
		if !errors.As(err, &outside) || outside.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// A steel bracket on a copper fitting: silver, with fluoride paste, the flame more on the copper.
func TestCompute_steelToCopper(t *testing.T) {
	r, err := Compute(Input{Metal: heat.MildSteel, Other: heat.Copper, Joint: Lap, Thinner: 0.002, Length: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	if r.Filler.Class != "BAg-7" || r.Flux.Name != whitePaste.Name || len(r.Cadmium) != 3 {
		t.Errorf("%+v", r)
	}
	for _, s := range r.Steps {
		if s.Name == "heat" && !strings.Contains(s.Text, "more on the copper") {
			t.Errorf("%q", s.Text)
		}
		if s.Text == "" || s.Source == "" {
			t.Errorf("%+v", s)
		}
	}
	calctest.Near(t, float64(r.Overlap), 0.006, 1e-12, "three times the thinner part")
	calctest.Near(t, r.Used.Joint, 0.03*0.006*0.0035*units.Inch, 1e-9, "length × overlap × the middle of the gap")
	for _, f := range r.Fillers {
		if f.Family == CopperPhosphorus {
			t.Errorf("%s is proposed on steel", f.Class)
		}
	}
}
