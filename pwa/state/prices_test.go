package state

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/gas"
)

// priced is a world with an oxygen cylinder as sold and acetylene by weight, each with the price of a fill.
func priced(t *testing.T) *world {
	w := newWorld(t)
	w.add(KindCylinder, LineOxygen, "gas", "oxygen", "size", "contents", "full_contents", "10 m³", "fill_gauge", "200 bar", "gauge_pressure", "150 bar",
		"reserve_gauge", "10 bar", keyFillCost, "$40", keyRent, "5", keyFills, "6")
	w.add(KindCylinder, LineFuel, "gas", "acetylene", "gross_mass", "40", "tare_mass", "36", "full_mass", "4.5", keyFillCost, "90")
	return w
}

// A fill and what it holds give the price of the gas: 10 m³ for 40, of acetylene 4.5 kg ÷ its real density for 90; the reserve goes back.
func TestPrices_ofAFill(t *testing.T) {
	p := priced(t).app.pricesSI()
	o, f := p.Oxygen, p.Fuel
	if o == nil || o.FillPrice != 40 || math.Abs(o.FullStdM3-10) > 1e-9 || math.Abs(o.ReserveFraction-0.05) > 1e-9 || o.RentPerMonth != 5 || o.FillsPerYear != 6 || o.PerStdM3 != 0 {
		t.Errorf("%+v", o)
	}
	if want := 4.5 / float64(gas.Acetylene.StandardDensity()); f == nil || f.FillPrice != 90 || math.Abs(f.FullStdM3-want) > 1e-9 {
		t.Errorf("%+v", f)
	}
}

// A cylinder known by its water volume needs the pressure of a fill: 50 L at 200 bar hold 10.64 m³ (reference table of cylinders).
func TestPrices_ofAFillByWaterVolume(t *testing.T) {
	w := newWorld(t)
	w.add(KindCylinder, LineOxygen, "gas", "oxygen", "water_volume", "50 L", "gauge_pressure", "150 bar", keyFillCost, "40")
	if p := w.app.pricesSI().Oxygen; p.FullStdM3 != 0 {
		t.Errorf("a fill of unknown pressure holds %v m³", p.FullStdM3)
	}
	w = newWorld(t)
	w.add(KindCylinder, LineOxygen, "gas", "oxygen", "water_volume", "50 L", "gauge_pressure", "150 bar", keyFillCost, "40", keyFilledTo, "200 bar")
	if p := w.app.pricesSI().Oxygen; math.Abs(p.FullStdM3/10.64-1) > 0.005 {
		t.Errorf("%v m³", p.FullStdM3)
	}
}

// The price set on Bench counts only where the cylinder says nothing that gives one; nothing typed is nothing, not free.
func TestPrices_ofBenchComeLast(t *testing.T) {
	w := priced(t)
	w.post(PrefTyped{Key: PrefOxygenPrice, Text: "9 /m³"})
	if p := w.app.pricesSI().Oxygen; p.PerStdM3 != 0 {
		t.Errorf("%+v", p)
	}
	w = newWorld(t)
	w.add(KindCylinder, LineOxygen, "gas", "oxygen", "water_volume", "50 L", "gauge_pressure", "150 bar")
	if p := w.app.pricesSI(); p.Oxygen.PerStdM3 != 0 || p.SilverPerKg != nil || p.Fuel != nil {
		t.Errorf("%+v", p)
	}
	w.post(PrefTyped{Key: PrefOxygenPrice, Text: "9 /m³"})
	w.post(PrefTyped{Key: PrefSilverPrice, Text: "12 per 100 g"})
	if p := w.app.pricesSI(); p.Oxygen.PerStdM3 != 9 || p.SilverPerKg == nil || math.Abs(*p.SilverPerKg-120) > 1e-9 {
		t.Errorf("%+v", p.Oxygen)
	}
}

// A bad price keeps its text and says what is allowed; the fields may stay empty; a saved cylinder shows its price in the owner's money.
func TestPrices_badInput(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindCylinder, Line: LineOxygen})
	w.fill("gas", "oxygen", keyFillCost, "-3", keyFills, "none")
	bad := map[string]string{}
	for _, f := range w.app.Rig.Form.Fields {
		bad[f.Key] = f.Error
	}
	if !strings.Contains(bad[keyFillCost], "not negative") || bad[keyFills] == "" || bad[keyRent] != "" {
		t.Errorf("%+v", bad)
	}
	w = priced(t)
	w.post(CurrencyTyped{Text: "€"})
	p, _ := w.app.inUse(KindCylinder, LineOxygen)
	if facts := strings.Join(w.app.facts(p), "; "); !strings.Contains(facts, "Fill €40") || !strings.Contains(facts, "Rent a month €5") {
		t.Errorf("%s", facts)
	}
}

// The cost of a job reaches the card: a weld of half a metre, and a brazed joint with its silver.
func TestSetup_costOfAJob(t *testing.T) {
	w := brazing(t)
	for key, text := range map[string]string{PrefOxygenPrice: "4 /m³", PrefFuelPrice: "25 /m³", PrefSilverPrice: "800 /kg", PrefFluxPrice: "60 /kg"} {
		w.post(PrefTyped{Key: key, Text: text})
	}
	c := w.app.Setup.Card
	if c == nil || c.Job == nil || c.JobTimeS == nil || len(c.Job.Missing) != 0 {
		t.Fatalf("%+v", c)
	}
	if rod := c.Job.Parts[len(c.Job.Parts)-2]; rod.Name != "rod" || math.Abs(rod.Cost.Value-800*c.Joining.Used.Mass.Value) > 1e-12 {
		t.Errorf("%+v", c.Job.Parts)
	}
	w.post(SetupChosen{Field: "work", Value: "weld"})
	w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
	if c := w.app.Setup.Card; w.app.Setup.Stale || c.Job != nil {
		t.Errorf("a weld of no length costs %+v", c.Job)
	}
	w.post(SetupTyped{Field: keyWeld, Text: "500 mm"})
	if c := w.app.Setup.Card; c.Job == nil || !(c.Job.Cost.Low < c.Job.Cost.Value && c.Job.Cost.Value < c.Job.Cost.High) || math.Abs(c.JobTimeS.Low*c.SpeedMS.High-0.5) > 1e-9 {
		t.Errorf("%+v", c.Job)
	}
}
