package units

import "strings"

// unitKey brings a unit as people write it to the form that is compared: lower case, without spaces, dots and degree signs,
// words folded to symbols: "Cubic Feet per Hour" and "ft³/h" both become "ft3/h".
func unitKey(s string) string {
	return cubeFolder.Replace(wordFolder.Replace(strings.ToLower(s)))
}

// wordFolder tries its pairs in order at each place, so longer words stand before their beginnings.
var wordFolder = strings.NewReplacer(
	" ", "", ".", "", "^", "", "³", "3", "²", "2", "°", "", "º", "", "˚", "",
	"degrees", "", "degree", "", "deg", "",
	"fahrenheit", "f", "celsius", "c", "kelvin", "k",
	"percent", "%", "per", "/", "cubic", "cu", "standard", "", "std", "",
	"millimetres", "mm", "millimeters", "mm", "millimetre", "mm", "millimeter", "mm",
	"centimetres", "cm", "centimeters", "cm", "centimetre", "cm", "centimeter", "cm",
	"metres", "m", "meters", "m", "metre", "m", "meter", "m",
	"inches", "in", "inch", "in", `"`, "in", "feet", "ft", "foot", "ft", "'", "ft",
	"litres", "l", "liters", "l", "litre", "l", "liter", "l", "ltr", "l",
	"kilograms", "kg", "kilogram", "kg", "grams", "g", "gram", "g",
	"pounds", "lb", "pound", "lb", "lbs", "lb", "ounces", "oz", "ounce", "oz",
	"kilowatts", "kw", "kilowatt", "kw",
	"hours", "h", "hour", "h", "hrs", "h", "hr", "h",
	"minutes", "min", "minute", "min", "mins", "min",
	"seconds", "s", "second", "s", "secs", "s", "sec", "s",
)

var cubeFolder = strings.NewReplacer("cuft", "ft3", "cuin", "in3", "cum", "m3")
