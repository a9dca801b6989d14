package state

import (
	"slices"

	"torchside/calc/units"
)

// The limits below are those calc/setup checks again; the reasons are the trade's. Gauge pressures in Pa, lengths in m, masses
// in kg.
const (
	maxCylinderPa = 30e6
	maxSetPa      = 4e6
)

var gasOptions = []Option{
	{Value: "oxygen", Label: "Oxygen"}, {Value: "acetylene", Label: "Acetylene"}, {Value: "propane", Label: "Propane"},
	{Value: "propylene", Label: "Propylene"}, {Value: "methylacetylene", Label: "Methylacetylene (propyne)"},
	{Value: "propadiene", Label: "Propadiene (allene)"}, {Value: "methane", Label: "Natural gas (methane)"},
	{Value: "hydrogen", Label: "Hydrogen"},
}

var (
	isWeighed    = isGas("acetylene", "propane", "propylene", "methylacetylene", "propadiene")
	isCompressed = isGas("oxygen", "methane", "hydrogen")
)

var cylinderSpecs = slices.Concat([]Spec{
	choiceSpec("gas", "Which gas?", gasOptions),
	choiceSpec("size", "Which size do you know?", sizeOptions).only(isCompressed),
	numberSpec("water_volume", "Water volume", "Stamped on the shoulder, in litres or cubic inches.", units.QuantityVolume, 0.0001, 0.2,
		"one cylinder holds 0.1 to 200 litres of water").brief("Water").only(isSized("")).need(),
	numberSpec("full_contents", "Gas in it when full", "The size it is sold by: 80 ft³, 10 m³. In ft³ it counts at 70 °F, in litres and m³ at 15 °C.", units.QuantityStandardVolume,
		minContentsM3, maxContentsM3, "the largest single cylinder, 200 litres of water at 300 bar, holds about this").brief("Full").of("own").only(isSized(sizeAsSold)).need().in("m³", "ft³"),
	numberSpec("fill_gauge", "Pressure when full", "As the supplier states it for that size; not what the gauge shows now.", units.QuantityPressure, minFillPa, maxCylinderPa,
		"cylinders are filled to 10 to 300 bar").brief("Filled to").only(isSized(sizeAsSold)).need().steps(stepsCylinder),
	numberSpec("gauge_pressure", "Cylinder gauge now", "A fresh oxygen cylinder stands near 140 bar, 2000 psi (common practice, no source).",
		units.QuantityPressure, 0, maxCylinderPa, "cylinders are filled to at most 300 bar").brief("Gauge").only(isCompressed).need().steps(stepsCylinder),
	numberSpec("gross_mass", "Weight on the scale now", "With valve, without regulator and cap.", units.QuantityMass, 0.01, 500,
		"a cylinder one can wheel weighs at most this").brief("Scale").only(isWeighed).steps(stepsMass),
	numberSpec("tare_mass", "Tare weight", "Stamped on the shoulder; for acetylene it counts the solvent.", units.QuantityMass, 0.01, 500,
		"a cylinder one can wheel weighs at most this").brief("Tare").only(isWeighed),
	choiceSpec("full_as", "How do you know the full charge?", chargeOptions).only(isGas("acetylene")),
	numberSpec("full_mass", "Gas in it when full", "The weight of the gas alone.", units.QuantityMass, 0.01, 500,
		"the gas of one cylinder weighs at most this").brief("Full, gas").only(isCharged("")),
	numberSpec("full_charge", "Gas in it when full", "The size it is sold by: 145 ft³, 4 m³. In ft³ it counts at 70 °F, in litres and m³ at 15 °C.", units.QuantityStandardVolume,
		minContentsM3, maxContentsM3, "no acetylene cylinder one can wheel holds more").brief("Full").of("own").only(isCharged(sizeAsSold)).in("m³", "ft³"),
	numberSpec("gauge_pressure_fuel", "Cylinder gauge now", "Tells the contents only roughly: the scale knows better.", units.QuantityPressure, 0, maxSetPa,
		"an acetylene cylinder stands at about 17 bar when full, and below 40 bar even in the sun (common practice, no source)").brief("Gauge").only(isGas("acetylene")).steps(stepsWorking),
	numberSpec("reserve_gauge", "Leave in it", "The gauge reading at which you change cylinders; empty takes the one set on Bench.", units.QuantityPressure, 0, maxCylinderPa,
		"cylinders are filled to at most 300 bar").brief("Leave").only(isCompressed).steps(stepsCylinder),
	numberSpec("reserve_fraction", "Leave in it, share of full", "0.1 or 10 %; empty takes the one set on Bench.", units.QuantityNumber, 0, 0.9,
		"what is left is a share of a full cylinder").brief("Leave").only(isWeighed),
}, costSpecs, []Spec{
	numberSpec("count", "Cylinders on one manifold", "", units.QuantityNumber, 1, 20, "cylinders on one manifold").whole().start("1"),
	dateSpec("tested", "Last test stamped on it", ""),
	textSpec("name", "Name", "What you call it. May stay empty."),
	textSpec("note", "Note", ""),
})

var regulatorSpecs = []Spec{
	lineSpec(),
	numberSpec("max_gauge", "End of the delivery gauge's scale", "The last figure on the small gauge, so that it can be drawn.", units.QuantityPressure, 1e3, maxCylinderPa,
		"the end of the scale of a delivery gauge").brief("Delivery gauge to").need().steps(stepTable{"psi": 5, "bar": 0.5, "kPa": 50, "MPa": 0.05, "mbar": 500}),
	numberSpec("delivery_division", "One division of the delivery gauge", "The step between two of its lines; a leak test needs it.", units.QuantityPressure, leakDivisionMin, leakDivisionMax,
		whyDivision).brief("Delivery division"),
	numberSpec("supply_max_gauge", "Last figure of the cylinder gauge", "The end of the scale of the big gauge.", units.QuantityPressure, 1e3, 2*maxCylinderPa,
		"the end of the scale of a cylinder gauge").brief("Cylinder gauge to"),
	numberSpec("supply_division", "One division of the cylinder gauge", "The step between two of its lines.", units.QuantityPressure, leakDivisionMin, leakDivisionMax,
		whyDivision).brief("Cylinder division"),
	dateSpec("serviced", "Last serviced", ""),
	dateSpec("replace_by", "Service or replace by", ""),
	textSpec("name", "Name", "What you call it. May stay empty."),
	textSpec("note", "Note", ""),
}

var gradeOptions = []Option{
	{Value: "", Label: "Not known"}, {Value: "R", Label: "R", Note: "acetylene only"}, {Value: "RM", Label: "RM", Note: "acetylene only"},
	{Value: "T", Label: "T", Note: "all fuel gases"}, {Value: "acetylene", Label: "Marked for acetylene"},
	{Value: "all_fuels", Label: "Marked for all fuel gases"},
}

var hoseSpecs = []Spec{
	lineSpec(),
	numberSpec("inside_diameter", "Inside diameter", "Marked on the hose.", units.QuantityBore, 0.002, 0.026, "bores of torch hoses lie in this range").brief("Bore").need(),
	numberSpec("length", "Length", "", units.QuantityLength, 0.1, 100, "a hose has a length, and the pressure lost in it depends on it").need(),
	choiceSpec("grade", "Grade printed on it", gradeOptions).brief("Grade ").only(isChoice("line", LineFuel)),
	numberSpec("loss_coefficient", "Extra loss of fittings", "Count about 1 for each sharp elbow or tee in the line (from memory). Leave it empty if you don't know. Valves and arrestors are parts of their own.", units.QuantityNumber, 0, 10000,
		"a line with more loss passes no gas").brief("Extra loss"),
	dateSpec("made", "Made", "Printed on the hose."),
	dateSpec("replace_by", "Replace by", ""),
	textSpec("name", "Name", "What you call it. May stay empty."),
	textSpec("note", "Note", ""),
}

var arrestorSpecs = []Spec{
	lineSpec(),
	choiceSpec("type", "What is it?", []Option{{Value: "flashback_arrestor", Label: "Flashback arrestor"}, {Value: "check_valve", Label: "Check valve"}}),
	choiceSpec("place", "Where does it sit?", []Option{{Value: "regulator", Label: "At the regulator"}, {Value: "torch", Label: "At the torch"}}),
	dateSpec("tested", "Last tested", ""),
	dateSpec("replace_by", "Test or replace by", ""),
	textSpec("name", "Name", "What you call it. May stay empty."),
	textSpec("note", "Note", ""),
}

var torchSpecs = []Spec{
	choiceSpec("mixing", "How does it mix?", []Option{
		{Value: "equal_pressure", Label: "Equal pressure", Note: "both gases meet at the mixer"},
		{Value: "injector", Label: "Injector", Note: "the oxygen jet draws the fuel in"}}),
	numberSpec("injector_diameter", "Oxygen jet of the injector", "May stay empty.", units.QuantityBore, 0.0001, 0.003,
		"the oxygen jet of an injector is a hole in this range").brief("Jet").only(isChoice("mixing", "injector")),
	choiceSpec("shut_first", "Which valve closes first at a normal stop?", []Option{
		{Value: "", Label: "As advised"}, {Value: "fuel", Label: "Fuel first"}, {Value: "oxygen", Label: "Oxygen first"}}).brief("Stop: "),
	choiceSpec("light_first", "How is it lit?", []Option{
		{Value: "", Label: "As advised"}, {Value: "fuel", Label: "Fuel alone"}, {Value: "cracked", Label: "A little oxygen, then fuel"}}).brief("Lighting: "),
	dateSpec("serviced", "Last serviced", ""),
	textSpec("name", "Name", "What you call it. May stay empty."),
	textSpec("note", "Note", ""),
}

var tipSpecs = []Spec{
	{Key: "name", Label: "Marking on the tip", Help: "As stamped: the settings card names the tip by it.", Type: TypeText, required: true},
	choiceSpec("work", "Made for which work?", append([]Option{{Value: "", Label: "Any flame work"}}, workOptions...)),
	numberSpec("orifice_diameter", "Hole", "A drill number, inches or millimetres; of a cutting tip the hole in its middle, for the cutting oxygen. May stay empty when the maker's chart gives the flow.", units.QuantityBore, 0.0002, 0.006,
		"holes of flame tips lie in this range").brief("Hole"),
	numberSpec("orifice_count", "Number of holes", "", units.QuantityNumber, 1, 200, "holes in one tip").brief("Holes").whole().start("1").only(isNotChoice("work", "cut")),
	numberSpec("preheat_count", "Holes of the preheat", "Around the hole for the cutting oxygen. May stay empty.", units.QuantityNumber, 1, 200, "holes in one tip").brief("Preheat holes").whole().only(isChoice("work", "cut")),
	numberSpec("preheat_diameter", "Size of one preheat hole", "With it the preheat flame is drawn and its pressure computed. May stay empty.", units.QuantityBore, 0.0002, 0.006,
		"holes of flame tips lie in this range").brief("Preheat hole").only(isChoice("work", "cut")),
	choiceSpec("fuel", "Made for which fuel?", gasOptions[1:]).brief("For "),
	textSpec("note", "Note", ""),
}

var workOptions = []Option{
	{Value: "weld", Label: "Weld"}, {Value: "braze", Label: "Braze"}, {Value: "heat", Label: "Heat"}, {Value: "bend", Label: "Bend"}, {Value: "cut", Label: "Cut"},
}

var metalOptions = []Option{
	{Value: "mild_steel", Label: "Mild steel"}, {Value: "galvanised_steel", Label: "Galvanised steel"}, {Value: "stainless_steel", Label: "Stainless steel"},
	{Value: "cast_iron", Label: "Cast iron"}, {Value: "copper", Label: "Copper"}, {Value: "brass", Label: "Brass"}, {Value: "aluminium", Label: "Aluminium"},
}

var chartRowSpecs = []Spec{
	choiceSpec("work", "For which work?", append([]Option{{Value: "", Label: "Any"}}, workOptions...)),
	numberSpec("thickness_low", "Thickness from", "", units.QuantityThickness, 1e-5, 0.3, "thickness of metal worked with a flame").pair(),
	numberSpec("thickness_high", "to", "", units.QuantityThickness, 1e-5, 0.3, "thickness of metal worked with a flame"),
	numberSpec("oxygen_low", "Oxygen pressure from", "", units.QuantityPressure, 0, maxSetPa, "working pressures of flame tips lie far below this").pair(),
	numberSpec("oxygen_high", "to", "", units.QuantityPressure, 0, maxSetPa, "working pressures of flame tips lie far below this"),
	numberSpec("fuel_low", "Fuel pressure from", "", units.QuantityPressure, 0, maxSetPa, "working pressures of flame tips lie far below this").pair(),
	numberSpec("fuel_high", "to", "", units.QuantityPressure, 0, maxSetPa, "working pressures of flame tips lie far below this"),
	choiceSpec("pressures_at", "Pressures are read at the", []Option{{Value: "", Label: "Regulator", Note: "the usual meaning"}, {Value: "torch", Label: "Torch inlet"}}),
	choiceSpec("mixing", "For which torch?", []Option{{Value: "", Label: "Not said"}, {Value: "equal_pressure", Label: "Equal pressure"}, {Value: "injector", Label: "Injector"}}),
	numberSpec("oxygen_flow_low", "Oxygen flow from", "", units.QuantityStandardFlow, 1e-7, 0.05, "flows of flame tips lie in this range").of(LineOxygen).pair(),
	numberSpec("oxygen_flow_high", "to", "", units.QuantityStandardFlow, 1e-7, 0.05, "flows of flame tips lie in this range").of(LineOxygen),
	numberSpec("fuel_flow_low", "Fuel flow from", "", units.QuantityStandardFlow, 1e-7, 0.05, "flows of flame tips lie in this range").of(LineFuel).pair(),
	numberSpec("fuel_flow_high", "to", "", units.QuantityStandardFlow, 1e-7, 0.05, "flows of flame tips lie in this range").of(LineFuel),
	choiceSpec("metal", "Only for one metal?", append([]Option{{Value: "", Label: "Any metal"}}, metalOptions...)),
	textSpec("note", "Note", ""),
}
