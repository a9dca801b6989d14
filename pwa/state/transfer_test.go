package state

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"torchside/storage"
)

// The report of an import says what came, what was here, and what the owner has to choose.
func TestImport_reports_what_it_did(t *testing.T) {
	for _, tt := range []struct {
		msg  Msg
		says []string
	}{
		{ImportDone{Added: 1, Held: 2}, []string{"1 new change;", "2 changes already here"}},
		{ImportDone{Held: 2}, []string{"nothing newer", "stays deleted"}},
		{ImportDone{Added: 3, Split: 1}, []string{"1 record now in two versions: open them under Rig or Journal", "both are kept"}},
		{ImportDone{Refused: []string{"x", "y"}}, []string{"2 changes of the file disagree", "the ones here stay"}},
		{TransferFailed{What: "import", Err: storage.ErrNewer}, []string{"newer version", "Nothing here was changed"}},
		{TransferFailed{What: "import", Err: storage.ErrCorrupt}, []string{"damaged"}},
		{TransferFailed{What: "import", Err: fmt.Errorf("%w: line 3", storage.ErrCorrupt)}, []string{"the file is damaged or cut short (line 3)"}},
		{TransferFailed{What: "import", Err: storage.ErrFull, Some: ImportDone{Added: 4}}, []string{"full", "4 new changes", "goes on from there"}},
		{ExportDone{Name: "a.zip", Records: 1}, []string{"a.zip, 1 record."}},
		{ExportDone{Name: "a.zip", Records: 1, Rescued: true, Lost: 3}, []string{"could not be read in full", "3 sheets that could not be read"}},
		{ExportDone{Name: "a.zip", Records: 1, Skipped: 2}, []string{"Not in it: 2 unsaved changes"}},
	} {
		w := newWorld(t)
		w.post(tt.msg)
		for _, text := range tt.says {
			if !strings.Contains(w.app.Bench.Report, text) {
				t.Errorf("%#v is reported as %q, without %q", tt.msg, w.app.Bench.Report, text)
			}
		}
	}
}

// An import changes how many records there are: the count is asked for again once they are read.
func TestImport_has_the_records_counted_again(t *testing.T) {
	w := newWorld(t)
	w.effects = nil
	w.post(ImportDone{Added: 3})
	again := slices.IndexFunc(w.effects, func(e Effect) bool { _, ok := e.(Reload); return ok })
	count := slices.IndexFunc(w.effects, func(e Effect) bool { _, ok := e.(ReadHealth); return ok })
	if again < 0 || count < again {
		t.Errorf("after an import: %+v; the count must be read after the records", w.effects)
	}
}
