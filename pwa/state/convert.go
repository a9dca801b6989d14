package state

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Convert is the page that says one quantity in every unit.
type Convert struct {
	Worksheet
	Answers []Converted
	Problem string // why there is none; the typed text stays
	Choices []string
}

// Converted is what a text means as one quantity.
type Converted struct {
	Title string
	Read  string // as understood
	Lines []Line
}

// Line is one name with its value.
type Line struct{ Name, Value string }

// convertAny lets the unit say what is meant.
const convertAny = "any"

// convertible are the quantities of the page.
var convertible = []units.Quantity{units.QuantityPressure, units.QuantityTemperature, units.QuantityThickness, units.QuantityBore, units.QuantityVolume, units.QuantityStandardVolume,
	units.QuantityStandardFlow, units.QuantityMass, units.QuantityDuration, units.QuantitySpeed, units.QuantityPower}

// convertNames are what the page calls them.
var convertNames = map[units.Quantity]string{units.QuantityThickness: "Length or sheet gauge", units.QuantityBore: "Hole or drill size", units.QuantityVolume: "Volume of a vessel"}

func convertName(q units.Quantity) string {
	if n := convertNames[q]; n != "" {
		return n
	}
	s := q.String()
	return words.Capital(s)
}

var convertSpecs = []Spec{
	{Key: "text", Label: "What do you have?", Help: "As 15 psi, 3/16 in, 16 ga, #60, 70 °F, 5 ft 3 in, 20 cfh.", Type: TypeText},
	{Key: "quantity", Label: "What does it measure?", Type: TypeChoice, Default: convertAny, Options: convertOptions()},
	{Key: "gas", Label: "For ft³ of gas: which gas?", Type: TypeChoice, Default: string(gas.Oxygen), Options: []Option{
		{Value: string(gas.Oxygen), Label: "Oxygen"}, {Value: string(gas.Acetylene), Label: "Acetylene"}, {Value: string(gas.Propane), Label: "Propane"}}},
}

func convertOptions() []Option {
	list := []Option{{Value: convertAny, Label: "The unit says so"}}
	for _, q := range convertible {
		list = append(list, Option{Value: q.String(), Label: convertName(q)})
	}
	return list
}

// convertAnswered reads the text as what was chosen, or as everything its unit can mean.
func (a App) convertAnswered() App {
	c := &a.Convert
	c.Answers, c.Problem, c.Choices = nil, "", nil
	text, chosen := c.Texts["text"], c.choice(convertSpecs[1])
	if strings.TrimSpace(text) == "" {
		return a
	}
	if chosen == convertAny && bareNumber(text) {
		c.Problem = words.S("“%s” has no unit: add one, as psi or mm, or say below what it measures.", strings.TrimSpace(shorten(text)))
		return a
	}
	var refusal string
	for _, q := range convertible {
		if chosen != convertAny && chosen != q.String() {
			continue
		}
		list, err := a.convertAs(q, text)
		c.Answers = append(c.Answers, list...)
		if err.err != "" && (chosen != convertAny || refusal == "") {
			refusal, c.Choices = err.err, err.meant
		}
	}
	switch {
	case len(c.Answers) > 0:
		c.Choices = nil
	case chosen != convertAny:
		c.Problem = refusal
	default:
		c.Choices = nil
		c.Problem = words.S("“%s” was not understood as any quantity. Write a number and one unit, or choose below what it measures to see what is wrong.", strings.TrimSpace(shorten(text)))
	}
	return a
}

// bareNumber tells whether a text has no unit, word or sign of a size.
func bareNumber(text string) bool {
	return strings.Trim(text, " \t0123456789.,/-+−½¼¾⅛⅜⅝⅞") == ""
}

// convertAs reads the text as one quantity. A gauge number is answered for every metal: it means another thickness in each.
func (a App) convertAs(q units.Quantity, text string) ([]Converted, reading) {
	ratio := gas.Gas(a.Convert.choice(convertSpecs[2])).StandardRatio()
	field := units.Field{Name: convertName(q), Quantity: q, Unit: a.Prefs.Units.Unit(q), Standard: ratio}
	p, err := field.Parse(text)
	if err == nil {
		return []Converted{{Title: convertName(q), Read: p.Read, Lines: inAllUnits(q, p.SI, ratio)}}, reading{}
	}
	refusedAs := refused(field, text, err)
	if q != units.QuantityThickness {
		return nil, refusedAs
	}
	var list []Converted
	for _, sheet := range []units.SheetTable{units.SteelSheet, units.GalvanisedSheet, units.StainlessSheet, units.NonFerrousSheet} {
		field.Sheet = sheet
		if p, err := field.Parse(text); err == nil {
			list = append(list, Converted{Title: words.S("Sheet: %s", sheet.String()), Read: p.Read, Lines: inAllUnits(q, p.SI, ratio)})
		} else {
			refusedAs = refused(field, text, err)
		}
	}
	return list, refusedAs
}

// inAllUnits writes a number in every unit of its quantity; a length also as what it is near to.
func inAllUnits(q units.Quantity, si float64, ratio units.StandardRatio) []Line {
	var lines []Line
	for _, u := range units.UnitsOf(q) {
		if x, err := u.FromSI(si, ratio); err == nil {
			lines = append(lines, Line{u.Symbol(), fiveDigits(x) + " " + u.Symbol()})
		}
	}
	if q == units.QuantityThickness || q == units.QuantityBore {
		lines = append(lines, nearSizes(si)...)
	}
	return lines
}

// fiveDigits writes a number with five significant digits, without an exponent.
func fiveDigits(x float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 5, 64), 64)
	if err != nil {
		return "?"
	}
	return words.Number(strconv.FormatFloat(rounded, 'f', -1, 64))
}

// nearSizes are the fraction of an inch, the drill and the sheet gauges next to a length, each with how far it is off.
func nearSizes(si float64) []Line {
	var lines []Line
	const widestSize = 0.0127 // m: drills and gauges end below half an inch
	if n := math.Round(si / units.Inch * 64); n >= 1 && si < 1 {
		lines = append(lines, Line{"nearest 1/64 in", sixtyFourths(int(n)) + " in" + offBy(n*units.Inch/64, si)})
	}
	if si < 0.0003 || si > widestSize {
		return lines
	}
	name, size := nearestDrill(si)
	lines = append(lines, Line{"nearest drill", name + offBy(size, si)})
	for _, sheet := range []units.SheetTable{units.SteelSheet, units.GalvanisedSheet, units.StainlessSheet, units.NonFerrousSheet} {
		n, d := nearestGauge(sheet, si)
		lines = append(lines, Line{words.S("nearest gauge, %s", sheet.String()), words.S("%s ga%s", strconv.Itoa(n), offBy(d, si))})
	}
	return lines
}

func sixtyFourths(n int) string {
	whole, top, bottom := n/64, n%64, 64
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d", whole, top, bottom)
}

// offBy tells how a size stands to the length asked for, in mm.
func offBy(size, si float64) string {
	d := (size - si) * 1000
	switch {
	case math.Abs(d) < 0.0005:
		return ", exactly"
	case d > 0:
		return words.F(", %.3f mm larger", d)
	}
	return words.F(", %.3f mm smaller", -d)
}

func nearestDrill(si float64) (name string, size float64) {
	off := math.Inf(1)
	try := func(n string, d units.Length) {
		if e := math.Abs(float64(d) - si); e < off {
			name, size, off = n, float64(d), e
		}
	}
	for n := 1; ; n++ {
		d, ok := units.NumberDrill(n)
		if !ok {
			break
		}
		try("#"+strconv.Itoa(n), d)
	}
	for l := 'A'; l <= 'Z'; l++ {
		d, _ := units.LetterDrill(l)
		try(words.S("letter %s", string(l)), d)
	}
	return name, size
}

func nearestGauge(sheet units.SheetTable, si float64) (number int, size float64) {
	off := math.Inf(1)
	low, high := sheet.Numbers()
	for n := low; n <= high; n++ {
		if d, ok := sheet.Thickness(n); ok && math.Abs(float64(d)-si) < off {
			number, size, off = n, float64(d), math.Abs(float64(d)-si)
		}
	}
	return number, size
}
