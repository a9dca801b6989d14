package main

import (
	"math"
	"strconv"
	"strings"
)

// unitNames are the units of the reference tables as they are written for a person, and what stands behind them.
var unitNames = map[string]struct{ unit, after string }{
	"degF": {"°F", ""}, "degC": {"°C", ""}, "psig": {"psi", " gauge"}, "psia": {"psi", " absolute"}, "bar (gauge)": {"bar", " gauge"}, "kPa (gauge)": {"kPa", " gauge"},
	"MPa (gauge)": {"MPa", " gauge"}, "kPa (absolute)": {"kPa", " absolute"}, "ft3": {"ft³", ""}, "m3": {"m³", ""}, "ft3/h": {"ft³/h", ""}, "m3/h": {"m³/h", ""}, "ft3/min": {"ft³/min", ""}, "m3/min": {"m³/min", ""},
	"Btu/ft3": {"Btu/ft³", ""}, "percent": {"%", ""}, "vol %": {"% by volume", ""}, "kg/m3": {"kg/m³", ""}, "-": {"", ""}, "um": {"µm", ""}, "ft3/lb": {"ft³/lb", ""},
	"m3/kg": {"m³/kg", ""}, "MJ/m3": {"MJ/m³", ""}, "vol/vol": {"volumes to one of gas", ""}, "vol O2 per vol gas": {"volumes to one of gas", ""},
}

// other is the unit of the other system: y = factor·x + offset.
type other struct {
	unit           string
	factor, offset float64
}

// others has both directions; the factors are those of NIST SP 811, appendix B.8.
var others = map[string]other{
	"°F": {"°C", 1 / 1.8, -32 / 1.8}, "°C": {"°F", 1.8, 32}, "in": {"mm", 25.4, 0}, "mm": {"in", 1 / 25.4, 0}, "psi": {"bar", 0.06894757, 0}, "bar": {"psi", 14.503774, 0},
	"MPa": {"psi", 145.03774, 0}, "kPa": {"psi", 0.14503774, 0}, "Btu/ft³": {"MJ/m³", 0.03725895, 0}, "ft³/h": {"m³/h", 0.02831685, 0}, "ft³": {"m³", 0.02831685, 0}, "lb": {"kg", 0.45359237, 0},
	"ft": {"m", 0.3048, 0}, "ft³/min": {"m³/min", 0.02831685, 0}, "ft³/lb": {"m³/kg", 0.06242796, 0},
}

// quantity writes a value with its unit in both systems: "15 psi (1.03 bar) gauge". si and siUnit are the second one as the source
// prints it; empty ones are worked out. A value that is no number is written as it is.
func quantity(value, unit, si, siUnit string) string {
	u, after := written(unit)
	if value == "" {
		value, u = si, ""
		if s, a := written(siUnit); s != "" {
			u, after = s, a
		}
		si = ""
	}
	second := ""
	if si != "" {
		s, _ := written(siUnit)
		second = spaced(grouped(si), s)
	} else if o, ok := others[u]; ok {
		if n, isRange := numbers(value); n != nil {
			second = spaced(converted(n, isRange, o), o.unit)
		}
	}
	first := spaced(grouped(value), u)
	if second == "" || second == first {
		return first + after
	}
	return first + " (" + second + ")" + after
}

func written(unit string) (u, after string) {
	if n, ok := unitNames[unit]; ok {
		return n.unit, n.after
	}
	return unit, ""
}

// spaced puts a unit behind a number.
func spaced(number, unit string) string {
	switch unit {
	case "":
		return number
	case "%":
		return number + " %"
	}
	return number + " " + unit
}

// numbers reads "5" or "5 to 7"; nil for anything else.
func numbers(value string) (n []float64, isRange bool) {
	for _, part := range strings.Split(value, " to ") {
		x, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return nil, false
		}
		n = append(n, x)
	}
	return n, len(n) == 2
}

func converted(n []float64, isRange bool, o other) string {
	texts := make([]string, len(n))
	for i, x := range n {
		texts[i] = figure(x*o.factor+o.offset, strings.HasPrefix(o.unit, "°"))
	}
	if isRange && texts[0] == texts[1] {
		return texts[0]
	}
	return strings.Join(texts, " to ")
}

// figure writes a converted number with three digits, a temperature to a degree.
func figure(x float64, whole bool) string {
	if whole {
		return grouped(strconv.FormatFloat(math.Round(x), 'f', 0, 64))
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return "?"
	}
	return grouped(strconv.FormatFloat(rounded, 'f', -1, 64))
}

// grouped sets thousands of long whole numbers apart with a space that does not break.
func grouped(s string) string {
	if len(s) < 5 || strings.Trim(s, "0123456789") != "" {
		return s
	}
	return s[:len(s)-3] + "\u00a0" + s[len(s)-3:]
}

// tidy writes the units of a remark as a person writes them.
func tidy(s string) string { return remarks.Replace(s) }

var remarks = strings.NewReplacer("sources disagree: see ACE-S2 to ACE-S4", "sources differ", "as ACE-P1; the absolute", "the absolute", " (next file)", "",
	"for this file", "for this table", "see flame_computed.csv", "see the computed rows", "see oxygen_pv.csv", "see the table of oxygen", " degF", " °F", " degC", " °C", "ft3", "ft³", "m3", "m³")

// upper begins a name with a capital.
func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// temperatures writes a range of °F with its °C, as the tables of colours and fillers have them.
func temperatures(lowF, highF, lowC, highC string) string {
	f, c := lowF, lowC
	switch {
	case highF == "":
		return quantity(f, "degF", c, "degC") + " and hotter"
	case highF != lowF:
		f, c = lowF+" to "+highF, lowC+" to "+highC
	}
	return quantity(f, "degF", c, "degC")
}

// same tells whether two texts say the same number: in a unit both have, within a degree or 0.5 per cent. Texts without numbers are
// compared as they are.
func same(a, b string) bool {
	if a == b {
		return true
	}
	left, right := phrases(a), phrases(b)
	for unit, x := range left {
		y := right[unit]
		if len(x) == 0 || len(x) != len(y) {
			continue
		}
		for i := range x {
			near := 0.005 * math.Abs(x[i])
			if strings.HasPrefix(unit, "°") {
				near = 1.1 // a rounded degree of the other scale
			}
			if math.Abs(x[i]-y[i]) > near {
				return false
			}
		}
		return true
	}
	return false
}

// phrases reads "15 psi (1.03 bar)" as the numbers by their unit.
func phrases(text string) map[string][]float64 {
	found := map[string][]float64{}
	first, rest, both := strings.Cut(text, " (")
	parts := []string{first}
	if both {
		second, _, _ := strings.Cut(rest, ")")
		parts = append(parts, second)
	}
	for _, p := range parts {
		number, unit := p, ""
		for {
			if n, _ := numbers(strings.ReplaceAll(number, "\u00a0", "")); n != nil {
				found[unit] = n
				break
			}
			at := strings.LastIndexByte(number, ' ')
			if at < 0 {
				break
			}
			number, unit = number[:at], strings.TrimSpace(number[at:]+" "+unit)
		}
	}
	return found
}
