package widgets

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The colours are read from the style sheet itself, so that no change of it escapes these tests.
const sheetFile = "../../web/static/torchside.css"

func styleSheet(t *testing.T) string {
	t.Helper()
	css, err := os.ReadFile(sheetFile)
	if err != nil {
		t.Fatal(err)
	}
	return string(css)
}

// theme reads the custom properties of the first block that opens with the selector.
func theme(t *testing.T, css, selector string) map[string]string {
	t.Helper()
	_, rest, ok := strings.Cut(css, selector+" {")
	if !ok {
		t.Fatalf("no block %q", selector)
	}
	block, _, _ := strings.Cut(rest, "}")
	colours := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(block, -1) {
		colours[m[1]] = m[2]
	}
	return colours
}

// contrast is the ratio of WCAG 2.2, "contrast ratio" and "relative luminance".
func contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func luminance(hex string) float64 {
	channel := func(s string) float64 {
		n, _ := strconv.ParseUint(s, 16, 8)
		c := float64(n) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(hex[1:3]) + 0.7152*channel(hex[3:5]) + 0.0722*channel(hex[5:7])
}

// TestContrast_formula_gives_the_known_ratios: black on white is 21 by definition; #767676 on white is the well-known grey that
// just passes 4.5 (WCAG understanding documents).
func TestContrast_formula_gives_the_known_ratios(t *testing.T) {
	if r := contrast("#000000", "#ffffff"); math.Abs(r-21) > 1e-9 {
		t.Errorf("black on white is %v", r)
	}
	if r := contrast("#767676", "#ffffff"); r < 4.5 || r > 4.6 {
		t.Errorf("#767676 on white is %v", r)
	}
}

// pairs are the colours that meet: text at 7:1 (WCAG 2.2, 1.4.6), edges of controls at 4.5:1 by our own rule, parts of drawings at
// 3:1 (1.4.11).
var pairs = []struct {
	front, back []string
	least       float64
}{
	{[]string{"text", "muted"}, []string{"ground", "panel", "raised", "dial"}, 7},
	{[]string{"straw", "bronze", "purple", "blue", "stop"}, []string{"ground", "panel"}, 7},
	{[]string{"stop"}, []string{"dial"}, 7},
	{[]string{"on-accent"}, []string{"straw"}, 7},
	{[]string{"edge"}, []string{"ground", "panel", "raised", "dial"}, 4.5},
	{[]string{"on-accent"}, []string{"metal"}, 4.5},
	{[]string{"hose-blue", "hose-green", "hose-red", "bronze"}, []string{"ground", "dial"}, 4.5},
	{[]string{"straw", "metal"}, []string{"dial"}, 3},
	{[]string{"cone"}, []string{"envelope", "dial"}, 3},
}

func TestContrast_of_every_pair_in_both_themes(t *testing.T) {
	css := styleSheet(t)
	for name, selector := range map[string]string{"dark": `:root, [data-theme="dark"]`, "light": `[data-theme="light"]`} {
		c := theme(t, css, selector)
		worst := math.Inf(1)
		for _, p := range pairs {
			for _, f := range p.front {
				for _, b := range p.back {
					if c[f] == "" || c[b] == "" {
						t.Fatalf("%s: no colour %s or %s", name, f, b)
					}
					r := contrast(c[f], c[b])
					worst = math.Min(worst, r/p.least)
					if r < p.least {
						t.Errorf("%s: %s on %s is %.2f, least %.1f", name, f, b, r, p.least)
					}
				}
			}
		}
		t.Logf("%s: the tightest pair has %.2f times what it needs", name, worst)
	}
}

// TestTheme_system_is_the_light_theme: the block for phones that ask for light must not drift from the light theme.
func TestTheme_system_is_the_light_theme(t *testing.T) {
	css := styleSheet(t)
	light, system := theme(t, css, `[data-theme="light"]`), theme(t, css, `:root:not([data-theme]), [data-theme="system"]`)
	dark := theme(t, css, `:root, [data-theme="dark"]`)
	if len(light) == 0 || len(light) != len(dark) {
		t.Errorf("light has %d colours, dark %d", len(light), len(dark))
	}
	for k, v := range light {
		if system[k] != v {
			t.Errorf("--%s: system %s, light %s", k, system[k], v)
		}
	}
}

// TestStyleSheet_needs_nothing_from_elsewhere: the app works without any network, and the policy forbids other hosts.
func TestStyleSheet_needs_nothing_from_elsewhere(t *testing.T) {
	css := styleSheet(t)
	lacks(t, css, "http:", "https:", "//", "@import", "@font-face", "url(")
	wants(t, css, "prefers-reduced-motion", "forced-colors", "prefers-color-scheme: light", "@media print", ":focus-visible")
}
