package cut

import (
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Start is where the cut begins.
type Start string

// The two ways to start.
const (
	Edge   Start = "edge"
	Pierce Start = "pierce"
)

// Input is one question.
type Input struct {
	Metal     Metal // mild steel when empty
	Painted   bool  // or greased, or of unknown coating
	Thickness units.Length
	Orifice   units.Length // of the cutting oxygen; 0: chosen for the thickness
	Length    units.Length // of the cut
	Purity    float64      // mole fraction of oxygen, the rest taken as argon; UsualPurity when 0
	Fuel      gas.Gas      // acetylene when empty
	Start     Start        // edge when empty
	// Torch is the pressure of the cutting oxygen at the torch when it is not to be chosen, as from a maker's chart; Flow is the flow
	// of the cutting oxygen when a chart gives it. 0: worked out.
	Torch units.GaugePressure
	Flow  units.StandardFlow
	// OxygenHose is the hose to the torch; without one the regulator pressure is not answered. Gas and Temperature are filled in.
	OxygenHose *flow.Hose
	// Brief leaves Result.Balance out: of all that is computed it takes longest.
	Brief       bool
	Temperature units.Temperature      // of plate and gas; 20 °C when 0
	Ambient     units.AbsolutePressure // units.StandardAtmosphere when 0
}

// Limits of the input, inclusive.
const (
	ThinnestCut units.Length = 0.0015
	// ThickestCut is 300 mm; Carvill, Mechanical Engineer's Data Handbook, p. 210: thicker can be cut, with data of its own.
	ThickestCut units.Length = 0.3
	// PoorestOxygen is the purity below which no cut is possible: course notes on oxygen cutting.
	PoorestOxygen = 0.95
	// UsualPurity is that of oxygen as delivered, at least: TC 9-237.
	UsualPurity = 0.995
	longestCut  = 1000
)

const (
	whyThickness = "thinner sheet melts or warps before it is cut, and thicker steel wants data this table does not hold"
	whyPurity    = "below 95 % oxygen no cut is possible (course notes on oxygen cutting), and nothing is purer than 1"
	whyLength    = "a cut has a length, in metres"
	whyPlate     = "a plate in a workshop; a hot plate needs less time than worked out here"
	whyAmbient   = "the air pressure around the gauge"
	whyTorch     = "cutting oxygen stands between a tenth of a bar and 40 bar"
	whyFlow      = "flows of cutting oxygen lie in this range"
)

// defaulted fills in what was left empty.
func (in Input) defaulted() Input {
	if in.Metal == "" {
		in.Metal = MildSteel
	}
	if in.Purity == 0 {
		in.Purity = UsualPurity
	}
	if in.Fuel == "" {
		in.Fuel = gas.Acetylene
	}
	if in.Start == "" {
		in.Start = Edge
	}
	if in.Temperature == 0 {
		in.Temperature = 293.15
	}
	if in.Ambient == 0 {
		in.Ambient = units.StandardAtmosphere
	}
	return in
}

// WordError is a word that is not in its list.
type WordError struct{ Field, Read, Allowed string }

// Error returns one readable line.
func (e *WordError) Error() string {
	return words.F("%s is %q, allowed is %s", e.Field, e.Read, e.Allowed)
}

// check tests a defaulted input but for the orifice.
func (in Input) check() error {
	if err := CheckMetal(in.Metal); err != nil {
		return err
	}
	if !in.Fuel.IsFuel() {
		return &WordError{"fuel", string(in.Fuel), "one of the fuel gases"}
	}
	if in.Start != Edge && in.Start != Pierce {
		return &WordError{"start", string(in.Start), "edge or pierce"}
	}
	for _, err := range []error{
		gas.InRange("thickness_m", float64(in.Thickness), float64(ThinnestCut), float64(ThickestCut), "m", whyThickness),
		gas.InRange("length_m", float64(in.Length), 1e-3, longestCut, "m", whyLength),
		gas.InRange("oxygen_purity", in.Purity, PoorestOxygen, 1, "", whyPurity),
		gas.InRange("temperature_k", float64(in.Temperature), 253.15, 323.15, "K", whyPlate),
		gas.InRange("ambient_abs_pa", float64(in.Ambient), 50e3, 120e3, "Pa", whyAmbient),
		in.checkGiven(),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// checkGiven tests what is 0 when it is to be worked out.
func (in Input) checkGiven() error {
	if in.Torch != 0 {
		if err := gas.InRange("torch_gauge_pa", float64(in.Torch), 1e4, 4e6, "Pa", whyTorch); err != nil {
			return err
		}
	}
	if in.Flow != 0 {
		return gas.InRange("flow_std_m3_s", float64(in.Flow), 1e-7, 0.05, "m³/s", whyFlow)
	}
	return nil
}
