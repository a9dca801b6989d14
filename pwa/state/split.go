package state

import (
	"cmp"
	"slices"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

// Split is something changed in two places, on two devices or in two windows: every version is kept, and the owner chooses.
type Split struct {
	ID, Title string
	Path      string    // where it is opened to choose; "" when it is chosen here
	Versions  []Version // to choose from here
}

// SplitKept keeps one version of what has no page of its own to choose on; the others stay in its history.
type SplitKept struct{ ID, Op string }

func (SplitKept) msg() {}

// Splits lists all that was changed in two places, by place: of the rig, of the journal as far as it was counted, of the rest.
type Splits struct {
	Rig, Journal, Other []Split
	Sheets              int // of the journal, also those not in the list
}

// Count is how many there are.
func (s Splits) Count() int { return len(s.Rig) + max(s.Sheets, len(s.Journal)) + len(s.Other) }

// splitLimit is how many sheets the list names; what is above is counted.
const splitLimit = 20

// askSplit asks for the sheets changed in two places.
func (a App) askSplit() (App, []Effect) {
	a, token := a.token(forSplit)
	return a, []Effect{FindRecords{Token: token, Find: storage.Find{Kind: journal.Kind, Terms: []string{storage.TermConflict}, Newest: true, Limit: splitLimit, Briefs: true}}}
}

// splitFound takes in the sheets.
func (a App) splitFound(p storage.Page) App {
	a.Splits.Journal, a.Splits.Sheets = nil, p.Total
	for _, f := range p.Briefs {
		title := "A sheet"
		if b, err := journal.ReadBrief(f.Data); err == nil && b.At != "" {
			title = words.S("Sheet of %s", b.At[:min(len(b.At), len("2006-01-02"))])
		}
		a.Splits.Journal = append(a.Splits.Journal, Split{ID: string(f.ID), Title: title, Path: "/journal?sheet=" + string(f.ID)})
	}
	return a
}

// splitRecords lists what is in memory: the rig by name, the rest by kind.
func (a App) splitRecords() App {
	s := Splits{Journal: a.Splits.Journal, Sheets: a.Splits.Sheets}
	for _, r := range a.records {
		if r.Conflict == storage.ConflictNone || r.Deleted {
			continue
		}
		if p, ok := a.Rig.parts[string(r.ID)]; ok {
			s.Rig = append(s.Rig, Split{ID: p.ID, Title: words.S("%s: %s", kinds[p.Kind].title, a.partName(p)), Path: "/rig?edit=" + p.ID})
			continue
		}
		s.Other = append(s.Other, Split{ID: string(r.ID), Title: a.splitTitle(r), Versions: splitVersions(r)})
	}
	byTitle := func(x, y Split) int { return cmp.Or(cmp.Compare(x.Title, y.Title), cmp.Compare(x.ID, y.ID)) }
	slices.SortFunc(s.Rig, byTitle)
	slices.SortFunc(s.Other, byTitle)
	a.Splits = s
	return a
}

// splitTitle names a record that is no part and no sheet.
func (a App) splitTitle(r storage.Record) string {
	switch r.Kind {
	case KindLeakTest:
		return "A leak test"
	case KindTimer:
		return "A timer"
	case journal.DrillKind:
		return "A drill"
	case KindUpkeepDone, KindUpkeepRule:
		return "An entry of upkeep"
	case KindCylinderLog:
		return "An entry of a cylinder's log"
	case KindPreference:
		return "A setting of the app"
	}
	return "An entry of a kind this version does not know"
}

// splitVersions are the versions that can be kept, the one that is shown first.
func splitVersions(r storage.Record) []Version {
	var list []Version
	for i, h := range r.Heads {
		lines := []string{"As it is shown now."}
		if i > 0 {
			lines = []string{"The other version."}
		}
		if h.Del {
			lines = []string{"Deleted."}
		}
		list = append(list, Version{Op: string(h.ID), At: h.At, Lines: lines, Shown: i == 0})
	}
	return list
}

// splitKept writes one version anew on top of all.
func (a App) splitKept(m SplitKept) (App, []Effect) {
	r, ok := a.records[storage.ID(m.ID)]
	if !ok {
		return a, nil
	}
	i := slices.IndexFunc(r.Heads, func(h storage.Op) bool { return string(h.ID) == m.Op })
	if i < 0 {
		return a, nil
	}
	h := r.Heads[i]
	return a.write(pending{drafts: []storage.Draft{{Seen: r, Kind: h.Kind, Schema: h.Schema, Body: h.Body, Blobs: h.Blobs, Del: h.Del}}})
}
