package main

import (
	"fmt"
	"math"
)

// The swatches of glow are worked out, not picked: the light of a black body (Planck's law, CIE 1931 colour matching in the analytic
// fit of Wyman, Sloan and Shirley, Journal of Computer Graphics Techniques 2(2), 2013) and the light that dark scale throws back, as an
// eye sees them that is used to the place. A screen cannot shine like steel, so a swatch shows hue and contrast, never brightness.

// place is a light to judge a colour in: lux on the work.
type place struct{ lux float64 }

// The places: ours, within common practice for lighting.
var (
	dimShop  = place{150}  // half of what a shop is usually lit with
	daylight = place{1000} // a shop by the window
)

const (
	scattered     = 0.02            // share of a bright light that an eye spreads over all colours, so that it looks white: ours, an order of magnitude
	scaleReflects = 0.1             // share of light that scale on hot steel throws back: ours, an order of magnitude
	maximumLmW    = 683             // lm/W at 555 nm (SI definition of the candela)
	planckC1      = 3.741771852e-16 // W m², 2πhc² (CODATA 2018)
	planckC2      = 1.438776877e-2  // m K (CODATA 2018)
)

// xyz is the tristimulus of a black body in cd/m² (y is its luminance).
func xyz(kelvin float64) (x, y, z float64) {
	const step = 5.0 // nm
	for nm := 380.0; nm <= 780; nm += step {
		m := nm * 1e-9
		radiance := planckC1 / math.Pi / math.Pow(m, 5) / math.Expm1(planckC2/(m*kelvin)) // W/(m² sr m)
		w := radiance * step * 1e-9 * maximumLmW
		x += w * (1.056*lobe(nm, 599.8, 37.9, 31.0) + 0.362*lobe(nm, 442.0, 16.0, 26.7) - 0.065*lobe(nm, 501.1, 20.4, 26.2))
		y += w * (0.821*lobe(nm, 568.8, 46.9, 40.5) + 0.286*lobe(nm, 530.9, 16.3, 31.1))
		z += w * (1.217*lobe(nm, 437.0, 11.8, 36.0) + 0.681*lobe(nm, 459.0, 26.0, 13.8))
	}
	return x, y, z
}

// lobe is one piece of the fit: a bell with another width on either side.
func lobe(nm, at, left, right float64) float64 {
	width := left
	if nm >= at {
		width = right
	}
	d := (nm - at) / width
	return math.Exp(-d * d / 2)
}

// glow is the colour of steel at a temperature in °C in a light, as #rrggbb of sRGB (IEC 61966-2-1).
func glow(celsius float64, p place) string {
	x, y, z := xyz(celsius + 273.15)
	white := p.lux / math.Pi // luminance of a white sheet there: what the eye is used to
	r := 3.2406*x - 1.5372*y - 0.4986*z
	g := -0.9689*x + 1.8758*y + 0.0415*z
	b := 0.0557*x - 0.2040*y + 1.0570*z
	veil := scattered * y
	return hex(shown(max(r, 0)+veil, white), shown(max(g, 0)+veil, white), shown(max(b, 0)+veil, white))
}

// shown is what an eye makes of a light beside the light of the place: bright ones saturate (Reinhard's curve).
func shown(light, white float64) float64 {
	l := light/white + scaleReflects
	return l / (1 + l)
}

func hex(r, g, b float64) string {
	return fmt.Sprintf("#%02x%02x%02x", gamma(r), gamma(g), gamma(b))
}

// gamma is the curve of sRGB.
func gamma(linear float64) int {
	v := 12.92 * linear
	if linear > 0.0031308 {
		v = 1.055*math.Pow(linear, 1/2.4) - 0.055
	}
	return int(math.Round(255 * min(max(v, 0), 1)))
}
