package setup

import "torchside/calc/gas"

// Rig is what the owner has, in SI units. The fuel cylinder, the torch and at least one tip are needed; the rest may be
// missing, and what then cannot be known is said in a warning.
type Rig struct {
	OxygenCylinder  *OxygenCylinder `json:"oxygen_cylinder,omitempty"`
	FuelCylinder    *FuelCylinder   `json:"fuel_cylinder"`
	OxygenRegulator *Regulator      `json:"oxygen_regulator,omitempty"`
	FuelRegulator   *Regulator      `json:"fuel_regulator,omitempty"`
	OxygenHose      *Hose           `json:"oxygen_hose,omitempty"`
	FuelHose        *Hose           `json:"fuel_hose,omitempty"`
	Torch           *Torch          `json:"torch"`
	Tips            []Tip           `json:"tips"`
	Prices          *Prices         `json:"prices,omitempty"`
	// WithdrawalRule names the share of an acetylene cylinder's contents that may be drawn in an hour; empty means the
	// strictest rule. See cylinder.WithdrawalRule.
	WithdrawalRule string `json:"withdrawal_rule,omitempty"`
}

// OxygenCylinder is the oxygen supply.
type OxygenCylinder struct {
	WaterVolumeM3   float64  `json:"water_volume_m3"`            // 0.1 L to 200 L
	GaugePressurePa float64  `json:"gauge_pressure_pa"`          // read now, 0 to 30 MPa
	ReserveGaugePa  *float64 `json:"reserve_gauge_pa,omitempty"` // left in the cylinder; a default from memory when missing
	PricePerStdM3   float64  `json:"price_per_std_m3,omitempty"` // the owner's currency; 0 means not known
	Count           int      `json:"count,omitempty"`            // cylinders on a manifold; 0 means 1
}

// FuelCylinder is the fuel supply. Dissolved and liquefied fuels are known by weight; for acetylene the gauge pressure gives
// a rough band when the weights are missing. Compressed fuels (methane, hydrogen) take water volume and gauge pressure.
type FuelCylinder struct {
	Fuel            gas.Gas  `json:"fuel"`
	GrossMassKg     *float64 `json:"gross_mass_kg,omitempty"`     // on the scale now
	TareMassKg      *float64 `json:"tare_mass_kg,omitempty"`      // stamped, solvent included
	FullMassKg      *float64 `json:"full_mass_kg,omitempty"`      // gas in a full cylinder
	GaugePressurePa *float64 `json:"gauge_pressure_pa,omitempty"` // read now
	WaterVolumeM3   *float64 `json:"water_volume_m3,omitempty"`   // compressed fuels only
	ReserveFraction *float64 `json:"reserve_fraction,omitempty"`  // share of the full mass left in it; a default from memory when missing
	PricePerStdM3   float64  `json:"price_per_std_m3,omitempty"`  // the owner's currency; 0 means not known
	Count           int      `json:"count,omitempty"`             // cylinders on a manifold; 0 means 1
}

// Regulator is one regulator; MaxGaugePa is the end of its delivery gauge.
type Regulator struct {
	MaxGaugePa float64 `json:"max_gauge_pa"`
}

// HoseGrade is the lining grade of a fuel hose; empty means not known.
type HoseGrade string

// The grades of fuel hose. R and RM are lined for acetylene only, T for all fuel gases (RMA IP-7 / CGA E-1, from memory);
// GradeAcetylene and GradeAllFuels are for hoses marked in words, as those of ISO 3821 are.
const (
	GradeR         HoseGrade = "R"
	GradeRM        HoseGrade = "RM"
	GradeT         HoseGrade = "T"
	GradeAcetylene HoseGrade = "acetylene"
	GradeAllFuels  HoseGrade = "all_fuels"
)

// Hose is one hose with what is screwed to it.
type Hose struct {
	InsideDiameterM float64   `json:"inside_diameter_m"`
	LengthM         float64   `json:"length_m"`
	RoughnessM      float64   `json:"roughness_m,omitempty"`      // 0 means smooth rubber
	LossCoefficient float64   `json:"loss_coefficient,omitempty"` // fittings; pressure lost over the velocity head in the hose bore
	CheckValves     int       `json:"check_valves,omitempty"`
	Arrestors       int       `json:"arrestors,omitempty"`
	Grade           HoseGrade `json:"grade,omitempty"` // fuel hose only
}

// Mixing is how a torch mixes its gases.
type Mixing string

// In an EqualPressure torch both gases meet at the mixer at about the same pressure; in an Injector torch the oxygen jet
// draws in fuel that is near atmospheric.
const (
	EqualPressure Mixing = "equal_pressure"
	Injector      Mixing = "injector"
)

// Torch is the handle with its mixer.
type Torch struct {
	Mixing Mixing `json:"mixing"`
	// InjectorDiameterM is the bore of the oxygen jet of an injector torch, when known.
	InjectorDiameterM *float64 `json:"injector_diameter_m,omitempty"`
}

// Tip is one tip or nozzle: its hole or holes and the maker's chart as far as the owner has typed it in.
type Tip struct {
	Label            string    `json:"label"`
	OrificeDiameterM *float64  `json:"orifice_diameter_m,omitempty"` // of one hole; missing is allowed when a chart row gives the flows
	OrificeCount     int       `json:"orifice_count,omitempty"`      // 0 means 1
	Fuels            []gas.Gas `json:"fuels,omitempty"`              // fuels it is made for; empty means acetylene only
	Works            []Work    `json:"works,omitempty"`              // works it is for; empty means any flame work, and no cutting
	// PreheatDiameterM and PreheatCount are the holes of the preheat flame of a cutting tip, whose OrificeDiameterM is that of the
	// cutting oxygen; missing means not known.
	PreheatDiameterM *float64   `json:"preheat_diameter_m,omitempty"`
	PreheatCount     int        `json:"preheat_count,omitempty"` // 0 means not known
	Chart            []ChartRow `json:"chart,omitempty"`
}

// Range is a closed range in SI units; nil means not given.
type Range struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// ChartPlace says where a chart's pressures are read.
type ChartPlace string

// AtRegulator is the usual meaning of a chart; AtTorch is a pressure at the torch inlet.
const (
	AtRegulator ChartPlace = "regulator"
	AtTorch     ChartPlace = "torch"
)

// ChartRow is one row of the torch maker's own chart for a tip.
type ChartRow struct {
	Work          Work       `json:"work,omitempty"`  // empty means any
	Metal         Metal      `json:"metal,omitempty"` // empty means any
	Fuel          gas.Gas    `json:"fuel,omitempty"`  // empty means the tip's fuels
	ThicknessM    *Range     `json:"thickness_m,omitempty"`
	OxygenGaugePa *Range     `json:"oxygen_gauge_pa,omitempty"`
	FuelGaugePa   *Range     `json:"fuel_gauge_pa,omitempty"`
	OxygenFlowStd *Range     `json:"oxygen_flow_std_m3_s,omitempty"` // of a row for cutting: the cutting oxygen alone
	FuelFlowStd   *Range     `json:"fuel_flow_std_m3_s,omitempty"`
	PressuresAt   ChartPlace `json:"pressures_at,omitempty"` // empty means regulator
	Mixing        Mixing     `json:"mixing,omitempty"`       // the torch the row is for; empty means not known
	Note          string     `json:"note,omitempty"`
}
