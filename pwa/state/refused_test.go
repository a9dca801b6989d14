package state

import (
	"encoding/json"
	"strings"
	"testing"

	"torchside/calc/units"
)

// A half-finished change of a saved part comes back as a change of that part: as a new part it would leave the old values in use.
func TestDrafts_of_a_saved_part_stay_with_it(t *testing.T) {
	w := newWorld(t)
	w.add(KindTip, "", "name", "A", "orifice_diameter", "1")
	id := w.app.parts(KindTip)[0].ID
	w.post(PartOpened{ID: id})
	w.fill("name", "B")
	w.restart()
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	if f := w.app.Rig.Form; f == nil || f.ID != id {
		t.Fatalf("after a reload the form is %+v, want that of part %s", f, id)
	}
	w.post(FormSaved{})
	if tips := w.app.parts(KindTip); len(tips) != 1 || tips[0].Name != "B" {
		t.Errorf("%d tips, the first is named %q", len(tips), tips[0].Name)
	}
}

// "Saved" and the notice follow what is true once the store has answered: a refusal that was made good leaves nothing behind.
func TestSaved_after_a_refusal_made_good(t *testing.T) {
	w := newWorld(t)
	w.fail = errNoDisk
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "A", "orifice_diameter", "1")
	w.post(FormSaved{})
	w.fail = nil
	w.post(FormSaved{})
	if w.app.Saved.State != SaveDone || len(w.app.Notices) != 0 {
		t.Errorf("status %+v, notices %+v", w.app.Saved, w.app.Notices)
	}
}

// A later good write does not hide that an earlier one was refused.
func TestSaved_is_not_said_while_something_is_refused(t *testing.T) {
	w := newWorld(t)
	w.fail = errNoDisk
	w.post(ThemeChosen{Theme: ThemeLight})
	w.fail = nil
	w.post(RegionChosen{Region: RegionUS})
	if w.app.Saved.State != SaveFailed || w.app.Saved.Reason == "" || len(w.app.Notices) == 0 {
		t.Errorf("status %+v, notices %+v", w.app.Saved, w.app.Notices)
	}
	w.post(RetryRequested{})
	if w.app.Saved.State != SaveDone || len(w.app.Notices) != 0 {
		t.Errorf("after a good retry: status %+v, notices %+v", w.app.Saved, w.app.Notices)
	}
}

// Trying a refused choice again must not undo a later choice that was saved.
func TestRetry_does_not_bring_back_an_older_choice(t *testing.T) {
	w := newWorld(t)
	w.fail = errNoDisk
	w.post(ThemeChosen{Theme: ThemeDark})
	w.fail = nil
	w.post(ThemeChosen{Theme: ThemeLight})
	w.post(RetryRequested{})
	w.restart()
	if w.app.Prefs.Theme != ThemeLight {
		t.Errorf("theme is %q, the last choice was %q", w.app.Prefs.Theme, ThemeLight)
	}
}

// A refused form that was put away is not saved behind the person's back.
func TestRetry_leaves_out_what_was_put_away(t *testing.T) {
	w := newWorld(t)
	w.fail = errNoDisk
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "A", "orifice_diameter", "1")
	w.post(FormSaved{})
	w.post(FormCancelled{})
	w.fail = nil
	w.post(RetryRequested{})
	if n := len(w.app.parts(KindTip)); n != 0 {
		t.Errorf("%d tips saved after they were put away", n)
	}
}

// Units changed in another window keep the meaning of what is typed here.
func TestUnits_from_another_window_keep_typed_meaning(t *testing.T) {
	w := newWorld(t)
	w.post(UnitsChosen{System: units.US()})
	w.post(SetupTyped{Field: "thickness", Text: "0.125"})
	other := &world{t: t, store: w.store, author: w.author, drafts: map[string]Draft{}}
	other.restart()
	other.post(UnitsChosen{System: units.Metric()})
	w.run([]Effect{Reload{}})
	if got := w.app.Setup.Typed["thickness"]; w.app.Prefs.Units.IsUS() || got == "0.125" {
		t.Errorf("units US: %v, thickness %q; 0.125 in must not become 0.125 mm", w.app.Prefs.Units.IsUS(), got)
	}
}

// A refused change of a part gives way to a later one of the same part: tried again, it would split the part in two versions.
func TestRetry_leaves_out_a_change_whose_part_was_changed_since(t *testing.T) {
	w := newWorld(t)
	w.add(KindTip, "", "name", "A", "orifice_diameter", "1")
	id := w.app.parts(KindTip)[0].ID
	w.fail = errNoDisk
	w.post(PartRetired{ID: id})
	w.fail = nil
	w.post(PartOpened{ID: id})
	w.fill("name", "B")
	w.post(FormSaved{})
	w.post(RetryRequested{})
	p, _ := w.app.part(id)
	if p.Name != "B" || p.Retired || len(p.record.Heads) != 1 || w.app.Saved.State != SaveDone {
		t.Errorf("after trying again: %+v, %+v", p, w.app.Saved)
	}
}

// A refused form stays refused when its part is changed in another way: what was typed into it is nowhere else.
func TestRetry_keeps_a_form_whose_part_was_changed_since(t *testing.T) {
	w := newWorld(t)
	w.add(KindTip, "", "name", "A", "orifice_diameter", "1")
	id := w.app.parts(KindTip)[0].ID
	w.post(PartOpened{ID: id})
	w.fill("name", "B")
	w.fail = errNoDisk
	w.post(FormSaved{})
	w.fail = nil
	w.post(PartRetired{ID: id})
	if len(w.app.unsaved) != 1 || w.app.Saved.State != SaveFailed {
		t.Errorf("refused %+v, status %+v", w.app.unsaved, w.app.Saved)
	}
}

// A failed read is told as a read: nothing was refused, and nothing has to be saved again.
func TestStore_that_cannot_be_read_is_not_called_unsaved(t *testing.T) {
	w := newWorld(t)
	w.post(StoreFailed{Err: errNoDisk})
	n := w.app.Notices[0]
	if n.Code != NoticeStoreUnread || !strings.HasPrefix(n.Text, "What is stored cannot be read: ") || !n.Retry || w.app.Saved.State != SaveIdle {
		t.Errorf("notice %+v, status %+v", n, w.app.Saved)
	}
	w.post(ThemeChosen{Theme: ThemeLight})
	if len(w.app.Notices) != 1 {
		t.Errorf("after a good write, with nothing read yet: %+v", w.app.Notices)
	}
	w.post(RetryRequested{})
	if len(w.app.Notices) != 0 {
		t.Errorf("after a good read: %+v", w.app.Notices)
	}
}

// A store that could not be read at first still gives an unfinished form its part, once it can.
func TestDrafts_wait_for_a_store_that_failed_at_first(t *testing.T) {
	w := newWorld(t)
	w.add(KindTip, "", "name", "A", "orifice_diameter", "1")
	id := w.app.parts(KindTip)[0].ID
	w.post(PartOpened{ID: id})
	w.fill("name", "B")
	w.app = New()
	w.post(DraftsLoaded{Drafts: w.drafts})
	w.post(StoreFailed{Err: errNoDisk})
	w.post(RetryRequested{})
	w.post(Resumed(w.app.Rig.Unfinished[0]))
	if f := w.app.Rig.Form; f == nil || f.ID != id {
		t.Errorf("after the store was read the form is %+v", f)
	}
}

// Reading again, as another window's change makes it happen, does not make good what was refused.
func TestReload_leaves_the_notice_of_what_is_refused(t *testing.T) {
	w := newWorld(t)
	w.fail = errNoDisk
	w.post(ThemeChosen{Theme: ThemeLight})
	w.post(OtherWrote{})
	if len(w.app.Notices) != 1 || w.app.Saved.State != SaveFailed {
		t.Errorf("notices %+v, status %+v", w.app.Notices, w.app.Saved)
	}
}

// What another window saved is shown here as soon as it tells.
func TestOther_window_is_read_when_it_wrote(t *testing.T) {
	w := newWorld(t)
	other := &world{t: t, store: w.store, author: w.author, drafts: map[string]Draft{}}
	other.restart()
	other.add(KindTip, "", "name", "A", "orifice_diameter", "1")
	w.post(OtherWrote{})
	if n := len(w.app.parts(KindTip)); n != 1 {
		t.Errorf("%d tips, the other window saved 1", n)
	}
}

// An export asked for while a write is under way takes it along: whether it is saved is known only when the file is made.
func TestExport_takes_along_what_is_being_written(t *testing.T) {
	w := newWorld(t)
	w.hold = true
	w.post(ThemeChosen{Theme: ThemeLight})
	e := w.app.export().(Export)
	if len(e.Waiting) != 1 || len(e.Waiting[0].Drafts) != 1 || e.Waiting[0].Token != w.held[0].Token {
		t.Errorf("the export takes along %+v", e.Waiting)
	}
}

// A chart row that cannot be copied is told of, and no half of the chart is written.
func TestCopied_chart_is_whole_or_told_of(t *testing.T) {
	w := newWorld(t)
	w.app.Rig.parts = map[string]Part{
		"good": {ID: "good", Kind: KindChartRow, Choices: map[string]string{"tip": "a"}},
		"bad":  {ID: "bad", Kind: KindChartRow, Choices: map[string]string{"tip": "a"}, extra: map[string]json.RawMessage{"x": json.RawMessage("{")}},
	}
	a, effects := w.app.copyRows("a", "b")
	if len(effects) != 0 || len(a.Notices) != 1 || a.Notices[0].Code != NoticePanic {
		t.Errorf("effects %+v, notices %+v", effects, a.Notices)
	}
}
