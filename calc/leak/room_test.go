package leak_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// exposure is one row of the room table.
func exposure(r calctest.Row) leak.Exposure {
	return leak.Exposure{
		Gas: gas.Gas(r.Text("gas")), Leak: units.StandardFlow(r.Number("leak_std_L_h_15C") * perLh),
		Room: leak.Room{Volume: units.Volume(r.Number("room_volume_m3")), AirChanges: r.Number("air_changes_per_h"), MixingFactor: r.Number("mixing_factor")},
	}
}

// air asks where the answer must exist.
func air(t testing.TB, e leak.Exposure, after units.Duration) leak.Air {
	t.Helper()
	a, err := e.After(after)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Guards concentration and the times to the limits: all rows, fuels as the added gas and oxygen as the share of oxygen.
func TestRoomConcentrationsHoldOverTheWholeReferenceTable(t *testing.T) {
	const why = "testdata/reference/room_concentration.csv; the same formula, printed to eight digits"
	steady := calctest.NewWorst("steady concentration", 1e-6, why)
	passing := calctest.NewWorst("concentration after 0.25, 1 and 8 h", 1e-6, why)
	numeric := calctest.NewWorst("concentration against the table's Runge-Kutta integration", 1e-6, why)
	oxygen := calctest.NewWorst("share of oxygen", 1e-6, why)
	tenth := calctest.NewWorst("time to a tenth of the limit", 1e-5, why+"; a logarithm near its pole loses one or two of them")
	limit := calctest.NewWorst("time to the limit", 1e-5, why)
	rich := calctest.NewWorst("time to 23.5 % oxygen", 1e-5, why)
	for _, r := range calctest.Reference(t, "room_concentration.csv") {
		e := exposure(r)
		for _, c := range []struct {
			hours  float64
			column string
		}{{0.25, "vol_pct_after_0.25_h"}, {1, "vol_pct_after_1_h"}, {8, "vol_pct_after_8_h"}} {
			a := air(t, e, units.Duration(c.hours*hour))
			if e.Gas == gas.Oxygen {
				oxygen.Add(t, a.Oxygen*100, r.Number(c.column), r.ID())
				oxygen.Add(t, a.Oxygen*100, r.Number("numeric_"+c.column), r.ID())
				continue
			}
			passing.Add(t, a.Concentration*100, r.Number(c.column), r.ID())
			numeric.Add(t, a.Concentration*100, r.Number("numeric_"+c.column), r.ID())
		}
		a := air(t, e, 0)
		if e.Gas == gas.Oxygen {
			oxygen.Add(t, a.SteadyOxygen*100, r.Number("steady_state_vol_pct"), r.ID())
			addTime(t, rich, a.ToOxygen, r, "minutes_to_23p5_pct_oxygen")
			continue
		}
		steady.Add(t, a.Steady*100, r.Number("steady_state_vol_pct"), r.ID())
		addTime(t, tenth, a.ToTenth, r, "minutes_to_10_pct_lel_iec")
		addTime(t, limit, a.ToLimit, r, "minutes_to_100_pct_lel_iec")
	}
	for _, w := range []*calctest.Worst{steady, passing, numeric, oxygen, tenth, limit, rich} {
		w.Report(t)
	}
}

// addTime compares a time in minutes; "inf" in the table must be never.
func addTime(t *testing.T, w *calctest.Worst, got *units.Duration, r calctest.Row, column string) {
	t.Helper()
	want := r.Number(column)
	switch {
	case math.IsInf(want, 1) && got != nil:
		t.Errorf("%s: %s is %v s, the table says never", r, column, *got)
	case !math.IsInf(want, 1) && got == nil:
		t.Errorf("%s: %s is never, the table says %v min", r, column, want)
	case got != nil:
		w.Add(t, float64(*got)/60, want, r.ID())
	}
}

// The limits are the lower of the two that were read in standards, for every fuel that is in them.
func TestLowerLimitsAreTheLowestRead(t *testing.T) {
	lowest := map[string]float64{}
	for _, r := range calctest.Where(t, calctest.Reference(t, "flammability.csv"), "quantity", "lower flammable limit in air") {
		v, trust := r.Number("value"), r.Text("trust")
		name := r.Text("gas")
		if trust != "A" && name != "propadiene (allene)" { // no standard read has it
			continue
		}
		if old, seen := lowest[name]; !seen || v < old {
			lowest[name] = v
		}
	}
	for _, g := range gas.Fuels() {
		name := g.Name()
		if g == gas.Methane {
			name = "methane"
		}
		want, ok := lowest[name]
		if !ok {
			t.Errorf("no row for %s", name)
			continue
		}
		if l := leak.LowerFlammableLimit(g); l == nil || math.Abs(l.Fraction*100-want) > 1e-9 || l.Source == "" {
			t.Errorf("%s: %+v, want %v %%", g, l, want)
		}
	}
	for _, g := range []gas.Gas{gas.Oxygen, gas.Air, gas.Nitrogen, gas.Argon} {
		if leak.LowerFlammableLimit(g) != nil {
			t.Errorf("%s does not burn", g)
		}
	}
}

// The time to a concentration is the inverse of the concentration at a time, on random rooms.
func TestTimeToTheLimitIsWhenTheLimitIsReached(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	for range 500 {
		e := leak.Exposure{Gas: gas.Propane, Leak: units.StandardFlow(math.Pow(10, rng.Float64()*5-8)), Room: leak.Room{Volume: units.Volume(1 + rng.Float64()*100), AirChanges: rng.Float64() * 3}}
		a := air(t, e, hour)
		if a.ToTenth == nil {
			if a.Steady > 0.1*a.Limit.Fraction {
				t.Fatalf("%+v ends above a tenth of the limit and never reaches it", e)
			}
			continue
		}
		then := air(t, e, *a.ToTenth)
		calctest.Near(t, then.Concentration, 0.1*a.Limit.Fraction, 1e-9, "the same formula the other way, to the rounding of a logarithm")
	}
}

// With little time the room fills as if nothing left it, with much it comes to the steady state; more air never makes it worse.
func TestRoomsFillThenSettle(t *testing.T) {
	e := leak.Exposure{Gas: gas.Acetylene, Leak: 50 * perLh, Room: leak.Room{Volume: 30, AirChanges: 1}}
	early := air(t, e, 1)
	calctest.Near(t, early.Concentration, 50*perLh*293.15/288.15/30, 2e-4, "half of (Q/V) t, 1/7200, has left by then")
	late := air(t, e, 48*hour)
	calctest.Near(t, late.Concentration, late.Steady, 1e-12, "48 time constants")
	e.Room.AirChanges = 2
	if more := air(t, e, hour); more.Concentration >= air(t, leak.Exposure{Gas: e.Gas, Leak: e.Leak, Room: leak.Room{Volume: 30, AirChanges: 1}}, hour).Concentration {
		t.Error("more fresh air left more gas")
	}
	e.Leak = 0
	if none := air(t, e, hour); none.Concentration != 0 || none.Steady != 0 || none.ToTenth != nil {
		t.Errorf("no leak gives %+v", none)
	}
}

// Room volumes follow the gas law; guards the figures its comment gives for how far real gases leave it.
func TestExpansionToTheRoomFollowsRealDensities(t *testing.T) {
	for _, g := range gas.All() {
		for _, c := range []float64{0, 20, 40} {
			d, err := g.Density(units.StandardAtmosphere, celsius(c))
			if err != nil {
				t.Fatal(err)
			}
			tol := 0.005
			if c == 20 {
				tol = 0.0012
			}
			calctest.Near(t, float64(celsius(c)/units.StandardTemperature), float64(g.StandardDensity()/d), tol, "methylacetylene leaves the gas law most")
		}
	}
}

// Guards the reason given for the default: the shut shop stays below a hundredth of the limit with every fuel, and oxygen far below 23.5 %.
func TestTheDefaultAllowedLeakKeepsAShutShopSafe(t *testing.T) {
	for _, g := range append(gas.Fuels(), gas.Oxygen) {
		q, err := leak.AllowedIn(g, leak.ShutShop())
		if err != nil || q == nil {
			t.Fatal(g, err)
		}
		if leak.DefaultAllowed > *q {
			t.Errorf("%s: the default %v is above what the shut shop allows, %v", g, leak.DefaultAllowed, *q)
		}
		a := air(t, leak.Exposure{Gas: g, Leak: leak.DefaultAllowed, Room: leak.ShutShop()}, 1000*hour)
		if a.Limit != nil && a.Steady > a.Limit.Fraction/100 {
			t.Errorf("%s comes to %v of the limit", g, a.Steady/a.Limit.Fraction)
		}
	}
	in, err := leak.In(gas.Acetylene, leak.DefaultAllowed)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, in.ThreeMillimetreBubblesPerSecond, 4, 0.1, "the reason says about four")
}

// A leak just as large as AllowedIn ends exactly at the hazard divided by the pocket factor.
func TestAllowedInEndsAtItsOwnBar(t *testing.T) {
	room := leak.Room{Volume: 40, AirChanges: 0.5, Temperature: celsius(5), Ambient: 85e3}
	q, err := leak.AllowedIn(gas.Propane, room)
	if err != nil {
		t.Fatal(err)
	}
	a := air(t, leak.Exposure{Gas: gas.Propane, Leak: *q, Room: room}, 0)
	calctest.Near(t, a.Steady, 0.1*0.017/leak.PocketFactor, 1e-12, "the same formula the other way")
	for _, c := range []struct {
		g    gas.Gas
		room leak.Room
	}{{gas.Argon, room}, {gas.Propane, leak.Room{Volume: 40}}} {
		if q, err := leak.AllowedIn(c.g, c.room); err != nil || q != nil {
			t.Errorf("%s in %+v: %v, %v, want no figure", c.g, c.room, q, err)
		}
	}
}

// Warnings come with the air they are about, the worst first.
func TestAirIsWarnedAbout(t *testing.T) {
	for _, c := range []struct {
		name string
		e    leak.Exposure
		want string
	}{
		{"explosive", leak.Exposure{Gas: gas.Acetylene, Leak: 500 * perLh, Room: leak.Room{Volume: 15, AirChanges: 0.3}}, "explosive"},
		{"a tenth", leak.Exposure{Gas: gas.Acetylene, Leak: 30 * perLh, Room: leak.Room{Volume: 15, AirChanges: 0.3}}, "tenth_of_limit"},
		{"rich", leak.Exposure{Gas: gas.Oxygen, Leak: 500 * perLh, Room: leak.Room{Volume: 15, AirChanges: 0.3}}, "oxygen_rich"},
		{"below", leak.Exposure{Gas: gas.Oxygen, Leak: 1 * perLh, Room: leak.Room{Volume: 15, AirChanges: 0.3}}, "mixed_air_below"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := air(t, c.e, hour)
			if _, first := code(a.Notes, c.want); !first {
				t.Errorf("notes are %+v, want %s first", a.Notes, c.want)
			}
			if there, _ := code(a.Notes, "well_mixed"); !there {
				t.Error("the well-mixed assumption is not said")
			}
		})
	}
}
