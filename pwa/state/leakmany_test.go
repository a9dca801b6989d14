package state

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"torchside/storage"
)

// olderTests writes ended tests of one section, a day apart, the newest of them a day before the tests of a leakWorld begin.
func (w *world) olderTests(n int) {
	w.t.Helper()
	var kept struct {
		Kind   string         `json:"kind"`
		Schema int            `json:"schema"`
		Body   map[string]any `json:"body"`
	}
	text, err := os.ReadFile("../../testdata/records/v1/bodies/leak_test.json")
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	if err != nil {
		w.t.Fatal(err)
	}
	drafts := make([]storage.Draft, n)
	for i := range drafts {
		start := began - int64(n-i)*86400_000
		kept.Body["key"], kept.Body["start_ms"], kept.Body["ended_ms"] = fmt.Sprintf("leak/oxygen_delivery/oxygen/%d", start), start, start+640_000
		for m, r := range kept.Body["readings"].([]any) {
			r.(map[string]any)["at_ms"] = start + int64(m)*630_000
		}
		body, err := json.Marshal(kept.Body)
		if err != nil {
			w.t.Fatal(err)
		}
		drafts[i] = storage.Draft{Kind: kept.Kind, Schema: kept.Schema, Body: body}
	}
	if _, err := w.author.Write(context.Background(), drafts...); err != nil {
		w.t.Fatal(err)
	}
	w.restart()
	w.at(0)
}

// Of many tests of a section the newest are listed and plotted; older ones come when asked for, and none is lost on the way.
func TestLeakHistory_listsTheNewestOfMany(t *testing.T) {
	w := leakWorld(t)
	const many = 130
	w.olderTests(many)
	newest := began - int64(86400_000)
	for _, listed := range []int{LeakTestsFirst, LeakTestsFirst + LeakTestsMore, LeakTestsFirst + 2*LeakTestsMore, many} {
		h := w.app.Leak.History
		if len(h) != 1 {
			t.Fatalf("%d sections", len(h))
		}
		tests := h[0].Tests
		if h[0].Total != many || h[0].Listed != listed || len(tests) != max(listed, LeakTestsPlotted) {
			t.Fatalf("%d in all, %d listed, %d kept; want %d, %d, %d", h[0].Total, h[0].Listed, len(tests), many, listed, max(listed, LeakTestsPlotted))
		}
		for i, test := range tests {
			if want := newest - int64(len(tests)-1-i)*86400_000; test.Start != want {
				t.Fatalf("test %d began at %d, want %d", i, test.Start, want)
			}
		}
		w.post(MoreLeakTests{Section: "oxygen_delivery", Line: "oxygen"})
	}
}

// A test is read again only when it has changed; one that has is.
func TestLeakTests_areReadAgainWhenTheyChange(t *testing.T) {
	w := leakWorld(t)
	w.olderTests(3)
	id := w.app.Leak.History[0].Tests[1].ID
	w.post(LeakOpened{ID: id})
	before := w.app.Leak.tests
	w.post(JointMarked{ID: id, Joint: "hose_torch", State: "fixed"})
	if got := w.app.Leak.tests[id].Joints["hose_torch"]; got != "fixed" {
		t.Errorf("the joint is %q: the change was not read", got)
	}
	w.post(LeakDropped{ID: id})
	if _, there := w.app.Leak.tests[id]; there || len(w.app.Leak.tests) != len(before)-1 || w.app.Leak.History[0].Total != 2 {
		t.Errorf("a deleted test is still there, or others are gone: %d", len(w.app.Leak.tests))
	}
}
