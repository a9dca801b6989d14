package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// tableFuels are the formulas of the reference table by the names of a question.
var tableFuels = map[string]string{"C2H2": "acetylene", "C3H8": "propane", "C3H6": "propylene", "CH4": "methane", "H2": "hydrogen", "C3H4-propyne": "methylacetylene", "C3H4-allene": "propadiene"}

// flameAsked answers a flame question or ends the test.
func flameAsked(t *testing.T, question string) flameAnswer {
	t.Helper()
	out, err := ask(t, "flame", question)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	var a flameAnswer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// Rows of NASA CEA's full species set answer within 1 K and 5e-4 (0.5 digits of a handbook's fourth) from the command line too,
// so that a slip in the wiring (a ratio of air, a pressure in bar) shows.
func TestFlame_answersAsTheTable(t *testing.T) {
	compared := 0
	for _, row := range calctest.Reference(t, "flame_equilibrium.csv") {
		fuel, ok := tableFuels[row.Text("fuel")]
		oxidizer, ok2 := map[string]string{"O2": "oxygen", "air": "air"}[row.Text("oxidizer")]
		if !ok || !ok2 || !strings.HasPrefix(row.Text("species_set"), "all products") {
			continue
		}
		compared++
		q, err := json.Marshal(map[string]any{"fuel": fuel, "oxidizer": oxidizer, "oxidizer_fuel_ratio": row.Number("o2_per_fuel_mol_per_mol"),
			"temperature_k": row.Number("reactant_temperature_K"), "abs_pressure_pa": row.Number("pressure_Pa"), "graphite": row.Text("graphite_allowed") == "yes"})
		if err != nil {
			t.Fatal(err)
		}
		a := flameAsked(t, string(q))
		calctest.Near(t, a.TemperatureK, row.Number("adiabatic_temperature_K"), 1, "the bar of the design, "+row.Text("case_id"))
		for species, column := range map[string]string{"CO": "x_CO_mol_per_mol", "H2": "x_H2_mol_per_mol", "O2": "x_O2_mol_per_mol", "C(gr)": "x_C_graphite_mol_per_mol"} {
			if !row.Has(column) {
				continue // graphite of a row without it
			}
			calctest.Near(t, a.MoleFractions[species], row.Number(column), 5e-4, "the bar of the design, "+row.Text("case_id")+" "+species)
		}
	}
	if compared < 20 {
		t.Errorf("compared only %d rows", compared)
	}
}

// Acetylene at 1.1: the class and heats of a neutral flame; 1 mol to CO and H2 gives 449.27 kJ by the heats of formation of
// NASA/TP-2002-211556, all of it 1257.05 kJ.
func TestFlame_neutralAcetylene(t *testing.T) {
	a := flameAsked(t, `{"fuel":"acetylene","oxidizer":"oxygen","oxidizer_fuel_ratio":1,"temperature_k":298.15,"abs_pressure_pa":101325}`)
	calctest.Near(t, a.PrimaryHeatJMol, 2*110535.196+228200, 1, "rounding of the heats of formation")
	calctest.Near(t, a.TotalHeatJMol, 2*393510+241826+228200, 1, "rounding of the heats of formation")
	a = flameAsked(t, `{"fuel":"acetylene","oxidizer":"oxygen","oxidizer_fuel_ratio":1.1,"temperature_k":298.15,"abs_pressure_pa":101325}`)
	if a.FlameClass != "neutral" || !a.Burns || a.BurningVelocityMS == nil || a.BurningVelocityMS.Source == "" {
		t.Errorf("%+v", a)
	}
	sum := 0.0
	for _, x := range a.MoleFractions {
		sum += x
	}
	calctest.Near(t, sum, 1, 1e-12, "fractions of everything sum to one, to rounding")
	if _, ok := a.MoleFractions["C(gr)"]; !ok {
		t.Error("graphite is not listed")
	}
}

// What is missing takes its default: pure oxygen, graphite allowed. Null stands for missing.
func TestFlame_defaults(t *testing.T) {
	const rest = `"fuel":"acetylene","oxidizer":"oxygen","oxidizer_fuel_ratio":0.7,"temperature_k":298.15,"abs_pressure_pa":101325`
	short, err := ask(t, "flame", "{"+rest+"}")
	if err != nil {
		t.Fatal(err)
	}
	for _, more := range []string{`,"oxygen_purity":1,"graphite":true`, `,"oxygen_purity":null,"graphite":null`} {
		if long, err := ask(t, "flame", "{"+rest+more+"}"); err != nil || long != short {
			t.Errorf("%s changes the answer (%v)", more, err)
		}
	}
	if without, err := ask(t, "flame", "{"+rest+`,"graphite":false}`); err != nil || without == short {
		t.Errorf("graphite makes no difference at 0.7 (%v)", err)
	}
}

// A mixture of one fuel answers as that fuel, but for the burning velocity, of which nothing is known for mixtures. Between two
// fuels the class follows the ranges weighted by mole.
func TestFlame_mixtures(t *testing.T) {
	const rest = `"oxidizer":"oxygen","temperature_k":298.15,"abs_pressure_pa":101325,"oxidizer_fuel_ratio":`
	one := flameAsked(t, `{"fuel":"propane",`+rest+`4.3}`)
	same := flameAsked(t, `{"fuel_mixture":{"propane":1},`+rest+`4.3}`)
	if math.Abs(one.TemperatureK-same.TemperatureK) > 1e-6 || one.FlameClass != same.FlameClass || same.BurningVelocityMS != nil {
		t.Errorf("fuel %+v, mixture %+v", one, same)
	}
	// Half acetylene (1.04 to 1.14) and half methane (1.5 to 1.8): neutral from 1.27 to 1.47.
	for ratio, want := range map[string]string{"1.26": "carburizing", "1.28": "neutral", "1.46": "neutral", "1.48": "oxidizing"} {
		if a := flameAsked(t, `{"fuel_mixture":{"acetylene":0.5,"methane":0.5},`+rest+ratio+`}`); string(a.FlameClass) != want {
			t.Errorf("ratio %s: %s, want %s", ratio, a.FlameClass, want)
		}
	}
}

// Outside the published limits the answer says so, names the source and still gives the equilibrium. Methane in air burns from
// 4.4 to 17 % (IEC 60079-20-1:2010): 0.21 mol O2 a mol of methane are 50 %.
func TestFlame_outsideTheLimits(t *testing.T) {
	a := flameAsked(t, `{"fuel":"methane","oxidizer":"air","oxidizer_fuel_ratio":0.21,"temperature_k":298.15,"abs_pressure_pa":101325}`)
	if a.Burns || !strings.Contains(a.BurnsSource, "IEC 60079-20-1:2010") || a.TemperatureK < 298.15 {
		t.Errorf("%+v", a)
	}
	if a.BurningVelocityMS != nil {
		t.Error("a burning velocity with air: none is known")
	}
}

func TestFlame_refusesReadably(t *testing.T) {
	const place = `"temperature_k":298.15,"abs_pressure_pa":101325`
	const gases = `"fuel":"acetylene","oxidizer":"oxygen"`
	for _, c := range []struct{ name, in, want string }{
		{"ratio 0", `{` + gases + `,"oxidizer_fuel_ratio":0,` + place + `}`, "line 1: oxidizer_fuel_ratio: read 0; allowed is 0.01 to 100"},
		{"negative ratio", `{` + gases + `,"oxidizer_fuel_ratio":-1,` + place + `}`, "line 1: oxidizer_fuel_ratio: read -1; allowed is 0.01 to 100"},
		{"ratio 1e9", `{` + gases + `,"oxidizer_fuel_ratio":1e9,` + place + `}`, "line 1: oxidizer_fuel_ratio: read 1e+09; allowed is 0.01 to 100"},
		{"0 K", `{` + gases + `,"oxidizer_fuel_ratio":1,"temperature_k":0,"abs_pressure_pa":101325}`, "line 1: temperature_k: read 0; allowed is 220 to 400 K"},
		{"no pressure", `{` + gases + `,"oxidizer_fuel_ratio":1,"temperature_k":298,"abs_pressure_pa":0}`, "line 1: abs_pressure_pa: read 0; allowed is 10000 to 1e+06 Pa"},
		{"unknown fuel", `{"fuel":"petrol","oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, `line 1: fuel: read "petrol"; allowed is one of acetylene`},
		{"oxygen as fuel", `{"fuel":"oxygen","oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, `line 1: fuel: read "oxygen"; allowed is one of`},
		{"argon as oxidizer", `{"fuel":"acetylene","oxidizer":"argon","oxidizer_fuel_ratio":1,` + place + `}`, `line 1: oxidizer: read "argon"; allowed is oxygen or air`},
		{"no fuel", `{"oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, "line 1: fuel: missing"},
		{"both", `{"fuel_mixture":{"methane":1},` + gases + `,"oxidizer_fuel_ratio":1,` + place + `}`, "line 1: fuel_mixture: given beside fuel"},
		{"mixture of 0.9", `{"fuel_mixture":{"methane":0.9},"oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, "line 1: fuel_mixture: "},
		{"no fuel in a mixture", `{"fuel_mixture":{"steam":1},"oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, "line 1: fuel_mixture.steam: no fuel"},
		{"empty mixture", `{"fuel_mixture":{},"oxidizer":"oxygen","oxidizer_fuel_ratio":1,` + place + `}`, "line 1: fuel_mixture: "},
		{"purity 0", `{` + gases + `,"oxidizer_fuel_ratio":1,"oxygen_purity":0,` + place + `}`, "line 1: oxygen_purity: read 0; allowed is 0.2 to 1"},
		{"purity of air", `{"fuel":"methane","oxidizer":"air","oxidizer_fuel_ratio":2,"oxygen_purity":0.9,` + place + `}`, "line 1: oxygen_purity: read 0.9; allowed is 1 to 1"},
		{"missing ratio", `{` + gases + `,` + place + `}`, "line 1: oxidizer_fuel_ratio: missing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := ask(t, "flame", c.in)
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("error is %v, want it to contain %q", err, c.want)
			}
			if out != "" {
				t.Errorf("answered all the same: %s", out)
			}
		})
	}
}
