package units

// Every quantity is held in SI. Two quantities that must never be mixed are two Go types, so that the compiler refuses to
// mix them: gauge and absolute pressure, a temperature and a difference of temperatures, a standard and an actual volume.
type (
	// GaugePressure is a pressure above ambient, in Pa.
	GaugePressure float64
	// AbsolutePressure is a pressure above vacuum, in Pa.
	AbsolutePressure float64
	// Temperature is a thermodynamic temperature, in K.
	Temperature float64
	// TemperatureDifference is a difference of two temperatures, in K.
	TemperatureDifference float64
	// Length is a length, in m.
	Length float64
	// Area is an area, in m².
	Area float64
	// Volume is a geometric volume, such as the water volume of a cylinder, in m³.
	Volume float64
	// StandardVolume is an amount of gas as the volume it fills at 15 °C and 101.325 kPa, in m³.
	StandardVolume float64
	// StandardFlow is a flow of gas as the volume it fills at 15 °C and 101.325 kPa, in m³/s.
	StandardFlow float64
	// ActualFlow is the volume flow at the state the gas is in, in m³/s.
	ActualFlow float64
	// Mass is a mass, in kg.
	Mass float64
	// MassFlow is a mass flow, in kg/s.
	MassFlow float64
	// Duration is a time, in s.
	Duration float64
	// Speed is a speed, in m/s.
	Speed float64
	// Power is a power, in W.
	Power float64
	// Density is a density, in kg/m³.
	Density float64
	// MoneyPerVolume is a price per standard volume, in the owner's currency per m³ at 15 °C and 101.325 kPa.
	MoneyPerVolume float64
	// Money is an amount in the owner's currency.
	Money float64
	// MoneyPerMass is a price in the owner's currency per kg.
	MoneyPerMass float64
)

// StandardAtmosphere is 101.325 kPa, exact (ISO 2533:1975; BIPM SI brochure, 9th edition, appendix).
const StandardAtmosphere AbsolutePressure = 101325

// The two standard states a gas volume may be stated at; both are at StandardAtmosphere.
const (
	// StandardTemperature is 15 °C, the state of every StandardVolume and StandardFlow (ISO 13443:1996).
	StandardTemperature Temperature = 288.15
	// USStandardTemperature is 70 °F, the state of US compressed-gas figures in ft³.
	USStandardTemperature Temperature = (70-32)/1.8 + 273.15
)

// Absolute returns the absolute pressure for a given ambient pressure.
func (g GaugePressure) Absolute(ambient AbsolutePressure) AbsolutePressure {
	return AbsolutePressure(g) + ambient
}

// Gauge returns the gauge pressure for a given ambient pressure; it is negative below ambient.
func (a AbsolutePressure) Gauge(ambient AbsolutePressure) GaugePressure {
	return GaugePressure(a - ambient)
}

// Band is a value with its uncertainty: Low ≤ Value ≤ High, all in the same SI unit, and why the band is as wide as it is.
type Band struct {
	Value  float64 `json:"value"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Reason string  `json:"reason,omitempty"`
}
