package state

import "torchside/calc/journal"

// Messages of the list of sheets.
type (
	// JournalOpened says that the page is in sight: list and drills are read.
	JournalOpened struct{}
	// SheetFiltered sets one choice of the filter, by its key ("work", "metal", "joint", "position", "class", "tip", "drill",
	// "score", "month", "test", "photo", "draft", "sample"); "" takes it away. FilterCleared takes all away.
	SheetFiltered struct{ Key, Value string }
	FilterCleared struct{}
	// SheetSearched is the text typed into the search.
	SheetSearched struct{ Text string }
	// MoreSheets asks for the next page of the list.
	MoreSheets struct{}
	// SheetOpened shows a sheet, SheetClosed the list again.
	SheetOpened struct{ ID string }
	SheetClosed struct{}
	// SheetDeleted deletes the open sheet; SheetVersionChosen keeps one of its versions.
	SheetDeleted       struct{ ID string }
	SheetVersionChosen struct{ Op string }
	// SheetPicked picks a sheet for comparing or lets it go; a third one takes the place of the first. CompareClosed lets both go.
	SheetPicked   struct{ ID string }
	CompareClosed struct{}
)

// Messages of a sheet being written.
type (
	// SheetCaught begins a sheet from the settings card of Setup, SheetBegun an empty one, or one of a drill.
	SheetCaught struct{}
	SheetBegun  struct{ Drill string }
	// SheetEdited opens the open sheet for changes, SheetCopied begins a new one with its settings.
	SheetEdited struct{ ID string }
	SheetCopied struct{ ID string }
	// SheetResumed goes on with one begun before.
	SheetResumed struct{ Key string }
	// SheetTyped is a text or number typed, SheetChosen a choice, by the key of the field.
	SheetTyped  struct{ Key, Text string }
	SheetChosen struct{ Key, Value string }
	// SheetScored gives a score; SheetSkipped passes it over. The same again takes it back.
	SheetScored struct {
		ID    string
		Value int
	}
	SheetSkipped struct{ ID string }
	// SheetTested notes a bend or break test, SheetTestDropped takes one away.
	SheetTested      struct{ Result journal.TestResult }
	SheetTestDropped struct{ Index int }
	// SheetSaved saves the sheet, as finished or as a draft in the journal.
	SheetSaved struct{ Finish bool }
	// SheetLeft closes the editor; what was typed is kept. SheetDiscarded drops it; Undo brings it back.
	SheetLeft      struct{}
	SheetDiscarded struct{}
)

// Messages of photos.
type (
	// PhotosChosen hands files over that the page holds under a number; Role is one of journal.Roles.
	PhotosChosen struct {
		Source int
		Role   string
	}
	// PhotoPut says that one of them is stored; PhotoRefused why not.
	PhotoPut struct {
		Key   string // of the sheet being written
		Photo journal.Photo
	}
	PhotoRefused struct {
		Key, Name, Why, Role string
		Offer                int // number under which the page keeps the file, to be attached as it is; 0 for none
	}
	// PhotoAttached attaches a refused file as it is, by that number.
	PhotoAttached struct{ Source int }
	// PhotoStored says what became of one file in the store: it ends as PhotoPut or PhotoRefused.
	PhotoStored struct {
		Key, Role, Name, Type string
		Hash, ThumbHash       string
		W, H, Bytes           int
		Err                   error
	}
	// PhotosPut says that all files of one choice were dealt with.
	PhotosPut struct{ Key string }
	// PhotoRemoved takes a photo off the sheet; Undo brings it back.
	PhotoRemoved struct{ Index int }
	// PhotoTyped sets the caption, PhotoRoleChosen what it shows.
	PhotoTyped struct {
		Index int
		Text  string
	}
	PhotoRoleChosen struct {
		Index int
		Role  string
	}
)

// Messages of answers, drills and of handing out.
type (
	// TrendsAsked reads the trends of a measure.
	TrendsAsked struct{ Measure journal.Measure }
	// DrillAdded opens an empty own drill, DrillOpened a saved one; DrillTyped and DrillChosen fill it in, DrillSaved saves it,
	// DrillLeft closes it, DrillDeleted deletes it.
	DrillAdded   struct{}
	DrillOpened  struct{ ID string }
	DrillTyped   struct{ Key, Text string }
	DrillChosen  struct{ Key, Value string }
	DrillSaved   struct{}
	DrillLeft    struct{}
	DrillDeleted struct{ ID string }
	// SheetTableAsked makes the table of all sheets that fit the filter; FileHanded tells that a file was handed to the browser.
	SheetTableAsked struct{}
	FileHanded      struct{ Name string }
	// FileRefused says why not.
	FileRefused struct {
		Name string
		Err  error
	}
	// SheetShared hands the open sheet on as text. SheetShareFailed says why not.
	SheetShared      struct{}
	SheetShareFailed struct{ Why string }
	// SampleSheetsAdded adds the sample journal, SampleSheetsRemoved removes it.
	SampleSheetsAdded   struct{}
	SampleSheetsRemoved struct{}
)

func (JournalOpened) msg()       {}
func (SheetFiltered) msg()       {}
func (FilterCleared) msg()       {}
func (SheetSearched) msg()       {}
func (MoreSheets) msg()          {}
func (SheetOpened) msg()         {}
func (SheetClosed) msg()         {}
func (SheetDeleted) msg()        {}
func (SheetVersionChosen) msg()  {}
func (SheetPicked) msg()         {}
func (CompareClosed) msg()       {}
func (SheetCaught) msg()         {}
func (SheetBegun) msg()          {}
func (SheetEdited) msg()         {}
func (SheetCopied) msg()         {}
func (SheetResumed) msg()        {}
func (SheetTyped) msg()          {}
func (SheetChosen) msg()         {}
func (SheetScored) msg()         {}
func (SheetSkipped) msg()        {}
func (SheetTested) msg()         {}
func (SheetTestDropped) msg()    {}
func (SheetSaved) msg()          {}
func (SheetLeft) msg()           {}
func (SheetDiscarded) msg()      {}
func (PhotosChosen) msg()        {}
func (PhotoPut) msg()            {}
func (PhotoRefused) msg()        {}
func (PhotoAttached) msg()       {}
func (PhotoStored) msg()         {}
func (PhotosPut) msg()           {}
func (PhotoRemoved) msg()        {}
func (PhotoTyped) msg()          {}
func (PhotoRoleChosen) msg()     {}
func (TrendsAsked) msg()         {}
func (DrillAdded) msg()          {}
func (DrillOpened) msg()         {}
func (DrillTyped) msg()          {}
func (DrillChosen) msg()         {}
func (DrillSaved) msg()          {}
func (DrillLeft) msg()           {}
func (DrillDeleted) msg()        {}
func (SheetTableAsked) msg()     {}
func (FileHanded) msg()          {}
func (FileRefused) msg()         {}
func (SheetShared) msg()         {}
func (SheetShareFailed) msg()    {}
func (SampleSheetsAdded) msg()   {}
func (SampleSheetsRemoved) msg() {}

// tappedJournal is Tapped for the messages of the journal.
func tappedJournal(m Msg) bool {
	switch m.(type) {
	case SheetOpened, SheetClosed, SheetDeleted, SheetVersionChosen, SheetPicked, SheetCaught, SheetBegun, SheetEdited, SheetCopied, SheetResumed,
		SheetScored, SheetSkipped, SheetTestDropped, SheetSaved, SheetLeft, SheetDiscarded, DrillAdded, DrillOpened, DrillSaved, DrillLeft,
		SheetWatchPressed, DrillDeleted, SheetTableAsked, SheetShared, SampleSheetsAdded, SampleSheetsRemoved, MoreSheets:
		return true
	}
	return tappedPhoto(m)
}
