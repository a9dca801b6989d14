package state

import (
	"context"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/storage"
)

// sheetHash is a name of a photo.
func sheetHash(last string) string { return strings.Repeat("0", 64-len(last)) + last }

func TestJournal_photos_come_go_and_come_back(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	key := w.app.Journal.Editor.Key
	w.post(PhotosChosen{Source: 7, Role: "after"})
	if e, ok := w.effects[len(w.effects)-1].(PutPhotos); !ok || e != (PutPhotos{Key: key, Role: "after", Source: 7}) {
		t.Fatalf("%+v", w.effects[len(w.effects)-1])
	}
	w.post(SheetSaved{Finish: true})
	if w.app.Journal.Editor == nil || w.app.Journal.Editor.Problem == "" {
		t.Fatal("saved without the photo")
	}
	for _, last := range []string{"a", "b", "c"} {
		w.post(PhotoPut{Key: key, Photo: journal.Photo{Hash: sheetHash(last), ThumbHash: sheetHash(last + "1"), Role: "after"}})
	}
	w.post(PhotoRefused{Key: key, Name: "letter.jpg", Why: "this is no picture"})
	w.post(PhotoStored{Key: key, Name: "big.jpg", Err: storage.ErrFull})
	w.post(PhotosPut{Key: key})
	if f := w.app.Journal.Editor; len(f.Photos) != 3 || len(f.Refused) != 2 || !strings.Contains(f.Refused[1], "full") || f.Taking != 0 {
		t.Fatalf("%+v", f)
	}
	w.post(PhotoTyped{Index: 1, Text: "the middle one"})
	if p := w.app.Journal.Editor.Photos[1]; p.Name != "the middle one" {
		t.Errorf("%+v", p)
	}
	w.post(PhotoRemoved{Index: 1})
	w.types("note", "typed after")
	w.post(UndoRequested{})
	f := w.app.Journal.Editor
	if len(f.Photos) != 3 || f.Photos[1].Caption != "the middle one" || f.sheet.Note != "typed after" {
		t.Errorf("%+v", f.sheet)
	}
	w.post(SheetSaved{Finish: true})
	r, err := w.store.Get(context.Background(), storage.ID(w.app.Journal.Shown.ID))
	if err != nil || len(r.Blobs) != 6 || w.app.Journal.Rows[0].Brief.Photos != 3 {
		t.Errorf("the record names %d blobs: %v", len(r.Blobs), err)
	}
}

// A photo that was slow must not be lost when the form was closed meanwhile.
func TestJournal_a_late_photo_reaches_the_sheet_that_waits(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	key := w.app.Journal.Editor.Key
	w.types("note", "x")
	w.post(PhotosChosen{Source: 1, Role: "back"})
	w.post(SheetLeft{})
	w.post(PhotoPut{Key: key, Photo: journal.Photo{Hash: sheetHash("d"), Role: "back"}})
	w.post(SheetResumed{Key: key})
	if f := w.app.Journal.Editor; len(f.Photos) != 1 || f.sheet.Note != "x" {
		t.Errorf("%+v", f)
	}
	w.post(PhotoStored{Key: key, Name: strings.Repeat("ß", 300) + ".heic", Hash: sheetHash("f"), Type: "image/heic"})
	if f := w.app.Journal.Editor; len(f.Photos) != 2 || len(f.sheet.Check()) != 0 {
		t.Errorf("a long name: %v", f.sheet.Check())
	}
	w.post(PhotoPut{Key: "sheet:gone", Photo: journal.Photo{Hash: sheetHash("e")}})
	if w.app.Journal.Report == "" {
		t.Error("nothing is said about a photo without a sheet")
	}
}
