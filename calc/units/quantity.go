package units

import "strings"

// Quantity names a kind of number that a person types or reads. The zero Quantity is none.
type Quantity uint8

// The quantities. Thickness and bore are lengths that people also give in sizes: sheet gauges and numbered drills.
const (
	// QuantityPressure is a pressure; the field decides whether it is gauge or absolute. SI unit: Pa.
	QuantityPressure Quantity = iota + 1
	// QuantityTemperature is a thermodynamic temperature. SI unit: K.
	QuantityTemperature
	// QuantityLength is a length. SI unit: m.
	QuantityLength
	// QuantityThickness is a length that may also be given as a sheet gauge. SI unit: m.
	QuantityThickness
	// QuantityBore is the diameter of a hole, which may also be given as a drill size. SI unit: m.
	QuantityBore
	// QuantityVolume is a geometric volume, such as the water volume of a cylinder. SI unit: m³.
	QuantityVolume
	// QuantityStandardVolume is an amount of gas. SI unit: m³ at 15 °C and 101.325 kPa.
	QuantityStandardVolume
	// QuantityStandardFlow is a flow of gas. SI unit: m³/s at 15 °C and 101.325 kPa.
	QuantityStandardFlow
	// QuantityMass is a mass. SI unit: kg.
	QuantityMass
	// QuantityDuration is a time. SI unit: s.
	QuantityDuration
	// QuantitySpeed is a speed. SI unit: m/s.
	QuantitySpeed
	// QuantityPower is a power. SI unit: W.
	QuantityPower
	// QuantityNumber is a plain number or a percentage. SI unit: 1.
	QuantityNumber
	// QuantityMoneyPerVolume is a price of gas in the owner's currency. SI unit: per m³ at 15 °C and 101.325 kPa.
	QuantityMoneyPerVolume
	// QuantityMoney is an amount in the owner's currency. SI unit: 1.
	QuantityMoney
	// QuantityMoneyPerMass is a price of rod or flux in the owner's currency. SI unit: per kg.
	QuantityMoneyPerMass

	quantityCount // one past the last
)

// quantityNames are the words for a person; with underscores they are the keys of a stored [System].
var quantityNames = [quantityCount]string{
	QuantityPressure:       "pressure",
	QuantityTemperature:    "temperature",
	QuantityLength:         "length",
	QuantityThickness:      "thickness",
	QuantityBore:           "bore",
	QuantityVolume:         "volume",
	QuantityStandardVolume: "gas volume",
	QuantityStandardFlow:   "gas flow",
	QuantityMass:           "mass",
	QuantityDuration:       "time",
	QuantitySpeed:          "speed",
	QuantityPower:          "power",
	QuantityNumber:         "number",
	QuantityMoneyPerVolume: "gas price",
	QuantityMoney:          "money",
	QuantityMoneyPerMass:   "filler price",
}

// String returns the quantity's name in plain words, "no quantity" for one that does not exist.
func (q Quantity) String() string {
	if q == 0 || q >= quantityCount {
		return "no quantity"
	}
	return quantityNames[q]
}

// Quantities returns every quantity in a fixed order, for a page that lists them.
func Quantities() []Quantity {
	all := make([]Quantity, 0, quantityCount-1)
	for q := QuantityPressure; q < quantityCount; q++ {
		all = append(all, q)
	}
	return all
}

// key is the quantity's name in a stored System.
func (q Quantity) key() string { return strings.ReplaceAll(q.String(), " ", "_") }

// quantityByKey finds a quantity by its key; ok is false for an unknown one.
func quantityByKey(key string) (Quantity, bool) {
	for _, q := range Quantities() {
		if q.key() == key {
			return q, true
		}
	}
	return 0, false
}

// IsMoney reports whether the quantity is in the owner's currency.
func (q Quantity) IsMoney() bool {
	return q == QuantityMoneyPerVolume || q == QuantityMoney || q == QuantityMoneyPerMass
}

// isLength reports whether the quantity is a length under one of its names.
func (q Quantity) isLength() bool {
	return q == QuantityLength || q == QuantityThickness || q == QuantityBore
}
