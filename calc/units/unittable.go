package units

// Units in SI, exact: a number of them times the constant is the SI number. Source: NIST SP 811 (2008), appendix B.8 and
// its footnotes; the litre and the bar: BIPM SI brochure, 9th edition.
const (
	// Inch is 1 in, in m.
	Inch = 0.0254
	// Foot is 1 ft (international), in m.
	Foot = 12 * Inch
	// CubicInch is 1 in³, in m³.
	CubicInch = Inch * Inch * Inch
	// CubicFoot is 1 ft³, in m³; as a volume of gas it also needs the state, see [StandardRatio].
	CubicFoot = Foot * Foot * Foot
	// USGallon is 1 US liquid gallon, 231 in³, in m³.
	USGallon = 231 * CubicInch
	// Litre is 1 L, in m³.
	Litre = 1e-3
	// Pound is 1 lb (avoirdupois), in kg.
	Pound = 0.45359237
	// PSI is one pound-force per square inch, in Pa.
	PSI = Pound * standardGravity / (Inch * Inch)
	// Bar is 1 bar, in Pa.
	Bar = 1e5
	// Btu is 1 International Table Btu, in J.
	Btu = 1055.05585262
	// Minute is 1 min, in s.
	Minute = 60.0
	// Hour is 1 h, in s.
	Hour = 3600.0

	standardGravity = 9.80665               // m/s² (standard acceleration of free fall)
	kelvinPerF      = 1 / 1.8               // K per °F
	zeroC           = 273.15                // K at 0 °C
	zeroF           = zeroC - 32*kelvinPerF // K at 0 °F
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
	{symbol: "in", us: true, factor: Inch, places: 4, sig: 3, chain: chainFeet},
	{symbol: "ft", us: true, factor: Foot, places: 3, sig: 3, chain: chainFeet},
	{symbol: "km", factor: 1e3, places: 3, sig: 3, hidden: true},
	{symbol: "yd", us: true, factor: 3 * Foot, places: 3, sig: 3, hidden: true, also: []string{"yard", "yards"}},
	{symbol: "mil", us: true, factor: Inch / 1000, places: 2, sig: 3, hidden: true, also: []string{"mils", "thou"}},
}

// unitTable holds the units of each quantity in the order they are offered.
var unitTable = [quantityCount][]unitDef{
	QuantityPressure: {
		{symbol: "bar", factor: Bar, places: 2, sig: 3, also: []string{"barg", "bars"}},
		{symbol: "mbar", factor: 1e2, sig: 2, also: []string{"mbarg", "hpa"}},
		{symbol: "kPa", factor: 1e3, places: 1, sig: 3, also: []string{"kpag"}},
		{symbol: "MPa", factor: 1e6, places: 3, sig: 3, also: []string{"mpag"}},
		{symbol: "psi", us: true, factor: PSI, places: 1, sig: 2, also: []string{"psig", "lb/in2", "lbf/in2", "lb/sqin"}},
		{symbol: "Pa", factor: 1, sig: 2, hidden: true, also: []string{"pascal"}},
	},
	QuantityTemperature: {
		{symbol: "°C", factor: 1, offset: zeroC, sig: 1},
		{symbol: "°F", us: true, factor: kelvinPerF, offset: zeroF, sig: 1},
		{symbol: "K", factor: 1, sig: 1},
	},
	QuantityLength:    lengthUnits,
	QuantityThickness: lengthUnits,
	QuantityBore:      lengthUnits,
	QuantityVolume: {
		{symbol: "L", factor: Litre, places: 3, sig: 3},
		{symbol: "m³", factor: 1, places: 4, sig: 3},
		{symbol: "in³", us: true, factor: CubicInch, places: 1, sig: 3},
		{symbol: "ft³", us: true, factor: CubicFoot, places: 4, sig: 3, also: []string{"cf"}},
		{symbol: "US gal", us: true, factor: USGallon, places: 2, sig: 3, also: []string{"gal", "gallon", "gallons", "usgallon", "usgallons"}},
	},
	QuantityStandardVolume: {
		{symbol: "L", factor: Litre, sig: 2},
		{symbol: "m³", factor: 1, places: 3, sig: 3},
		{symbol: "ft³", us: true, factor: CubicFoot, places: 1, sig: 2, state: 1, also: []string{"cf", "scf"}},
	},
	QuantityStandardFlow: {
		{symbol: "L/h", factor: Litre / Hour, sig: 2, also: []string{"lph", "slph"}},
		{symbol: "L/min", factor: Litre / Minute, places: 2, sig: 3, also: []string{"lpm", "slpm"}},
		{symbol: "m³/h", factor: 1 / Hour, places: 3, sig: 3},
		{symbol: "ft³/h", us: true, factor: CubicFoot / Hour, places: 1, sig: 2, state: 1, also: []string{"cfh", "scfh", "cf/h", "scf/h"}},
	},
	QuantityMass: {
		{symbol: "kg", factor: 1, places: 2, sig: 4, chain: chainKilograms, also: []string{"kgs", "kilo", "kilos"}},
		{symbol: "g", factor: 1e-3, places: 1, sig: 3, chain: chainKilograms},
		{symbol: "lb", us: true, factor: Pound, places: 2, sig: 4, chain: chainPounds, also: []string{"lbm"}},
		{symbol: "oz", us: true, factor: Pound / 16, places: 1, sig: 3, chain: chainPounds},
	},
	QuantityDuration: {
		{symbol: "min", factor: Minute, places: 1, sig: 2, chain: chainTime, also: []string{"m"}},
		{symbol: "s", factor: 1, places: 1, sig: 2, chain: chainTime},
		{symbol: "h", factor: Hour, places: 2, sig: 3, chain: chainTime},
		{symbol: "d", factor: 24 * Hour, places: 1, sig: 2, chain: chainTime, hidden: true, also: []string{"day", "days"}},
	},
	QuantitySpeed: {
		{symbol: "mm/min", factor: 1e-3 / Minute, sig: 2},
		{symbol: "m/min", factor: 1 / Minute, places: 3, sig: 3},
		{symbol: "mm/s", factor: 1e-3, places: 2, sig: 3},
		{symbol: "m/s", factor: 1, places: 3, sig: 3},
		{symbol: "in/min", us: true, factor: Inch / Minute, places: 1, sig: 3, also: []string{"ipm"}},
		{symbol: "ft/s", us: true, factor: Foot, places: 3, sig: 3, also: []string{"fps"}},
	},
	QuantityPower: {
		{symbol: "kW", factor: 1e3, places: 2, sig: 3},
		{symbol: "W", factor: 1, places: 1, sig: 3, also: []string{"watt", "watts"}},
		{symbol: "Btu/h", us: true, factor: Btu / Hour, sig: 3, also: []string{"btuh"}},
	},
	QuantityNumber: {
		{symbol: "", factor: 1, places: 4, sig: 4},
		{symbol: "%", factor: 1e-2, places: 2, sig: 4},
	},
	QuantityMoneyPerVolume: {
		{symbol: "/m³", factor: 1, places: 2, sig: 6},
		{symbol: "/L", factor: 1 / Litre, places: 4, sig: 6},
		{symbol: "/ft³", us: true, factor: 1 / CubicFoot, places: 3, sig: 6, state: -1, also: []string{"/cf", "/scf"}},
		{symbol: "/100 ft³", us: true, factor: 1 / (100 * CubicFoot), places: 2, sig: 6, state: -1, also: []string{"/100cf", "/100scf", "/ccf"}},
	},
	QuantityMoney: {
		{symbol: "", factor: 1, places: 2, sig: 8},
	},
	QuantityMoneyPerMass: {
		{symbol: "/kg", factor: 1, places: 2, sig: 6},
		{symbol: "/100 g", factor: 10, places: 2, sig: 6},
		{symbol: "/lb", us: true, factor: 1 / Pound, places: 2, sig: 6},
		{symbol: "/oz", us: true, factor: 16 / Pound, places: 2, sig: 6},
	},
}
