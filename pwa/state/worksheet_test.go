package state

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/units"
	"torchside/calc/vent"
)

func typeOn(a App, sheet string, texts ...string) App {
	for i := 0; i+1 < len(texts); i += 2 {
		a, _ = a.Reduce(WorksheetTyped{Sheet: sheet, Key: texts[i], Text: texts[i+1]})
	}
	return a
}

// The page of air asks package vent with what was typed, in any unit: 20 × 20 × 8 ft are 3200 ft³, under 10,000 (29 CFR 1910.252(c)(2)).
func TestAir_asksForTheRoomTyped(t *testing.T) {
	a := typeOn(New(), SheetAir, "length", "20 ft", "width", "6,096 mm", "ceiling", "8 ft", "has_zinc", "yes")
	r := a.Air.Answer
	if r == nil || !r.Mechanical || len(r.Measures) != 1 || r.Measures[0].Code != "has_zinc" {
		t.Fatalf("%+v %q", r, a.Air.Problem)
	}
	want, err := vent.Compute(vent.Input{Place: vent.Room, Volume: 3200 * units.CubicFoot, Ceiling: 8 * units.Foot, Welders: 1, Materials: []vent.Material{vent.Zinc}})
	if err != nil || math.Abs(r.AirChanges/want.AirChanges-1) > 1e-9 || r.Flow != want.Flow {
		t.Errorf("%+v, want %+v", r, want)
	}
	a = typeOn(a, SheetAir, "has_zinc", "", "place", "open_air")
	if a.Air.Answer == nil || a.Air.Answer.Mechanical || len(a.Air.Fields) != 2 {
		t.Errorf("%+v", a.Air)
	}
}

// What is refused says so, keeps the text and gives no answer; an empty field is no mistake, only no answer.
func TestWorksheets_refuseAndKeep(t *testing.T) {
	for _, c := range []struct{ sheet, key, text, want string }{
		{SheetAir, "length", "wide", "wide"}, {SheetAir, "ceiling", "-3 m", "allowed is"}, {SheetAir, "welders", "0", "allowed is 1 to 100"}, {SheetAir, "welders", "1.5", "whole number"},
		{SheetPreheat, "c", "45", "allowed is 0 to 2 %"}, {SheetPreheat, "thickness", "5 psi", "pressure"}, {SheetPreheat, "mn", "lots", "lots"},
	} {
		a := typeOn(New(), SheetAir, "length", "6 m", "width", "6 m", "ceiling", "3 m")
		a = typeOn(a, SheetPreheat, "thickness", "25 mm", "c", "0.2")
		if a.Air.Answer == nil || a.Preheat.Answer == nil {
			t.Fatalf("no answer to a good question: %+v", a.Preheat)
		}
		a = typeOn(a, c.sheet, c.key, c.text)
		w := a.worksheetAt(c.sheet)
		if a.Air.Answer != nil && a.Preheat.Answer != nil {
			t.Errorf("%s %q: the old answer stays", c.key, c.text)
		}
		for _, f := range w.Fields {
			if f.Key == c.key && (!strings.Contains(f.Error, c.want) || f.Text != c.text) {
				t.Errorf("%s %q: %q holding %q, want %q", c.key, c.text, f.Error, f.Text, c.want)
			}
		}
	}
	for _, f := range New().Air.Fields {
		if f.Error != "" {
			t.Errorf("an untouched field complains: %+v", f)
		}
	}
	if New().Air.Answer != nil || New().Convert.Problem != "" {
		t.Error("an answer to nothing")
	}
}

// 0.45 % carbon, 0.75 % manganese: IIW 0.575, whether the sign is typed or not.
func TestPreheat_readsPerCent(t *testing.T) {
	for _, c := range []string{"0.45", "0.45 %", "0,45"} {
		a := typeOn(New(), SheetPreheat, "thickness", "1 in", "c", c, "mn", "0.75")
		if p := a.Preheat.Answer; p == nil || math.Abs(p.Equivalent.IIW-0.575) > 1e-9 || math.Abs(float64(p.Lowest)-473.15) > 1e-9 || !p.FromMemory {
			t.Errorf("%q: %+v %q", c, p, a.Preheat.Problem)
		}
	}
}

func saidConverted(c Convert) string {
	var all strings.Builder
	for _, a := range c.Answers {
		all.WriteString(a.Title + " | " + a.Read)
		for _, l := range a.Lines {
			all.WriteString(" | " + l.Name + ": " + l.Value)
		}
		all.WriteByte('\n')
	}
	return all.String()
}

// What people type is said in every unit. Numbers: NIST SP 811 appendix B.8 (1 psi = 6.894757 kPa), 15 U.S.C. 206 and ASTM B258 for gauges.
func TestConvert_saysItInEveryUnit(t *testing.T) {
	for text, want := range map[string][]string{
		"15 psi":  {"Pressure", "1.0342 bar", "103.42 kPa"},
		"70 °F":   {"Temperature", "21.111 °C", "294.26 K"},
		"3/16 in": {"4.7625 mm", "nearest drill: #12, 0.038 mm larger", "nearest 1/64 in: 3/16 in, exactly"},
		"16 ga":   {"Manufacturers' Standard, steel", "1.5189 mm", "galvanised", "1.6129 mm", "stainless", "1.5875 mm", "1.2903 mm"},
		"#60":     {"1.016 mm", "nearest drill: #60, exactly"},
		"20 cfh":  {"Gas flow", "L/h"},
		"5 lb":    {"2.268 kg"},
		"2.5 mm":  {"0.098425 in"},
	} {
		got := saidConverted(typeOn(New(), SheetConvert, "text", text).Convert)
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%q: %s lacks %q", text, got, w)
			}
		}
	}
}

// Bad input keeps its text and tells what is wrong.
func TestConvert_refusesReadably(t *testing.T) {
	for _, c := range []struct{ text, quantity, want string }{
		{"12", "", "has no unit"}, {"5 parsecs", "", "not understood as any quantity"}, {"5 parsecs", "pressure", "no unit of a pressure"}, {"-500 °C", "temperature", "absolute zero"},
		{"99 ga", "thickness", "whole numbers"}, {"#99", "bore", "#1 to #80"}, {"2,200 psi", "pressure", "thousand mark"}, {"1/0 in", "thickness", "not understood"},
	} {
		a := typeOn(New(), SheetConvert, "text", c.text, "quantity", c.quantity)
		if len(a.Convert.Answers) != 0 || !strings.Contains(a.Convert.Problem, c.want) || a.Convert.Texts["text"] != c.text {
			t.Errorf("%q as %q: %q %v, want %q", c.text, c.quantity, a.Convert.Problem, a.Convert.Answers, c.want)
		}
	}
	a := typeOn(New(), SheetConvert, "text", "2,200 psi", "quantity", "pressure")
	if len(a.Convert.Choices) != 2 {
		t.Errorf("both readings are not offered: %q", a.Convert.Choices)
	}
}

// A reload brings back what was typed; other units change how it is written, never what it means.
func TestWorksheets_surviveReloadAndUnits(t *testing.T) {
	a, effects := New().Reduce(WorksheetTyped{Sheet: SheetAir, Key: "length", Text: "6"})
	keep, ok := effects[0].(KeepDraft)
	if !ok || keep.Key != SheetAir || keep.Draft.Texts["length"] != "6" {
		t.Fatalf("%+v", effects)
	}
	b, _ := New().Reduce(DraftsLoaded{Drafts: map[string]Draft{SheetAir: keep.Draft}})
	if b.Air.Texts["length"] != "6" || b.Air.si["length"] != 6 {
		t.Errorf("%+v", b.Air.Worksheet)
	}
	b, _ = b.Reduce(UnitsChosen{System: units.US()})
	if math.Abs(b.Air.si["length"]-6) > 1e-9 || !strings.Contains(b.Air.Texts["length"], "6 m") {
		t.Errorf("%q means %v m", b.Air.Texts["length"], b.Air.si["length"])
	}
	if a.Air.Texts["length"] != "6" {
		t.Error("the state before was changed")
	}
}
