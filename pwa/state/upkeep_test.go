package state

import (
	"slices"
	"strings"
	"testing"
	"time"

	"torchside/calc/upkeep"
)

// dated opens an app on an empty store on a day at noon, local time.
func dated(t *testing.T, day string) *world {
	t.Helper()
	w := newWorld(t)
	w.on(day)
	return w
}

// on moves the clock to a day; the page was asleep between.
func (w *world) on(day string) {
	w.t.Helper()
	at, err := time.ParseInLocation("2006-01-02 15:04", day+" 12:00", time.Local)
	if err != nil {
		w.t.Fatal(err)
	}
	w.post(PageHidden{})
	w.post(ClockRead{Wall: at.UnixMilli(), Steady: w.app.Clock.Steady + 1000})
	w.post(PageShown{})
	w.post(UpkeepShown{})
}

// taskOf is a task of the first part of a kind.
func (w *world) taskOf(k Kind, task string) UpkeepItem {
	w.t.Helper()
	item, ok := w.app.Upkeep.item(itemKey(w.app.parts(k)[0].ID, task))
	if !ok {
		w.t.Fatalf("no task %s of a %s", task, k)
	}
	return item
}

// A hose is due five years after it was made and never after the day marked on it; what was done counts anew.
func TestUpkeep_dueByThePartsOwnDates(t *testing.T) {
	w := dated(t, "2031-05-10")
	w.add(KindHose, LineFuel, "inside_diameter", "6 mm", "length", "5 m", "made", "2027-02-28")
	if i := w.taskOf(KindHose, "age"); i.Due != "2032-02-28" || i.State != upkeep.Fine || i.From != "2027-02-28" {
		t.Errorf("%+v", i)
	}
	if i := w.taskOf(KindHose, "look"); i.State != upkeep.Unknown || i.Due != "" {
		t.Errorf("never looked over: %+v", i)
	}
	w.on("2032-02-28")
	if i := w.taskOf(KindHose, "age"); i.State != upkeep.Overdue || w.app.Upkeep.Due != 1 || w.app.Upkeep.Items[0].Key != i.Key {
		t.Errorf("%+v, %d due", i, w.app.Upkeep.Due)
	}
	w.post(PartRetired{ID: w.app.parts(KindHose)[0].ID})
	if w.app.Upkeep.Due != 0 {
		t.Error("a retired hose is due")
	}
}

// Done with day and note: it counts from that day, is in the history, outlives a reload, and can be taken back.
func TestUpkeep_doneCountsFromItsDay(t *testing.T) {
	w := dated(t, "2031-05-10")
	key := itemKey(ShopPart, "service")
	w.post(UpkeepOpened{Key: key})
	w.post(UpkeepTyped{Key: upkeepDay, Text: "2031-04-30"})
	w.post(UpkeepTyped{Key: upkeepNote, Text: "new pin"})
	w.restart()
	w.on("2031-05-10")
	w.post(UpkeepOpened{Key: key})
	if f := w.app.Upkeep.Open; f.Done[0].Text != "2031-04-30" || f.Done[1].Text != "new pin" {
		t.Fatalf("typed text is lost: %+v", f.Done)
	}
	w.post(UpkeepSaved{})
	i, _ := w.app.Upkeep.item(key)
	if i.Due != "2032-04-30" || i.Last != "2031-04-30" || len(i.History) != 1 || i.History[0].Note != "new pin" {
		t.Fatalf("%+v", i)
	}
	if f := w.app.Upkeep.Open; f.Done[1].Text != "" || f.Done[0].Text != "2031-05-10" {
		t.Errorf("the form is not empty again: %+v", f.Done)
	}
	w.post(UpkeepRemoved{ID: i.History[0].ID})
	if i, _ := w.app.Upkeep.item(key); i.Last != "" {
		t.Error("deleted and still counted")
	}
	w.post(UndoRequested{})
	if i, _ := w.app.Upkeep.item(key); i.Last != "2031-04-30" {
		t.Error("not taken back")
	}
}

// Days ahead, no days and nothing are refused with what is allowed; nothing is written, the text stays.
func TestUpkeep_refusesDaysAhead(t *testing.T) {
	for _, text := range []string{"2031-05-11", "2099-01-01", "2031-02-30", "yesterday", ""} {
		w := dated(t, "2031-05-10")
		w.post(UpkeepOpened{Key: itemKey(ShopPart, "look")})
		w.post(UpkeepTyped{Key: upkeepDay, Text: text})
		before := len(w.bodies())
		w.post(UpkeepSaved{})
		f := w.app.Upkeep.Open
		if len(w.bodies()) != before || !strings.Contains(f.Done[0].Error, "allowed") || f.Problem == "" || f.Done[0].Text != text {
			t.Errorf("%q: %q %q", text, f.Done[0].Error, f.Problem)
		}
	}
}

// The owner's interval overrides that of the source, and an empty one gives it back.
func TestUpkeep_ownersInterval(t *testing.T) {
	w := dated(t, "2031-05-10")
	key := itemKey(ShopPart, "look")
	w.post(UpkeepOpened{Key: key})
	w.post(UpkeepSaved{})
	for _, c := range []struct {
		text, due string
		own       bool
	}{{"3", "2031-08-10", true}, {"0", "2031-08-10", true}, {"1.5", "2031-08-10", true}, {"999", "2031-08-10", true}, {"", "2031-06-10", false}} {
		w.post(UpkeepTyped{Key: upkeepEvery, Text: c.text})
		w.post(UpkeepEvery{})
		if i, _ := w.app.Upkeep.item(key); i.Due != c.due || i.Own != c.own {
			t.Errorf("%q: due %s, own %v", c.text, i.Due, i.Own)
		}
	}
}

// A stamp that can be read is counted from; one that cannot says so and changes nothing. Acetylene has its own interval.
func TestUpkeep_stamps(t *testing.T) {
	w := dated(t, "2031-05-10")
	w.post(SampleAdded{})
	w.post(UpkeepShown{})
	var oxygen, acetylene UpkeepItem
	for _, p := range w.app.parts(KindCylinder) {
		i, _ := w.app.Upkeep.item(itemKey(p.ID, "requalify"))
		if p.Choices["gas"] == "acetylene" {
			acetylene = i
		} else {
			oxygen = i
		}
	}
	if oxygen.Months != 60 || acetylene.Months != 120 {
		t.Fatalf("%d and %d months", oxygen.Months, acetylene.Months)
	}
	w.post(UpkeepOpened{Key: oxygen.Key})
	w.post(UpkeepTyped{Key: upkeepStamp, Text: "worn off"})
	w.post(UpkeepStamped{})
	if f := w.app.Upkeep.Open; !strings.Contains(f.Stamp.Error, "worn off") || len(f.Says) != 0 || len(f.Item.History) != 0 {
		t.Errorf("%+v", f.Stamp)
	}
	w.post(UpkeepTyped{Key: upkeepStamp, Text: "06 A123 27*"})
	if f := w.app.Upkeep.Open; f.Says[0] != "Tested in 2027-06." || !slices.ContainsFunc(f.Says, func(s string) bool { return strings.Contains(s, "from memory") }) {
		t.Errorf("%q", f.Says)
	}
	w.post(UpkeepStamped{})
	if i, _ := w.app.Upkeep.item(oxygen.Key); i.Due != "2032-06-01" || i.History[0].Note != "Stamp: 06 A123 27*" {
		t.Errorf("%+v", i)
	}
}

// A refused write keeps the form as it was; tried again it is there once.
func TestUpkeep_refusedByTheStore(t *testing.T) {
	w := dated(t, "2031-05-10")
	key := itemKey(ShopPart, "look")
	w.post(UpkeepOpened{Key: key})
	w.post(UpkeepTyped{Key: upkeepNote, Text: "gauge low"})
	w.fail = errNoDisk
	w.post(UpkeepSaved{})
	if f := w.app.Upkeep.Open; f.Done[1].Text != "gauge low" || w.app.Saved.State != SaveFailed {
		t.Fatalf("%+v", f.Done)
	}
	w.fail = nil
	w.post(RetryRequested{})
	if i, _ := w.app.Upkeep.item(key); len(i.History) != 1 || i.History[0].Note != "gauge low" {
		t.Errorf("%+v", i.History)
	}
}

// A photo goes on the entry it was taken for, also when the form was closed meanwhile, and is kept by the entry's record.
func TestUpkeep_photoGoesOnItsEntry(t *testing.T) {
	w := dated(t, "2031-05-10")
	key := itemKey(ShopPart, "look")
	w.post(UpkeepOpened{Key: key})
	w.post(UpkeepPhotos{Source: 1})
	w.post(UpkeepSaved{})
	if i, _ := w.app.Upkeep.item(key); len(i.History) != 0 || !strings.Contains(w.app.Upkeep.Open.Problem, "photos") {
		t.Fatal("noted before its photo was stored")
	}
	w.post(UpkeepClosed{})
	hash := sheetHash("a")
	w.post(PhotoStored{Key: draftUpkeep + key, Hash: hash, ThumbHash: sheetHash("b"), W: 8, H: 6, Bytes: 10})
	w.post(PhotosPut{Key: draftUpkeep + key})
	if !slices.Contains(w.app.draftPhotos(), hash) {
		t.Error("the photo would be dropped as an orphan")
	}
	w.post(UpkeepOpened{Key: key})
	w.post(UpkeepSaved{})
	i, _ := w.app.Upkeep.item(key)
	if len(i.History) != 1 || len(i.History[0].Photos) != 1 || !slices.Contains(i.History[0].record.Blobs, hash) {
		t.Errorf("%+v", i.History)
	}
	if len(w.app.Upkeep.Open.Photos) != 0 {
		t.Error("the photo is on the next entry too")
	}
}

// A photo is shown large while it is on its entry; a place where none is shows none.
func TestUpkeep_photoLarge(t *testing.T) {
	w := dated(t, "2031-05-10")
	key := itemKey(ShopPart, "look")
	w.post(UpkeepLooked{Task: "none/none"})
	if w.app.Upkeep.Open != nil {
		t.Error("a task that is none was opened")
	}
	w.post(UpkeepOpened{Key: key})
	w.post(PhotoStored{Key: draftUpkeep + key, Hash: sheetHash("a"), ThumbHash: sheetHash("b"), W: 8, H: 6, Bytes: 10})
	for _, index := range []int{-1, 1} {
		w.post(UpkeepLooked{Task: key, Index: index})
		if w.app.Upkeep.Open.Look != nil {
			t.Errorf("photo %d is shown", index)
		}
	}
	w.post(UpkeepLooked{Task: key})
	if l := w.app.Upkeep.Open.Look; l == nil || l.Photo.Hash != sheetHash("a") || l.Editable {
		t.Fatalf("%+v", l)
	}
	w.post(UpkeepPhotoOff{})
	if w.app.Upkeep.Open.Look != nil {
		t.Error("the photo is shown, and gone from its entry")
	}
	w.post(PhotoStored{Key: draftUpkeep + key, Hash: sheetHash("c"), ThumbHash: sheetHash("d"), W: 8, H: 6, Bytes: 10})
	w.post(UpkeepSaved{})
	i, _ := w.app.Upkeep.item(key)
	w.post(UpkeepLeft{})
	w.post(UpkeepLooked{Task: key, Of: i.History[0].ID})
	if f := w.app.Upkeep.Open; f == nil || f.Look == nil || f.Look.Photo.Hash != sheetHash("c") {
		t.Fatalf("the photo of the history is not shown: %+v", f)
	}
	w.post(UpkeepRemoved{ID: i.History[0].ID})
	if w.app.Upkeep.Open.Look != nil {
		t.Error("the photo is shown, and its entry deleted")
	}
}
