package units

import "strings"

// Exact definitions. Source of all: NIST SP 811 (2008), appendix B.8 and its footnotes; the litre and the bar: BIPM SI
// brochure, 9th edition.
const (
	inch       = 0.0254                          // m, exact
	foot       = 12 * inch                       // m, exact (international foot)
	pound      = 0.45359237                      // kg, exact (avoirdupois)
	gravity    = 9.80665                         // m/s², exact (standard acceleration of free fall)
	psi        = pound * gravity / (inch * inch) // Pa: one pound-force per square inch
	cubicInch  = inch * inch * inch              // m³, exact
	cubicFoot  = foot * foot * foot              // m³, exact
	gallon     = 231 * cubicInch                 // m³, exact (US liquid gallon)
	litre      = 1e-3                            // m³, exact
	btu        = 1055.05585262                   // J, exact (International Table Btu)
	minute     = 60.0                            // s
	hour       = 3600.0                          // s
	fahrenheit = 1 / 1.8                         // K per °F, exact
	zeroC      = 273.15                          // K at 0 °C, exact
	zeroF      = zeroC - 32*fahrenheit           // K at 0 °F
)

// unitDef is one row of the table: SI = x·factor + offset.
type unitDef struct {
	symbol string
	factor float64
	offset float64  // K, temperatures only
	state  int8     // cubic feet of gas: +1 factor times the StandardRatio, -1 divided by it
	chain  uint8    // units of one chain may follow each other, larger first: "6 ft 3 in"; 0 none
	also   []string // other spellings, as unitKey leaves them
}

// Chains of units that people write one after the other.
const (
	chainFeet uint8 = iota + 1
	chainMetres
	chainHours
	chainPounds
	chainKilograms
)

var (
	lengthUnits = []unitDef{
		{symbol: "mm", factor: 1e-3, chain: chainMetres, also: []string{"millimetre", "millimeter", "millimetres", "millimeters"}},
		{symbol: "cm", factor: 1e-2, chain: chainMetres, also: []string{"centimetre", "centimeter", "centimetres", "centimeters"}},
		{symbol: "m", factor: 1, chain: chainMetres, also: []string{"metre", "meter", "metres", "meters"}},
		{symbol: "in", factor: inch, chain: chainFeet, also: []string{`"`, "inch", "inches"}},
		{symbol: "ft", factor: foot, chain: chainFeet, also: []string{"'", "foot", "feet"}},
	}
)

// unitTable holds the units of each quantity; the first is the metric preset's unless presets say otherwise.
var unitTable = [quantityCount][]unitDef{
	QuantityPressure: {
		{symbol: "bar", factor: 1e5, also: []string{"barg", "bars"}},
		{symbol: "mbar", factor: 1e2, also: []string{"mbarg", "hpa"}},
		{symbol: "kPa", factor: 1e3, also: []string{"kpag"}},
		{symbol: "MPa", factor: 1e6, also: []string{"mpag"}},
		{symbol: "psi", factor: psi, also: []string{"psig", "lb/in2", "lbs/in2", "lbf/in2", "lb/sqin", "lbs"}},
	},
	QuantityTemperature: {
		{symbol: "°C", factor: 1, offset: zeroC, also: []string{"c", "celsius"}},
		{symbol: "°F", factor: fahrenheit, offset: zeroF, also: []string{"f", "fahrenheit"}},
		{symbol: "K", factor: 1, also: []string{"kelvin"}},
	},
	QuantityLength:    lengthUnits,
	QuantityThickness: lengthUnits,
	QuantityBore:      {lengthUnits[0], lengthUnits[1], lengthUnits[3]},
	QuantityVolume: {
		{symbol: "L", factor: litre, also: []string{"litre", "liter", "litres", "liters", "ltr"}},
		{symbol: "m³", factor: 1, also: []string{"cum", "cumetre", "cumeter", "cumetres", "cumeters"}},
		{symbol: "in³", factor: cubicInch, also: []string{"cuin", "cuinch", "cuinches"}},
		{symbol: "ft³", factor: cubicFoot, also: []string{"cuft", "cf", "cufoot", "cufeet"}},
		{symbol: "US gal", factor: gallon, also: []string{"gal", "gallon", "gallons", "usgallon", "usgallons"}},
	},
	QuantityStandardVolume: {
		{symbol: "L", factor: litre, also: []string{"litre", "liter", "litres", "liters", "ltr", "stdl"}},
		{symbol: "m³", factor: 1, also: []string{"cum", "cumetre", "cumeter", "cumetres", "cumeters", "stdm3"}},
		{symbol: "ft³", factor: cubicFoot, state: 1, also: []string{"cuft", "cf", "scf", "stdft3", "stdcuft", "cufoot", "cufeet"}},
	},
	QuantityStandardFlow: {
		{symbol: "L/h", factor: litre / hour, also: []string{"l/hr", "lph", "stdl/h", "slph"}},
		{symbol: "L/min", factor: litre / minute, also: []string{"lpm", "slpm", "stdl/min"}},
		{symbol: "m³/h", factor: 1 / hour, also: []string{"m3/hr", "stdm3/h", "cum/h"}},
		{symbol: "ft³/h", factor: cubicFoot / hour, state: 1, also: []string{"cfh", "scfh", "ft3/hr", "cuft/h", "cuft/hr", "cf/h", "scf/h", "stdft3/h", "stdcuft/h"}},
	},
	QuantityMass: {
		{symbol: "kg", factor: 1, chain: chainKilograms, also: []string{"kgs", "kilo", "kilos", "kilogram", "kilograms"}},
		{symbol: "g", factor: 1e-3, chain: chainKilograms, also: []string{"gram", "grams", "gr"}},
		{symbol: "lb", factor: pound, chain: chainPounds, also: []string{"lbs", "pound", "pounds", "#"}},
		{symbol: "oz", factor: pound / 16, chain: chainPounds, also: []string{"ounce", "ounces"}},
	},
	QuantityDuration: {
		{symbol: "min", factor: minute, chain: chainHours, also: []string{"m", "mins", "minute", "minutes"}},
		{symbol: "s", factor: 1, chain: chainHours, also: []string{"sec", "secs", "second", "seconds"}},
		{symbol: "h", factor: hour, chain: chainHours, also: []string{"hr", "hrs", "hour", "hours"}},
	},
	QuantitySpeed: {
		{symbol: "mm/min", factor: 1e-3 / minute, also: []string{"mmpm"}},
		{symbol: "m/min", factor: 1 / minute, also: []string{"mpm"}},
		{symbol: "mm/s", factor: 1e-3, also: []string{"mm/sec"}},
		{symbol: "m/s", factor: 1, also: []string{"m/sec", "mps"}},
		{symbol: "in/min", factor: inch / minute, also: []string{"ipm", "inch/min", "inches/min", `"/min`}},
		{symbol: "ft/s", factor: foot, also: []string{"fps", "ft/sec", "'/s"}},
	},
	QuantityPower: {
		{symbol: "kW", factor: 1e3, also: []string{"kilowatt", "kilowatts"}},
		{symbol: "W", factor: 1, also: []string{"watt", "watts"}},
		{symbol: "Btu/h", factor: btu / hour, also: []string{"btu/hr", "btuh"}},
	},
	QuantityNumber: {
		{symbol: "", factor: 1},
		{symbol: "%", factor: 1e-2, also: []string{"percent", "pct"}},
	},
	QuantityMoneyPerVolume: {
		{symbol: "/m³", factor: 1, also: []string{"/cum"}},
		{symbol: "/L", factor: 1 / litre, also: []string{"/litre", "/liter"}},
		{symbol: "/ft³", factor: 1 / cubicFoot, state: -1, also: []string{"/cuft", "/cf", "/scf"}},
		{symbol: "/100 ft³", factor: 1 / (100 * cubicFoot), state: -1, also: []string{"/100cuft", "/100cf", "/100scf", "/ccf"}},
	},
}

// unitKey brings a unit text to the form the table compares: lower case, no spaces, dots or powers, "deg" and "per" signs
// folded.
func unitKey(s string) string {
	return keyFolder.Replace(strings.ToLower(s))
}

var keyFolder = strings.NewReplacer(" ", "", ".", "", "^", "", "³", "3", "²", "2", "°", "", "º", "", "˚", "",
	"degrees", "", "degree", "", "deg", "", "cubic", "cu", "per", "/")
