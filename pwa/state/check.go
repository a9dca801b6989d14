package state

import (
	"math"
	"strings"
	"time"

	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// maxText is the longest name or note that is taken: far above any use, far below what a record can hold.
const maxText = 2000

// dateLayout is a day as the browser's date field gives it (ISO 8601).
const dateLayout = "2006-01-02"

func dateError(label, text string) string {
	if text == "" {
		return ""
	}
	if _, err := time.Parse(dateLayout, text); err != nil {
		return words.S("%s: “%s” is no day; allowed: a day written as year-month-day, 2031-05-01.", label, text)
	}
	return ""
}

func textError(s Spec, text string, checked bool) string {
	switch {
	case len(text) > maxText:
		return words.S("%s: this text is too long to keep; allowed: up to 2000 letters; please shorten it.", s.Label)
	case s.required && checked && strings.TrimSpace(text) == "":
		return words.S("%s: nothing typed; allowed: what is stamped on it; the settings card must name the tip to fit.", s.Label)
	}
	return ""
}

// crossCheck finds what no single field shows, and marks it at the field that can be mended.
func (a App) crossCheck(f *Form, p Part, fields []FormField) {
	switch f.Kind {
	case KindCylinder:
		a.checkWeights(f, p, fields)
	case KindTip:
		a.checkHole(f, p, fields)
	case KindHose:
		a.checkBore(f, p, fields)
	case KindChartRow:
		a.checkRow(f, p, fields)
	}
}

// mark sets the error of a field that has none yet.
func mark(fields []FormField, key, text string) {
	for i := range fields {
		if fields[i].Key == key && fields[i].Error == "" {
			fields[i].Error = text
		}
	}
}

func (a App) checkWeights(f *Form, p Part, fields []FormField) {
	gross, tare, full := p.number("gross_mass"), p.number("tare_mass"), p.number("full_mass")
	mass := func(kg float64) string {
		return units.Format(units.QuantityMass, kg, f.units.Unit(units.QuantityMass), 0)
	}
	if gross == nil || tare == nil {
		return
	}
	const slack = 1.05 // scales and stamps disagree by a little; common practice, no source
	switch {
	case *gross < *tare:
		mark(fields, "gross_mass", words.S("Weight on the scale now: read %s; allowed: at least the tare, %s; a cylinder cannot weigh less than it does empty.", mass(*gross), mass(*tare)))
	case full != nil && *gross-*tare > *full*slack:
		text := words.S("Gas in it when full: read %s; allowed: at least what is in it now, %s; it cannot hold more than when it is full.", mass(*full), mass(*gross-*tare))
		mark(fields, "full_mass", text)
		mark(fields, "full_charge", text) // the one of the two that is asked
	}
}

// checkHole refuses a tip with more open area than the narrower hose in use.
func (a App) checkHole(_ *Form, p Part, fields []FormField) {
	hole := p.number("orifice_diameter")
	if hole == nil {
		return
	}
	open := *hole * math.Sqrt(p.numberOr("orifice_count", 1))
	for _, line := range []string{LineOxygen, LineFuel} {
		if hose, ok := a.inUse(KindHose, line); ok && hose.numberOr("inside_diameter", math.Inf(1)) < open {
			mark(fields, "orifice_diameter", words.S("Hole: read %s with as much open area as one hole of %s; allowed: less than the %s hose in use, %s; a hose cannot feed a tip wider than itself.", a.bore(*hole), a.bore(open), line, a.bore(hose.numberOr("inside_diameter", 0))))
			return
		}
	}
}

// checkBore refuses a hose narrower than the hole of a tip of the rig.
func (a App) checkBore(_ *Form, p Part, fields []FormField) {
	bore := p.number("inside_diameter")
	if bore == nil {
		return
	}
	for _, tip := range a.parts(KindTip) {
		open := tip.numberOr("orifice_diameter", 0) * math.Sqrt(tip.numberOr("orifice_count", 1))
		if !tip.Retired && open > *bore {
			mark(fields, "inside_diameter", words.S("Inside diameter: read %s; allowed: more than the hole of tip %s, %s; a hose cannot feed a tip wider than itself.", a.bore(*bore), tip.Name, a.bore(open)))
			return
		}
	}
}

func (a App) bore(m float64) string {
	return units.Format(units.QuantityBore, m, a.Prefs.Units.Unit(units.QuantityBore), 0)
}

// rowFields says which form field a refusal of calc/setup belongs to.
var rowFields = map[string]string{
	"row.thickness_m": "thickness_high", "row.oxygen_gauge_pa": "oxygen_high", "row.fuel_gauge_pa": "fuel_high",
	"row.oxygen_flow_std_m3_s": "oxygen_flow_high", "row.fuel_flow_std_m3_s": "fuel_flow_high",
	"row.fuel_gauge_pa.high": "fuel_high",
}

// checkRow asks calc whether a chart has such a row. Before the first try to save, an unfinished row is no mistake.
func (a App) checkRow(f *Form, p Part, fields []FormField) {
	a.checkTurned(f, p, fields)
	refusal := setup.CheckChartRow("row", upright(rowSI(p)), gas.Gas(a.tipFuel(f.TipID)))
	if refusal == nil || refusal.Code == "empty_row" && !f.checked {
		return
	}
	key, ok := rowFields[refusal.Field]
	if !ok {
		key = "oxygen_low"
	}
	text := refusalText(*refusal)
	if a.Prefs.Units.IsUS() {
		text = a.Prefs.Units.Say(text)
	}
	mark(fields, key, text)
}

// upright puts turned ranges, which checkTurned has marked, the right way round: calc stops at the first mistake it finds.
func upright(row setup.ChartRow) setup.ChartRow {
	for _, r := range []*setup.Range{row.ThicknessM, row.OxygenGaugePa, row.FuelGaugePa, row.OxygenFlowStd, row.FuelFlowStd} {
		if r != nil {
			r.Low, r.High = min(r.Low, r.High), max(r.Low, r.High)
		}
	}
	return row
}

// checkTurned marks a low end above its high end, in the units of the form.
func (a App) checkTurned(f *Form, p Part, fields []FormField) {
	for _, s := range Specs(KindChartRow) {
		if !s.Pair {
			continue
		}
		highKey := strings.TrimSuffix(s.Key, "low") + "high"
		low, high := p.number(s.Key), p.number(highKey)
		if low == nil || high == nil || *low <= *high {
			continue
		}
		field := a.formFieldSpec(f, s)
		text := func(si float64) string { return units.Format(field.Quantity, si, field.Unit, field.Standard) }
		mark(fields, highKey, words.S("%s: read %s to %s; allowed: the smaller number first; a range goes from its low to its high end.", strings.TrimSuffix(s.Label, " from"), text(*low), text(*high)))
	}
}

// tipFuel is the fuel a tip is made for; setup takes acetylene when nothing is said.
func (a App) tipFuel(tipID string) string {
	if tip, ok := a.part(tipID); ok && tip.Choices["fuel"] != "" {
		return tip.Choices["fuel"]
	}
	return string(gas.Acetylene)
}

// refusalText is a refusal as one sentence for a person.
func refusalText(r setup.Refusal) string {
	text := words.S("Read %s; allowed: %s; %s", r.Read, r.Allowed, r.Why)
	if r.Source != "" {
		text += words.S(" (%s)", r.Source)
	}
	return text + "."
}
