package state

import (
	"maps"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/setup"
	"torchside/storage"
)

// byHand enters a whole rig as a person would, in metric units, and returns its world.
func byHand(t *testing.T) *world {
	t.Helper()
	w := newWorld(t)
	w.add(KindCylinder, LineOxygen, "water_volume", "20 L", "gauge_pressure", "140 bar")
	w.add(KindCylinder, LineFuel, "gross_mass", "38,6", "tare_mass", "34.2", "full_mass", "4.8")
	w.add(KindRegulator, LineOxygen, "max_gauge", "10")
	w.add(KindRegulator, LineFuel, "max_gauge", "2.5")
	w.add(KindHose, LineOxygen, "inside_diameter", "1/4 in", "length", "5")
	w.add(KindHose, LineFuel, "inside_diameter", "6.3", "length", "5", "grade", "R")
	w.add(KindTorch, "", "mixing", "equal_pressure")
	w.add(KindTip, "", "name", "A", "orifice_diameter", "#60")
	w.add(KindTip, "", "name", "B", "orifice_diameter", "1.4 mm")
	w.add(KindTip, "", "name", "C", "orifice_diameter", "1.8")
	return w
}

// tipID finds a tip by its marking.
func (w *world) tipID(name string) string {
	w.t.Helper()
	for _, p := range w.app.parts(KindTip) {
		if p.Name == name {
			return p.ID
		}
	}
	w.t.Fatalf("no tip %q", name)
	return ""
}

// row enters one chart row of a tip.
func (w *world) row(tip string, texts ...string) {
	w.t.Helper()
	w.post(PartAdded{Kind: KindChartRow, TipID: w.tipID(tip)})
	w.fill(texts...)
	w.post(FormSaved{})
}

// A rig entered by hand answers the question the app is for.
func TestRig_entered_by_hand_gives_a_card(t *testing.T) {
	w := byHand(t)
	if got := w.app.Rig.Missing; len(got) > 0 {
		t.Fatalf("still missing: %v", got)
	}
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	card := w.app.Setup.Card
	if card == nil {
		t.Fatalf("no card: %+v, errors %v", w.app.Setup.Refusal, w.app.Setup.Errors)
	}
	if card.Oxygen.ContentsStdM3 == nil || card.Fuel.ContentsStdM3 == nil {
		t.Error("contents of the cylinders did not reach the card")
	}
	if got := w.app.Setup.Read["thickness"]; !strings.Contains(got, "3.175 mm") {
		t.Errorf("read %q, want the millimetres understood", got)
	}
}

// What the person typed is what calc is asked, in SI.
func TestRig_in_SI_is_what_was_typed(t *testing.T) {
	w := byHand(t)
	w.add(KindArrestor, LineFuel, "type", "flashback_arrestor")
	w.add(KindArrestor, LineFuel, "type", "check_valve")
	w.add(KindArrestor, LineOxygen, "type", "check_valve")
	rig := w.app.rigSI()
	near := func(name string, got, want float64) {
		t.Helper()
		if !sameSI(got, want) { // the same number but for the last bits of a conversion
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
	near("water volume", rig.OxygenCylinder.WaterVolumeM3, 0.020)
	near("oxygen gauge", rig.OxygenCylinder.GaugePressurePa, 140e5)
	near("gross", *rig.FuelCylinder.GrossMassKg, 38.6)
	near("delivery gauge", rig.FuelRegulator.MaxGaugePa, 2.5e5)
	near("bore", rig.OxygenHose.InsideDiameterM, 0.00635)      // 1/4 in, exact
	near("drill #60", *rig.Tips[0].OrificeDiameterM, 0.001016) // 0.0400 in: ANSI/ASME B94.11M
	if rig.FuelHose.Arrestors != 1 || rig.FuelHose.CheckValves != 1 || rig.OxygenHose.CheckValves != 1 || rig.OxygenHose.Arrestors != 0 {
		t.Errorf("arrestors and check valves do not stand on their hoses: %+v, %+v", rig.FuelHose, rig.OxygenHose)
	}
	if rig.FuelHose.Grade != setup.GradeR || rig.OxygenHose.Grade != "" {
		t.Errorf("grades %q and %q", rig.FuelHose.Grade, rig.OxygenHose.Grade)
	}
}

func TestRig_first_part_of_a_line_is_in_use_and_another_takes_over_on_request(t *testing.T) {
	w := byHand(t)
	first, _ := w.app.inUse(KindHose, LineFuel)
	w.add(KindHose, LineFuel, "inside_diameter", "8 mm", "length", "10")
	if p, _ := w.app.inUse(KindHose, LineFuel); p.ID != first.ID {
		t.Error("a second hose took the first one's place unasked")
	}
	var second string
	for _, p := range w.app.parts(KindHose) {
		if p.Line() == LineFuel && p.ID != first.ID {
			second = p.ID
		}
	}
	w.post(PartUsed{ID: second})
	if p, _ := w.app.inUse(KindHose, LineFuel); p.ID != second {
		t.Error("the second hose is not in use")
	}
	used := 0
	for _, p := range w.app.parts(KindHose) {
		if p.InUse && p.Line() == LineFuel {
			used++
		}
	}
	if used != 1 {
		t.Errorf("%d fuel hoses are marked in use", used)
	}
	w.post(UndoRequested{})
	if p, _ := w.app.inUse(KindHose, LineFuel); p.ID != first.ID {
		t.Error("undo did not bring the first hose back")
	}
}

// Retiring and deleting are taken back by one tap: the bodies are then what they were.
func TestUndo_brings_back_what_was_retired_or_deleted(t *testing.T) {
	for _, tt := range []struct {
		name string
		do   func(w *world)
	}{
		{"retired hose", func(w *world) { p, _ := w.app.inUse(KindHose, LineFuel); w.post(PartRetired{ID: p.ID}) }},
		{"deleted torch", func(w *world) { p, _ := w.app.inUse(KindTorch, ""); w.post(PartDeleted{ID: p.ID}) }},
		{"deleted tip with its rows", func(w *world) { w.post(PartDeleted{ID: w.tipID("B")}) }},
		{"deleted from its form", func(w *world) {
			id := w.tipID("A")
			w.post(PartOpened{ID: id})
			w.post(PartDeleted{ID: id})
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			w.row("B", "thickness_low", "2", "thickness_high", "4", "oxygen_low", "0.3", "fuel_low", "0.3")
			before := w.bodies()
			tt.do(w)
			if maps.Equal(before, w.bodies()) {
				t.Fatal("nothing was taken away")
			}
			if w.app.Undo == nil {
				t.Fatal("no way back is offered")
			}
			w.post(UndoRequested{})
			if !maps.Equal(before, w.bodies()) {
				t.Errorf("after undo the rig is not what it was:\n%v\n%v", before, w.bodies())
			}
		})
	}
}

func TestRetired_parts_are_kept_and_not_counted(t *testing.T) {
	w := byHand(t)
	w.post(PartRetired{ID: w.tipID("B")})
	if got := len(w.app.rigSI().Tips); got != 2 {
		t.Errorf("%d tips count, want 2", got)
	}
	w.post(PartRetired{ID: w.tipID("B"), Back: true})
	if got := len(w.app.rigSI().Tips); got != 3 {
		t.Errorf("%d tips count after taking it back, want 3", got)
	}
}

func TestCopy_starts_with_the_same_and_takes_the_rows_of_a_tip_along(t *testing.T) {
	w := byHand(t)
	w.row("B", "thickness_low", "2", "thickness_high", "4", "oxygen_low", "0.3", "fuel_low", "0.3")
	w.post(PartCopied{ID: w.tipID("B")})
	w.post(FormSaved{})
	copied := w.tipID("B copy")
	if p, _ := w.app.part(copied); p.Values["orifice_diameter"].Typed != "1.4 mm" {
		t.Errorf("the copy has %+v", p.Values)
	}
	if rows := w.app.rows(copied); len(rows) != 1 {
		t.Errorf("the copy has %d chart rows, want 1", len(rows))
	}
	if rows := w.app.rows(w.tipID("B")); len(rows) != 1 {
		t.Errorf("the original has %d chart rows, want 1", len(rows))
	}
}

func TestChart_rows_are_entered_one_after_the_other(t *testing.T) {
	w := byHand(t)
	w.post(PartAdded{Kind: KindChartRow, TipID: w.tipID("B")})
	w.fill("thickness_low", "1", "thickness_high", "2", "oxygen_low", "0.2", "fuel_low", "0.2")
	w.post(FormSaved{Another: true})
	form := w.app.Rig.Form
	if form == nil || form.ID != "" || form.texts["thickness_low"] != "2" {
		t.Fatalf("the next row does not go on at 2 mm: %+v", form)
	}
	w.fill("thickness_high", "4", "oxygen_low", "0.3", "fuel_low", "0.3")
	w.post(FormSaved{})
	if rows := w.app.rows(w.tipID("B")); len(rows) != 2 {
		t.Errorf("%d rows saved, want 2", len(rows))
	}
}

// The sample is one tap to add, marked, gives a card, and is gone again with one tap, back with another.
func TestSample_rig_comes_and_goes_with_one_tap(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	if w.app.Setup.Card == nil {
		t.Fatalf("the sample gives no card: %+v", w.app.Setup.Refusal)
	}
	if !w.app.Rig.Sample || !w.app.Setup.Sample {
		t.Error("the sample is not marked as one")
	}
	for _, g := range w.app.Rig.Groups {
		for _, p := range g.Parts {
			if !p.Sample || !strings.Contains(p.Name, "SAMPLE") {
				t.Errorf("%s is not marked as a sample", p.Name)
			}
		}
	}
	w.post(SampleRemoved{})
	if len(w.bodies()) != 0 || !w.app.Rig.Empty || w.app.Setup.Sample {
		t.Errorf("the sample left something behind: %v", w.bodies())
	}
	w.post(UndoRequested{})
	if !w.app.Rig.Sample {
		t.Error("undo did not bring the sample back")
	}
}

func TestSample_does_not_push_the_owners_parts_aside(t *testing.T) {
	w := byHand(t)
	before := w.app.rigSI()
	w.post(SampleAdded{})
	after := w.app.rigSI()
	after.Tips = after.Tips[:len(before.Tips)]
	after.FuelHose.Arrestors, after.OxygenHose.Arrestors = 0, 0 // every arrestor counts, also a sample one
	if !reflect.DeepEqual(before, after) {
		t.Errorf("the rig in use changed:\n%+v\n%+v", before, after)
	}
	mine := w.bodies()
	w.post(SampleRemoved{})
	if len(mine) <= len(w.bodies()) || len(w.app.parts(KindTip)) != 3 {
		t.Error("removing the sample took the owner's parts, or left the sample")
	}
}

// A part changed in two places shows both versions; the chosen one becomes the newest.
func TestPart_changed_in_two_places_lets_the_owner_choose(t *testing.T) {
	w := byHand(t)
	id := w.tipID("A")
	seen, _ := w.app.part(id)
	for _, name := range []string{"A1", "A2"} {
		p := seen.clone()
		p.Name = name
		d, err := draftOf(p)
		if err != nil {
			t.Fatal(err)
		}
		a, effects := w.app.write(pending{drafts: nil})
		w.app = a
		write := effects[0].(Write)
		write.Drafts = append(write.Drafts, d)
		w.write(write)
	}
	w.post(PartOpened{ID: id})
	versions := w.app.Rig.Form.Versions
	if len(versions) != 2 {
		t.Fatalf("%d versions shown, want 2", len(versions))
	}
	if s := w.app.Splits; s.Count() != 1 || len(s.Rig) != 1 || s.Rig[0].ID != id || s.Rig[0].Path != "/rig?edit="+id {
		t.Errorf("the list of what was changed in two places: %+v", s)
	}
	w.post(VersionChosen{ID: id, Op: versions[1].Op})
	p, _ := w.app.part(id)
	if p.Name != versions[1].Lines[0] || len(w.app.versions(p)) != 0 {
		t.Errorf("kept %q with %d versions left, want %q alone", p.Name, len(w.app.versions(p)), versions[1].Lines[0])
	}
	if n := w.app.Splits.Count(); n != 0 {
		t.Errorf("%d still to choose", n)
	}
}

// Of a part in two versions each field is taken from either; what is saved settles both, and both stay in its history.
func TestPart_in_two_versions_takes_each_field_from_either(t *testing.T) {
	w := byHand(t)
	id := w.tipID("A")
	seen, _ := w.app.part(id)
	for _, v := range [][2]string{{"A1", "note one"}, {"A2", "note two"}} {
		p := seen.clone()
		p.Name, p.Note = v[0], v[1]
		d, err := draftOf(p)
		if err != nil {
			t.Fatal(err)
		}
		a, effects := w.app.write(pending{drafts: nil})
		w.app = a
		write := effects[0].(Write)
		write.Drafts = append(write.Drafts, d)
		w.write(write)
	}
	w.post(PartOpened{ID: id})
	f := w.app.Rig.Form
	if len(f.Differ) != 2 || f.Differ[0].Key != "name" || f.Differ[1].Key != "note" || f.Picked(f.Differ[0]) != f.Versions[0].Op {
		t.Fatalf("differ in %+v", f.Differ)
	}
	name, note := f.Differ[0].Texts[1], f.Differ[1].Texts[0]
	w.post(FormTyped{Key: "name", Text: name})
	if f := w.app.Rig.Form; f.Picked(f.Differ[0]) != f.Versions[1].Op {
		t.Errorf("picked %q", f.Picked(f.Differ[0]))
	}
	w.post(FormSaved{})
	p, _ := w.app.part(id)
	if p.Name != name || p.Note != note || len(w.app.versions(p)) != 0 || w.app.Splits.Count() != 0 {
		t.Errorf("kept %q, %q of %q, %q; %+v", p.Name, p.Note, name, note, w.app.Splits)
	}
}

// What has no page of its own to choose on is chosen in the list.
func TestSplits_of_settings_and_tests_are_settled_in_the_list(t *testing.T) {
	w := byHand(t)
	w.post(ThemeChosen{Theme: ThemeLight})
	var theme storage.Record
	for _, r := range w.app.records {
		if r.Kind == KindPreference && strings.Contains(string(r.Body), ThemeLight) {
			theme = r
		}
	}
	for _, to := range []string{ThemeDark, ThemeSystem} {
		body := []byte(strings.ReplaceAll(string(theme.Body), ThemeLight, to))
		a, effects := w.app.write(pending{drafts: nil})
		w.app = a
		write := effects[0].(Write)
		write.Drafts = append(write.Drafts, storage.Draft{Seen: theme, Kind: theme.Kind, Schema: theme.Schema, Body: body})
		w.write(write)
	}
	s := w.app.Splits
	if len(s.Other) != 1 || len(s.Other[0].Versions) != 2 || s.Other[0].Title != "A setting of the app" {
		t.Fatalf("%+v", s)
	}
	w.post(SplitKept{ID: s.Other[0].ID, Op: "no such version"})
	w.post(SplitKept{ID: s.Other[0].ID, Op: s.Other[0].Versions[1].Op})
	if n := w.app.Splits.Count(); n != 0 {
		t.Errorf("%d still to choose", n)
	}
}
