package units

import (
	"errors"
	"strings"
)

// System is the owner's choice of units: one of two presets with any single unit replaced. It is comparable; the zero
// System is [Metric]. As text, for a stored preference, it is the preset followed by the replaced units:
// "us;pressure=bar".
type System struct {
	us       bool
	replaced [quantityCount]Unit // the zero Unit where the preset holds
}

// ErrUnknownSystem is returned for a stored choice of units that names no preset, quantity or unit of ours.
var ErrUnknownSystem = errors.New("unknown choice of units")

// US returns the US preset: psi, ft³/h at 70 °F, inches, °F, lb.
func US() System { return System{us: true} }

// Metric returns the metric preset: bar, L/h at 15 °C, mm, °C, kg.
func Metric() System { return System{} }

// IsUS reports whether the preset underneath is the US one.
func (s System) IsUS() bool { return s.us }

// metricSymbols and usSymbols are the presets.
var (
	metricSymbols = [quantityCount]string{
		QuantityPressure: "bar", QuantityTemperature: "°C", QuantityLength: "m", QuantityThickness: "mm", QuantityBore: "mm",
		QuantityVolume: "L", QuantityStandardVolume: "L", QuantityStandardFlow: "L/h", QuantityMass: "kg",
		QuantityDuration: "min", QuantitySpeed: "mm/min", QuantityPower: "kW", QuantityMoneyPerVolume: "/m³", QuantityMoneyPerMass: "/kg",
	}
	usSymbols = [quantityCount]string{
		QuantityPressure: "psi", QuantityTemperature: "°F", QuantityLength: "ft", QuantityThickness: "in", QuantityBore: "in",
		QuantityVolume: "in³", QuantityStandardVolume: "ft³", QuantityStandardFlow: "ft³/h", QuantityMass: "lb",
		QuantityDuration: "min", QuantitySpeed: "in/min", QuantityPower: "Btu/h", QuantityMoneyPerVolume: "/100 ft³", QuantityMoneyPerMass: "/lb",
	}
)

// Unit returns the unit chosen for a quantity; the zero Unit for no quantity.
func (s System) Unit(q Quantity) Unit {
	if q >= quantityCount {
		return Unit{}
	}
	if u := s.replaced[q]; !u.IsZero() {
		return u
	}
	return s.preset(q)
}

// With returns a copy in which the unit's quantity is shown in that unit. The zero Unit changes nothing.
func (s System) With(u Unit) System {
	if u.quantity >= quantityCount {
		return s
	}
	s.replaced[u.quantity] = u
	if u == s.preset(u.quantity) {
		s.replaced[u.quantity] = Unit{}
	}
	return s
}

func (s System) preset(q Quantity) Unit {
	symbol := metricSymbols[q]
	if s.us {
		symbol = usSymbols[q]
	}
	u, _ := UnitBySymbol(q, symbol)
	return u
}

// MarshalText returns the stored form. It never fails.
func (s System) MarshalText() ([]byte, error) {
	text := "metric"
	if s.us {
		text = "us"
	}
	for q, u := range s.replaced {
		if !u.IsZero() {
			text += ";" + Quantity(q).key() + "=" + u.Symbol()
		}
	}
	return []byte(text), nil
}

// UnmarshalText reads the stored form. On an error, which wraps [ErrUnknownSystem], s is unchanged.
func (s *System) UnmarshalText(text []byte) error {
	parts := strings.Split(string(text), ";")
	var read System
	switch parts[0] {
	case "us":
		read = US()
	case "metric":
	default:
		return unknownSystem(parts[0])
	}
	for _, p := range parts[1:] {
		key, symbol, _ := strings.Cut(p, "=")
		q, ok := quantityByKey(key)
		if !ok {
			return unknownSystem(p)
		}
		u, ok := UnitBySymbol(q, symbol)
		if !ok {
			return unknownSystem(p)
		}
		read = read.With(u)
	}
	*s = read
	return nil
}

// unknownSystem says which part was not understood; it is cut short because it may be anything.
func unknownSystem(part string) error {
	return &systemError{part: shorten(part)}
}

type systemError struct{ part string }

// Error names the part that was not understood.
func (e *systemError) Error() string { return ErrUnknownSystem.Error() + ": “" + e.part + "”" }

// Unwrap makes errors.Is(err, ErrUnknownSystem) hold.
func (e *systemError) Unwrap() error { return ErrUnknownSystem }
