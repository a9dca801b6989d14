package units

import (
	"strings"
	"testing"
)

// Of each quantity that stands in both systems the owner's is kept, and the words around it are not touched.
func TestSystem_Say(t *testing.T) {
	kpa := US().With(mustUnit(t, QuantityPressure, "kPa"))
	bar := US().With(mustUnit(t, QuantityPressure, "bar"))
	for _, tt := range []struct {
		system     System
		text, want string
	}{
		{US(), "never above 15 psi (1.03 bar) gauge", "never above 15 psi gauge"},
		{Metric(), "never above 15 psi (1.03 bar) gauge", "never above 1.03 bar gauge"},
		{bar, "never above 15 psi (1.03 bar) gauge", "never above 1.03 bar gauge"},
		{kpa, "never above 15 psi (1.03 bar) gauge", "never above 103 kPa gauge"},
		{US(), "a hole near 3.175 mm (0.125 in)", "a hole near 1/8 in"},
		{Metric(), "a hole near 3.175 mm (0.125 in)", "a hole near 3.175 mm"},
		{US(), "parts between 4 and 52 °C (40 and 125 °F).", "parts between 40 and 125 °F."},
		{Metric(), "hoses hold from −20 to 50 °C (−4 to 122 °F)", "hoses hold from −20 to 50 °C"},
		{US(), "hoses hold from −20 to 50 °C (−4 to 122 °F)", "hoses hold from −4 to 122 °F"},
		{US(), "the tare, ±0.2 kg (±0.4 lb) (from memory)", "the tare, ±0.4 lb (from memory)"},
		{Metric(), "below 284 m³ (10\u00a0000 ft³) a person, or under 5 m (16 ft) high", "below 284 m³ a person, or under 5 m high"},
		{US(), "below 284 m³ (10\u00a0000 ft³) a person, or under 5 m (16 ft) high", "below 10\u00a0000 ft³ a person, or under 16 ft high"},
		{US(), "leave at 20 m/s (66 ft/s), usable are 40 to 160 m/s (130 to 525 ft/s) (common practice)", "leave at 66 ft/s, usable are 130 to 525 ft/s (common practice)"},
		{US(), "no numbers (at all), 29 CFR 1910.253(b)(5) (read)", "no numbers (at all), 29 CFR 1910.253(b)(5) (read)"},
		{US(), "3 (4) mm, 5 bar (6 mm), 7 psi (7 psi), 1 to 2 bar (3 psi)", "3 (4) mm, 5 bar (6 mm), 7 psi (7 psi), 1 to 2 bar (3 psi)"},
		{US(), "(", "("}, {US(), " (", " ("}, {US(), " ()", " ()"}, {US(), "", ""}, {US(), "1 bar (", "1 bar ("},
	} {
		if got := tt.system.Say(tt.text); got != tt.want {
			t.Errorf("%q\nis said  %q\nexpected %q", tt.text, got, tt.want)
		}
	}
}

// Any text: no panic, and a text without a quantity in both systems stays as it is.
func FuzzSystem_Say(f *testing.F) {
	for _, s := range []string{"15 psi (1.03 bar)", "4 to 52 °C (40 to 125 °F)", " (", "± mm (1 in)", "1/0 mm (1 in)", "1e999 mm (1e999 in)", "− bar (- psi)", "\xff (\xff)"} {
		f.Add(s, uint8(4))
	}
	f.Fuzz(func(t *testing.T, text string, unit uint8) {
		for _, s := range []System{US(), Metric(), US().With(Unit{QuantityPressure, unit})} {
			got := s.Say(text)
			if !strings.Contains(text, " (") && got != text {
				t.Errorf("%q is said %q", text, got)
			}
		}
	})
}
