package units

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// There and back is the same number, for every pair of units of every quantity.
func TestConvert_there_and_back(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, q := range Quantities() {
		for _, a := range UnitsOf(q) {
			for _, b := range UnitsOf(q) {
				x := math.Exp(rng.NormFloat64() * 3)
				y, err := Convert(x, a, b, ratio)
				back, err2 := Convert(y, b, a, ratio)
				// Two conversions, each good to a few ulp of the kelvin value where there is an offset.
				if err != nil || err2 != nil || math.Abs(back-x) > 1e-12*(math.Abs(x)+a.def().offset/a.def().factor) {
					t.Errorf("%v %s to %s and back: %v (%v, %v)", x, a.Symbol(), b.Symbol(), back, err, err2)
				}
			}
		}
	}
}

// Fixed points of the temperature scales, and the ratio that makes a cubic foot at 70 °F less than one at 15 °C.
func TestConvert_known_points(t *testing.T) {
	tests := []struct {
		q        Quantity
		x        float64
		from, to string
		want     float64
	}{
		{QuantityTemperature, 32, "°F", "°C", 0},
		{QuantityTemperature, 212, "°F", "°C", 100},
		{QuantityTemperature, -40, "°C", "°F", -40},
		{QuantityTemperature, 70, "°F", "K", float64(USStandardTemperature)},
		{QuantityTemperature, 15, "°C", "K", float64(StandardTemperature)},
		{QuantityStandardVolume, 1, "ft³", "L", 28.316846592 * 0.979},
		{QuantityStandardFlow, 1, "m³/h", "L/min", 1000.0 / 60},
		{QuantityMoneyPerVolume, 35, "/100 ft³", "/ft³", 0.35},
		{QuantityMoneyPerMass, 16, "/lb", "/oz", 1},
		{QuantityMoneyPerMass, 1, "/lb", "/kg", 1 / 0.45359237},
		{QuantityMoneyPerVolume, 1, "/ft³", "/m³", 1 / 0.028316846592 / 0.979},
	}
	for _, tt := range tests {
		got, err := Convert(tt.x, mustUnit(t, tt.q, tt.from), mustUnit(t, tt.q, tt.to), ratio)
		// 1e-12 of 273 K: the offset is subtracted in floating point.
		if err != nil || math.Abs(got-tt.want) > 1e-12*math.Max(300, math.Abs(tt.want)) {
			t.Errorf("%v %s = %v %s (%v), want %v", tt.x, tt.from, got, tt.to, err, tt.want)
		}
	}
}

// Units of different quantities, and cubic feet without a gas, are refused; lengths are one quantity under three names.
func TestConvert_refuses(t *testing.T) {
	cf, l := mustUnit(t, QuantityStandardVolume, "ft³"), mustUnit(t, QuantityStandardVolume, "L")
	for _, bad := range []StandardRatio{0, -1, StandardRatio(math.NaN()), StandardRatio(math.Inf(1))} {
		if x, err := Convert(1, cf, l, bad); !errors.Is(err, ErrNeedsGas) || !math.IsNaN(x) {
			t.Errorf("ratio %v: %v (%v)", float64(bad), x, err)
		}
		if x, err := Convert(1, l, cf, bad); !errors.Is(err, ErrNeedsGas) || !math.IsNaN(x) {
			t.Errorf("ratio %v: %v (%v)", float64(bad), x, err)
		}
	}
	if x, err := Convert(2, cf, cf, 0); err != nil || x != 2 {
		t.Errorf("ft³ to ft³ needs no gas: %v (%v)", x, err)
	}
	if _, err := Convert(1, l, mustUnit(t, QuantityVolume, "L"), ratio); !errors.Is(err, ErrDifferentQuantities) {
		t.Errorf("gas volume to water volume: %v", err)
	}
	if x, err := Convert(1, mustUnit(t, QuantityThickness, "in"), mustUnit(t, QuantityLength, "mm"), 0); err != nil || !near(x, 25.4) {
		t.Errorf("thickness to length: %v (%v)", x, err)
	}
}

// Every symbol finds its unit, every preset has a unit of each quantity, and every gas volume names its state.
func TestUnits_are_consistent(t *testing.T) {
	for _, q := range Quantities() {
		if len(UnitsOf(q)) == 0 || q.String() == "no quantity" {
			t.Errorf("%v has no units", q)
		}
		for i := range unitTable[q] {
			u := Unit{q, uint8(i)}
			if got, ok := UnitBySymbol(q, u.Symbol()); !ok || got != u {
				t.Errorf("%v: symbol %q finds %q", q, u.Symbol(), got.Symbol())
			}
			for _, a := range u.def().also {
				if got, ok := UnitBySymbol(q, a); !ok || got != u {
					t.Errorf("%v: %q finds %q, not %q", q, a, got.Symbol(), u.Symbol())
				}
			}
		}
		for _, s := range []System{US(), Metric(), {}} {
			if u := s.Unit(q); u.Quantity() != q || u.IsZero() {
				t.Errorf("a preset has no unit of %v", q)
			}
		}
	}
	if got := US().Unit(QuantityStandardFlow).StandardState(); got != "70 °F, 101.325 kPa" {
		t.Errorf("ft³/h is stated at %q", got)
	}
	if got := Metric().Unit(QuantityStandardFlow).StandardState(); got != "15 °C, 101.325 kPa" {
		t.Errorf("L/h is stated at %q", got)
	}
	if got := US().Unit(QuantityVolume).StandardState(); got != "" {
		t.Errorf("a water volume is stated at %q", got)
	}
}

// No quantity and no unit answer harmlessly.
func TestUnits_unknown(t *testing.T) {
	if UnitsOf(200) != nil || Quantity(200).String() != "no quantity" || (Unit{}).Symbol() != "" || (Unit{200, 9}).Symbol() != "" {
		t.Error("an unknown quantity or unit answers")
	}
	if _, ok := UnitBySymbol(200, "mm"); ok {
		t.Error("an unknown quantity has a unit")
	}
	if _, ok := UnitBySymbol(QuantityLength, "psi"); ok {
		t.Error("psi is found as a length")
	}
	if u := US().Unit(200); !u.IsZero() {
		t.Errorf("the unit of no quantity is %q", u.Symbol())
	}
	if US().With(Unit{200, 0}) != US() || US().With(Unit{}) != US() {
		t.Error("an unknown unit changes a system")
	}
	if (GaugePressure(1e5)).Absolute(StandardAtmosphere).Gauge(StandardAtmosphere) != 1e5 {
		t.Error("gauge to absolute and back changes the pressure")
	}
}

// The stored form of a choice of units is kept for ever: these texts must always be read.
func TestSystem_text_form(t *testing.T) {
	bar, mm := mustUnit(t, QuantityPressure, "bar"), mustUnit(t, QuantityThickness, "mm")
	tests := []struct {
		text string
		want System
	}{
		{"us", US()},
		{"metric", Metric()},
		{"us;pressure=bar", US().With(bar)},
		{"us;pressure=bar;thickness=mm", US().With(mm).With(bar)},
		{"metric;gas_flow=ft³/h", Metric().With(mustUnit(t, QuantityStandardFlow, "cfh"))},
		{"metric;gas_price=/100 ft³", Metric().With(mustUnit(t, QuantityMoneyPerVolume, "/100 ft³"))},
	}
	for _, tt := range tests {
		var got System
		if err := got.UnmarshalText([]byte(tt.text)); err != nil || got != tt.want {
			t.Errorf("%q is read as %+v (%v)", tt.text, got, err)
		}
		if text, err := tt.want.MarshalText(); err != nil || string(text) != tt.text {
			t.Errorf("%q is written as %q (%v)", tt.text, text, err)
		}
	}
	if US().With(bar).With(mustUnit(t, QuantityPressure, "psi")) != US() || !US().With(bar).IsUS() {
		t.Error("taking a choice back does not give the preset again")
	}
}

// Any system survives storing, also inside JSON.
func TestSystem_survives_storing(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		s := []System{US(), Metric()}[rng.IntN(2)]
		for _, q := range Quantities() {
			if us := UnitsOf(q); rng.IntN(3) == 0 {
				s = s.With(us[rng.IntN(len(us))])
			}
		}
		data, err := json.Marshal(s)
		var back System
		if err != nil || json.Unmarshal(data, &back) != nil || back != s {
			t.Fatalf("%s is read back as %+v (%v)", data, back, err)
		}
	}
}

// An unknown text is an error and changes nothing.
func TestSystem_refuses_unknown_text(t *testing.T) {
	for _, text := range []string{"", "imperial", "us;", "us;pressure", "us;pressure=", "us;pressure=kg", "us;colour=red", "us;pressure=bar;x=y", "us;no_quantity=mm", "\xff"} {
		s := US()
		if err := s.UnmarshalText([]byte(text)); !errors.Is(err, ErrUnknownSystem) || s != US() {
			t.Errorf("%q: %v, system %+v", text, err, s)
		}
	}
}
