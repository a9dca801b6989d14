package state

import (
	"maps"
	"strings"
	"testing"

	"torchside/calc/units"
	"torchside/storage"
)

// Nothing is called saved before the store has said so.
func TestSaved_is_said_after_the_store_and_not_before(t *testing.T) {
	w := newWorld(t)
	w.hold = true
	w.post(PartAdded{Kind: KindTorch})
	w.post(FormSaved{})
	if w.app.Saved.State != SaveBusy || !w.app.Rig.Form.Busy || len(w.app.parts(KindTorch)) != 0 {
		t.Errorf("before the store's answer: %+v, %d torches", w.app.Saved, len(w.app.parts(KindTorch)))
	}
	w.release()
	if w.app.Saved.State != SaveDone || w.app.Rig.Form != nil || len(w.app.parts(KindTorch)) != 1 {
		t.Errorf("after it: %+v, form %+v", w.app.Saved, w.app.Rig.Form)
	}
}

func TestSave_tapped_twice_writes_once(t *testing.T) {
	w := newWorld(t)
	w.hold = true
	w.post(PartAdded{Kind: KindTorch})
	w.post(FormSaved{})
	w.post(FormSaved{})
	w.release()
	if n := len(w.bodies()); n != 1 {
		t.Errorf("%d torches saved, want 1", n)
	}
}

// What is typed while a save is under way is not thrown away when the answer comes.
func TestForm_typed_into_while_it_is_saved_stays_open(t *testing.T) {
	w := newWorld(t)
	w.hold = true
	w.post(PartAdded{Kind: KindTorch})
	w.post(FormSaved{})
	w.fill("name", "the red one")
	w.release()
	if f := w.app.Rig.Form; f == nil || f.ID == "" || f.texts["name"] != "the red one" {
		t.Fatalf("the form is %+v", f)
	}
	w.post(FormSaved{})
	if list := w.app.parts(KindTorch); len(list) != 1 || list[0].Name != "the red one" {
		t.Errorf("torches %+v", list)
	}
}

// A failing and a full store: a standing notice with the export, the typed text kept, and everything part of the export.
func TestStore_that_refuses_leaves_a_notice_and_loses_nothing(t *testing.T) {
	for _, tt := range []struct {
		name string
		err  error
		code string
		says string
	}{
		{"failing", errNoDisk, NoticeStoreFailed, "no disk"},
		{"full", storage.ErrFull, NoticeStoreFull, "full"},
		{"none at all", storage.ErrUnavailable, NoticeStoreFailed, "no lasting storage"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := byHand(t)
			before := w.bodies()
			w.fail = tt.err
			w.post(PartAdded{Kind: KindTip})
			w.fill("name", "D", "orifice_diameter", "2")
			w.post(FormSaved{})
			w.wantNotice(tt.code, tt.says)
			if f := w.app.Rig.Form; f == nil || f.texts["name"] != "D" || f.Busy || f.Problem == "" {
				t.Errorf("the form is %+v", f)
			}
			if w.app.Saved.State != SaveFailed || !maps.Equal(before, w.bodies()) {
				t.Errorf("said %+v", w.app.Saved)
			}
			export := w.app.export().(Export)
			if len(export.Unsaved) != 1 || len(export.Records) != len(w.app.records) {
				t.Errorf("the export holds %d records and %d refused changes", len(export.Records), len(export.Unsaved))
			}
			w.fail = nil
			w.post(RetryRequested{})
			if len(w.app.Notices) != 0 || w.app.Saved.State != SaveDone || w.app.Rig.Form != nil {
				t.Errorf("after trying again: %+v, %+v", w.app.Notices, w.app.Saved)
			}
			if w.tipID("D") == "" {
				t.Error("the tip was not saved")
			}
		})
	}
}

func (w *world) wantNotice(code, says string) {
	w.t.Helper()
	for _, n := range w.app.Notices {
		if n.Code == code {
			if n.Action != ActionExport || !n.Retry || !strings.Contains(n.Text, says) {
				w.t.Errorf("notice %+v", n)
			}
			return
		}
	}
	w.t.Errorf("no notice %s among %+v", code, w.app.Notices)
}

// A second attempt of the same form replaces the refused one: one part, with the later text.
func TestForm_saved_again_after_a_refusal_is_one_part(t *testing.T) {
	w := byHand(t)
	w.fail = errNoDisk
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "D", "orifice_diameter", "2")
	w.post(FormSaved{})
	w.fill("name", "E")
	w.fail = nil
	w.post(FormSaved{})
	w.post(RetryRequested{})
	names := ""
	for _, p := range w.app.parts(KindTip) {
		names += p.Name
	}
	if names != "ABCE" {
		t.Errorf("tips %s, want ABCE", names)
	}
}

// A reload in the middle of a form, and of a question, brings both back as typed.
func TestDrafts_bring_back_what_was_typed_before_a_reload(t *testing.T) {
	w := byHand(t)
	w.post(SetupChosen{Field: "work", Value: "braze"})
	w.post(SetupTyped{Field: "thickness", Text: "2.5 mm"})
	w.post(PartOpened{ID: w.tipID("B")})
	w.fill("orifice_diameter", "half", "note", "bent")
	w.restart()
	if w.app.Rig.Form != nil || len(w.app.Rig.Unfinished) != 1 {
		t.Fatalf("form %+v, unfinished %+v", w.app.Rig.Form, w.app.Rig.Unfinished)
	}
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	f := w.app.Rig.Form
	if f == nil || !f.Restored || f.texts["orifice_diameter"] != "half" || f.texts["note"] != "bent" || f.texts["name"] != "B" {
		t.Fatalf("the form is %+v", f)
	}
	if w.app.Setup.Typed["thickness"] != "2.5 mm" || w.app.Setup.Work != "braze" || w.app.Setup.Card == nil {
		t.Errorf("the question is %+v", w.app.Setup.Typed)
	}
	w.fill("orifice_diameter", "1.5")
	w.post(FormSaved{})
	w.restart()
	if w.app.Rig.Form != nil || len(w.app.Rig.Unfinished) != 0 {
		t.Error("a saved form came back as unfinished")
	}
}

func TestDrafts_of_several_forms_wait_in_the_list(t *testing.T) {
	w := byHand(t)
	for _, name := range []string{"A", "B"} {
		w.post(PartOpened{ID: w.tipID(name)})
		w.fill("note", "note of "+name)
	}
	w.restart()
	if len(w.app.Rig.Unfinished) != 2 || w.app.Rig.Form != nil {
		t.Fatalf("unfinished %+v", w.app.Rig.Unfinished)
	}
	w.post(Resumed(w.app.Rig.Unfinished[1]))
	if f := w.app.Rig.Form; f == nil || f.texts["note"] != "note of B" || len(w.app.Rig.Unfinished) != 1 {
		t.Errorf("resumed %+v, still unfinished %+v", f, w.app.Rig.Unfinished)
	}
}

func TestCancel_puts_the_typed_text_away_and_undo_brings_it_back(t *testing.T) {
	w := byHand(t)
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "long typed")
	w.post(FormCancelled{})
	if w.app.Rig.Form != nil || len(w.drafts) != 0 || w.app.Undo == nil {
		t.Fatalf("after cancel: form %+v, drafts %v", w.app.Rig.Form, w.drafts)
	}
	w.post(UndoRequested{})
	if f := w.app.Rig.Form; f == nil || f.texts["name"] != "long typed" || len(w.drafts) != 1 {
		t.Errorf("after undo: %+v, drafts %v", f, w.drafts)
	}
}

// A number typed without a unit keeps its meaning when the units change under it, in a draft, a form and a question.
func TestUnits_changed_do_not_change_what_was_typed(t *testing.T) {
	w := byHand(t)
	w.post(SetupTyped{Field: "thickness", Text: "3"})
	w.post(PrefTyped{Key: PrefOxygenReserve, Text: "10"})
	w.post(PartOpened{ID: w.tipID("C")}) // its hole was typed as "1.8", in mm
	w.fill("note", "x")
	w.post(UnitsChosen{System: us(t)})
	if got := w.app.Setup.Typed["thickness"]; got != "3 mm" || w.app.Setup.Card == nil || w.app.Setup.Stale {
		t.Errorf("the thickness now says %q", got)
	}
	if got := *w.app.rigSI().OxygenCylinder.ReserveGaugePa; !sameSI(got, 10e5) {
		t.Errorf("the reserve is now %v Pa, want 10 bar", got)
	}
	w.restart()
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	w.post(FormSaved{})
	if p, _ := w.app.part(w.tipID("C")); !sameSI(p.Values["orifice_diameter"].SI, 0.0018) {
		t.Errorf("the hole is now %v m, want 1.8 mm", p.Values["orifice_diameter"].SI)
	}
	w.post(PartOpened{ID: w.tipID("C")})
	if got := w.app.Rig.Form.texts["orifice_diameter"]; got != "1.8 mm" {
		t.Errorf("opened again under US units the hole says %q, want 1.8 mm", got)
	}
}

func us(t *testing.T) (s units.System) {
	t.Helper()
	if err := s.UnmarshalText([]byte("us")); err != nil {
		t.Fatal(err)
	}
	return s
}

// A fault, an update and a refused worker are notices, and nothing else changes.
func TestNotices_stand_until_put_away(t *testing.T) {
	w := byHand(t)
	before := w.bodies()
	w.post(Failed{What: "index out of range"})
	w.post(UpdateReady{})
	w.post(WorkerRefused{Why: "certificate"})
	w.post(DraftFailed{Err: errNoDisk})
	if len(w.app.Notices) != 4 || !maps.Equal(before, w.bodies()) {
		t.Errorf("notices %+v", w.app.Notices)
	}
	w.post(NoticePutAway{Code: NoticeWorker})
	if len(w.app.Notices) != 3 {
		t.Errorf("notices %+v", w.app.Notices)
	}
}

func TestUnsafe_address_stores_nothing(t *testing.T) {
	w := newWorld(t)
	w.post(AddressUnsafe{Why: "no HTTPS"})
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "3"})
	if len(w.bodies()) != 0 || len(w.drafts) != 0 || w.app.Unsafe == "" {
		t.Errorf("stored %v, drafts %v", w.bodies(), w.drafts)
	}
}

// A part deleted from under its open form leaves what was typed; going on with it makes a new part.
func TestDrafts_outlive_the_part_they_belong_to(t *testing.T) {
	w := byHand(t)
	id := w.tipID("C")
	w.post(PartOpened{ID: id})
	w.fill("note", "worn oval")
	w.post(PartDeleted{ID: id})
	if w.app.Rig.Form != nil || len(w.app.Rig.Unfinished) != 1 {
		t.Fatalf("form %+v, unfinished %+v", w.app.Rig.Form, w.app.Rig.Unfinished)
	}
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	w.post(FormSaved{})
	if p, ok := w.app.part(w.tipID("C")); !ok || p.Note != "worn oval" || p.ID == id || len(w.drafts) != 0 {
		t.Errorf("after going on: %+v, drafts %v", p, w.drafts)
	}
}
