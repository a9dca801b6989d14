package state

import (
	"maps"
	"reflect"
	"strings"
	"testing"
)

// Each bad input of a form: the message says what was read, what is allowed and why; the text stays; other fields keep what
// they have; nothing saved changes.
func TestForm_refuses_bad_input_and_keeps_everything(t *testing.T) {
	for _, tt := range []struct {
		name, line string
		kind       Kind
		texts      []string
		key        string   // the field that is marked
		says       []string // what its message holds
	}{
		{"cylinder at 500 bar", LineOxygen, KindCylinder, []string{"water_volume", "20", "gauge_pressure", "500 bar"}, "gauge_pressure", []string{"500 bar", "300 bar", "filled"}},
		{"a thousand or a decimal", LineOxygen, KindCylinder, []string{"water_volume", "20", "gauge_pressure", "2,200 psi"}, "gauge_pressure", []string{"2200 psi or 2.2 psi", "300 bar", "comma"}},
		{"water volume in words", LineOxygen, KindCylinder, []string{"water_volume", "abc", "gauge_pressure", "140"}, "water_volume", []string{"abc", "L"}},
		{"nothing typed where a number is needed", LineOxygen, KindCylinder, []string{"gauge_pressure", "140"}, "water_volume", []string{"0.1", "200 L"}},
		{"lighter than empty", LineFuel, KindCylinder, []string{"gross_mass", "30", "tare_mass", "34"}, "gross_mass", []string{"30 kg", "34 kg", "cannot weigh less"}},
		{"more in it than when full", LineFuel, KindCylinder, []string{"gross_mass", "44", "tare_mass", "34", "full_mass", "5"}, "full_mass", []string{"5 kg", "10 kg"}},
		{"half a cylinder", LineOxygen, KindCylinder, []string{"water_volume", "20", "gauge_pressure", "140", "count", "1.5"}, "count", []string{"1.5", "whole number"}},
		{"hose of 0 m", LineOxygen, KindHose, []string{"inside_diameter", "6", "length", "0"}, "length", []string{"0", "0.1", "100 m", "a hose has a length"}},
		{"minus", LineOxygen, KindHose, []string{"inside_diameter", "-6", "length", "5"}, "inside_diameter", []string{"-6", "2 to 26 mm"}},
		{"tip larger than the hose", "", KindTip, []string{"name", "9", "orifice_diameter", "5 mm", "orifice_count", "4"}, "orifice_diameter", []string{"5 mm", "6.35 mm", "cannot feed"}},
		{"tip without a marking", "", KindTip, []string{"orifice_diameter", "1"}, "name", []string{"nothing typed", "stamped"}},
		{"division by zero", "", KindTip, []string{"name", "9", "orifice_diameter", "1/0"}, "orifice_diameter", []string{"1/0", "0.2"}},
		{"no day", LineOxygen, KindHose, []string{"inside_diameter", "6", "length", "5", "made", "last spring"}, "made", []string{"last spring", "2031-05-01"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			w.post(SetupTyped{Field: "thickness", Text: "3"})
			before, card := w.bodies(), w.app.Setup.Card
			w.post(PartAdded{Kind: tt.kind, Line: tt.line})
			w.fill(tt.texts...)
			w.post(FormSaved{})
			w.wantMarked(tt.key, tt.says)
			for i := 0; i < len(tt.texts); i += 2 {
				if got := w.app.Rig.Form.texts[tt.texts[i]]; got != tt.texts[i+1] {
					t.Errorf("%s now says %q, was typed as %q", tt.texts[i], got, tt.texts[i+1])
				}
			}
			if !maps.Equal(before, w.bodies()) {
				t.Error("something saved has changed")
			}
			if !reflect.DeepEqual(card, w.app.Setup.Card) {
				t.Error("the card has changed")
			}
		})
	}
}

// wantMarked checks that the open form marks this field alone, with a message that holds these texts.
func (w *world) wantMarked(key string, says []string) {
	w.t.Helper()
	if w.app.Rig.Form == nil {
		w.t.Fatal("the form was saved")
	}
	for _, f := range w.app.Rig.Form.Fields {
		if f.Key != key {
			if f.Error != "" {
				w.t.Errorf("%s is marked too: %s", f.Key, f.Error)
			}
			continue
		}
		for _, text := range says {
			if !strings.Contains(f.Error, text) {
				w.t.Errorf("the message of %s does not hold %q: %q", key, text, f.Error)
			}
		}
	}
}

func TestChartRow_refuses_what_no_chart_holds(t *testing.T) {
	for _, tt := range []struct {
		name  string
		texts []string
		key   string
		says  []string
	}{
		{"thickness turned round", []string{"thickness_low", "4", "thickness_high", "2", "oxygen_low", "0.3"}, "thickness_high", []string{"4 mm to 2 mm", "smaller number first"}},
		{"pressure turned round", []string{"oxygen_low", "0.5", "oxygen_high", "0.3"}, "oxygen_high", []string{"0.5 bar to 0.3 bar", "smaller number first"}},
		{"acetylene above 15 psi", []string{"fuel_low", "5 psi", "fuel_high", "16 psi"}, "fuel_high", []string{"16 psi", "15 psi", "29 CFR 1910.253(a)(2)"}},
		{"acetylene above 15 psi as the low end alone", []string{"fuel_low", "1.2 bar"}, "fuel_high", []string{"1.2 bar", "15 psi", "29 CFR 1910.253(a)(2)"}},
		{"a row that says nothing", []string{"thickness_low", "1"}, "oxygen_low", []string{"at least one pressure or flow"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			before := w.bodies()
			w.row("B", tt.texts...)
			w.wantMarked(tt.key, tt.says)
			if !maps.Equal(before, w.bodies()) {
				t.Error("something saved has changed")
			}
		})
	}
}

func TestChartRow_of_a_propane_tip_may_exceed_the_limit_of_acetylene(t *testing.T) {
	w := byHand(t)
	w.add(KindTip, "", "name", "P", "orifice_diameter", "1.2", "fuel", "propane")
	w.row("P", "fuel_low", "1.2 bar", "oxygen_low", "2 bar")
	if w.app.Rig.Form != nil {
		t.Errorf("refused: %+v", w.app.Rig.Form.Fields)
	}
}

// Each bad input of Setup leaves the last good card, marked as an earlier one, and says why.
func TestSetup_refuses_bad_input_and_keeps_the_last_good_card(t *testing.T) {
	for _, tt := range []struct {
		name, field, text string
		says              []string
	}{
		{"thickness 0", "thickness", "0", []string{"0", "0.5 to 6 mm"}},
		{"thickness −3", "thickness", "-3", []string{"-3", "0.5 to 6 mm"}},
		{"thickness in words", "thickness", "abc", []string{"abc", "0.5 to 6 mm"}},
		{"thickness 1/0", "thickness", "1/0", []string{"1/0", "divides by zero"}},
		{"thickness 4 km", "thickness", "4 km", []string{"4 km"}},
		{"a fraction without its unit", "thickness", "1/8", []string{"1/8 in = 3.175 mm or 0.125 mm", "needs its unit", "write 1/8 in"}},
		{"temperature −300 °C", "temperature", "-300", []string{"-300", "-20 to 50 °C", "absolute zero"}},
		{"height of an aeroplane", "altitude", "11000 m", []string{"11000 m", "4000 m"}},
		{"ratio 100", "ratio", "100", []string{"100", "0.3", "6"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
			card, before := w.app.Setup.Card, w.bodies()
			w.post(SetupTyped{Field: tt.field, Text: tt.text})
			s := w.app.Setup
			if !reflect.DeepEqual(card, s.Card) || !s.Stale {
				t.Errorf("the last good card is gone or not marked as an earlier one (stale %v)", s.Stale)
			}
			if s.Typed[tt.field] != tt.text {
				t.Errorf("the text is now %q", s.Typed[tt.field])
			}
			for _, text := range tt.says {
				if !strings.Contains(s.Errors[tt.field], text) {
					t.Errorf("the message does not hold %q: %q", text, s.Errors[tt.field])
				}
			}
			if len(s.Errors) != 1 || !maps.Equal(before, w.bodies()) {
				t.Errorf("more than this field is touched: %v", s.Errors)
			}
			w.post(SetupTyped{Field: tt.field, Text: map[string]string{"thickness": "3"}[tt.field]})
			if w.app.Setup.Stale || len(w.app.Setup.Errors) > 0 {
				t.Error("a good text afterwards gives no card")
			}
		})
	}
}

// What calc refuses is shown with what was read, what is allowed, why and the ways out; the last good card stays.
func TestSetup_shows_why_calc_gives_no_card(t *testing.T) {
	for _, tt := range []struct {
		name string
		do   func(w *world)
		code string
	}{
		{"propane to weld steel", func(w *world) { w.useCylinder("propane") }, "fuel_cannot_weld_steel"},
		{"hose for acetylene with propane", func(w *world) {
			w.post(SetupChosen{Field: "work", Value: "braze"})
			w.useCylinder("propane")
		}, "hose_grade"},
		{"welding copper", func(w *world) { w.post(SetupChosen{Field: "metal", Value: "copper"}) }, "metal_not_welded"},
		{"no tip", func(w *world) {
			for _, p := range w.app.parts(KindTip) {
				w.post(PartDeleted{ID: p.ID})
			}
		}, "rig_incomplete"},
		{"no torch", func(w *world) { p, _ := w.app.inUse(KindTorch, ""); w.post(PartRetired{ID: p.ID}) }, "rig_incomplete"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			w.post(SetupTyped{Field: "thickness", Text: "3"})
			card := w.app.Setup.Card
			tt.do(w)
			r := w.app.Setup.Refusal
			if r == nil || r.Code != tt.code {
				t.Fatalf("refusal %+v, want %s", r, tt.code)
			}
			if r.Read == "" || r.Allowed == "" || r.Why == "" || len(r.WaysOut) == 0 {
				t.Errorf("the refusal leaves something out: %+v", r)
			}
			if card == nil || w.app.Setup.Card == nil || !w.app.Setup.Stale {
				t.Error("the last good card is gone, or not marked as an earlier one")
			}
		})
	}
}

// useCylinder adds a fuel cylinder and puts it in use.
func (w *world) useCylinder(fuel string) {
	w.t.Helper()
	w.add(KindCylinder, LineFuel, "gas", fuel, "gross_mass", "20", "tare_mass", "10", "full_mass", "11")
	for _, p := range w.app.parts(KindCylinder) {
		if p.Choices["gas"] == fuel {
			w.post(PartUsed{ID: p.ID})
		}
	}
}

// What Setup refuses a card for is a stop on Rig too, with the same reason and the same way out.
func TestRig_stops_a_hose_grade_that_Setup_refuses(t *testing.T) {
	w := byHand(t)
	if len(w.app.Rig.Stops) != 0 {
		t.Fatalf("stops without a cause: %v", w.app.Rig.Stops)
	}
	w.useCylinder("propane")
	w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
	w.post(SetupChosen{Field: "work", Value: "braze"})
	refusal := w.app.Setup.Refusal
	if refusal == nil || refusal.Code != "hose_grade" {
		t.Fatalf("Setup gives %+v", refusal)
	}
	if len(w.app.Rig.Stops) != 1 {
		t.Fatalf("stops %v", w.app.Rig.Stops)
	}
	for _, part := range []string{"grade R", refusal.Why, "Fit a hose made for all fuel gases"} {
		if !strings.Contains(w.app.Rig.Stops[0], part) {
			t.Errorf("%q lacks %q", w.app.Rig.Stops[0], part)
		}
	}
}

func TestSetup_of_an_empty_rig_says_what_is_missing(t *testing.T) {
	w := newWorld(t)
	w.post(SetupTyped{Field: "thickness", Text: "3"})
	if r := w.app.Setup.Refusal; r == nil || r.Code != "rig_incomplete" || w.app.Setup.Card != nil {
		t.Errorf("refusal %+v", r)
	}
	if len(w.app.Rig.Missing) != 3 {
		t.Errorf("missing %v, want cylinder, torch and tip", w.app.Rig.Missing)
	}
}
