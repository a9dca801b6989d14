package setup

import (
	"torchside/calc/gas"
	"torchside/calc/words"
)

// CheckChartRow tests one row of a maker's chart for the given fuel; field is how the row is named in the refusal. A row with
// a range turned round, a number no tip can have, or acetylene above the legal pressure is refused.
func CheckChartRow(field string, row ChartRow, fuel gas.Gas) *Refusal {
	return checkRow(field, &row, fuel)
}

func checkRow(field string, row *ChartRow, fuel gas.Gas) *Refusal {
	if row.Work != "" && !known(Works(), row.Work) {
		return &Refusal{Code: "unknown_work", Field: field + ".work", Read: quote(string(row.Work)), Allowed: commas(Works()), Why: "these are the works of a torch"}
	}
	if row.Metal != "" && !known(Metals(), row.Metal) {
		return &Refusal{Code: "unknown_metal", Field: field + ".metal", Read: quote(string(row.Metal)), Allowed: commas(Metals()), Why: "a row holds for one metal or for all"}
	}
	if row.PressuresAt != "" && row.PressuresAt != AtRegulator && row.PressuresAt != AtTorch {
		return &Refusal{Code: "unknown_place", Field: field + ".pressures_at", Read: quote(string(row.PressuresAt)), Allowed: "regulator, torch", Why: "the hose lies between the two"}
	}
	if row.Mixing != "" && row.Mixing != EqualPressure && row.Mixing != Injector {
		return &Refusal{Code: "unknown_mixing", Field: field + ".mixing", Read: quote(string(row.Mixing)), Allowed: words.S("%s, %s", string(EqualPressure), string(Injector)), Why: "the two kinds of torch are set in different ways"}
	}
	if row.OxygenGaugePa == nil && row.FuelGaugePa == nil && row.OxygenFlowStd == nil && row.FuelFlowStd == nil {
		return &Refusal{Code: "empty_row", Field: field, Read: "neither pressure nor flow", Allowed: "at least one pressure or flow", Why: "a chart row that says nothing cannot be used"}
	}
	thickness := limit{1e-5, 0.3, "thickness of metal worked with a flame"}
	if no := first(checkRange(field+".thickness_m", row.ThicknessM, thickness, lengthText),
		checkRange(field+".oxygen_gauge_pa", row.OxygenGaugePa, limitSet, pressureText),
		checkRange(field+".fuel_gauge_pa", row.FuelGaugePa, limitSet, pressureText),
		checkRange(field+".oxygen_flow_std_m3_s", row.OxygenFlowStd, limitFlow, flowOf(gas.Oxygen)),
		checkRange(field+".fuel_flow_std_m3_s", row.FuelFlowStd, limitFlow, flowOf(fuel))); no != nil {
		return no
	}
	return checkRowAcetylene(field, row, fuel)
}

func checkRange(field string, r *Range, l limit, text func(float64) string) *Refusal {
	if r == nil {
		return nil
	}
	if no := first(l.refuse(field+".low", r.Low, text), l.refuse(field+".high", r.High, text)); no != nil {
		return no
	}
	if r.Low > r.High {
		return &Refusal{Code: "range_reversed", Field: field, Read: words.S("%s to %s", text(r.Low), text(r.High)), Allowed: "the smaller number first", Why: "a range goes from its low to its high end"}
	}
	return nil
}

// checkRowAcetylene refuses a row that would have acetylene above 15 psi gauge.
func checkRowAcetylene(field string, row *ChartRow, fuel gas.Gas) *Refusal {
	if row.Fuel != "" {
		fuel = row.Fuel
	}
	if fuel != gas.Acetylene || row.FuelGaugePa == nil || row.FuelGaugePa.High <= maxAcetyleneGaugePa*(1+1e-9) {
		return nil
	}
	return acetyleneRefusal(field+".fuel_gauge_pa", row.FuelGaugePa.High)
}

func acetyleneRefusal(field string, pa float64) *Refusal {
	return &Refusal{Code: "acetylene_pressure", Field: field, Read: pressureText(pa), Allowed: words.S("at most %s for acetylene", pressureText(maxAcetyleneGaugePa)),
		Why: "free acetylene above this can decompose by itself", Source: sourceAcetylenePressure, WaysOut: []string{"look at the chart again: it may mean another fuel"}}
}
