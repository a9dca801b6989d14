package state

import (
	"slices"

	"torchside/calc/journal"
	"torchside/calc/setup"
)

func reduceAnswers(a App, m Msg) (App, []Effect, bool) {
	if m, ok := m.(TrendsAsked); ok {
		return did(a.trends(m.Measure))
	}
	return reduceDrills(a, m)
}

// trends shows the trends of a measure from the sheets read before, and reads them anew.
func (a App) trends(m journal.Measure) (App, []Effect) {
	if m != journal.BySpeed && m != journal.ByGas {
		m = journal.ByScore
	}
	a.Journal.Measure, a.Journal.trendAsked = m, true
	a.Journal.Trends = journal.Trends(a.Journal.answers[forTrends], m)
	return a.find(forTrends, journal.Filter{}, trendLimit)
}

// SeriesKey names a series of the trends.
func SeriesKey(s journal.Series) string { return s.Work + "/" + s.Class }

// askWorked asks for the sheets that may answer what worked before, when Setup asks about another work, metal or joint than before.
func (a App) askWorked() (App, []Effect) {
	if a.Setup.Card == nil || a.Setup.Stale {
		a.Journal.Worked = nil
		return a, nil
	}
	in := a.Setup.input
	key := string(in.Work) + "/" + string(in.Metal) + "/" + string(in.Joint)
	if key == a.Journal.workedKey {
		return a.worked(), nil
	}
	a.Journal.workedKey, a.Journal.Worked = key, nil
	f := journal.Filter{Work: string(in.Work), Metal: string(in.Metal), Joint: string(in.Joint)}
	return a.find(forWorked, f, workedLimit)
}

// worked answers from the sheets read for the present work; without any there is nothing to say.
func (a App) worked() App {
	a.Journal.Worked = nil
	list := a.Journal.answers[forWorked]
	if a.Setup.Card == nil || a.Setup.Stale || len(list) == 0 {
		return a
	}
	in := a.Setup.input
	// The sheets were found by work, metal and joint; an answer to an older question must not pass for this one.
	if first := list[0]; first.Work != string(in.Work) || first.Metal != string(in.Metal) || in.Joint != "" && first.Joint != string(in.Joint) {
		return a
	}
	w := journal.Best(list, wanted(in))
	if w.Sheets > 0 {
		a.Journal.Worked = &w
	}
	return a
}

func wanted(in setup.Input) journal.Wanted {
	w := journal.Wanted{Work: string(in.Work), Metal: string(in.Metal), Joint: string(in.Joint), Thick: in.ThicknessM}
	if in.Rig != nil {
		w.Fuel = string(in.Rig.FuelCylinder.Fuel)
	}
	return w
}

// sheetPicked picks a sheet for comparing or lets it go; two are read and set side by side.
func (a App) sheetPicked(id string) (App, []Effect) {
	picked := slices.Clone(a.Journal.Picked)
	if i := slices.Index(picked, id); i >= 0 {
		picked = slices.Delete(picked, i, i+1)
	} else {
		picked = append(picked, id)
	}
	if len(picked) > 2 {
		picked = picked[1:]
	}
	a.Journal.Picked, a.Journal.Compare, a.Journal.compared = picked, nil, nil
	a = a.markedRows()
	if len(picked) < 2 {
		return a, nil
	}
	a, first := a.readSheet(forCompare, picked[0])
	a, second := a.readSheet(forCompare, picked[1])
	return a, append(first, second...)
}

// markedRows marks the rows that are picked.
func (a App) markedRows() App {
	a.Journal.Rows = slices.Clone(a.Journal.Rows)
	for i := range a.Journal.Rows {
		a.Journal.Rows[i].Picked = slices.Contains(a.Journal.Picked, a.Journal.Rows[i].ID)
	}
	return a
}

// comparing takes in one of the two sheets.
func (a App) comparing(v *SheetView) App {
	compared := map[string]SheetView{v.ID: *v}
	for id, one := range a.Journal.compared {
		if id != v.ID {
			compared[id] = one
		}
	}
	a.Journal.compared = compared
	if len(a.Journal.Picked) != 2 {
		return a
	}
	x, okX := compared[a.Journal.Picked[0]]
	y, okY := compared[a.Journal.Picked[1]]
	if okX && okY {
		a.Journal.Shown = nil
		a.Journal.Compare = &SheetCompare{A: x, B: y, Lines: journal.Compare(x.Sheet, y.Sheet)}
	}
	return a
}
