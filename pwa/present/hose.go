package present

import (
	"strings"

	"torchside/calc/gas"
)

// Hose is the colour of a gas's hose: a class for drawings and the words that always go with it.
type Hose struct {
	Class string // "hose-blue", "hose-green", "hose-red", "hose-orange"
	Words string // "blue hose"
}

// hoseOf returns the hose colour of a gas. US: oxygen green, fuel red (RMA/CGA specification 1958, in WAC 296-307-48051).
// Elsewhere: oxygen blue, acetylene red, other fuel orange (ISO 3821 as told in TC 9-237; hydrogen red from memory). A colour
// never stands without the gas's name.
func hoseOf(g gas.Gas, region string) Hose {
	switch {
	case region == "us" && g == gas.Oxygen:
		return Hose{"hose-green", "green hose"}
	case region == "us":
		return Hose{"hose-red", "red hose"}
	case g == gas.Oxygen:
		return Hose{"hose-blue", "blue hose"}
	case g == gas.Acetylene:
		return Hose{"hose-red", "red hose"}
	case g == gas.Hydrogen:
		return Hose{"hose-red", "red hose (from memory)"}
	}
	return Hose{"hose-orange", "orange hose"}
}

// HoseFor returns the hose colour of a gas given by its name or its word in calc; the zero Hose for what is no gas.
func HoseFor(name, region string) Hose {
	g, err := gas.Parse(strings.ToLower(name))
	if err != nil {
		return Hose{}
	}
	return hoseOf(g, region)
}
