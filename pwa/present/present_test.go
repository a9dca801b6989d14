package present

import (
	"math"
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// The cards of these tests are invented; they test the showing, not the numbers.

func ptr(v float64) *float64 { return &v }

var (
	us     = Options{Units: units.US(), Region: "us", Currency: "$"}
	metric = Options{Units: units.Metric(), Region: "iso", Currency: "€"}
)

func exampleCard() setup.Card {
	return setup.Card{
		Tip: "2", TipDetail: setup.TipDetail{OrificeDiameterM: ptr(0.00094), OrificeCount: 1},
		Oxygen:   setup.GasLine{RegulatorGaugePa: 34500, TorchGaugePa: 33000, FlowStdM3S: 6.6e-5, ContentsStdM3: ptr(1.2), EnduranceS: ptr(18000), RegulatorMaxPa: ptr(6.9e5)},
		Fuel:     setup.GasLine{RegulatorGaugePa: 35500, TorchGaugePa: 34000, FlowStdM3S: 6e-5, ContentsStdM3: ptr(0.6), EnduranceS: ptr(9600), RegulatorMaxPa: ptr(2e5)},
		FuelName: "acetylene", Mixing: setup.EqualPressure, Ratio: 1.1, FlameClass: flame.Neutral, PowerW: 3400,
		ExitVelocityMS: ptr(105), ExitClass: "normal", ConeLengthM: ptr(0.009), HoldOnMargin: ptr(6.3),
		EnduranceS: ptr(9600), LimitedBy: "oxygen", CostPerH: ptr(4.2), Shade: setup.Shade{Minimum: 4, RecommendedLow: 5, RecommendedHigh: 6},
		Filler: &setup.Filler{Classes: []string{"R60", "R45"}, DiameterM: &setup.Range{Low: 0.002, High: 0.003}}, Flux: "none", SpeedMS: &setup.Range{Low: 0.0015, High: 0.0025},
		Provenance: map[string]setup.Provenance{
			"fuel.regulator_gauge_pa": {Kind: setup.MakersChart, Source: "the owner's chart", Low: 30000, High: 40000},
			"hold_on_margin":          {Kind: setup.Computed, Source: "estimate", FromMemory: true, Low: 2.2, High: 25},
			"cone_length_m":           {Kind: setup.Computed, Source: "Gouy's law", FromMemory: true, Low: 0.004, High: 0.010},
		},
	}
}

func numberOf(t *testing.T, c Card, key string) Number {
	t.Helper()
	n := c.number(key)
	if n.Key == "" {
		t.Fatalf("the card shows no %s", key)
	}
	return n
}

// TestCard_shows_each_number_in_the_chosen_units guards against a number in one system with the unit of the other. The
// expected texts are the SI values of the card converted by hand with the exact factors of NIST SP 811 (2008), appendix B.8.
func TestCard_shows_each_number_in_the_chosen_units(t *testing.T) {
	for _, c := range []struct{ key, us, metric string }{
		{"oxygen.regulator_gauge_pa", "5 psi", "0.345 bar"}, // 34500/6894.757 = 5.004; the bar has three digits
		{"fuel.torch_gauge_pa", "4.9 psi", "0.34 bar"},      // 34000/6894.757 = 4.93
		{"endurance_s", "2 h 40 min", "2 h 40 min"},         // 9600 s
		{"exit_velocity_m_s", "344 ft/s", "105 m/s"},        // 105/0.3048 = 344.5
		{"ratio", "1.1 to 1", "1.1 to 1"},
		{"cone_length_m", "0.35 in", "9 mm"}, // 9/25.4 = 0.354
		{"shade", "5 to 6", "5 to 6"},
		{"hold_on_margin", "about 6 ×", "about 6 ×"},
		{"cost_per_h", "$4.20 an hour", "€4.20 an hour"},
		{"speed_m_s", "3.5 to 5.9 in/min", "90 to 150 mm/min"}, // 0.0015 m/s = 3.543 in/min, 0.0025 = 5.906
	} {
		t.Run(c.key, func(t *testing.T) {
			if got := numberOf(t, NewCard(exampleCard(), us), c.key).Text(); !sameNumber(got, c.us) {
				t.Errorf("US: %q, want %q", got, c.us)
			}
			if got := numberOf(t, NewCard(exampleCard(), metric), c.key).Text(); !sameNumber(got, c.metric) {
				t.Errorf("metric: %q, want %q", got, c.metric)
			}
		})
	}
}

// sameNumber allows the last shown digit to be rounded to fewer digits: 0.345 bar may be shown as 0.35, never as 0.3.
func sameNumber(got, want string) bool {
	if got == want {
		return true
	}
	gn, gu, _ := strings.Cut(got, " ")
	wn, wu, _ := strings.Cut(want, " ")
	g, err1 := strconv.ParseFloat(gn, 64)
	w, err2 := strconv.ParseFloat(wn, 64)
	return err1 == nil && err2 == nil && gu == wu && math.Abs(g-w) <= 0.02*w // 2 %: half of the last of two digits
}

// TestCard_flow_in_cubic_feet_uses_the_density_of_its_own_gas: ft³ are stated at 70 °F, and each gas has its own ratio.
func TestCard_flow_in_cubic_feet_uses_the_density_of_its_own_gas(t *testing.T) {
	c := exampleCard()
	c.Oxygen.FlowStdM3S, c.Fuel.FlowStdM3S = 0.01, 0.01
	v := NewCard(c, us)
	for key, g := range map[string]gas.Gas{"oxygen.flow_std_m3_s": gas.Oxygen, "fuel.flow_std_m3_s": gas.Acetylene} {
		u := units.US().Unit(units.QuantityStandardFlow)
		want := units.FormatNumber(units.QuantityStandardFlow, 0.01, u, g.StandardRatio())
		if got := numberOf(t, v, key); got.Value != want || got.Unit != "ft³/h" || !strings.Contains(got.Note, "70 °F") {
			t.Errorf("%s: %+v, want %s ft³/h at 70 °F", key, got, want)
		}
	}
}

// TestCard_never_shows_acetylene_above_the_limit_it_keeps: on random pressures up to 15 psi (29 CFR 1910.253(a)(2)), in every
// pressure unit there is, the shown number read back is not above the limit.
func TestCard_never_shows_acetylene_above_the_limit_it_keeps(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for _, u := range units.UnitsOf(units.QuantityPressure) {
		o := Options{Units: units.US().With(u)}
		limit, err := u.FromSI(acetyleneLimit, 0)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 300 {
			pa := acetyleneLimit * (1 - rnd.Float64()*0.02)
			if i == 0 {
				pa = acetyleneLimit
			}
			c := exampleCard()
			c.Fuel.RegulatorGaugePa = pa
			n := numberOf(t, NewCard(c, o), "fuel.regulator_gauge_pa")
			shown, err := strconv.ParseFloat(n.Value, 64)
			if err != nil {
				t.Fatalf("%q is no number", n.Value)
			}
			// 1e-9: the limit itself may be a round number in this unit and must not fail on its last bit.
			if shown > limit*(1+1e-9) {
				t.Fatalf("%v Pa is shown as %s, above %v %s", pa, n.Text(), limit, u.Symbol())
			}
		}
	}
}

func TestAtMost_cuts_off_only_where_rounding_would_pass_the_limit(t *testing.T) {
	bar, _ := units.UnitBySymbol(units.QuantityPressure, "bar")
	for _, c := range []struct {
		si, limit float64
		want      string
	}{
		{99_800, 100_100, "1"},     // rounds to 1.00, below the limit of 1.001
		{99_600, 99_700, "0.99"},   // 0.996 rounds to 1.0 > 0.997
		{120_000, 100_000, "1.2"},  // already over: shown as it is
		{34_500, 103_421, "0.345"}, // far below
	} {
		got := atMost(scale{quantity: units.QuantityPressure, unit: bar, limit: c.limit}, c.si)
		if !sameNumber(got+" bar", c.want+" bar") {
			t.Errorf("%v Pa under %v Pa: %s, want %s", c.si, c.limit, got, c.want)
		}
		if v, _ := strconv.ParseFloat(got, 64); c.si <= c.limit && v*1e5 > c.limit {
			t.Errorf("%v Pa under %v Pa is shown as %s", c.si, c.limit, got)
		}
	}
}

// TestCard_hands_out_every_warning_once_and_before_its_number walks the card in reading order.
func TestCard_hands_out_every_warning_once_and_before_its_number(t *testing.T) {
	concerns := []string{"", "tip", "oxygen.regulator_gauge_pa", "fuel.regulator_gauge_pa", "fuel.torch_gauge_pa", "fuel.flow_std_m3_s", "oxygen.endurance_s",
		"flame_class", "ratio", "exit_velocity_m_s", "cone_length_m", "hold_on_margin", "power_w", "endurance_s", "cost_per_h", "shade", "filler", "flux", "speed_m_s", "nobody.knows"}
	c := exampleCard()
	for i, k := range concerns {
		level := []setup.Level{setup.Note, setup.Caution, setup.Check}[i%3]
		c.Warnings = append(c.Warnings, setup.Warning{Code: "w" + strconv.Itoa(i), Level: level, Text: "t", Source: "s", Concerns: k})
	}
	c.Warnings = append(c.Warnings, setup.Warning{Code: "fire_watch", Level: setup.Caution, Text: "t", Source: "s"})
	order := reading(NewCard(c, us))
	at := map[string]int{}
	for i, o := range order {
		if _, twice := at[o]; twice {
			t.Errorf("%s comes twice", o)
		}
		at[o] = i
	}
	for i, k := range concerns {
		code := "!w" + strconv.Itoa(i)
		w, ok := at[code]
		if !ok {
			t.Errorf("the warning about %q is lost", k)
			continue
		}
		if n, shown := at[k]; shown && n < w {
			t.Errorf("the warning about %q comes after its number", k)
		}
	}
	if at["!fire_watch"] != 0 {
		t.Error("the standing caution is not the first thing on the card")
	}
}

// reading lists keys of numbers and codes of warnings ("!code") in the order the card is read; a dial stands for the set
// pressure it shows.
func reading(c Card) []string {
	var out []string
	warn := func(lists ...[]Warning) {
		for _, l := range lists {
			for _, w := range l {
				out = append(out, "!"+w.Code)
			}
		}
	}
	numbers := func(list ...Number) {
		for _, n := range list {
			warn(n.Warnings)
			out = append(out, n.Key)
		}
	}
	warn(c.Standing, c.General, c.Tip.Warnings)
	out = append(out, c.Tip.Key)
	o, f := c.Gases[0], c.Gases[1]
	warn(o.Warnings, f.Warnings)
	numbers(o.Regulator, f.Regulator, o.Torch, f.Torch, o.Flow, f.Flow, o.Minutes, f.Minutes)
	warn(c.Flame.Warnings)
	out = append(out, "flame_class")
	numbers(c.Flame.Ratio, c.Flame.Cone, c.Flame.Exit, c.Flame.HoldOn, c.Flame.Power)
	numbers(c.Supply...)
	numbers(c.Work...)
	return out
}

// TestCard_shows_nothing_as_zero_that_is_not_known: an empty rig part must read "not known", never 0.
func TestCard_shows_nothing_as_zero_that_is_not_known(t *testing.T) {
	c := exampleCard()
	c.ExitVelocityMS, c.HoldOnMargin, c.EnduranceS, c.CostPerH, c.ConeLengthM = nil, nil, nil, nil, nil
	c.Oxygen.EnduranceS, c.Fuel.EnduranceS, c.TipDetail.OrificeDiameterM, c.SpeedMS, c.Filler = nil, nil, nil, nil, nil
	v := NewCard(c, us)
	for _, key := range []string{"exit_velocity_m_s", "hold_on_margin", "endurance_s", "cone_length_m", "oxygen.endurance_s"} {
		if n := numberOf(t, v, key); n.Value != "not known" || n.Note == "" {
			t.Errorf("%s: %q with note %q", key, n.Value, n.Note)
		}
	}
	if v.Flame.Drawing.SVG != "" || v.Flame.Drawing.Text == "" {
		t.Error("a flame is drawn to scale without its scale")
	}
	for _, key := range []string{"cost_per_h", "speed_m_s", "filler"} {
		if n := v.number(key); n.Key != "" {
			t.Errorf("%s is shown though it is not known", key)
		}
	}
}

func TestOneDigit_rounds_down(t *testing.T) {
	for v, want := range map[float64]string{6.3: "6", 9.99: "9", 0.3: "0.3", 0.97: "0.9", 33: "30", 1: "1", 100: "100", 0: "0", -4: "0"} {
		if got := oneDigit(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

func TestSheet_tells_formula_inputs_source_and_what_others_say(t *testing.T) {
	c := exampleCard()
	p := c.Provenance["fuel.regulator_gauge_pa"]
	p.Formula, p.Reason, p.FromMemory = "torch + hose", "the chart gives a range", true
	p.Inputs = []setup.NamedValue{{Name: "hose bore", Quantity: "length", SI: 0.00635}, {Name: "flow", Quantity: "standard_flow", SI: 6e-5, Gas: "acetylene"}}
	p.Others = []setup.Alternative{{Kind: setup.CommonPractice, Source: "no source", FromMemory: true, Value: 34474}}
	c.Provenance["fuel.regulator_gauge_pa"] = p
	s := NewSheet(c, "fuel.regulator_gauge_pa", us)
	for name, ok := range map[string]bool{
		"title":   s.Title == "Acetylene regulator",
		"value":   s.Value == "5.1 psi",
		"band":    s.Band == "From 4.4 to 5.8 psi.",
		"memory":  s.Memory != "",
		"reason":  s.Reason == "The chart gives a range.",
		"bore":    s.Inputs[0] == Line{"Hose bore", "1/4 in"},
		"flow":    strings.HasSuffix(s.Inputs[1].Text, " ft³/h"),
		"others":  s.Others[0] == Line{"Common practice: no source (from memory)", "5 psi"},
		"formula": s.Formula == "torch + hose",
	} {
		if !ok {
			t.Errorf("%s is wrong: %+v", name, s)
		}
	}
	if s := NewSheet(c, "flux", us); s.Title != "Flux" || s.Reason == "" {
		t.Errorf("a number without provenance: %+v", s)
	}
}

func TestRefusal_is_written_for_a_person(t *testing.T) {
	r := NewRefusal(setup.Refusal{Code: "x", Field: "rig.tips[2].orifice_diameter_m", Read: "mild_steel", Allowed: "0.2 mm", Why: "because",
		WaysOut: []string{"braze it"}}, us)
	if r.Field != "Tips 3, orifice diameter" || r.Read != "mild steel" || r.WaysOut[0] != "Braze it" {
		t.Errorf("%+v", r)
	}
}

func TestHose_colours_follow_the_region(t *testing.T) {
	for _, c := range []struct{ gas, region, class string }{
		{"oxygen", "iso", "hose-blue"}, {"oxygen", "us", "hose-green"}, {"Acetylene", "iso", "hose-red"}, {"acetylene", "us", "hose-red"},
		{"propane", "iso", "hose-orange"}, {"propane", "us", "hose-red"}, {"", "us", ""},
	} {
		if h := HoseFor(c.gas, c.region); h.Class != c.class || (c.class != "" && !strings.Contains(h.Words, "hose")) {
			t.Errorf("%s in %s: %+v, want %s", c.gas, c.region, h, c.class)
		}
	}
}

// TestCache_writes_a_card_once: a page that is drawn again for another reason must do no work.
func TestCache_writes_a_card_once(t *testing.T) {
	var c Cache
	one, two := exampleCard(), exampleCard()
	two.Tip = "3"
	if c.Card(&one, us).Tip.Label != "2" || c.Card(&two, us).Tip.Label != "3" {
		t.Error("another card is not written anew")
	}
	one.Tip = "changed behind its back"
	if c.Card(&two, metric).Gases[0].Regulator.Unit != "bar" {
		t.Error("other units are not written anew")
	}
	if n := testing.AllocsPerRun(10, func() { c.Card(&two, metric) }); n > 0 {
		t.Errorf("showing the same card again allocates %v times", n)
	}
	if c.Sheet(&two, "flux", metric).Title != "Flux" || c.Sheet(&two, "shade", metric).Title != "Lens shade" {
		t.Error("another sheet is not written anew")
	}
}
