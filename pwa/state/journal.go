package state

import (
	"torchside/calc/journal"
	"torchside/storage"
)

// Journal is what the Journal page shows. Sheets are never all in memory: the list holds the pages that were asked for, answers
// go by briefs.
type Journal struct {
	Active bool   // the page was opened once: it keeps itself up to date
	View   string // what is shown instead of the list: one of the View constants

	// The list.
	Filter  journal.Filter
	Filters []FormField // the choices of the filter, ready to show
	// FiltersOpen is true while the choices are shown; the numbers of sheets beside them are asked for then.
	FiltersOpen bool
	Search      string
	Rows        []SheetRow // newest first, at most SheetWindow
	Above       int        // rows before the first one that were shown and let go
	More        bool       // there are further pages
	Loading     bool
	Failed      string // why the list could not be read
	Total       int    // how many fit, shown or not
	Partial     bool   // the store is making its index anew: some may be missing for the moment

	Opening    Opening       // the sheet that is being read; zero when none is
	Shown      *SheetView    // the sheet that is open
	Editor     *SheetForm    // the sheet being written
	Look       *PhotoLook    // the photo of it that is shown large
	begun      *begunMeasure // measuring that was closed before it was kept; nil for none
	Unfinished []SheetDraft  // sheets begun and not saved, the newest first; without the one in Editor

	Picked  []string      // ids of the sheets picked for comparing, at most two
	Compare *SheetCompare // both read

	Measure   journal.Measure  // "" is the score
	Trends    []journal.Series // nil until asked for
	SeriesKey string           // of the series shown, see SeriesKey; "" is the one with the most points
	Drills    []DrillRow       // the path, then the owner's own
	Drill     *DrillForm       // an own drill being written
	DrillOpen string           // id of the drill that is read
	NextUp    string           // id of the drill to practise next; "" when all are at blue

	// Worked is what worked before for the question Setup asks now; nil when nothing is asked or nothing fits.
	Worked *journal.Worked

	Sample bool   // sheets of the sample journal are known to be here
	Busy   bool   // a table or the sample is being made or removed
	Report string // what the last of these did

	asked      map[int]string // what questions to the store are for, by token
	listToken  int
	next       storage.Cursor
	counts     map[string][]storage.TermCount // by the name of a choice of the filter: what the store knows
	menuToken  int                            // of the question for counts; 0 when they are to be asked for
	table      []byte                         // being made
	tabled     int                            // sheets in it
	sheets     int                            // all of them
	samples    int                            // of the sample
	answers    map[string][]journal.Brief     // by what was asked
	workedKey  string                         // what answers["worked"] is for
	compared   map[string]SheetView           // by id, read for comparing
	trendAsked bool
}

// Opening names a sheet that is being read to be shown, or to be changed.
type Opening struct {
	ID   string
	Edit bool

	key string // of the draft that is asked for; "" for that of the sheet
}

// SheetRow is one row of the list.
type SheetRow struct {
	ID    string
	Brief journal.Brief
	Drill string // its name
	// Conflict is true when there are several versions to choose from, Picked while it is picked for comparing.
	Conflict, Picked bool
}

// SheetView is an open sheet.
type SheetView struct {
	ID       string
	Sheet    journal.Sheet
	Drill    string // its name
	Overall  journal.Overall
	Scores   []ScoreField
	Flags    []*journal.Problem // oddities: a date in the future, fields this version does not understand
	Versions []Version          // the versions to choose from, of a sheet changed in two places

	// Of a sheet in two versions: the other one, where the two differ, and which fields are to come from the other.
	Other       *journal.Sheet
	Differences []journal.Difference
	Picked      map[string]bool

	record storage.Record
}

// SheetCompare are two sheets side by side.
type SheetCompare struct {
	A, B  SheetView
	Lines []journal.Difference
}

// SheetDraft is a sheet begun and not saved.
type SheetDraft struct {
	Key   string
	Title string
}

// SheetFirst is how many rows the list begins with: more than two screens of a phone, and no more, since every row that nobody
// looks at keeps the answer waiting. SheetPage is how many one tap adds, SheetWindow how many are kept at once: who reads on loses
// the first ones from the screen, and the page does not slow down with every page read.
const (
	SheetFirst  = 20
	SheetPage   = 50
	SheetWindow = 4 * SheetPage
)

// Numbers of briefs the answers look at: enough for years of practice of one kind, few enough to be read at once.
const (
	workedLimit = 300
	drillLimit  = 20
	trendLimit  = 3000
	sampleLimit = 200
	tablePage   = 100
)

func reduceJournal(a App, m Msg) (App, []Effect, bool) {
	for _, part := range []func(App, Msg) (App, []Effect, bool){reduceJournalView, reduceSheetList, reduceSheetForm, reduceSheetWatch, reduceSheetVersions, reduceSheetPhotos, reducePhotoLook, reduceAnswers, reduceSheetOut, reduceSheetAnswers} {
		if b, effects, ok := part(a, m); ok {
			return b.looking(), effects, true
		}
	}
	return a, nil, false
}

// isSheet tells whether a record is one of those that are never all in memory.
func isSheet(kind string) bool { return kind == journal.Kind }

// sheetView makes an open sheet of its record; ok is false for one that cannot be read or is deleted.
func (a App) sheetView(r storage.Record) (*SheetView, bool) {
	s, err := journal.Read(r.Body)
	if err != nil || r.Deleted || !isSheet(r.Kind) {
		return nil, false
	}
	v := &SheetView{ID: string(r.ID), Sheet: s, Drill: a.drillName(s.Drill), Overall: s.Overall(), Scores: scoreFields(s), Flags: s.Flags(a.nowText()), record: r}
	if r.Conflict == storage.ConflictNone {
		return v, true
	}
	v.twoVersions()
	for i, h := range r.Heads {
		if one, err := journal.Read(h.Body); err == nil && !h.Del {
			v.Versions = append(v.Versions, Version{Op: string(h.ID), At: h.At, Lines: a.sheetLines(one), Shown: i == 0})
		}
	}
	return v, true
}

// ScoreField is one score ready to show.
type ScoreField struct {
	journal.Score
	Given   bool
	Value   int
	Skipped bool
	Step    string // what the value means
}

func scoreFields(s journal.Sheet) []ScoreField {
	var list []ScoreField
	for _, score := range journal.ScoresFor(s.Work) {
		f := ScoreField{Score: score}
		if v, ok := s.Scores[score.ID]; ok && v >= 0 && v <= journal.MaxScore {
			f.Given, f.Value, f.Step = true, v, score.Steps[v]
		}
		for _, id := range s.Skipped {
			f.Skipped = f.Skipped || id == score.ID
		}
		list = append(list, f)
	}
	return list
}

// drillName is the name of a drill of the path or of an own one.
func (a App) drillName(id string) string {
	if name := journal.DrillName(id); name != "" || id == "" {
		return name
	}
	if d, err := journal.ReadDrill(a.records[storage.ID(id)].Body); err == nil {
		return d.Name
	}
	return id
}
