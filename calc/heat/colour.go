package heat

import (
	"slices"
	"strings"

	"torchside/calc/units"
)

// GlowColours returns every row of the glow of hot steel, in the order of the sources.
func GlowColours() []Colour { return slices.Clone(glow) }

// TemperColours returns every row of the temper colours of steel, in the order of the sources.
func TemperColours() []Colour { return slices.Clone(temper) }

// GlowAt returns what every source calls the light of steel at a temperature: the row that holds it, or the last one below. A
// source that begins higher is left out; no row at all means that steel does not glow.
func GlowAt(t units.Temperature) []Colour { return at(glow, float64(t)-zeroCelsius) }

// TemperAt returns what every source calls the oxide colour of bright steel at a temperature. Beyond the last colour, above some
// 340 °C, the oxide is grey and no row is returned.
func TemperAt(t units.Temperature) []Colour {
	c := float64(t) - zeroCelsius
	if c > greyOxide {
		return nil
	}
	return at(temper, c)
}

// greyOxide is 340 °C: the sources end with blue-green at 332 °C (Dooley); above it scale is grey (common practice, no source).
const greyOxide = 340

// at finds one row for every source.
func at(rows []Colour, celsius float64) []Colour {
	var found []Colour
	for _, r := range rows {
		if celsius < r.Low || isThreshold(r) || r.Source == sourceLoose || r.Source == sourceColvinSpread {
			continue // a loose list only shows how far lists disagree; a spread repeats the averages beside it
		}
		if n := len(found); n > 0 && found[n-1].Source == r.Source {
			found[n-1] = r
		} else {
			found = append(found, r)
		}
	}
	return found
}

// thresholds begin with these words: they tell in which light a glow is first seen.
const thresholds = "lowest red visible "

func isThreshold(c Colour) bool { return strings.HasPrefix(c.Name, thresholds) }

// Light is how bright the place is.
type Light string

// The lights of the source, the darkest first.
const (
	Dark     Light = "in the dark"
	Twilight Light = "at twilight"
	Daylight Light = "in daylight"
	Sunlight Light = "in sunlight"
)

// Lights returns the lights, the darkest first.
func Lights() []Light { return []Light{Dark, Twilight, Daylight, Sunlight} }

// FirstGlow returns the temperature from which steel is seen to glow in a light, with its source; 0 for a light it does not know.
func FirstGlow(l Light) (units.Temperature, string) {
	for _, c := range glow {
		if c.Name == thresholds+string(l) {
			return units.Temperature(c.Low + zeroCelsius), c.Source
		}
	}
	return 0, ""
}

// Spread returns the lowest and highest temperature, °C, that any source gives to a colour of that name.
func Spread(rows []Colour, name string) (low, high float64, sources int) {
	for _, c := range rows {
		if !strings.Contains(c.Name, name) {
			continue
		}
		end := max(c.Low, c.High)
		if sources++; sources == 1 || c.Low < low {
			low = c.Low
		}
		high = max(high, end)
	}
	return low, high, sources
}
