package setup

import (
	"torchside/calc/braze"
	"torchside/calc/flame"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Work is what is to be done with the flame.
type Work string

// The works.
const (
	Weld  Work = "weld"
	Braze Work = "braze"
	Heat  Work = "heat"
	Bend  Work = "bend"
	Cut   Work = "cut"
)

// Metal is the base metal.
type Metal string

// The metals.
const (
	MildSteel       Metal = "mild_steel"
	GalvanisedSteel Metal = "galvanised_steel"
	StainlessSteel  Metal = "stainless_steel"
	CastIron        Metal = "cast_iron"
	Copper          Metal = "copper"
	Brass           Metal = "brass"
	Aluminium       Metal = "aluminium"
)

// Joint is the joint to be made; empty for heating and bending.
type Joint string

// The joints.
const (
	Butt   Joint = "butt"
	Corner Joint = "corner"
	Lap    Joint = "lap"
	Tee    Joint = "tee"
	Edge   Joint = "edge"
)

// Input is one question. Temperature and ambient pressure are those of the shop.
type Input struct {
	Work         Work    `json:"work"`
	Metal        Metal   `json:"metal"`
	ThicknessM   float64 `json:"thickness_m"`
	Joint        Joint   `json:"joint,omitempty"`
	Rig          *Rig    `json:"rig"`
	TemperatureK float64 `json:"temperature_k"`
	AmbientAbsPa float64 `json:"ambient_abs_pa"`
	// TipLabel asks for one tip by name instead of the best one; empty lets Compute choose.
	TipLabel string `json:"tip_label,omitempty"`
	// Ratio asks for another flame than the usual one for the work; 0 means the usual one.
	Ratio float64 `json:"ratio,omitempty"`
	// Cut is what cutting is asked besides; other works do not look at it.
	Cut *CutQuestion `json:"cut,omitempty"`
	// Process, OtherMetal and Filler are for Braze: how the parts are joined, what the other part is of (empty means the same metal),
	// and the class of filler (empty means the best that suits). See calc/braze.
	Process    braze.Process `json:"process,omitempty"`
	OtherMetal Metal         `json:"other_metal,omitempty"`
	Filler     string        `json:"filler,omitempty"`
}

// Card is one settings card. All numbers are SI; see [Provenance] for where each comes from and how sure it is.
type Card struct {
	Work       Work        `json:"work"`
	Metal      Metal       `json:"metal"`
	Tip        string      `json:"tip"`
	TipDetail  TipDetail   `json:"tip_detail"`
	Oxygen     GasLine     `json:"oxygen"`
	Fuel       GasLine     `json:"fuel"`
	FuelName   string      `json:"fuel_name"` // JSON name of the fuel gas
	Mixing     Mixing      `json:"mixing"`
	Ratio      float64     `json:"ratio"`
	FlameClass flame.Class `json:"flame_class"`
	PowerW     float64     `json:"power_w"` // lower heating value of the fuel burned, envelope included
	// PrimaryPowerW is what the torch oxygen can release of it, EnvelopePowerW what the air adds.
	PrimaryPowerW  float64 `json:"primary_power_w"`
	EnvelopePowerW float64 `json:"envelope_power_w"`
	// PrintedHeatSplit tells how handbooks split the heat, and why it differs; empty where none is known.
	PrintedHeatSplit string `json:"printed_heat_split,omitempty"`
	// NetHeatW is what reaches the work: a wide band, from memory.
	NetHeatW Range `json:"net_heat_w"`
	// FlameTemperatureK is the temperature of chemical equilibrium, an upper bound; nil when none was found.
	FlameTemperatureK *float64 `json:"flame_temperature_k"`
	// PrintedTemperature compares what handbooks print for a flame of the class with FlameTemperatureK; empty without a figure.
	PrintedTemperature string `json:"printed_temperature,omitempty"`
	// ExitVelocityMS is the mean velocity out of the tip at ambient state, nil when the hole is not known; ExitClass names it.
	ExitVelocityMS *float64 `json:"exit_velocity_m_s"`
	ExitClass      string   `json:"exit_class"`
	// ConeLengthM is the length of the inner cone over each hole; nil when the hole or the burning velocity is not known.
	ConeLengthM *float64 `json:"cone_length_m"`
	// HoldOnMargin is the pop-back estimate: how many times the flow exceeds that at which the flame could walk back. An
	// order of magnitude; it never overrides the maker's smallest flow. Nil when the hole is not known.
	HoldOnMargin *float64 `json:"hold_on_margin"`
	// EnduranceS is the time of burning until the first gas ends, see GasLine; nil when the contents of either are not known.
	EnduranceS *float64 `json:"endurance_s"`
	LimitedBy  string   `json:"limited_by,omitempty"` // "oxygen" or "fuel"
	// WithoutPauseS is the same without a pause; nil where pauses make no difference.
	WithoutPauseS *float64 `json:"without_pause_s,omitempty"`
	CostPerH      *float64 `json:"cost_per_h"` // the owner's currency; nil when a price is missing
	Shade         Shade    `json:"shade"`
	Filler        *Filler  `json:"filler"` // nil for heating and bending
	Flux          string   `json:"flux"`
	// SpeedMS is the travel speed by hand; nil when no source covers it, and for cutting, see Cutting.
	SpeedMS *Range `json:"speed_m_s"`
	// Heating is filled by WithHeating; nil otherwise.
	Heating *Heating `json:"-"`
	// Cutting is filled for cutting; nil for other works.
	Cutting *Cutting `json:"cutting,omitempty"`
	// Job is what the job costs; nil without a price, or where the job is not known. JobTimeS is how long its flame burns, nil likewise.
	Job      *JobCost    `json:"-"`
	JobTimeS *units.Band `json:"-"`
	// Joining is how a brazed joint is made; nil for other works. WithJoint adds what its rod and flux come to.
	Joining *Joining `json:"-"`
	// Tips are all tips of the rig, in its order, with what they would do.
	Tips       []TipVerdict          `json:"tips"`
	Warnings   []Warning             `json:"warnings"`
	Provenance map[string]Provenance `json:"provenance"`
}

// TipDetail is the chosen tip's hole; of a cutting tip that of the cutting oxygen, and the holes of its preheat.
type TipDetail struct {
	OrificeDiameterM *float64 `json:"orifice_diameter_m"`
	OrificeCount     int      `json:"orifice_count"`
	PreheatDiameterM *float64 `json:"preheat_diameter_m,omitempty"`
	PreheatCount     int      `json:"preheat_count,omitempty"`
}

// GasLine is one gas of the card, from the regulator to the torch.
type GasLine struct {
	RegulatorGaugePa float64 `json:"regulator_gauge_pa"` // with the torch valve open and the gas flowing
	TorchGaugePa     float64 `json:"torch_gauge_pa"`     // at the torch inlet
	FlowStdM3S       float64 `json:"flow_std_m3_s"`
	// ContentsStdM3 is what can be drawn down to the reserve, nil when not known.
	ContentsStdM3 *float64 `json:"contents_std_m3"`
	// EnduranceS is the time of burning at this flow, in intermittent use, until EndedBy ends it; nil when the contents are not
	// known. End says in words what ends it.
	EnduranceS *float64 `json:"endurance_s"`
	EndedBy    Ending   `json:"ended_by,omitempty"`
	End        string   `json:"end,omitempty"`
	// WithoutPauseS is the time in continuous use; nil where the withdrawal rule makes no difference.
	WithoutPauseS *float64 `json:"without_pause_s,omitempty"`
	// RegulatorMaxPa is the end of the delivery gauge, for drawing it; nil when not entered.
	RegulatorMaxPa *float64 `json:"regulator_max_pa"`
}

// Shade is the filter lens for the eyes.
type Shade struct {
	Minimum         int `json:"minimum"`
	RecommendedLow  int `json:"recommended_low"`
	RecommendedHigh int `json:"recommended_high"`
}

// Filler is the rod.
type Filler struct {
	Classes   []string `json:"classes"` // AWS classes or solders, the usual one first; of brazing those of one family
	DiameterM *Range   `json:"diameter_m"`
	// MeltsK is the melting range (solidus to liquidus) of the first class; nil for steel rods.
	MeltsK *Range `json:"melts_k"`
}

// Level ranks a warning.
type Level string

// A Caution concerns safety, a Check is something to measure or enter, a Note is good to know.
const (
	Caution Level = "caution"
	Check   Level = "check"
	Note    Level = "note"
)

// Warning is one short caution. Concerns names the field it must be shown before, as a key of Card.Provenance; empty means
// before the whole card.
type Warning struct {
	Code     string `json:"code"`
	Level    Level  `json:"level"`
	Text     string `json:"text"`
	Source   string `json:"source"`
	Concerns string `json:"concerns,omitempty"`
}

// Kind is where a number comes from.
type Kind string

// The kinds, the strongest first.
const (
	MakersChart    Kind = "maker's chart"
	Handbook       Kind = "handbook"
	Computed       Kind = "computed"
	CommonPractice Kind = "common practice"
)

// Provenance tells where one number comes from and how sure it is. Value, Low and High are in the unit of the field named.
type Provenance struct {
	Kind       Kind          `json:"kind"`
	Source     string        `json:"source"`
	FromMemory bool          `json:"from_memory,omitempty"` // some part of it has not been read in its source yet
	Formula    string        `json:"formula,omitempty"`
	Inputs     []NamedValue  `json:"inputs,omitempty"`
	Low        float64       `json:"low"`
	High       float64       `json:"high"`
	Reason     string        `json:"reason,omitempty"` // why the band is as wide as it is
	Others     []Alternative `json:"others,omitempty"` // what weaker sources say
}

// NamedValue is one input of a formula. Quantity is a name of calc/units in lower case ("pressure", "length",
// "standard_flow", "temperature", "number", …); Gas is set for standard volumes and flows.
type NamedValue struct {
	Name     string  `json:"name"`
	Quantity string  `json:"quantity"`
	SI       float64 `json:"si"`
	Gas      string  `json:"gas,omitempty"`
}

// Alternative is what another source gives for the same number.
type Alternative struct {
	Kind       Kind    `json:"kind"`
	Source     string  `json:"source"`
	FromMemory bool    `json:"from_memory,omitempty"`
	Value      float64 `json:"value"`
}

// Refusal is an answer that no card can be given: what was read, what is allowed, why, and the ways out.
type Refusal struct {
	Code    string   `json:"code"`
	Field   string   `json:"field"` // as in the JSON of Input, with dots
	Read    string   `json:"read"`
	Allowed string   `json:"allowed"`
	Why     string   `json:"why"`
	Source  string   `json:"source,omitempty"`
	WaysOut []string `json:"ways_out,omitempty"`
	// Tips are all tips of the rig when it was the tips that gave no card.
	Tips []TipVerdict `json:"tips,omitempty"`
}

// Error gives the refusal as one readable line.
func (r *Refusal) Error() string {
	s := words.S("%s: read %s; allowed: %s; %s", r.Field, r.Read, r.Allowed, r.Why)
	for _, w := range r.WaysOut {
		s += words.S("; %s", w)
	}
	return s
}
