package cut

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// plates are three equal cuts of 10 mm.
func plates() List { return List{Pieces: []Piece{{Thickness: 0.01, Length: 0.5, Count: 3}}} }

func stockOf(v float64) *units.StandardVolume { s := units.StandardVolume(v); return &s }

func listOf(t *testing.T, l List) ListResult {
	t.Helper()
	r, err := l.Compute()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Three plates and oxygen for two and a half: it ends in the third, after two.
func TestList_saysAfterWhichPieceTheOxygenEnds(t *testing.T) {
	one := must(t, Input{Thickness: 0.01, Length: 0.5})
	l := plates()
	l.Oxygen, l.Fuel = stockOf(2.5*one.Oxygen.Value), stockOf(5*one.Fuel.Value)
	s := listOf(t, l).Shortage
	if s == nil || s.First != OxygenCylinder || s.Done != 2 || s.Row != 1 || s.Fuel != 0 {
		t.Fatalf("%+v", s)
	}
	calctest.Near(t, s.Share, 0.5, 1e-9, "half a piece is left")
	calctest.Near(t, float64(s.Oxygen), 0.5*one.Oxygen.Value, 1e-9, "half a piece is missing")
}

func TestList_shortageAtItsEdges(t *testing.T) {
	one := must(t, Input{Thickness: 0.01, Length: 0.5})
	for _, c := range []struct {
		name         string
		oxygen, fuel float64 // in pieces
		first        Cylinder
		done         int
	}{
		{"just enough", 3, 3, "", 0},
		{"none at all", 0, 3, OxygenCylinder, 0},
		{"fuel first", 2.9, 1.2, FuelCylinder, 1},
		{"at a piece's end", 2, 3, OxygenCylinder, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := plates()
			l.Oxygen, l.Fuel = stockOf(c.oxygen*one.Oxygen.Value), stockOf(c.fuel*one.Fuel.Value)
			s := listOf(t, l).Shortage
			if c.first == "" {
				if s != nil {
					t.Errorf("%+v", s)
				}
				return
			}
			if s == nil || s.First != c.first || s.Done != c.done {
				t.Errorf("%+v", s)
			}
		})
	}
}

// On random lists: what is done fits the gas, one piece more does not, and the totals are those of the pieces one by one.
func TestList_shortageIsWhereTheSumCrosses(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 3))
	for range 200 {
		var l List
		var oxygen, fuel []float64
		for range 1 + random.IntN(4) {
			p := Piece{Thickness: units.Length(0.003 + 0.05*random.Float64()), Length: units.Length(0.1 + random.Float64()), Count: 1 + random.IntN(5)}
			l.Pieces = append(l.Pieces, p)
			r := must(t, Input{Thickness: p.Thickness, Length: p.Length})
			for range p.Count {
				oxygen, fuel = append(oxygen, r.Oxygen.Value), append(fuel, r.Fuel.Value)
			}
		}
		whole, burnt := sum(oxygen), sum(fuel)
		l.Oxygen, l.Fuel = stockOf(whole*1.3*random.Float64()), stockOf(burnt*1.3*random.Float64())
		r := listOf(t, l)
		calctest.Near(t, r.Oxygen.Value, whole, 1e-9, "the pieces one by one")
		fits := func(n int) bool {
			return sum(oxygen[:n]) <= float64(*l.Oxygen) && sum(fuel[:n]) <= float64(*l.Fuel)
		}
		if r.Shortage == nil {
			if !fits(len(oxygen)) {
				t.Errorf("no shortage: %+v", l)
			}
			continue
		}
		if !fits(r.Shortage.Done) || fits(r.Shortage.Done+1) {
			t.Errorf("%+v of %+v", r.Shortage, l)
		}
		if r.Worst == nil || r.Worst.Done > r.Shortage.Done {
			t.Errorf("worst %+v, middle %+v", r.Worst, r.Shortage)
		}
	}
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}

func TestList_costNeedsBothPrices(t *testing.T) {
	l := plates()
	oxygen, fuel := units.MoneyPerVolume(6), units.MoneyPerVolume(30)
	l.OxygenPrice = &oxygen
	if r := listOf(t, l); r.Cost != nil {
		t.Errorf("cost %v of one price", *r.Cost)
	}
	l.FuelPrice = &fuel
	r := listOf(t, l)
	calctest.Near(t, *r.Cost, 6*r.Oxygen.Value+30*r.Fuel.Value, 1e-12, "price times volume")
}

func TestList_refusesReadably(t *testing.T) {
	bad := units.MoneyPerVolume(math.NaN())
	for name, c := range map[string]struct {
		list List
		want string
	}{
		"nothing":        {List{}, "rows is 0"},
		"no pieces":      {List{Pieces: []Piece{{Thickness: 0.01, Length: 1}}}, "row 1: count is 0"},
		"second row":     {List{Pieces: []Piece{{Thickness: 0.01, Length: 1, Count: 1}, {Thickness: 2, Length: 1, Count: 1}}}, "row 2: thickness_m is 2000 mm"},
		"stainless":      {List{Common: Input{Metal: StainlessSteel}, Pieces: plates().Pieces}, "chromium"},
		"negative gas":   {List{Pieces: plates().Pieces, Oxygen: stockOf(-1)}, "oxygen_available_std_m3"},
		"price no value": {List{Pieces: plates().Pieces, FuelPrice: &bad}, "fuel_price_per_std_m3"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.list.Compute()
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to contain %q", err, c.want)
			}
			var outside *gas.RangeError
			var metal *MetalError
			if !errors.As(err, &outside) && !errors.As(err, &metal) {
				t.Errorf("%T names no field", err)
			}
		})
	}
}

// What must stay in the fuel cylinder ends the list as an empty one would, and counts as missing.
func TestList_fuelThatMustBeKept(t *testing.T) {
	l := List{Pieces: []Piece{{Thickness: 0.01, Length: 1, Count: 4}}, Fuel: stockOf(1)}
	one := listOf(t, l).Rows[0].Fuel.Value
	l.Fuel, l.Pieces[0].FuelKept = stockOf(10*one), units.StandardVolume(7.5*one)
	s := listOf(t, l).Shortage
	if s == nil || s.First != FuelCylinder || s.Done != 2 {
		t.Fatalf("10 pieces' worth of fuel, of which 7.5 must stay: %+v", s)
	}
	calctest.Near(t, s.Share, 0.5, 1e-9, "2.5 pieces may be drawn")
	calctest.Near(t, float64(s.Fuel)/one, 1.5, 1e-9, "4 pieces less the 2.5 that may be drawn")
}

// A list whose rows were worked out elsewhere adds up as one that works them out itself, and the worst case looks at the low end of the stock.
func TestList_Sum_isCompute(t *testing.T) {
	l := plates()
	l.Oxygen, l.Fuel = stockOf(1.5*listOf(t, l).Rows[0].Oxygen.Value), stockOf(1)
	want := listOf(t, l)
	got, err := l.Sum(want.Rows)
	if err != nil || got.Oxygen != want.Oxygen || got.Time != want.Time || got.Pieces != want.Pieces || got.Shortage == nil || *got.Shortage != *want.Shortage {
		t.Fatalf("%+v, %v; want %+v", got, err, want)
	}
	l.OxygenLeast = stockOf(0)
	if got, err = l.Sum(want.Rows); err != nil || got.Worst.Done != 0 || got.Shortage.Done != want.Shortage.Done {
		t.Errorf("with nothing at worst: %+v, %+v, %v", got.Worst, got.Shortage, err)
	}
	if _, err := l.Sum(want.Rows[:0]); err == nil {
		t.Error("fewer rows than pieces were added up")
	}
}

// A pressure from a maker's chart takes the place of the one that is chosen, and choked flow follows the absolute pressure.
func TestCompute_pressureAndFlowAsGiven(t *testing.T) {
	in := Input{Thickness: 0.02, Length: 1}
	chosen := must(t, in)
	in.Torch = 2*chosen.Gauge + units.GaugePressure(units.StandardAtmosphere)
	given := must(t, in)
	if given.Gauge != in.Torch {
		t.Errorf("%v, given was %v", given.Gauge, in.Torch)
	}
	calctest.Near(t, given.Cutting.Value/chosen.Cutting.Value, 2, 1e-3, "twice the absolute pressure; the real gas is 0.05 % off")
	calctest.Near(t, float64(given.PreheatFuel), float64(chosen.PreheatFuel), 1e-12, "the preheat belongs to the thickness")
	in.Flow = 0.001
	if r := must(t, in); r.Cutting.Value != 0.001 || r.Cutting.Low != r.Cutting.High {
		t.Errorf("flow given: %+v", r.Cutting)
	}
	for _, bad := range []Input{{Thickness: 0.02, Length: 1, Torch: 1e9}, {Thickness: 0.02, Length: 1, Flow: 7}} {
		if _, err := Compute(bad); err == nil {
			t.Errorf("taken: %+v", bad)
		}
	}
}
