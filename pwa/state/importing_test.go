package state

import (
	"bytes"
	"strings"
	"testing"
)

func TestImport_says_how_far_it_is_until_it_is_done(t *testing.T) {
	a := New()
	file := bytes.NewReader([]byte("zip"))
	a, list := Reduce(a, ImportRequested{File: file})
	if len(list) != 1 || list[0] != (CheckImport{File: file}) || !a.Bench.Busy {
		t.Fatalf("effects %v, busy %v", list, a.Bench.Busy)
	}
	if _, list := Reduce(a, ImportAccepted{}); len(list) != 0 {
		t.Fatalf("read in before it was checked: %v", list)
	}
	a, _ = Reduce(a, ImportChecked{File: file, Plan: ImportPlan{New: map[string]int{"sheet": 3, "hose": 1}, Changed: map[string]int{"sheet": 1}, Known: 9, Photos: 4, Split: 1}})
	for i, want := range []string{"3 sheets not here yet", "1 other record", "1 sheet here", "4 pictures", "Conflicts: 1 record", "9 records here already"} {
		if a.Bench.Busy || a.Bench.Preview.Empty || !strings.Contains(a.Bench.Preview.Lines[i], want) {
			t.Fatalf("it would bring %q, want %q", a.Bench.Preview.Lines, want)
		}
	}
	if left, list := Reduce(a, ImportLeft{}); left.Bench.Preview != nil || len(list) != 0 || !strings.Contains(left.Bench.Report, "Nothing here was changed") {
		t.Fatalf("left: %q, %v", left.Bench.Report, list)
	}
	a, list = Reduce(a, ImportAccepted{})
	if len(list) != 1 || list[0] != (Import{File: file}) || !a.Bench.Busy || a.Bench.Preview != nil {
		t.Fatalf("effects %v, busy %v", list, a.Bench.Busy)
	}
	for _, tt := range []struct {
		at   ImportProgress
		want string
	}{
		{ImportProgress{ImportChecking, 40}, "Checking the file: 40 %. Nothing has been changed"},
		{ImportProgress{ImportAdding, 7}, "Reading in: 7 %"},
	} {
		a, _ = Reduce(a, tt.at)
		if !a.Bench.Busy || !strings.Contains(a.Bench.Report, tt.want) {
			t.Errorf("busy %v, says %q, want %q", a.Bench.Busy, a.Bench.Report, tt.want)
		}
	}
	if a, _ = Reduce(a, ImportDone{Added: 1}); a.Bench.Busy || strings.Contains(a.Bench.Report, "%") {
		t.Errorf("when done: busy %v, says %q", a.Bench.Busy, a.Bench.Report)
	}
}
