package order_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/order"
	"torchside/calc/units"
)

// hose is an invented one: 5 m of 6.3 mm, as ISO 3821 has it, at 0.4 bar.
var hose = order.Hose{Gas: gas.Acetylene, InsideDiameter: 0.0063, Length: 5, Gauge: 40e3, Ambient: units.StandardAtmosphere,
	Temperature: 288.15, Flow: units.StandardFlow(150.0 / 3.6e6)}

func ExampleHose_Purge() {
	p, err := hose.Purge()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f s, %.2f L of acetylene, %.1f %% left\n", float64(p.Time), float64(p.Gas)*1e3, p.Left*100)
	// Output: 26 s, 1.09 L of acetylene, 0.7 % left
}

// The law of Boyle gives the same within what a real gas differs from an ideal one.
func TestHose_Purge_againstBoyle(t *testing.T) {
	p, err := hose.Purge()
	if err != nil {
		t.Fatal(err)
	}
	volume := math.Pi / 4 * 0.0063 * 0.0063 * 5
	calctest.Near(t, float64(p.Gas), 5*volume*141325/101325, 0.005, "pV law; acetylene at 1.4 bar is 0.3 % from ideal")
}

// Left is what mixing leaves: gas is let in by small steps, and each takes its share of the old gas out.
func TestHose_Purge_leavesWhatMixingLeaves(t *testing.T) {
	p, err := hose.Purge()
	if err != nil {
		t.Fatal(err)
	}
	const steps = 1e6
	left := 1.0
	for range int(steps) {
		left -= left * order.PurgeVolumes / steps
	}
	calctest.Near(t, p.Left, left, 1e-4, "sum of a million small steps")
	if p.Left > 0.01 {
		t.Errorf("%.3f of the old gas is left", p.Left)
	}
}

// Twice the length takes twice the time, twice the flow half of it, twice the bore four times as long.
func TestHose_Purge_laws(t *testing.T) {
	random := rand.New(rand.NewSource(5))
	for range 500 {
		h := order.Hose{Gas: []gas.Gas{gas.Oxygen, gas.Acetylene, gas.Propane}[random.Intn(3)], InsideDiameter: units.Length(0.003 + 0.006*random.Float64()),
			Length: units.Length(1 + 30*random.Float64()), Gauge: units.GaugePressure(90e3 * random.Float64()), Ambient: units.AbsolutePressure(8e4 + 2e4*random.Float64()),
			Temperature: units.Temperature(263 + 40*random.Float64()), Flow: units.StandardFlow(1e-5 + 1e-3*random.Float64())}
		base := seconds(t, h)
		for name, c := range map[string]struct {
			change func(*order.Hose)
			times  float64
		}{
			"length":   {func(h *order.Hose) { h.Length *= 2 }, 2},
			"flow":     {func(h *order.Hose) { h.Flow *= 2 }, 0.5},
			"diameter": {func(h *order.Hose) { h.InsideDiameter *= 2 }, 4},
		} {
			other := h
			c.change(&other)
			calctest.Near(t, seconds(t, other)/base, c.times, 1e-9, name+" counts by its power")
		}
		more := h
		more.Gauge += 10e3
		if seconds(t, more) <= base {
			t.Errorf("%+v: more pressure holds more gas", h)
		}
	}
}

func seconds(t *testing.T, h order.Hose) float64 {
	t.Helper()
	p, err := h.Purge()
	if err != nil {
		t.Fatal(err)
	}
	return float64(p.Time)
}

// A bad number is refused by name, never taken for another.
func TestHose_Purge_refuses(t *testing.T) {
	for field, change := range map[string]func(*order.Hose){
		"inside_diameter_m": func(h *order.Hose) { h.InsideDiameter = 0 },
		"length_m":          func(h *order.Hose) { h.Length = -5 },
		"flow_std_m3_s":     func(h *order.Hose) { h.Flow = 0 },
		"abs_pressure_pa":   func(h *order.Hose) { h.Gauge = 5e6 },
		"temperature_k":     func(h *order.Hose) { h.Temperature = units.Temperature(math.NaN()) },
	} {
		h := hose
		change(&h)
		var out *gas.RangeError
		if _, err := h.Purge(); !errors.As(err, &out) || out.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	h := hose
	h.Gas = "steam"
	if _, err := h.Purge(); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("steam: %v", err)
	}
}
