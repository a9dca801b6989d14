package flow

import (
	"fmt"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Hose is a hose of one bore with its fittings, and the gas in it.
type Hose struct {
	Gas            gas.Gas
	InsideDiameter units.Length
	Length         units.Length
	Roughness      units.Length // of the inner wall; zero is smooth, extruded rubber about 1.5–10 µm
	// LossCoefficient is the sum ΣK of fittings, check valves and arrestors: pressure lost at each over the velocity head ½ρu²
	// in the hose bore. Zero leaves them out; they often lose more than the hose.
	LossCoefficient float64
	Temperature     units.Temperature // of hose and gas
}

// HoseResult is a hose at one flow.
type HoseResult struct {
	Outlet, Inlet units.AbsolutePressure
	// Reynolds is 4m/(πDη), constant along the hose; FrictionFactor is the Darcy one. Both are 0 when nothing flows.
	Reynolds, FrictionFactor float64
}

// Drop returns the pressure lost along the hose, in Pa.
func (r HoseResult) Drop() float64 { return float64(r.Inlet - r.Outlet) }

// ChokedError reports a flow that the hose cannot pass at one end pressure, whatever the pressure at the other end.
type ChokedError struct {
	End      string                 // the end whose pressure was given: "inlet" or "outlet"
	Pressure units.AbsolutePressure // at that end
	Flow     units.StandardFlow     // asked
	Largest  units.StandardFlow     // the most that passes at that pressure
}

// Error returns one readable line with the flow asked, the limit hit and the largest flow.
func (e *ChokedError) Error() string {
	reason := "no outlet pressure draws more"
	if e.End == "outlet" {
		reason = "no inlet pressure drives more"
	}
	return words.F("flow_std_m3_s is %.6g (%.0f L/h), the hose is choked: with %.4g bar absolute at the %s %s than %.6g (%.0f L/h)",
		float64(e.Flow), litresPerHour(e.Flow), float64(e.Pressure)/1e5, e.End, reason, float64(e.Largest), litresPerHour(e.Largest))
}

func litresPerHour(f units.StandardFlow) float64 { return float64(f) * 3.6e6 }

// state is what a flow fixes in a hose before any pressure is known.
type state struct {
	flux, reynolds, friction, resistance float64
}

// Outlet returns the pressure at the far end of the hose, by the isothermal equation of pipe with the real gas density at
// the inlet and the viscosity at Temperature. Zero flow gives the inlet pressure. An outlet below ambient is no error:
// only suction at the end of the hose, such as an injector's, could draw that flow. Within 1 % of the drop of a numerical integration with real-gas density. DropBand
// gives the uncertainty, which is wide in the transition of FrictionFactor.
//
// Errors: *gas.RangeError for a value outside its limits; *ChokedError when no outlet pressure passes the flow.
func (h Hose) Outlet(inlet units.AbsolutePressure, flow units.StandardFlow) (HoseResult, error) {
	specific, err := h.prepare("inlet_abs_pa", inlet, flow)
	if err != nil {
		return HoseResult{}, fmt.Errorf("hose: %w", err)
	}
	if flow <= 0 { // or the last bit below, which the limits let pass
		return HoseResult{Outlet: inlet, Inlet: inlet}, nil
	}
	s := h.state(flow)
	p := pipe{resistance: s.resistance, sonic: s.flux * math.Sqrt(specific)}
	if !p.passes(float64(inlet)) {
		return HoseResult{}, fmt.Errorf("hose: %w", &ChokedError{"inlet", inlet, flow, h.largest(inlet, specific)})
	}
	return s.result(inlet, units.AbsolutePressure(p.outlet(float64(inlet)))), nil
}

// densityRounds of correcting the inlet density settle Inlet: each shrinks the error by more than ten times, as the
// compressibility of these gases moves little with pressure.
const densityRounds = 30

// sonicSlack lets Inlet answer for the outlet of the largest flow, which lies on the limit but for rounding: near it the outlet
// moves with the square root of the flow, so that 1e-16 of flow is 1e-8 of the outlet.
const sonicSlack = 1e-7

// Inlet returns the pressure needed at the near end of the hose; it inverts Outlet. Zero flow gives the outlet pressure.
//
// Errors: *gas.RangeError for a value outside its limits, or when the inlet pressure found is beyond what is known of the gas;
// *ChokedError when the outlet pressure is so low that the gas would have to leave faster than its isothermal limit.
func (h Hose) Inlet(outlet units.AbsolutePressure, flow units.StandardFlow) (HoseResult, error) {
	specific, err := h.prepare("outlet_abs_pa", outlet, flow)
	if err != nil {
		return HoseResult{}, fmt.Errorf("hose: %w", err)
	}
	if flow <= 0 {
		return HoseResult{Outlet: outlet, Inlet: outlet}, nil
	}
	s := h.state(flow)
	inlet, sonic := outlet, 0.0
	for range densityRounds {
		last := inlet
		sonic = s.flux * math.Sqrt(specific)
		inlet = units.AbsolutePressure(pipe{s.resistance, min(sonic, float64(outlet))}.inlet(float64(outlet)))
		if specific, err = h.specific("inlet_abs_pa", inlet); err != nil {
			return HoseResult{}, fmt.Errorf("hose: %w", err)
		}
		if math.Abs(float64(inlet-last)) <= 1e-14*float64(inlet) {
			break
		}
	}
	if sonic > float64(outlet)*(1+sonicSlack) {
		return HoseResult{}, fmt.Errorf("hose: %w", &ChokedError{"outlet", outlet, flow, h.flow(float64(outlet) / math.Sqrt(specific))})
	}
	return s.result(inlet, outlet), nil
}

// largest halves the interval between no flow and gas at the isothermal limit in a hose of no length. What passes is one
// interval, because the loss grows with the flow. 60 halvings leave 1e-18 of the interval.
func (h Hose) largest(inlet units.AbsolutePressure, specific float64) units.StandardFlow {
	var low, high units.StandardFlow = 0, h.flow(float64(inlet) / math.Sqrt(specific))
	for range 60 {
		middle := (low + high) / 2
		s := h.state(middle)
		if (pipe{s.resistance, s.flux * math.Sqrt(specific)}).passes(float64(inlet)) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// prepare checks all inputs and returns p/ρ in J/kg at the given end.
func (h Hose) prepare(field string, p units.AbsolutePressure, flow units.StandardFlow) (float64, error) {
	if err := h.check(flow); err != nil {
		return 0, err
	}
	return h.specific(field, p)
}

// specific is p/ρ in J/kg of the real gas.
func (h Hose) specific(field string, p units.AbsolutePressure) (float64, error) {
	if err := inRange(field, p, MinPressure, MaxHosePressure, "Pa", pressureWhy); err != nil {
		return 0, err
	}
	density, err := h.Gas.Density(p, h.Temperature)
	if err != nil {
		return 0, renamed(err, field)
	}
	return float64(p) / float64(density), nil
}

// area is the bore in m².
func (h Hose) area() float64 {
	return math.Pi / 4 * float64(h.InsideDiameter) * float64(h.InsideDiameter)
}

// flow converts a mass flux in kg/(m² s).
func (h Hose) flow(flux float64) units.StandardFlow {
	return units.StandardFlow(flux * h.area() / float64(h.Gas.StandardDensity()))
}

func (h Hose) state(flow units.StandardFlow) state {
	diameter := float64(h.InsideDiameter)
	flux := float64(flow) * float64(h.Gas.StandardDensity()) / h.area()
	re := flux * diameter / h.Gas.Viscosity(h.Temperature)
	f := FrictionFactor(re, max(float64(h.Roughness), 0)/diameter)
	return state{flux, re, f, f*float64(h.Length)/diameter + h.LossCoefficient}
}

func (s state) result(inlet, outlet units.AbsolutePressure) HoseResult {
	return HoseResult{Outlet: outlet, Inlet: inlet, Reynolds: s.reynolds, FrictionFactor: s.friction}
}
