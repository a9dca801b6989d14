package setup

import (
	"errors"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/cut"
	"torchside/calc/gas"
)

func listed(t *testing.T, in Input, rows ...CutRow) CutList {
	t.Helper()
	l, err := in.CutList(rows)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The list burns what its cards burn: flow of the line over the time of a hand, and the preheat while the edge is heated.
func TestCutList_burnsWhatTheCardsBurn(t *testing.T) {
	rows := []CutRow{{0.010, 0.5, 3}, {0.020, 0.8, 2}}
	l := listed(t, cutter(), rows...)
	var oxygen, fuel, time float64
	for i, r := range rows {
		in := cutter()
		in.ThicknessM = r.ThicknessM
		c := must(t, in)
		if c.Tip != l.Cards[i].Tip || c.Oxygen.RegulatorGaugePa != l.Cards[i].Oxygen.RegulatorGaugePa {
			t.Errorf("row %d is not its card: %s", i+1, l.Cards[i].Tip)
		}
		hand := (c.Cutting.HandSpeedMS.Low + c.Cutting.HandSpeedMS.High) / 2
		n, seconds := float64(r.Count), r.LengthM/hand
		time += n * seconds
		oxygen += n * (c.Oxygen.FlowStdM3S*seconds + c.Cutting.PreheatOxygenStdM3S*c.Cutting.StartTimeS)
		fuel += n * c.Fuel.FlowStdM3S * (seconds + c.Cutting.StartTimeS)
	}
	calctest.Near(t, l.Result.Time.Value/time, 1, 1e-12, "the same arithmetic")
	calctest.Near(t, l.Result.Oxygen.Value/oxygen, 1, 1e-12, "the same arithmetic")
	calctest.Near(t, l.Result.Fuel.Value/fuel, 1, 1e-12, "the same arithmetic")
	if l.Result.Shortage != nil || !l.OxygenKnown || !l.FuelKnown || l.Result.Pieces != 5 {
		t.Errorf("%+v", l.Result)
	}
}

// A list that outlasts the oxygen says after which piece, by the contents of its cylinder; with the low ends it is never later.
func TestCutList_outlastsTheOxygen(t *testing.T) {
	in := cutter()
	contents := *must(t, in).Oxygen.ContentsStdM3
	one := listed(t, in, CutRow{0.013, 1, 1}).Result.Oxygen.Value
	pieces := int(contents/one) + 5
	l := listed(t, in, CutRow{0.013, 1, pieces})
	s := l.Result.Shortage
	if s == nil || s.First != cut.OxygenCylinder || s.Done != int(contents/one) || s.Row != 1 {
		t.Fatalf("%v m³ at %v a piece: %+v", contents, one, s)
	}
	calctest.Near(t, float64(s.Oxygen), float64(pieces)*one-contents, 1e-9, "what is missing")
	if w := l.Result.Worst; w == nil || w.Done >= s.Done {
		t.Errorf("at worst %+v, in the middle %+v", w, s)
	}
}

// Acetylene ends the list where the card of a row would be refused: drawn down to that, the same card is just given.
func TestCutList_endsWhereTheCardIsRefused(t *testing.T) {
	in := cutter()
	in.Rig.OxygenCylinder.WaterVolumeM3, in.Rig.OxygenCylinder.Count = 0.05, 20
	full := *in.Rig.FuelCylinder.GrossMassKg
	l := listed(t, in, CutRow{0.013, 10, 500})
	s := l.Result.Shortage
	if s == nil || s.First != cut.FuelCylinder || l.FuelEnds != AtWithdrawal {
		t.Fatalf("%+v, ends by %s", s, l.FuelEnds)
	}
	one := listed(t, in, CutRow{0.013, 10, 1}).Result.Fuel.Value
	used := (float64(s.Done) + s.Share) * one * float64(gas.Acetylene.StandardDensity()) / 2 // kg of each
	flow := l.Cards[0].Fuel.FlowStdM3S
	for share, want := range map[float64]bool{0.999: true, 1.001: false} {
		in.Rig.FuelCylinder.GrossMassKg = p(full - used*share)
		c, err := Compute(in)
		if usual := err == nil && c.Fuel.FlowStdM3S >= flow*(1-1e-9); usual != want {
			t.Errorf("after %v of it the usual flame is given: %v, %v", share, usual, err)
		}
	}
}

// A row that has no card names itself, and the rest of the list is not worked out.
func TestCutList_refusesReadably(t *testing.T) {
	good := CutRow{0.01, 1, 1}
	for name, c := range map[string]struct {
		rows []CutRow
		row  int
		code string
	}{
		"too thick": {[]CutRow{good, {2, 1, 1}}, 2, "out_of_range"}, "no pieces": {[]CutRow{{0.01, 1, 0}}, 1, "out_of_range"},
		"no length": {[]CutRow{good, good, {0.01, 0, 1}}, 3, "out_of_range"}, "no hole": {[]CutRow{{0.3, 1, 1}}, 1, "no_tip_fits"},
	} {
		_, err := cutter().CutList(c.rows)
		var no *CutRowError
		if !errors.As(err, &no) || no.Row != c.row || no.Refusal.Code != c.code {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := cutter().CutList(nil); err == nil {
		t.Error("an empty list was worked out")
	}
	in := cutter()
	in.Metal = StainlessSteel
	if _, err := in.CutList([]CutRow{good}); err == nil {
		t.Error("stainless was cut")
	}
}

// What is not known is not said: without contents there is no shortage.
func TestCutList_withoutContents(t *testing.T) {
	in := cutter()
	in.Rig.OxygenCylinder = nil
	l := listed(t, in, CutRow{0.01, 100, 1})
	if l.OxygenKnown || !l.FuelKnown || l.Result.Shortage != nil && l.Result.Shortage.First == cut.OxygenCylinder {
		t.Errorf("%+v", l.Result.Shortage)
	}
	in = cutter()
	in.Rig.OxygenCylinder.PricePerStdM3, in.Rig.FuelCylinder.PricePerStdM3 = 8, 25
	priced := listed(t, in, CutRow{0.01, 1, 2}).Result
	if priced.Cost == nil {
		t.Fatal("no cost")
	}
	calctest.Near(t, *priced.Cost, 8*priced.Oxygen.Value+25*priced.Fuel.Value, 1e-12, "price × volume")
}
