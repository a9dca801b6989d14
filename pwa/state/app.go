package state

import (
	"torchside/calc/units"
	"torchside/storage"
)

// App is everything the screens show.
type App struct {
	// Ready is true once the store is open and its records are read.
	Ready bool
	// Unsafe says why nothing may be stored at this address; empty when it may. Pages then show the set-up page alone.
	Unsafe string
	Prefs  Prefs
	// Notices are standing notices, in the order they came; each stays until its cause is gone or it is put away.
	Notices   []Notice
	Saved     SaveState
	Rig       Rig
	Setup     Setup
	Flame     Flame
	CutList   CutList
	Bench     Bench
	Tables    Tables
	Air       Air
	Preheat   Preheat
	Convert   Convert
	Clock     Clock
	Timers    Timers
	Pacer     Pacer
	Upkeep    Upkeep
	Cylinders CylinderLog
	Wall      Wall
	Leak      Leak
	Journal   Journal
	Sync      Sync
	Orders    Orders
	Splits    Splits // what was changed in two places
	// Undo is what the last removal can be taken back with; nil when there is nothing to take back.
	Undo *Undo

	records map[storage.ID]storage.Record // everything read or written, by record
	unsaved []pending                     // writes the store refused, in order
	drafts  map[string]Draft              // unfinished forms, by draft key
	tokens  int                           // numbers the writes, so that answers find their question
	waiting map[int]pending               // writes under way

	prefsNext map[string]prefBody // preferences changed again while they were being written
	read      bool                // the records were read once
	askedKeep bool                // the browser was asked never to throw the data away
}

// Prefs are the owner's choices. The zero Prefs are not used: see [DefaultPrefs].
type Prefs struct {
	Units          units.System
	Theme          string // "system", "dark" or "light"
	Region         string // hose colours: "iso" or "us"
	NoticeSeen     bool   // the safety notice was accepted
	Guide          int    // screen of the first steps, 0 when they are over
	WithdrawalRule string // word of calc/cylinder; "" is the strictest
	Currency       string // sign shown before a price
	Spoken         bool   // marks of timers are spoken
	TorchMinutes   int    // how often to ask whether the torch still burns; 0 for never
	Exported       int64  // when everything was last exported, Unix time in ms; 0 for never
	// AskRegion is true while the US preset of units holds and nobody has said which colours the hoses have.
	AskRegion bool
	// Texts are the typed preferences as typed, by key ("temperature", "altitude", "oxygen_reserve", "fuel_reserve",
	// "oxygen_price", "fuel_price").
	Texts map[string]string

	si map[string]float64 // the typed preferences as understood
}

// SaveState is the state of the newest change.
type SaveState struct {
	State  string // one of the Save constants
	Reason string // why it is not saved
	Count  int    // changes saved since the start, so that "saved" can be told from the "saved" of the change before
}

// The states of the newest change. Saved is said only after the store has.
const (
	SaveIdle   = ""
	SaveBusy   = "saving"
	SaveDone   = "saved"
	SaveFailed = "not saved"
)

// Notice is one standing notice.
type Notice struct {
	Code   string // one of the Notice constants; at most one notice of a code stands
	Level  string // "stop", "caution" or "note"
	Text   string
	Action string // what the person can do: one of the Action constants, "" for nothing
	Retry  bool   // saving can be tried again
}

// The codes of standing notices.
const (
	NoticeStoreFailed = "store-failed"
	NoticeStoreFull   = "store-full"
	NoticeStoreUnread = "store-unread"
	NoticeDamaged     = "damaged-records"
	NoticeDraft       = "draft-not-kept"
	NoticePanic       = "internal-error"
	NoticeUpdate      = "update"
	NoticeWorker      = "no-worker"
)

// Bench is what the Bench page shows of the app itself.
type Bench struct {
	Health StoreHealth
	Forms  []FormField // typed preferences, ready to show
	Report string      // what the last export or import did
	// Preview is what a file would bring that was picked and waits for the owner's word; nil when none does.
	Preview *ImportPreview
	Busy    bool              // an export or import is under way
	Limit   int64             // bytes of the largest file that is read in; 0 while not known, then no file is refused for its size
	About   bool              // the safety notice is open again
	Errors  map[string]string // of the typed preferences
	// CurrencyError is what is wrong with the typed sign of a currency.
	CurrencyError string
}

// StoreHealth is what is known of the store.
type StoreHealth struct {
	Known      bool
	Records    int
	Waiting    int // changes the server does not have
	Persistent bool
	Bytes      int64 // 0 when the browser does not tell
	Quota      int64 // 0 when the browser does not tell
}

// Undo takes the last removal back.
type Undo struct {
	Text string // "Hose, 5 m retired."
	Way  string // label of the way back; "" is "Undo"

	before []storage.Record              // as they were; one that did not exist has no heads
	after  map[storage.ID]storage.Record // as the removal left them
	form   *Form                         // the form that was put away
	sheet  *SheetForm                    // the sheet that was put away
	key    string                        // of the sheet being written that change belongs to
	change func(*SheetForm)              // takes a change of it back
}

// New returns the app before its store is open, with the default preferences.
func New() App {
	a := App{Prefs: DefaultPrefs(), Setup: newSetup()}
	return a.rebuilt()
}
