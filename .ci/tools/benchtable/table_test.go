package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

const measured = `app    raw=11906886 gzip=2678254 brotli=1852588
floor  raw=6853224 gzip=1888518 brotli=1390674   (one-line go-app program, as go build makes it)
goos: linux
BenchmarkSync-2   	       1	1929628429 ns/op	        76.07 push-%of-bare	     19120 push-bare/s	     14545 push/s
BenchmarkSolver_acetylene_oxygen-2   	   16333	     78234 ns/op	         5.216 µs/flame	       0 B/op
BenchmarkSolver_acetylene_oxygen-2   	   16333	     78234 ns/op	         6.000 µs/flame	       0 B/op
BenchmarkPull_of_10_new_sheets/behind_1000-2    	       1	     65127 ns/op
BenchmarkPull_of_10_new_sheets/behind_100000-2  	       1	     73941 ns/op
BenchmarkSetup_key_press_to_painted_card-2   	       7	        47.30 changed-ms	        82.50 painted-ms	       109.1 painted-p95-ms
Benchmark of something else that is only text
`

func TestRows_judge_what_was_measured(t *testing.T) {
	found := figures{}
	found.read(measured)
	got := map[string]line{}
	for _, r := range rows {
		got[r.what] = r.line(found)
	}
	for what, want := range map[string]struct{ figure, ratio, met string }{
		"program as sent, brotli":                                   {"1.85 MB", "1.33", "yes"},
		"sheets sent to the vault":                                  {"14.5 k/s", "0.76", "NO"},
		"one equilibrium flame, cold":                               {"5.22 µs", "-", "yes"},
		"pull of 10 new sheets behind 100 000, beside behind 1 000": {"73.9 µs", "1.14", "yes"},
		"key press in Setup, 4x slower: card painted, p95":          {"109 ms", "-", "NO"},
		"key press in Setup, 4x slower: card painted, median":       {"82.5 ms", "-", "told only"},
		"vault with 1 000 000 records opens":                        {"-", "-", "not measured"},
		"later visit, no network, 4x slower: tap answered":          {"-", "-", "not measured"},
	} {
		l, ok := got[what]
		if !ok {
			t.Errorf("there is no row %q", what)
			continue
		}
		if l.text(l.Figure) != want.figure || ratioText(l.Ratio) != want.ratio || l.Met != want.met {
			t.Errorf("%s: %s, %s, %s; want %v", what, l.text(l.Figure), ratioText(l.Ratio), l.Met, want)
		}
	}
}

// A ratio is not judged without its floor, whatever the figure.
func TestRows_a_ratio_without_its_floor_is_not_met(t *testing.T) {
	found := figures{"Sync push/s": 1e9}
	for _, r := range rows {
		if l := r.line(found); r.figure == "Sync push/s" && l.Met != "not measured" {
			t.Errorf("%+v", l)
		}
	}
}

func TestRun_writes_the_same_as_JSON(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.txt"), []byte(measured), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := run(dir); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "table.json"))
	if err != nil {
		t.Fatal(err)
	}
	var lines []line
	if err := json.Unmarshal(data, &lines); err != nil || len(lines) != len(rows) || lines[0].Figure == nil || lines[0].Met != "yes" {
		t.Fatalf("%v, %d lines: %s", err, len(lines), data)
	}
	if err := run(filepath.Join(dir, "absent")); err == nil {
		t.Error("a folder that is not there was read")
	}
}
