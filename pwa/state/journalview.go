package state

import (
	"slices"

	"torchside/calc/journal"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// The views of the Journal page besides the list, which is "".
const (
	ViewDrills  = "drills"
	ViewTrends  = "trends"
	ViewCompare = "compare"
)

// Messages of what the Journal page shows.
type (
	// JournalViewed shows one of the views.
	JournalViewed struct{ View string }
	// JournalAsked is what an address asks of the page.
	JournalAsked struct {
		View    string
		A, B    string // sheets to compare
		Drill   string // the drill that is open
		Measure journal.Measure
		Series  string // the series of the trends, by its key
		Filter  journal.Filter
		Search  string
	}
	// JournalBack closes what lies over the list: an open drill, a view, then the filter.
	JournalBack struct{}
	// FiltersToggled opens or closes the choices of the filter.
	FiltersToggled struct{}
	// NewestSheets reads the list from its beginning again.
	NewestSheets struct{}
	// DrillShown opens a drill to read, DrillHidden closes it, DrillSetUp asks Setup for its settings.
	DrillShown  struct{ ID string }
	DrillHidden struct{}
	DrillSetUp  struct{ ID string }
	// SeriesChosen picks the work and class of thickness whose trend is shown.
	SeriesChosen struct{ Key string }
)

func (JournalViewed) msg()  {}
func (JournalAsked) msg()   {}
func (JournalBack) msg()    {}
func (FiltersToggled) msg() {}
func (NewestSheets) msg()   {}
func (DrillShown) msg()     {}
func (DrillHidden) msg()    {}
func (DrillSetUp) msg()     {}
func (SeriesChosen) msg()   {}

func reduceJournalView(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case JournalViewed:
		return did(a.viewed(m.View))
	case JournalAsked:
		return did(a.journalAsked(m))
	case JournalBack:
		return did(a.journalBack())
	case FiltersToggled:
		a.Journal.FiltersOpen = !a.Journal.FiltersOpen
		return did(a.askMenus())
	case NewestSheets:
		a, effects := a.listAgain()
		return a, append(effects, ShowTop{}), true
	case DrillShown:
		if _, ok := a.drill(m.ID); ok {
			a.Journal.DrillOpen = m.ID
		}
		return a, []Effect{ShowTop{}}, true
	case DrillHidden:
		a.Journal.DrillOpen = ""
		return a, []Effect{ShowTop{}}, true
	case DrillSetUp:
		return did(a.drillSetUp(m.ID))
	case SeriesChosen:
		a.Journal.SeriesKey = m.Key
		return a, nil, true
	}
	return a, nil, false
}

// viewed shows a view and asks for what it needs.
func (a App) viewed(view string) (App, []Effect) {
	a.Journal.View, a.Journal.Shown, a.Journal.Opening = view, nil, Opening{}
	top := ShowTop{}
	switch view {
	case ViewDrills:
		a, effects := a.refreshDrills().askDrills()
		return a, append(effects, top)
	case ViewTrends:
		a, effects := a.trends(a.Journal.Measure)
		return a, append(effects, top)
	case ViewCompare:
		return a, []Effect{top}
	}
	a.Journal.View = "" // the list, also for an address with a word that is none of ours
	return a, []Effect{top}
}

func (a App) journalAsked(m JournalAsked) (App, []Effect) {
	a = a.putAside() // what was asked for is not to lie under a sheet
	j := &a.Journal
	j.Shown, j.Opening = nil, Opening{}
	j.Filter, j.Search, j.Measure, j.SeriesKey, j.DrillOpen = m.Filter, m.Search, m.Measure, m.Series, ""
	a, effects := a.viewed(m.View)
	if _, ok := a.drill(m.Drill); ok && a.Journal.View == ViewDrills {
		a.Journal.DrillOpen = m.Drill
	}
	if a.Journal.View == ViewCompare {
		var more []Effect
		a, more = a.comparePair(m.A, m.B)
		effects = append(effects, more...)
	}
	a, more := a.listAgain()
	return a, slices.Concat(effects, more)
}

// comparePair picks the sheets an address names; one alone waits for the other.
func (a App) comparePair(first, second string) (App, []Effect) {
	a.Journal.Picked, a.Journal.Compare, a.Journal.compared = nil, nil, nil
	var effects []Effect
	for _, id := range []string{first, second} {
		if id != "" {
			a, effects = a.sheetPicked(id)
		}
	}
	return a, effects
}

// journalBack closes one thing.
func (a App) journalBack() (App, []Effect) {
	j := &a.Journal
	switch {
	case j.DrillOpen != "":
		j.DrillOpen = ""
	case j.View == ViewCompare:
		j.View, j.Picked, j.Compare, j.compared = "", nil, nil, nil
		a = a.markedRows()
	case j.View != "":
		j.View = ""
	case !j.Filter.IsZero() || j.Search != "":
		j.Filter, j.Search = journal.Filter{}, ""
		return a.listAgain()
	}
	return a, []Effect{ShowTop{}}
}

// drillSetUp fills Setup in with what a drill asks for. What a card knows nothing of, as a bead on plate, stays as it was.
func (a App) drillSetUp(id string) (App, []Effect) {
	d, ok := a.drill(id)
	if !ok {
		return a, nil
	}
	var effects []Effect
	for _, c := range []struct{ field, value string }{{"work", d.Work}, {"metal", d.Metal}, {"joint", cardJoint(d.Joint)}} {
		if c.value != "" {
			a, effects = a.setupChosen(SetupChosen{Field: c.field, Value: c.value})
		}
	}
	if d.ThicknessM != nil {
		a, effects = a.setupTyped(SetupTyped{Field: "thickness", Text: a.thicknessText(*d.ThicknessM)})
	}
	return a, append(effects, ShowTop{})
}

// cardJoint is the joint as a settings card knows it; "" for one it does not.
func cardJoint(joint string) string {
	if slices.Contains(setup.Joints(), setup.Joint(joint)) {
		return joint
	}
	return ""
}

func (a App) thicknessText(m float64) string {
	return words.Number(units.Format(units.QuantityThickness, m, a.Prefs.Units.Unit(units.QuantityThickness), 0))
}
