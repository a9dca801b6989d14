package main

import (
	"math"
	"testing"
)

// CIE standard illuminant A is a black body at 2856 K: x = 0.4476, y = 0.4074 (CIE 15:2004). The old candela was 1/60 cm² of black body
// at the freezing point of platinum, 2042 K (CIPM 1946): 60 cd/cm². The fit of the matching curves is good to some per cent.
func TestXyz_ofKnownBlackBodies(t *testing.T) {
	x, y, z := xyz(2856)
	if s := x + y + z; math.Abs(x/s-0.4476) > 0.005 || math.Abs(y/s-0.4074) > 0.005 {
		t.Errorf("illuminant A lies at %.4f, %.4f", x/s, y/s)
	}
	if _, y, _ := xyz(2042); math.Abs(y/600e3-1) > 0.03 {
		t.Errorf("freezing platinum has %.0f cd/m², want 600 000", y)
	}
}

// Hotter steel is never darker, in neither light; the dark shop shows red earlier; red leads, then green, then blue.
func TestGlow_risesWithTheHeat(t *testing.T) {
	red := func(c string) int { return channel(t, c, 1) }
	for _, p := range []place{dimShop, daylight} {
		last := ""
		for c := 400.0; c <= 1500; c += 25 {
			now := glow(c, p)
			if last != "" && (red(now) < red(last) || channel(t, now, 3) < channel(t, last, 3)) {
				t.Errorf("%v °C is darker than the step below: %s after %s", c, now, last)
			}
			if red(now) < channel(t, now, 3) || channel(t, now, 3) < channel(t, now, 5) {
				t.Errorf("%v °C is no glow: %s", c, now)
			}
			last = now
		}
	}
	if red(glow(650, dimShop)) <= red(glow(650, daylight)) {
		t.Error("650 °C glows as much by daylight as in the dark")
	}
}

func channel(t *testing.T, c string, at int) int {
	t.Helper()
	n := 0
	for _, r := range c[at : at+2] {
		n *= 16
		switch {
		case r >= '0' && r <= '9':
			n += int(r - '0')
		case r >= 'a' && r <= 'f':
			n += int(r-'a') + 10
		default:
			t.Fatalf("%q is no colour", c)
		}
	}
	return n
}
