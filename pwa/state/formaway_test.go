package state

import (
	"strings"
	"testing"

	"torchside/calc/units"
)

// A half-typed form does not lock the page: it is left, another part is entered, and every letter is still there.
func TestForm_left_half_typed_waits_while_other_parts_are_entered(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindHose, Line: LineOxygen})
	w.fill("length", "half a m")
	w.post(FormLeft{})
	if list := w.app.Rig.Unfinished; w.app.Rig.Form != nil || len(list) != 1 || list[0].Title != "Oxygen hose" {
		t.Fatalf("left: form %+v, unfinished %+v", w.app.Rig.Form, list)
	}
	w.add(KindHose, LineFuel, "inside_diameter", "6", "length", "5")
	w.restart()
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	f := w.app.Rig.Form
	if f == nil || f.texts["length"] != "half a m" || f.texts["line"] != LineOxygen {
		t.Fatalf("gone on with %+v", f)
	}
	w.fill("length", "7", "inside_diameter", "6")
	w.post(FormSaved{})
	if n := len(w.app.parts(KindHose)); n != 2 || len(w.app.Rig.Unfinished) != 0 || len(w.drafts) != 0 {
		t.Errorf("%d hoses, unfinished %+v, drafts %v", n, w.app.Rig.Unfinished, w.drafts)
	}
}

// Two new parts of one kind have a text each, and so has a copy.
func TestForm_of_another_new_part_starts_empty(t *testing.T) {
	w := byHand(t)
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "first")
	w.post(FormLeft{})
	w.post(PartAdded{Kind: KindTip})
	if f := w.app.Rig.Form; f.texts["name"] != "" || f.Restored {
		t.Fatalf("the second new tip starts with %q", f.texts["name"])
	}
	w.fill("name", "second")
	w.post(FormLeft{})
	w.post(PartCopied{ID: w.tipID("B")})
	if got := w.app.Rig.Form.texts["name"]; got != "B copy" {
		t.Fatalf("the copy is called %q", got)
	}
	w.post(FormLeft{})
	titles, hooks := "", map[string]bool{}
	for _, u := range w.app.Rig.Unfinished {
		titles += u.Title + "; "
		hooks[u.Hook] = true
	}
	if titles != "Tip B copy; Tip first; Tip second; " || len(hooks) != 3 {
		t.Errorf("unfinished %q, hooks %v", titles, hooks)
	}
}

func TestForm_left_untouched_leaves_nothing_behind(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindTorch})
	w.post(FormLeft{})
	if w.app.Rig.Form != nil || len(w.app.Rig.Unfinished) != 0 || w.app.Undo != nil || len(w.drafts) != 0 {
		t.Errorf("form %+v, unfinished %+v, undo %+v", w.app.Rig.Form, w.app.Rig.Unfinished, w.app.Undo)
	}
}

// A form is not left while it is being saved: the answer would find nothing to say "not saved" in.
func TestForm_is_not_left_while_it_is_being_saved(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindTorch})
	w.hold = true
	w.post(FormSaved{})
	w.post(FormLeft{})
	if w.app.Rig.Form == nil {
		t.Fatal("the form is gone before its answer")
	}
	w.release()
	if w.app.Rig.Form != nil || len(w.app.parts(KindTorch)) != 1 {
		t.Error("not saved after all")
	}
}

// What is put away, from the form or from the list, is taken back whole, also while another form is open and half typed.
func TestPut_away_can_be_taken_back(t *testing.T) {
	for name, away := range map[string]func(*world){
		"from the form": func(w *world) { w.post(FormCancelled{}) },
		"from the list": func(w *world) { w.post(FormLeft{}); w.post(Discarded(w.app.Rig.Unfinished[0])) },
		"after the store refused it": func(w *world) {
			w.fail = errNoDisk
			w.post(FormSaved{})
			w.fail = nil
			w.post(FormCancelled{})
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := newWorld(t)
			w.post(PartAdded{Kind: KindTip})
			w.fill("name", "long typed", "orifice_diameter", "1")
			away(w)
			if u := w.app.Undo; u == nil || u.Way != "Take it back" || !strings.Contains(u.Text, "long typed") {
				t.Fatalf("undo %+v", u)
			}
			if w.app.Rig.Form != nil || len(w.app.Rig.Unfinished) != 0 || len(w.drafts) != 0 {
				t.Fatalf("put away: form %+v, unfinished %+v, drafts %v", w.app.Rig.Form, w.app.Rig.Unfinished, w.drafts)
			}
			w.post(PartAdded{Kind: KindTip})
			w.fill("name", "other")
			w.post(UndoRequested{})
			if f := w.app.Rig.Form; f == nil || f.texts["name"] != "long typed" {
				t.Fatalf("taken back %+v", f)
			}
			if list := w.app.Rig.Unfinished; len(list) != 1 || list[0].Title != "Tip other" {
				t.Errorf("the other form: %+v", list)
			}
		})
	}
}

// An address with the key of a draft goes on with it; without the draft it opens an empty form.
func TestForm_by_its_address_goes_on_with_its_draft(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "half")
	key := w.app.Rig.Form.DraftKey()
	w.restart()
	w.post(PartAdded{Kind: KindTip, Draft: key})
	if f := w.app.Rig.Form; f == nil || f.texts["name"] != "half" || f.DraftKey() != key {
		t.Fatalf("reloaded %+v", f)
	}
	w.post(FormCancelled{})
	w.post(UndoDismissed{})
	w.post(PartAdded{Kind: KindTip, Draft: key})
	if f := w.app.Rig.Form; f == nil || f.texts["name"] != "" {
		t.Errorf("after it was put away %+v", f)
	}
}

// The US preset asks for the colours of the hoses until the person has answered; a choice made by hand is never asked for again
// nor changed.
func TestRegion_is_asked_for_under_US_units_until_it_is_chosen_by_hand(t *testing.T) {
	w := newWorld(t)
	if w.app.Prefs.AskRegion {
		t.Error("asked under metric units")
	}
	w.post(UnitsChosen{System: units.US()})
	if !w.app.Prefs.AskRegion || w.app.Prefs.Region != RegionISO {
		t.Errorf("under US units: asks %v, region %q; nothing is to change unasked", w.app.Prefs.AskRegion, w.app.Prefs.Region)
	}
	w.restart()
	if !w.app.Prefs.AskRegion {
		t.Error("not asked after a reload")
	}
	w.post(RegionChosen{Region: RegionISO})
	w.restart()
	w.post(UnitsChosen{System: units.Metric()})
	w.post(UnitsChosen{System: units.US()})
	if w.app.Prefs.AskRegion || w.app.Prefs.Region != RegionISO {
		t.Errorf("chosen by hand: asks %v, region %q", w.app.Prefs.AskRegion, w.app.Prefs.Region)
	}
}

func TestRegion_refused_by_the_store_is_not_asked_for_again(t *testing.T) {
	w := newWorld(t)
	w.post(UnitsChosen{System: units.US()})
	w.fail = errNoDisk
	w.post(RegionChosen{Region: RegionUS})
	if w.app.Prefs.AskRegion || w.app.Prefs.Region != RegionUS {
		t.Errorf("asks %v, region %q", w.app.Prefs.AskRegion, w.app.Prefs.Region)
	}
}
