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
	if len(list) != 1 || list[0] != (Import{File: file}) || !a.Bench.Busy {
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
