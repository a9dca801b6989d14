package state

import (
	"maps"
	"slices"

	"torchside/calc/journal"
	"torchside/calc/words"
)

// ImportPlan is what a file would bring, found out before anything is changed.
type ImportPlan struct {
	New, Changed map[string]int // records by kind: not here yet, and here with something added
	Known        int            // records of which everything is here already
	Photos       int            // attachments not here yet
	Split        int            // records that would then have two versions
}

// ImportPreview is a file that was checked and waits for the owner's word.
type ImportPreview struct {
	Lines []string // what it would bring
	Empty bool     // everything of it is here already

	file Source
}

// Messages of a file to be read in, between its choice and its import.
type (
	// ImportChecked tells what the file would bring.
	ImportChecked struct {
		File Source
		Plan ImportPlan
	}
	// ImportAccepted reads it in, ImportLeft puts it away.
	ImportAccepted struct{}
	ImportLeft     struct{}
)

func (ImportChecked) msg()  {}
func (ImportAccepted) msg() {}
func (ImportLeft) msg()     {}

// CheckImport checks the whole file and compares it with what is here; answered with ImportProgress, and then ImportChecked or
// TransferFailed.
type CheckImport struct{ File Source }

func (CheckImport) effect() {}

func reduceImport(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case ImportRequested:
		a.Bench.Busy, a.Bench.Report, a.Bench.Preview = true, "", nil
		return a, []Effect{CheckImport(m)}, true
	case ImportChecked:
		a.Bench.Busy, a.Bench.Report = false, ""
		a.Bench.Preview = &ImportPreview{Lines: m.Plan.lines(), Empty: m.Plan.isEmpty(), file: m.File}
		return a, nil, true
	case ImportAccepted:
		p := a.Bench.Preview
		if p == nil || a.Bench.Busy {
			return a, nil, true
		}
		a.Bench.Busy, a.Bench.Report, a.Bench.Preview = true, "", nil
		return a, []Effect{Import{File: p.file}}, true
	case ImportLeft:
		a.Bench.Preview, a.Bench.Report = nil, "The file was put away. Nothing here was changed."
		return a, nil, true
	}
	return a, nil, false
}

func (p ImportPlan) isEmpty() bool { return len(p.New)+len(p.Changed)+p.Photos == 0 }

// lines say what the file would bring, the sheets first.
func (p ImportPlan) lines() []string {
	if p.isEmpty() {
		return []string{"Nothing new: everything in this file is here already."}
	}
	var list []string
	for _, part := range []struct {
		counts map[string]int
		words  string
	}{{p.New, " not here yet."}, {p.Changed, " here with something newer or older added; what is here stays."}} {
		if n := part.counts[journal.Kind]; n > 0 {
			list = append(list, words.Count(n, "sheet")+part.words)
		}
		others := 0
		for _, kind := range slices.Sorted(maps.Keys(part.counts)) {
			if kind != journal.Kind {
				others += part.counts[kind]
			}
		}
		if others > 0 {
			list = append(list, words.S("%s (rig, tests, drills, choices)%s", words.Count(others, "other record"), part.words))
		}
	}
	if p.Photos > 0 {
		list = append(list, words.S("%s not here yet.", words.Count(p.Photos, "picture")))
	}
	if p.Split > 0 {
		list = append(list, words.S("Conflicts: %s changed here and there. Both versions are kept, and you choose.", words.Count(p.Split, "record")))
	} else {
		list = append(list, "No conflicts.")
	}
	if p.Known > 0 {
		list = append(list, words.S("%s here already.", words.Count(p.Known, "record")))
	}
	return list
}
