package state

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/storage"
)

// photoWorld is a sheet being written with one photo on it, looked at.
func photoWorld(t *testing.T, p journal.Photo) *world {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.post(PhotoPut{Key: w.app.Journal.Editor.Key, Photo: p})
	w.post(PhotoLooked{Index: 0})
	return w
}

func aPhoto() journal.Photo {
	return journal.Photo{Hash: sheetHash("a"), ThumbHash: sheetHash("a1"), Role: "after", W: 2000, H: 1500, Bytes: 1000, Type: "image/jpeg"}
}

func TestPhoto_bead_is_measured_by_a_coin_and_kept_with_its_scale(t *testing.T) {
	w := photoWorld(t, aPhoto())
	w.post(PhotoMeasureBegun{})
	for _, step := range []struct {
		m    Msg
		wait string // what is asked for next
	}{
		{PhotoPointPicked{Point: -1, X: 100, Y: 100, Grain: 5}, "two ends"},
		{PhotoPointPicked{Point: -1, X: 585, Y: 100, Grain: 5}, "two edges"},
		{PhotoKnownChosen{Coin: ""}, "how long"},
		{PhotoKnownTyped{Text: "24.25 mm"}, "two edges"},
		{PhotoPointPicked{Point: -1, X: 400, Y: 700, Grain: 5}, "two edges"},
		{PhotoPointPicked{Point: -1, X: 400, Y: 828, Grain: 5}, ""},
	} {
		w.post(step.m)
		if got := w.app.Journal.Look.Measure.Problem; !strings.Contains(got, step.wait) || (got == "") != (step.wait == "") {
			t.Fatalf("after %+v: %q, want %q", step.m, got, step.wait)
		}
	}
	m := w.app.Journal.Look.Measure
	if !m.Measured || !m.Coarse || math.Abs(m.Width-0.0064) > 1e-12 {
		t.Fatalf("%+v", m)
	}
	coarse := m.Off
	for i := range m.Points { // set by pixels, each point is finer than a finger
		w.post(PhotoPointTaken{Point: i})
		w.post(PhotoPointNudged{DX: 1})
		w.post(PhotoPointNudged{DX: -1})
	}
	if fine := w.app.Journal.Look.Measure; fine.Off >= coarse/4 || fine.Coarse || math.Abs(fine.Width-0.0064) > 1e-12 {
		t.Errorf("nudged: %v ± %v, by finger ± %v", fine.Width, fine.Off, coarse)
	}
	w.post(PhotoMeasureKept{})
	p := w.app.Journal.Editor.sheet.Photos[0]
	if p.BeadM == nil || p.BeadErrM == nil || p.Scale == nil || p.Scale.M != 0.02425 || w.app.Journal.Look.Measure != nil {
		t.Fatalf("%+v", p)
	}
	if l := w.app.Journal.Look; l.Photo.BeadM == nil {
		t.Error("the photo looked at is not the one on the sheet")
	}
	w.post(PhotoMeasureBegun{}) // begins with what was kept
	if m := w.app.Journal.Look.Measure; !m.Points[0].Set || !m.Points[1].Set || m.At != 2 || m.Coin != "eur_050" {
		t.Errorf("%+v", m)
	}
}

func TestPhoto_measuring_keeps_to_the_picture_and_refuses_what_measures_nothing(t *testing.T) {
	w := photoWorld(t, aPhoto())
	w.post(PhotoMeasureBegun{})
	w.post(PhotoMeasureKept{})
	if w.app.Journal.Editor.sheet.Photos[0].BeadM != nil || w.app.Journal.Look.Measure == nil {
		t.Fatal("kept without a width")
	}
	w.post(PhotoPointPicked{Point: 9, X: -50, Y: math.NaN(), Grain: math.Inf(1)})
	if q := w.app.Journal.Look.Measure.Points[0]; q.X != 0 || q.Y != 0 || !q.Set {
		t.Errorf("outside the picture: %+v", q)
	}
	w.post(PhotoPointTaken{Point: 7})
	w.post(PhotoPointTaken{Point: 3})
	w.post(PhotoPointNudged{DX: 1})
	if q := w.app.Journal.Look.Measure.Points[3]; q.X != 1001 || q.Y != 750 {
		t.Errorf("a point never set begins in the middle: %+v", q)
	}
	for i, x := range []float64{100, 104, 0, 200} {
		w.post(PhotoPointPicked{Point: i, X: x, Y: 100, Grain: 1})
	}
	if m := w.app.Journal.Look.Measure; m.Measured || !strings.Contains(m.Problem, "on top of each other") {
		t.Errorf("a known length of four pixels: %+v", m)
	}
	w.post(PhotoPointPicked{Point: 1, X: 120, Y: 100, Grain: 1})
	w.post(PhotoKnownTyped{Text: "1 m"})
	if m := w.app.Journal.Look.Measure; m.Measured || !strings.Contains(m.Problem, "wider than a hand") {
		t.Errorf("a bead of ten metres: %+v", m)
	}
	w.post(PhotoKnownTyped{Text: "twenty"})
	if m := w.app.Journal.Look.Measure; m.Measured || m.Known.Error == "" {
		t.Errorf("a length in words: %+v", m)
	}
	w.post(PhotoMeasureLeft{})
	if w.app.Journal.Look.Measure != nil {
		t.Error("still measuring")
	}
}

func TestPhoto_drawn_or_unshown_or_saved_ones_are_not_measured(t *testing.T) {
	plain := aPhoto()
	plain.ThumbHash = ""
	for name, p := range map[string]journal.Photo{"drawn": {W: 10, H: 7, Draw: &journal.Drawing{}}, "a file": plain} {
		w := photoWorld(t, p)
		w.post(PhotoMeasureBegun{})
		if w.app.Journal.Look == nil || w.app.Journal.Look.Measure != nil {
			t.Errorf("%s: %+v", name, w.app.Journal.Look)
		}
	}
	w := photoWorld(t, aPhoto())
	w.post(PhotoLookClosed{})
	w.types("note", "x")
	w.post(SheetChosen{Key: "work", Value: "weld"})
	w.post(SheetSaved{Finish: true})
	w.post(PhotoLooked{Index: 0})
	w.post(PhotoMeasureBegun{})
	if l := w.app.Journal.Look; l == nil || l.Editable || l.Measure != nil {
		t.Errorf("of a saved sheet: %+v", l)
	}
}

// What is looked at goes with its photo, and with its sheet.
func TestPhoto_look_closes_when_the_photo_goes(t *testing.T) {
	w := photoWorld(t, aPhoto())
	w.post(PhotoRemoved{Index: 0})
	if w.app.Journal.Look != nil {
		t.Error("the photo is gone and still looked at")
	}
	w = photoWorld(t, aPhoto())
	w.post(SheetLeft{})
	if w.app.Journal.Look != nil {
		t.Error("the sheet is closed and its photo still looked at")
	}
	w.post(PhotoLooked{Index: 3})
	if w.app.Journal.Look != nil {
		t.Error("there is no such photo")
	}
}

func TestPhoto_refused_file_is_attached_once_when_asked(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	key := w.app.Journal.Editor.Key
	w.post(PhotoRefused{Key: key, Role: "back", Name: "a.heic", Why: "it cannot be opened", Offer: 12})
	w.post(PhotoRefused{Key: key, Name: "huge.bin", Why: "too large"})
	f := w.app.Journal.Editor
	if len(f.Refused) != 2 || len(f.Offers) != 1 || !strings.Contains(f.Refused[0], "a.heic: it cannot") {
		t.Fatalf("%+v", f)
	}
	w.post(PhotoAttached{Source: 13})
	w.post(PhotoAttached{Source: 12})
	if e, ok := w.effects[len(w.effects)-1].(PutPhotos); !ok || e != (PutPhotos{Key: key, Role: "back", Source: 12, Plain: true}) {
		t.Errorf("%+v", w.effects)
	}
	if f := w.app.Journal.Editor; len(f.Offers) != 0 || f.Taking != 1 {
		t.Errorf("%+v", f)
	}
}

// Storage full in the middle: the sheet and the photos before stay, the reason and what to do are said.
func TestPhoto_that_finds_no_room_leaves_the_sheet_as_it_is(t *testing.T) {
	w := photoWorld(t, aPhoto())
	w.types("note", "typed before")
	w.post(PhotoStored{Key: w.app.Journal.Editor.Key, Name: "b.jpg", Err: storage.ErrFull})
	f := w.app.Journal.Editor
	if len(f.Photos) != 1 || f.sheet.Note != "typed before" || len(f.Refused) != 1 {
		t.Fatalf("%+v", f)
	}
	for _, want := range []string{"b.jpg", "full", "saved without it", "make room", "choose the photo again"} {
		if !strings.Contains(f.Refused[0], want) {
			t.Errorf("%q lacks %q", f.Refused[0], want)
		}
	}
}

// Points picked and not kept wait when the photo is closed by mistake; put away on purpose they are gone.
func TestPhoto_points_outlast_a_closed_look(t *testing.T) {
	w := photoWorld(t, aPhoto())
	w.post(PhotoMeasureBegun{})
	w.post(PhotoPointPicked{Point: -1, X: 100, Y: 100, Grain: 5})
	w.post(PhotoKnownTyped{Text: "24.25 mm"})
	w.post(PhotoLookClosed{})
	w.post(PhotoLooked{Index: 0})
	m := w.app.Journal.Look.Measure
	if m == nil || !m.Points[0].Set || m.text != "24.25 mm" {
		t.Fatalf("%+v", m)
	}
	w.post(PhotoMeasureLeft{})
	w.post(PhotoLookClosed{})
	w.post(PhotoLooked{Index: 0})
	if m := w.app.Journal.Look.Measure; m != nil {
		t.Errorf("put away, and back: %+v", m)
	}
}
