package setup

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// The temperature of a card is that of NASA CEA for the same mixture: rows of acetylene with oxygen at 298.15 K and 1 atm.
func TestCompute_temperatureIsThatOfCEA(t *testing.T) {
	compared := 0
	for _, row := range calctest.Reference(t, "flame_equilibrium.csv") {
		if row.Text("fuel") != "C2H2" || row.Text("oxidizer") != "O2" || row.Text("graphite_allowed") != "yes" || !strings.HasPrefix(row.Text("source"), "NASA CEA") ||
			!strings.HasPrefix(row.Text("species_set"), "all products") || row.Number("pressure_Pa") != 101325 || row.Number("reactant_temperature_K") != 298.15 {
			continue
		}
		in := eighth()
		in.TemperatureK, in.Ratio = 298.15, row.Number("o2_per_fuel_mol_per_mol")
		c, err := Compute(in)
		if err != nil {
			continue // no tip of the rig passes the gas of this ratio
		}
		compared++
		calctest.Near(t, *c.FlameTemperatureK, row.Number("adiabatic_temperature_K"), 1, "the bar of the design, "+row.Text("case_id"))
	}
	if compared < 3 {
		t.Errorf("compared only %d rows", compared)
	}
}

// What torch oxygen and air release together is all the heat, whatever the ratio; more oxygen releases more of it; a band for the work
// is marked, and its ends are the shares of the ends of all heat's own band.
func TestCompute_heatIsShared(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	last, lastShare := 0.0, 0.0
	for range 30 {
		in := eighth()
		in.Ratio = last + 0.001 + 0.03*random.Float64()
		if last == 0 {
			in.Ratio = 0.9
		}
		c, err := Compute(in)
		if err != nil {
			break // the tips of the rig end here
		}
		calctest.Near(t, c.PrimaryPowerW+c.EnvelopePowerW, c.PowerW, 1e-9*c.PowerW, "a sum, to rounding")
		if share := c.PrimaryPowerW / c.PowerW; share <= lastShare {
			t.Errorf("ratio %v releases %v of the heat, a smaller one %v", in.Ratio, share, lastShare)
		} else {
			last, lastShare = in.Ratio, share
		}
		n, all := c.NetHeatW, c.Provenance["power_w"]
		calctest.Near(t, n.Low, 0.2*all.Low, 1e-9, "the least share (from memory) of the least flow, to rounding")
		calctest.Near(t, n.High, 0.6*all.High, 1e-9, "the largest share (from memory) of the largest flow, to rounding")
		if pr := c.Provenance["net_heat_w"]; !pr.FromMemory || pr.Low != n.Low || pr.High != n.High || all.Low >= all.High {
			t.Errorf("net heat %+v of %v W, %+v", n, c.PowerW, pr)
		}
	}
	if last < 1 {
		t.Errorf("the last ratio that gave a card is %v", last)
	}
}

// A neutral flame of acetylene shows the printed 3250 °C beside what equilibrium allows (Carvill; NASA CEA: 3110 °C at 1.1 and 25 °C, a kelvin less for gas at 20 °C).
func TestCompute_showsThePrintedTemperature(t *testing.T) {
	c := must(t, eighth())
	for _, words := range []string{"3250 °C", "3109 °C", "more than chemical equilibrium allows"} {
		if !strings.Contains(c.PrintedTemperature, words) {
			t.Errorf("%q lacks %q", c.PrintedTemperature, words)
		}
	}
	in := eighth()
	in.Ratio = 1
	if c := must(t, in); c.PrintedTemperature != "" {
		t.Errorf("nothing printed was read for a carburizing flame, the card says %q", c.PrintedTemperature)
	}
}

// A ratio that was asked for beats the flows of a chart row: oxygen flow, ratio, class, exit velocity and cautions are of one
// flame, and the chart's flow stays beside it.
func TestCompute_typedRatioBeatsTheChart(t *testing.T) {
	for _, ratio := range []float64{0.9, 1.1, 1.4} {
		in := chartRig()
		in.Ratio = ratio
		c := must(t, in)
		calctest.Near(t, c.Ratio, ratio, 1e-12, "what was typed")
		got := c.Oxygen.FlowStdM3S * molesPerVolume(gas.Oxygen) / (c.Fuel.FlowStdM3S * molesPerVolume(gas.Acetylene))
		calctest.Near(t, got, ratio, 1e-9, "the flows make the ratio, to rounding")
		if want := flame.Classify(gas.Acetylene, ratio); c.FlameClass != want {
			t.Errorf("ratio %v is called %s, want %s", ratio, c.FlameClass, want)
		}
		if _, warned := warning(c, "not_neutral"); warned != (c.FlameClass != flame.Neutral) {
			t.Errorf("ratio %v, %s: warned %v", ratio, c.FlameClass, warned)
		}
		others := c.Provenance["oxygen.flow_std_m3_s"].Others
		if len(others) != 1 || others[0].Kind != MakersChart || others[0].Value != 6.6e-5 {
			t.Errorf("ratio %v: what the chart says is %+v", ratio, others)
		}
	}
}

// Without one the chart's own flows settle the ratio, also for exit velocity and cautions.
func TestCompute_chartFlowsSettleTheRatio(t *testing.T) {
	in := chartRig()
	in.Rig.Tips[2].Chart[1].OxygenFlowStd = &Range{6e-5, 6e-5}
	c := must(t, in)
	if c.FlameClass != flame.Carburizing || math.Abs(c.Ratio-1) > 0.02 {
		t.Errorf("equal flows: ratio %v, %s", c.Ratio, c.FlameClass)
	}
	if w, ok := warning(c, "chart_not_neutral"); !ok || !strings.Contains(w.Text, "carburizing") {
		t.Errorf("no word that the chart's flows are not neutral: %+v", c.Warnings)
	}
}

// Every field of a card is in the help.
func TestHelp_namesEveryFieldOfACard(t *testing.T) {
	for _, f := range reflect.VisibleFields(reflect.TypeFor[Card]()) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !strings.Contains(Help, name) {
			t.Errorf("the help does not name %s", name)
		}
	}
	if _, err := json.Marshal(must(t, eighth())); err != nil {
		t.Error(err)
	}
}
