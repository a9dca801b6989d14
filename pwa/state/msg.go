package state

import (
	"torchside/calc/units"
	"torchside/storage"
)

// Msg is something that happened: a tap, a typed text, an answer of the store.
type Msg interface{ msg() }

// Messages of the Setup page.
type (
	// SetupTyped is a text typed into a field of Setup: "thickness", "temperature", "altitude" or "ratio".
	SetupTyped struct{ Field, Text string }
	// SetupChosen is a choice in Setup: "work", "metal", "joint" or "tip" ("" is the best one).
	SetupChosen struct{ Field, Value string }
	// ProvenanceOpened opens the sheet telling where a number comes from; the key is one of Card.Provenance.
	ProvenanceOpened struct{ Key string }
	// ProvenanceClosed closes it.
	ProvenanceClosed struct{}
)

// StaticRead answers ReadStatic: the file at the address, or why it was not read.
type StaticRead struct {
	Address string
	Data    []byte
	Err     error
}

func (StaticRead) msg() {}

// Messages of the preferences.
type (
	// UnitsChosen replaces all units.
	UnitsChosen struct{ System units.System }
	// UnitChosen replaces the unit of one quantity, by its symbol.
	UnitChosen struct {
		Quantity units.Quantity
		Symbol   string
	}
	// LanguageChosen is the code of a language, "" for that of the phone.
	LanguageChosen struct{ Code string }
	// ThemeChosen is "system", "dark" or "light".
	ThemeChosen struct{ Theme string }
	// RegionChosen is "iso" or "us".
	RegionChosen struct{ Region string }
	// RuleChosen is a withdrawal rule of calc/cylinder.
	RuleChosen struct{ Rule string }
	// CurrencyTyped is the sign shown before a price.
	CurrencyTyped struct{ Text string }
	// PrefTyped is a text typed into a preference; see Prefs.Texts for the keys.
	PrefTyped struct{ Key, Text string }
	// NoticeAccepted accepts the safety notice; Guide asks for the first steps after it.
	NoticeAccepted struct{ Guide bool }
	// AboutToggled opens or closes the safety notice in Bench.
	AboutToggled struct{}
)

// Messages of the Rig page.
type (
	// PartAdded opens an empty form.
	PartAdded struct {
		Kind  Kind
		Line  string // "oxygen", "fuel" or ""
		TipID string // of a chart row
		Draft string // key of an unfinished form to go on with, if it is still there
	}
	// PartOpened opens the form of a saved part.
	PartOpened struct{ ID string }
	// PartCopied opens a new form with the values of a saved part.
	PartCopied struct{ ID string }
	// FormTyped is a text typed into a field of the open form.
	FormTyped struct{ Key, Text string }
	// FormChosen is a choice made in the open form.
	FormChosen struct{ Key, Value string }
	// FormSaved saves the open form.
	FormSaved struct{ Another bool } // Another opens the next row of a chart
	// Resumed opens an unfinished form.
	Resumed Unfinished
	// FormCancelled puts the open form and what was typed away; Undo brings it back.
	FormCancelled struct{}
	// FormLeft closes the open form and keeps what was typed as unfinished.
	FormLeft struct{}
	// Discarded puts an unfinished form away; Undo brings it back.
	Discarded Unfinished
	// PartUsed makes a part the one in use of its kind and line.
	PartUsed struct{ ID string }
	// PartRetired takes a part out of use or back.
	PartRetired struct {
		ID   string
		Back bool
	}
	// PartDeleted deletes a part and what belongs to it.
	PartDeleted struct{ ID string }
	// VersionChosen keeps one of several versions of a part changed in two places.
	VersionChosen struct{ ID, Op string }
	// SampleAdded adds the sample rig, SampleRemoved removes it.
	SampleAdded   struct{}
	SampleRemoved struct{}
	// UndoRequested takes the last removal back; UndoDismissed puts the offer away.
	UndoRequested struct{}
	UndoDismissed struct{}
)

// Messages of storage and of the browser.
type (
	// Loaded brings all live records, at start and whenever another tab has written.
	Loaded struct{ Records []storage.Record }
	// DraftsLoaded brings the unfinished forms kept in the browser, by draft key.
	DraftsLoaded struct{ Drafts map[string]Draft }
	// WriteDone says that the write with this token is durable.
	WriteDone struct {
		Token   int
		Records []storage.Record
	}
	// WriteFailed says that nothing of it was written.
	WriteFailed struct {
		Token int
		Err   error
	}
	// StoreFailed says that the store could not be opened or read.
	StoreFailed struct{ Err error }
	// OtherWrote says that another window may have written; the records are read again.
	OtherWrote struct{}
	// WorkerRefused says why the browser would not install the app for use without a network.
	WorkerRefused struct{ Why string }
	// RetryRequested tries to save again what was refused.
	RetryRequested struct{}
	// HealthAsked asks what the browser says of the store.
	HealthAsked struct{}
	// HealthRead brings what the browser says of the store.
	HealthRead struct{ Health StoreHealth }
	// DraftFailed says that an unfinished form could not be kept.
	DraftFailed struct{ Err error }
	// AddressUnsafe says why nothing may be stored at this address.
	AddressUnsafe struct{ Why string }
	// Failed reports a fault of our own, caught before it stopped the app.
	Failed struct{ What string }
	// UpdateReady says that a new version waits; RestartRequested starts it.
	UpdateReady      struct{ Why string }
	RestartRequested struct{}
	// NoticePutAway removes a standing notice that the person has read.
	NoticePutAway struct{ Code string }
)

// Messages of export and import.
type (
	// ExportRequested writes everything into one file.
	ExportRequested struct{}
	// ExportDone tells that the file was handed to the browser.
	ExportDone struct {
		Name    string
		Records int
		Skipped int  // unsaved changes that could not be written into it
		Rescued bool // it holds only what could be read of a store that cannot be read in full
		Lost    int  // records that could not be read
	}
	// LimitKnown tells the size in bytes of the largest file that is read in.
	LimitKnown struct{ Bytes int64 }
	// ImportRequested reads such a file.
	ImportRequested struct{ File Source }
	// ImportDone tells what it held.
	ImportDone struct {
		Added, Held int
		Split       int      // parts now in two versions, for the owner to choose
		Refused     []string // ids held here with other content: the ones here stay
	}
	// TransferFailed tells that an export or import did not happen.
	TransferFailed struct {
		What string // "export" or "import"
		Err  error
		Some ImportDone // what an import had added before
	}
)

func (SetupTyped) msg()       {}
func (SetupChosen) msg()      {}
func (ProvenanceOpened) msg() {}
func (ProvenanceClosed) msg() {}
func (UnitsChosen) msg()      {}
func (UnitChosen) msg()       {}
func (LanguageChosen) msg()   {}
func (ThemeChosen) msg()      {}
func (RegionChosen) msg()     {}
func (RuleChosen) msg()       {}
func (CurrencyTyped) msg()    {}
func (PrefTyped) msg()        {}
func (NoticeAccepted) msg()   {}
func (AboutToggled) msg()     {}
func (PartAdded) msg()        {}
func (PartOpened) msg()       {}
func (PartCopied) msg()       {}
func (FormTyped) msg()        {}
func (FormChosen) msg()       {}
func (FormSaved) msg()        {}
func (FormCancelled) msg()    {}
func (FormLeft) msg()         {}
func (Discarded) msg()        {}
func (PartUsed) msg()         {}
func (PartRetired) msg()      {}
func (PartDeleted) msg()      {}
func (VersionChosen) msg()    {}
func (SampleAdded) msg()      {}
func (SampleRemoved) msg()    {}
func (UndoRequested) msg()    {}
func (UndoDismissed) msg()    {}
func (Loaded) msg()           {}
func (DraftsLoaded) msg()     {}
func (WriteDone) msg()        {}
func (WriteFailed) msg()      {}
func (StoreFailed) msg()      {}
func (OtherWrote) msg()       {}
func (WorkerRefused) msg()    {}
func (RetryRequested) msg()   {}
func (Resumed) msg()          {}
func (HealthAsked) msg()      {}
func (HealthRead) msg()       {}
func (DraftFailed) msg()      {}
func (AddressUnsafe) msg()    {}
func (Failed) msg()           {}
func (UpdateReady) msg()      {}
func (RestartRequested) msg() {}
func (NoticePutAway) msg()    {}
func (ExportRequested) msg()  {}
func (ExportDone) msg()       {}
func (LimitKnown) msg()       {}
func (ImportRequested) msg()  {}
func (ImportDone) msg()       {}
func (TransferFailed) msg()   {}

// Tapped reports whether a message comes from a tap that means the same done once or twice by a bouncing glove. Typed texts and
// answers of store and browser are no taps.
func Tapped(m Msg) bool {
	switch m.(type) {
	case PartAdded, PartOpened, PartCopied, FormSaved, FormCancelled, FormLeft, Discarded, Resumed, PartUsed, PartRetired, PartDeleted, VersionChosen,
		LeakBegun, LeakPrepared, LeakBack, LeakStarted, ReadingTaken, ReadingDropped, LeakEnded, LeakDropped, TimerPauseToggled, TimerAcknowledged,
		TimerStarted, TimerEnded, TimerRound, TimerRestarted, TorchLit, TorchOut, TimersCleared, PacePressed, PaceSignal, BeadPressed, BeadTaken, BeadPaced, UpkeepOpened, UpkeepSaved, UpkeepStamped, UpkeepRemoved, CylinderNoted, CylinderEvent, CylinderEntryRemoved,
		SampleAdded, SampleRemoved, UndoRequested, RetryRequested, ExportRequested, RestartRequested, NoticeAccepted, GuideWent, GuideAsked, AboutToggled:
		return true
	}
	return tappedJournal(m)
}
