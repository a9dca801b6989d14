package leak_test

import (
	"testing"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

const (
	litre = 1e-3
	hour  = 3600.0
	perLh = 1e-3 / 3600 // 1 L/h in m³/s
)

// bar is an absolute pressure at sea level from a gauge reading in bar.
func bar(gauge float64) units.AbsolutePressure {
	return units.GaugePressure(gauge * 1e5).Absolute(units.StandardAtmosphere)
}

// celsius is a temperature from °C.
func celsius(t float64) units.Temperature { return units.Temperature(t + 273.15) }

// result asks where the answer must exist.
func result(t testing.TB, test leak.Test) leak.Result {
	t.Helper()
	r, err := test.Result()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// hoseTest is an invented oxygen hose of 0.2 L at 2 bar with a gauge read to 0.02 bar and a thermometer to 0.5 K.
func hoseTest(endGauge, endCelsius float64, after units.Duration) leak.Test {
	return leak.Test{
		Gas: gas.Oxygen, Volume: 0.2 * litre, PressureError: 2000, TemperatureError: 0.5,
		Readings: leak.Between(bar(2), celsius(20), bar(endGauge), celsius(endCelsius), after),
	}
}

// flow is a pointer to an allowed leak in L/h.
func flow(litresPerHour float64) *units.StandardFlow {
	f := units.StandardFlow(litresPerHour * perLh)
	return &f
}

// code reports whether a note of that code is there, and whether it is the first.
func code(notes []leak.Note, want string) (there, first bool) {
	for i, n := range notes {
		if n.Code == want {
			return true, i == 0
		}
	}
	return false, false
}
