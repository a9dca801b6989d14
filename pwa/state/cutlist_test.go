package state

import (
	"strings"
	"testing"

	"torchside/calc/cut"
	"torchside/calc/units"
)

// plates types rows of thickness, length and count; the first row is there already.
func plates(w *world, rows ...[3]string) {
	for i, r := range rows {
		if i > 0 {
			w.post(CutRowAdded{})
		}
		list := w.app.CutList.Rows
		if len(list) == 0 {
			w.post(CutListShown{})
			list = w.app.CutList.Rows
		}
		id := list[len(list)-1].ID
		doAll(w, CutRowTyped{id, keyPlate, r[0]}, CutRowTyped{id, keyCutLength, r[1]}, CutRowTyped{id, keyCount, r[2]})
	}
}

// Three plates outlast the sample oxygen, and the list says after which piece; the draft brings all of it back.
func TestCutList_outlastsTheOxygen(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	plates(w, [3]string{"10 mm", "12 m", "1"}, [3]string{"8 mm", "10 m", "1"}, [3]string{"10 mm", "9 m", "1"})
	c := w.app.CutList
	if c.Answer == nil || c.Answer.Result.Shortage == nil {
		t.Fatalf("%+v %+v", c.Refusal, c.Answer)
	}
	if s := c.Answer.Result.Shortage; s.First != cut.OxygenCylinder || s.Done != 2 || s.Row != 3 || c.Answer.Result.Pieces != 3 {
		t.Errorf("%+v", s)
	}
	before := *c.Answer.Result.Shortage
	w.restart()
	w.post(CutListShown{})
	if a := w.app.CutList.Answer; a == nil || *a.Result.Shortage != before || len(w.app.CutList.Rows) != 3 {
		t.Errorf("after a restart: %+v", w.app.CutList)
	}
}

// Other units keep what was typed: the answer stays.
func TestCutList_keepsItsMeaningInOtherUnits(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(UnitsChosen{System: units.Metric()})
	plates(w, [3]string{"10", "500", "2"})
	want := w.app.CutList.Answer.Result.Oxygen
	doAll(w, UnitsChosen{System: units.US()}, CutListShown{})
	if got := w.app.CutList.Answer.Result.Oxygen; got != want {
		t.Errorf("%v became %v", want, got)
	}
	if text := w.app.CutList.Rows[0].Fields[0].Text; !strings.Contains(text, "mm") {
		t.Errorf("10 without its unit would be inches: %q", text)
	}
}

// A row that is wrong keeps its text and says why; one without a card is named; what Setup cannot read is no silent default.
func TestCutList_badInput(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	plates(w, [3]string{"10 mm", "1 m", "1"}, [3]string{"2 m", "1 m", "1.5"})
	row := w.app.CutList.Rows[1]
	if row.Fields[0].Text != "2 m" || !strings.Contains(row.Fields[0].Error, "thicker steel") || !strings.Contains(row.Fields[2].Error, "whole number") || w.app.CutList.Answer != nil {
		t.Errorf("%+v", row)
	}
	doAll(w, CutRowTyped{row.ID, keyPlate, "250 mm"}, CutRowTyped{row.ID, keyCount, "1"})
	if c := w.app.CutList; c.Refused != 2 || c.Refusal == nil || c.Answer != nil {
		t.Errorf("no hole for 250 mm: row %d, %+v", c.Refused, c.Refusal)
	}
	doAll(w, CutRowRemoved{row.ID}, SetupTyped{Field: keyPurity, Text: "90 %"}, CutListShown{})
	if c := w.app.CutList; c.Refusal == nil || c.Refusal.Code != "setup_field" || c.Answer != nil {
		t.Errorf("90 %% oxygen in Setup: %+v", c.Refusal)
	}
}

// A row taken off can be put back with what was typed in it, and no new row gets its text.
func TestCutList_aRowTakenOffCanBePutBack(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	plates(w, [3]string{"10 mm", "1 m", "1"}, [3]string{"12 mm", "2 m", "3"})
	w.post(CutRowRemoved{w.app.CutList.Rows[0].ID})
	if c := w.app.CutList; len(c.Rows) != 1 || c.Rows[0].Fields[0].Text != "12 mm" || !c.Gone {
		t.Fatalf("%+v", c.Rows)
	}
	w.post(CutRowBack{})
	if c := w.app.CutList; len(c.Rows) != 2 || c.Rows[0].Fields[0].Text != "10 mm" || c.Gone {
		t.Errorf("%+v", c.Rows)
	}
	doAll(w, CutRowRemoved{w.app.CutList.Rows[0].ID}, CutRowAdded{})
	if text := w.app.CutList.Rows[1].Fields[0].Text; text != "" {
		t.Errorf("a new row begins with %q", text)
	}
}
