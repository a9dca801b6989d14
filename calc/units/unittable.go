package units

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
	offset float64 // K, temperatures only

	// A shown number has sig significant digits, but at most places decimals; see digits.
	places, sig int

	us     bool     // a person used to metric units needs it translated
	state  int8     // cubic feet of gas: +1 factor times the StandardRatio, -1 divided by it
	chain  uint8    // units of one chain may follow each other, larger first: "6 ft 3 in"; 0 none
	hidden bool     // understood when typed, not offered
	also   []string // other spellings, as unitKey leaves them
}

// Chains of units that people write one after the other.
const (
	chainFeet uint8 = iota + 1
	chainMetres
	chainTime
	chainPounds
	chainKilograms
)

var lengthUnits = []unitDef{
	{symbol: "mm", factor: 1e-3, places: 2, sig: 3, chain: chainMetres},
	{symbol: "cm", factor: 1e-2, places: 2, sig: 3, chain: chainMetres},
	{symbol: "m", factor: 1, places: 3, sig: 3, chain: chainMetres},
	{symbol: "in", us: true, factor: inch, places: 4, sig: 3, chain: chainFeet},
	{symbol: "ft", us: true, factor: foot, places: 3, sig: 3, chain: chainFeet},
	{symbol: "km", factor: 1e3, places: 3, sig: 3, hidden: true},
	{symbol: "yd", us: true, factor: 3 * foot, places: 3, sig: 3, hidden: true, also: []string{"yard", "yards"}},
	{symbol: "mil", us: true, factor: inch / 1000, places: 2, sig: 3, hidden: true, also: []string{"mils", "thou"}},
}

// unitTable holds the units of each quantity in the order they are offered.
var unitTable = [quantityCount][]unitDef{
	QuantityPressure: {
		{symbol: "bar", factor: 1e5, places: 2, sig: 3, also: []string{"barg", "bars"}},
		{symbol: "mbar", factor: 1e2, sig: 2, also: []string{"mbarg", "hpa"}},
		{symbol: "kPa", factor: 1e3, places: 1, sig: 3, also: []string{"kpag"}},
		{symbol: "MPa", factor: 1e6, places: 3, sig: 3, also: []string{"mpag"}},
		{symbol: "psi", us: true, factor: psi, places: 1, sig: 2, also: []string{"psig", "lb/in2", "lbf/in2", "lb/sqin"}},
		{symbol: "Pa", factor: 1, sig: 2, hidden: true, also: []string{"pascal"}},
	},
	QuantityTemperature: {
		{symbol: "°C", factor: 1, offset: zeroC, sig: 1},
		{symbol: "°F", us: true, factor: fahrenheit, offset: zeroF, sig: 1},
		{symbol: "K", factor: 1, sig: 1},
	},
	QuantityLength:    lengthUnits,
	QuantityThickness: lengthUnits,
	QuantityBore:      lengthUnits,
	QuantityVolume: {
		{symbol: "L", factor: litre, places: 3, sig: 3},
		{symbol: "m³", factor: 1, places: 4, sig: 3},
		{symbol: "in³", us: true, factor: cubicInch, places: 1, sig: 3},
		{symbol: "ft³", us: true, factor: cubicFoot, places: 4, sig: 3, also: []string{"cf"}},
		{symbol: "US gal", us: true, factor: gallon, places: 2, sig: 3, also: []string{"gal", "gallon", "gallons", "usgallon", "usgallons"}},
	},
	QuantityStandardVolume: {
		{symbol: "L", factor: litre, sig: 2},
		{symbol: "m³", factor: 1, places: 3, sig: 3},
		{symbol: "ft³", us: true, factor: cubicFoot, places: 1, sig: 2, state: 1, also: []string{"cf", "scf"}},
	},
	QuantityStandardFlow: {
		{symbol: "L/h", factor: litre / hour, sig: 2, also: []string{"lph", "slph"}},
		{symbol: "L/min", factor: litre / minute, places: 2, sig: 3, also: []string{"lpm", "slpm"}},
		{symbol: "m³/h", factor: 1 / hour, places: 3, sig: 3},
		{symbol: "ft³/h", us: true, factor: cubicFoot / hour, places: 1, sig: 2, state: 1, also: []string{"cfh", "scfh", "cf/h", "scf/h"}},
	},
	QuantityMass: {
		{symbol: "kg", factor: 1, places: 2, sig: 4, chain: chainKilograms, also: []string{"kgs", "kilo", "kilos"}},
		{symbol: "g", factor: 1e-3, places: 1, sig: 3, chain: chainKilograms},
		{symbol: "lb", us: true, factor: pound, places: 2, sig: 4, chain: chainPounds, also: []string{"lbm"}},
		{symbol: "oz", us: true, factor: pound / 16, places: 1, sig: 3, chain: chainPounds},
	},
	QuantityDuration: {
		{symbol: "min", factor: minute, places: 1, sig: 2, chain: chainTime, also: []string{"m"}},
		{symbol: "s", factor: 1, places: 1, sig: 2, chain: chainTime},
		{symbol: "h", factor: hour, places: 2, sig: 3, chain: chainTime},
		{symbol: "d", factor: 24 * hour, places: 1, sig: 2, chain: chainTime, hidden: true, also: []string{"day", "days"}},
	},
	QuantitySpeed: {
		{symbol: "mm/min", factor: 1e-3 / minute, sig: 2},
		{symbol: "m/min", factor: 1 / minute, places: 3, sig: 3},
		{symbol: "mm/s", factor: 1e-3, places: 2, sig: 3},
		{symbol: "m/s", factor: 1, places: 3, sig: 3},
		{symbol: "in/min", us: true, factor: inch / minute, places: 1, sig: 3, also: []string{"ipm"}},
		{symbol: "ft/s", us: true, factor: foot, places: 3, sig: 3, also: []string{"fps"}},
	},
	QuantityPower: {
		{symbol: "kW", factor: 1e3, places: 2, sig: 3},
		{symbol: "W", factor: 1, places: 1, sig: 3, also: []string{"watt", "watts"}},
		{symbol: "Btu/h", us: true, factor: btu / hour, sig: 3, also: []string{"btuh"}},
	},
	QuantityNumber: {
		{symbol: "", factor: 1, places: 4, sig: 4},
		{symbol: "%", factor: 1e-2, places: 2, sig: 4},
	},
	QuantityMoneyPerVolume: {
		{symbol: "/m³", factor: 1, places: 2, sig: 6},
		{symbol: "/L", factor: 1 / litre, places: 4, sig: 6},
		{symbol: "/ft³", us: true, factor: 1 / cubicFoot, places: 3, sig: 6, state: -1, also: []string{"/cf", "/scf"}},
		{symbol: "/100 ft³", us: true, factor: 1 / (100 * cubicFoot), places: 2, sig: 6, state: -1, also: []string{"/100cf", "/100scf", "/ccf"}},
	},
}
