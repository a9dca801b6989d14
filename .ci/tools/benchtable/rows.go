package main

import (
	"fmt"
	"math"
)

// row is a bar. The figure is read from figures by key and multiplied by scale; so is the floor, where there is one.
type row struct {
	what, figure string
	scale        float64
	unit         string
	floor        string
	least        bool    // the figure must be at least the bar, not at most
	bar          float64 // of the figure; 0 when the ratio is what counts
	ratio        float64 // bar of figure / floor; 0 when the figure is what counts
}

// crowd stands before the figures of a vault of a million records.
const crowd = "Scale_of_1000000_records/"

// rows are the bars of the project.
var rows = []row{
	{what: "program as sent, brotli", figure: "app brotli", scale: 1e-6, unit: "MB", floor: "floor brotli", bar: 1.9},
	{what: "first visit, slow 4G, 4x slower: painted", figure: "Start_beside_the_floor app-painted-ms", scale: 1e-3, unit: "s", floor: "Start_beside_the_floor floor-painted-ms", bar: 1.0},
	{what: "first visit, slow 4G, 4x slower: first tap answered", figure: "Start_beside_the_floor app-first-ms", scale: 1e-3, unit: "s", floor: "Start_beside_the_floor floor-first-ms", bar: 11.5},
	{what: "later visit, no network, 4x slower: tap answered", figure: "Start_beside_the_floor app-later-ms", scale: 1e-3, unit: "s", floor: "Start_beside_the_floor floor-later-ms", ratio: 1.25},
	{what: "key press in Setup, 4x slower: card painted, p95", figure: "Setup_key_press_to_painted_card painted-p95-ms", scale: 1, unit: "ms", bar: 50},
	{what: "key press in Setup, 4x slower: card painted, median", figure: "Setup_key_press_to_painted_card painted-ms", scale: 1, unit: "ms"},
	{what: "one equilibrium flame, cold", figure: "Solver_acetylene_oxygen µs/flame", scale: 1, unit: "µs", bar: 10},
	{what: "sweep of 60 flames in the browser, 4x slower", figure: "Solver_sweep_of_60_slow ms", scale: 1, unit: "ms", bar: 16},
	{what: "a usual bar heated in the browser, 4x slower", figure: "Compute_roundBar_slow ms", scale: 1, unit: "ms", bar: 30},
	{what: "journal of 20 000 sheets opens, 4x slower", figure: "Journal_of_20000_sheets open-ms", scale: 1, unit: "ms", bar: 300},
	{what: "journal of 20 000 sheets: memory of the program", figure: "Journal_of_20000_sheets program-MB", scale: 1, unit: "MB"},
	{what: "with 5 000 leak tests and 2 000 photos: read in", figure: "Journal_of_20000_sheets import-s", scale: 1, unit: "s"},
	{what: "with 5 000 leak tests: their page opens, 4x slower", figure: "Journal_of_20000_sheets leak-tests-ms", scale: 1, unit: "ms"},
	{what: "with 5 000 leak tests: one opens, 4x slower", figure: "Journal_of_20000_sheets leak-test-ms", scale: 1, unit: "ms"},
	{what: "with 2 000 photos: a sheet opens with its photo, 4x slower", figure: "Journal_of_20000_sheets sheet-with-photo-ms", scale: 1, unit: "ms"},
	{what: "all of it handed over as a file", figure: "Journal_of_20000_sheets export-s", scale: 1, unit: "s"},
	{what: "all of it handed over: memory of script rises by", figure: "Journal_of_20000_sheets export-js-rise-MB", scale: 1, unit: "MB"},
	{what: "all of it handed over: memory of the program rises by", figure: "Journal_of_20000_sheets export-program-rise-MB", scale: 1, unit: "MB"},
	{what: "sheets sent to the vault", figure: "Sync push/s", scale: 1e-3, unit: "k/s", floor: "Sync push-bare/s", least: true, ratio: 0.8},
	{what: "sheets taken from the vault", figure: "Sync pull/s", scale: 1e-3, unit: "k/s", floor: "Sync pull-bare/s", least: true, ratio: 0.8},
	{what: "vault with 1 000 000 records opens", figure: crowd + "start ns/op", scale: 1e-6, unit: "ms", bar: 1000},
	{what: "vault with 1 000 000 records: first pull of 10 new sheets", figure: crowd + "pull µs/pull", scale: 1, unit: "µs"},
	{what: "vault with 1 000 000 records: file a record, beside its body", figure: crowd + "start B-file/record", scale: 1, unit: "B", floor: crowd + "start B-body/record"},
	{what: "vault with 1 000 000 records: backup", figure: crowd + "backup s/alone", scale: 1, unit: "s"},
	{what: "vault with 1 000 000 records: backup, speed", figure: crowd + "backup MB/s", scale: 1, unit: "MB/s"},
	{what: "a push of 200 during that backup, median", figure: crowd + "backup push-meanwhile-p50-ms", scale: 1, unit: "ms", floor: crowd + "backup push-p50-ms"},
	{what: "a push of 200 during that backup, p95", figure: crowd + "backup push-meanwhile-p95-ms", scale: 1, unit: "ms", floor: crowd + "backup push-p95-ms"},
	{what: "vault with 1 000 000 records compacted: time", figure: crowd + "compact s/compact", scale: 1, unit: "s"},
	{what: "vault with 1 000 000 records compacted: size, beside before", figure: crowd + "compact MB-after", scale: 1, unit: "MB", floor: crowd + "compact MB-before"},
	{what: "pull of 10 new sheets behind 100 000, beside behind 1 000", figure: "Pull_of_10_new_sheets/behind_100000 ns/op", scale: 1e-3, unit: "µs", floor: "Pull_of_10_new_sheets/behind_1000 ns/op", ratio: 2},
	{what: "200 devices of 50 shops at once: an exchange, median", figure: "Serve_200_devices_at_once p50-ms", scale: 1e-3, unit: "s"},
	{what: "200 devices of 50 shops at once: an exchange, p95", figure: "Serve_200_devices_at_once p95-ms", scale: 1e-3, unit: "s"},
	{what: "200 devices of 50 shops at once: an exchange, p99", figure: "Serve_200_devices_at_once p99-ms", scale: 1e-3, unit: "s"},
	{what: "200 devices of 50 shops at once: memory of the server", figure: "Serve_200_devices_at_once busy-MB", scale: 1, unit: "MB"},
	{what: "used at random for minutes: memory of script", figure: "Soak js-heap-MB", scale: 1, unit: "MB"},
	{what: "used at random for minutes: threads", figure: "Soak threads", scale: 1, unit: "threads"},
	{what: "server at rest", figure: "Serve_memory idle-MB", scale: 1, unit: "MB"},
}

// line is a row with what was measured; nil is what was not, or has no floor.
type line struct {
	What   string   `json:"what"`
	Unit   string   `json:"unit"`
	Figure *float64 `json:"figure"`
	Floor  *float64 `json:"floor"`
	Ratio  *float64 `json:"ratio"`
	Bar    string   `json:"bar"`
	Met    string   `json:"met"`
}

// line judges a row by what was found. One without a bar is only told.
func (r row) line(found figures) line {
	l := line{What: r.what, Unit: r.unit, Bar: r.barText(), Met: "not measured"}
	figure, ok := found[r.figure]
	if !ok {
		return l
	}
	figure *= r.scale
	l.Figure = &figure
	if floor, ok := found[r.floor]; ok && floor > 0 {
		floor *= r.scale
		ratio := figure / floor
		l.Floor, l.Ratio = &floor, &ratio
	}
	switch {
	case r.bar == 0 && r.ratio == 0:
		l.Met = "told only"
	case r.ratio > 0 && l.Ratio == nil:
		return l
	case r.ratio > 0:
		l.Met = yesNo(r.holds(*l.Ratio, r.ratio))
	default:
		l.Met = yesNo(r.holds(figure, r.bar))
	}
	return l
}

func (r row) holds(v, bar float64) bool {
	if r.least {
		return v >= bar
	}
	return v <= bar
}

func (r row) barText() string {
	sign := "<="
	if r.least {
		sign = ">="
	}
	switch {
	case r.ratio > 0:
		return fmt.Sprintf("%s %g x floor", sign, r.ratio)
	case r.bar > 0:
		return fmt.Sprintf("%s %g %s", sign, r.bar, r.unit)
	}
	return "-"
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "NO"
}

// text is a figure with its unit, to three digits.
func (l line) text(v *float64) string {
	if v == nil {
		return "-"
	}
	digits := 2 - int(math.Floor(math.Log10(math.Max(math.Abs(*v), 1e-9))))
	return fmt.Sprintf("%.*f %s", max(0, min(digits, 6)), *v, l.Unit)
}

func ratioText(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.2f", *v)
}
