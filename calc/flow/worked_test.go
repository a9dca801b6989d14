package flow

import (
	"fmt"
	"math"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Wilkes, Fluid Mechanics for Chemical Engineers, complete isothermal equation: 1000 m of 0.5 m pipe with Darcy f 0.00185 and a
// gas of 11.3 kg/m³ at 1.0 MPa passes 145.485 kg/s to 0.9 MPa.
func Example_isothermalPipe() {
	const inlet, density = 1e6, 11.3
	flux := 145.485 / (math.Pi / 4 * 0.5 * 0.5)
	p := pipe{resistance: 0.00185 * 1000 / 0.5, sonic: flux * math.Sqrt(inlet/density)}
	fmt.Printf("outlet %.1f MPa\n", p.outlet(inlet)/1e6)
	// Output: outlet 0.9 MPa
}

// Balmer, Modern Engineering Thermodynamics, example 16.12: air (k = 1.4) at 7 MPa and 2000 °C chokes in a 20 mm throat.
func Example_chokedAirNozzle() {
	air := nozzle{k: 1.4, specific: gas.R * 2273.15 / 0.02897}
	fmt.Printf("%.2f kg/s\n", air.chokedFlux(7e6)*math.Pi/4*0.02*0.02)
	// Output: 1.86 kg/s
}

type pipeCase struct {
	Inlet    float64 `json:"inlet_abs_pa"`
	Density  float64 `json:"density_kg_m3"`
	Friction float64 `json:"friction_factor_darcy"`
	Length   float64 `json:"length_m"`
	Diameter float64 `json:"diameter_m"`
	MassFlow float64 `json:"mass_flow_kg_s"` // zero asks for the lowest outlet
}

// outlet solves a case; without a flow it finds the largest one by halving and returns the outlet there.
func (c pipeCase) outlet() float64 {
	p := pipe{resistance: c.Friction * c.Length / c.Diameter}
	if c.MassFlow > 0 {
		p.sonic = c.MassFlow / (math.Pi / 4 * c.Diameter * c.Diameter) * math.Sqrt(c.Inlet/c.Density)
		return p.outlet(c.Inlet)
	}
	low, high := 0.0, c.Inlet
	for range 60 {
		p.sonic = (low + high) / 2
		if p.passes(c.Inlet) {
			low = p.sonic
		} else {
			high = p.sonic
		}
	}
	p.sonic = low
	return p.outlet(c.Inlet)
}

func TestPipe_published_examples(t *testing.T) {
	for _, v := range calctest.Vectors(t, "flow/pipe") {
		t.Run(v.Name, func(t *testing.T) {
			var c pipeCase
			v.Input(t, &c)
			v.Near(t, c.outlet())
		})
	}
}

func TestNozzle_published_examples(t *testing.T) {
	for _, v := range calctest.Vectors(t, "flow/nozzle") {
		t.Run(v.Name, func(t *testing.T) {
			var c struct {
				Upstream    float64 `json:"upstream_abs_pa"`
				Temperature float64 `json:"temperature_k"`
				Diameter    float64 `json:"diameter_m"`
				Ratio       float64 `json:"heat_capacity_ratio"`
				MolarMass   float64 `json:"molar_mass_kg_mol"`
			}
			v.Input(t, &c)
			n := nozzle{k: c.Ratio, specific: gas.R * c.Temperature / c.MolarMass}
			v.Near(t, n.chokedFlux(c.Upstream)*math.Pi/4*c.Diameter*c.Diameter)
		})
	}
}

// 40 CFR 1066.630 writes a calibrated critical-flow venturi as V = Kv p/√T; its example has Kv 0.074954 m³√K/(kPa s) at
// 99.654 kPa and 353.15 K and prints 0.39748 m³/s. A choked hole must follow the same law from any other state.
func TestNozzle_choked_flow_goes_with_pressure_over_root_temperature(t *testing.T) {
	venturi := func(p, temperature float64) float64 {
		return nozzle{k: 1.4, specific: 287 * temperature}.chokedFlux(p)
	}
	atReference := 0.074954 * 101.325 / math.Sqrt(293.15)
	got := atReference * venturi(99654, 353.15) / venturi(101325, 293.15)
	calctest.Near(t, got, 0.39748, 5e-5, "40 CFR 1066.630 example, five printed digits")
}

// A tip hole of no. 70 drill, 0.711 mm, with a drilled bore's coefficient, at 5 psi gauge of oxy-acetylene one to one.
func ExampleOrifice_Flow() {
	o := Orifice{
		Mixture:              gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.5},
		Diameter:             0.711e-3,
		DischargeCoefficient: 0.85,
		Upstream:             101325 + 5*6894.757,
		Downstream:           101325,
		Temperature:          293.15,
	}
	r, err := o.Flow()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L/h, choked %v, %.0f m/s in the throat\n", float64(r.Flow)*3.6e6, r.Choked, float64(r.ExitVelocity))
	// Output: 277 L/h, choked false, 218 m/s in the throat
}

// 7.5 m of quarter-inch hose with 500 L/h of acetylene at 5 psi gauge.
func ExampleHose_Outlet() {
	h := Hose{Gas: gas.Acetylene, InsideDiameter: 6.35e-3, Length: 7.5, Roughness: 1.5e-6, Temperature: 293.15}
	r, err := h.Outlet(101325+5*6894.757, 500/3.6e6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("loses %.1f mbar at Re %.0f\n", r.Drop()/100, r.Reynolds)
	_, err = h.Outlet(101325+5*6894.757, 50000/3.6e6)
	fmt.Println(err)
	// Output:
	// loses 3.5 mbar at Re 3082
	// hose: flow_std_m3_s is 0.0138889 (50000 L/h), the hose is choked: with 1.358 bar absolute at the inlet no outlet pressure draws more than 0.00232671 (8376 L/h)
}

// Law: in every regime the band holds the value; outside the transition it is narrow, inside it spans laminar to turbulent.
func TestHose_DropBand_holds_laminar_and_turbulent_drop(t *testing.T) {
	h := Hose{Gas: gas.Oxygen, InsideDiameter: 6.35e-3, Length: 10, Temperature: 293.15}
	for f := 1e-5; f < 4e-3; f *= 1.05 {
		r, err := h.Outlet(4e5, units.StandardFlow(f))
		if err != nil {
			t.Fatal(err)
		}
		b := h.DropBand(r, units.StandardFlow(f))
		if !(b.Low < b.Value && b.Value < b.High) {
			t.Fatalf("at Re %g: %+v", r.Reynolds, b)
		}
		if r.Reynolds < LaminarReynolds || r.Reynolds > TurbulentReynolds {
			calctest.Near(t, b.High/b.Low, 1.03/0.97, 1e-9, "±3 % outside the transition")
			continue
		}
		calctest.Near(t, b.High/b.Low, colebrook(r.Reynolds, 0)/(64/r.Reynolds), 0.03, "drops are near in proportion to friction while the drop is small")
	}
}
