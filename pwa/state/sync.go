package state

import "torchside/calc/words"

// Sync is what is known of the shop's server: whether this device is in a shop, and how far both sides are in step. Everything is
// kept on this device whatever stands here.
type Sync struct {
	Linked  Linked
	Known   bool // it was read whether the device is in a shop
	Running bool
	Out     bool // the server no longer lets this device in; everything stays here
	// Waiting is how many changes are on this device alone, as far as it is known.
	Waiting  int
	Refused  int         // changes the server would not take, in the last run or one before
	Reasons  []string    // why, in the server's words, each once
	Reason   string      // why the last run failed, in words; "" when it went well
	Progress SyncOutcome // of the run under way, or the last one
	Join     JoinForm
	Invite   *Invite // a code for one more device; nil when none is shown
	Devices  Devices
	Report   string // what the last thing done here led to

	edits    int  // changes saved since the run under way began
	again    bool // something happened while a run was under way
	failures int  // runs that failed one after the other
}

// Linked is the device's place in a shop, without its secret. The zero Linked is of a device in no shop.
type Linked struct {
	Shop   string // name of the shop
	ID     string // of this device, as the server names it
	Name   string // of this device, for its owners
	Photos string // when photos are exchanged: one of the Photos constants
	Synced int64  // when both sides were last in step, Unix time in ms; 0 for never
}

// When photos are exchanged.
const (
	PhotosAlways = ""
	PhotosFree   = "free" // only where the connection is known to cost nothing
)

// Paired tells whether the device is in a shop.
func (l Linked) Paired() bool { return l.ID != "" }

// JoinForm is what is typed to join a shop.
type JoinForm struct {
	Code, Name string
	Busy       bool
	Error      string
	Scanned    bool // the code came with the address
}

// Invite lets one more device in.
type Invite struct {
	Code    string
	Expires int64 // Unix time in ms
	Link    string
	QR      []string // Link as rows of 1 (dark) and 0
}

// Device is one of the shop's devices. Times are Unix time in ms.
type Device struct {
	ID, Name             string
	Added, Seen, Revoked int64
	This                 bool
}

// Devices is the list of the shop's devices as last read.
type Devices struct {
	List    []Device
	Busy    bool
	Error   string
	Rename  string // id of the device being renamed
	Text    string // its new name as typed
	Confirm string // id of the device whose removal waits for a second word
}

// SyncOutcome is what a run did, or how far it has come.
type SyncOutcome struct {
	Counted                  bool // Waiting, Refused and Reasons were read from the store; else nothing is known of them
	Sent, Got, Waiting       int
	Photos, AllPhotos        int // attachments done, and how many there are to do
	Left, Later              int // photos left for a connection that costs nothing, and for the next run
	Forgot                   int // versions that were replaced while this device was away
	Refused, Merged, Damaged int
	Reasons                  []string
	Replaced                 bool // the server was another, or an older state of it
	AheadMs                  int64
	Elsewhere                bool // another window of the app is at it
	CostUnknown              bool // the browser does not tell what the connection costs
}

// VaultError is what the server said went wrong. Code is one of its protocol.
type VaultError struct{ Code, Text, Do string }

// Error gives what was said and what to do.
func (e *VaultError) Error() string {
	if e.Do == "" {
		return e.Text
	}
	return words.S("%s %s", e.Text, e.Do)
}

// The states shown beside what was saved.
const (
	SyncNone    = ""          // in no shop: nothing is shown
	SyncBusy    = "busy"      // a run is under way
	SyncServer  = "server"    // everything is on the server
	SyncWaiting = "waiting"   // changes wait
	SyncNeeds   = "needs you" // the owner has something to do
)

// State is how things stand, for the bar under every page.
func (s Sync) State() string {
	switch {
	case !s.Linked.Paired():
		return SyncNone
	case s.Out || s.Refused > 0:
		return SyncNeeds
	case s.Running && s.Waiting > 0 || s.Running && s.Progress.AllPhotos > s.Progress.Photos:
		return SyncBusy
	case s.Waiting > 0 || s.Linked.Synced == 0 || s.Reason != "" || s.Progress.Left+s.Progress.Later > 0 || s.Progress.AllPhotos > s.Progress.Photos:
		return SyncWaiting
	}
	return SyncServer
}

// MergesByField tells whether two devices' changes to different fields of a record of this kind are joined without asking. Parts of
// the rig are made of independent facts; of sheets and tests a person is asked.
func MergesByField(kind string) bool { return isPart(kind) }

// Messages of the server.
type (
	// LinkRead tells at the start whether the device is in a shop.
	LinkRead struct{ Linked Linked }
	// SyncDue says that there may be something to exchange: at the start, in view again, network back, time over.
	SyncDue struct{}
	// SyncAsked is the owner's own wish; Photos sends them whatever the connection costs.
	SyncAsked struct{ Photos bool }
	// SyncProgressed tells how far the run has come.
	SyncProgressed struct{ Outcome SyncOutcome }
	// SyncDone ends a run.
	SyncDone struct {
		Outcome SyncOutcome
		Err     error
	}
	// PhotosWhen chooses when photos are exchanged.
	PhotosWhen struct{ When string }
)

func (LinkRead) msg()       {}
func (SyncDue) msg()        {}
func (SyncAsked) msg()      {}
func (SyncProgressed) msg() {}
func (SyncDone) msg()       {}
func (PhotosWhen) msg()     {}

type (
	// RunSync brings device and server in step; answered with SyncProgressed and then SyncDone.
	RunSync struct{ Photos, AnyCost bool }
	// SyncLater has SyncDue posted: soon after an edit, else after as many failed runs as given.
	SyncLater struct {
		Edited   bool
		Failures int
	}
	// KeepLinked keeps what the owner chose of the link, and when both sides were last in step.
	KeepLinked struct{ Linked Linked }
)

func (RunSync) effect()    {}
func (SyncLater) effect()  {}
func (KeepLinked) effect() {}

func reduceSync(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case LinkRead:
		a.Sync.Linked, a.Sync.Known = m.Linked, true
		return did(a.syncNow(false))
	case SyncDue:
		if a.Sync.Out || a.Clock.hidden && a.Sync.Waiting == 0 {
			return a, nil, true // in view again, it is asked anew
		}
		return did(a.syncNow(false))
	case SyncAsked:
		return did(a.syncNow(m.Photos))
	case SyncProgressed:
		a.Sync.Progress, a.Sync.Waiting = m.Outcome, m.Outcome.Waiting+a.Sync.edits
		return a, nil, true
	case SyncDone:
		return did(a.syncDone(m))
	case PhotosWhen:
		a.Sync.Linked.Photos = m.When
		a, effects := a.syncNow(false)
		return a, append([]Effect{KeepLinked{Linked: a.Sync.Linked}}, effects...), true
	}
	return reduceJoin(a, m)
}

// syncNow starts a run, or has one follow the run under way.
func (a App) syncNow(anyCost bool) (App, []Effect) {
	s := &a.Sync
	switch {
	case !s.Linked.Paired():
		return a, nil
	case s.Running:
		s.again = true
		return a, nil
	}
	s.Running, s.again, s.edits = true, false, 0
	s.Progress = SyncOutcome{Left: s.Progress.Left}
	return a, []Effect{RunSync{Photos: s.Linked.Photos == PhotosAlways, AnyCost: anyCost}}
}

// syncEdited counts changes just saved, which then wait to be sent.
func (a App) syncEdited(before App) (App, []Effect) {
	saved := a.Saved.Count - before.Saved.Count
	if saved <= 0 || !a.Sync.Linked.Paired() {
		return a, nil
	}
	a.Sync.Waiting += saved
	if a.Sync.Running {
		a.Sync.edits += saved
		a.Sync.again = true
		return a, nil
	}
	if a.Sync.Out {
		return a, nil
	}
	return a, []Effect{SyncLater{Edited: true}}
}

// syncDone takes in what a run did, also one that failed, and says when the next one is.
func (a App) syncDone(m SyncDone) (App, []Effect) {
	s := &a.Sync
	s.Running, s.Progress = false, m.Outcome
	if !s.Linked.Paired() {
		return a, nil // left meanwhile
	}
	var effects []Effect
	if m.Outcome.Got+m.Outcome.Merged+m.Outcome.Forgot > 0 {
		effects = append(effects, Reload{})
	}
	if m.Outcome.Elsewhere {
		return a, append(effects, SyncLater{})
	}
	if m.Err == nil || m.Outcome.Counted {
		s.Waiting, s.Refused, s.Reasons = m.Outcome.Waiting+s.edits, m.Outcome.Refused, m.Outcome.Reasons
	} // else it ended before it knew: what was known goes on to be shown
	if m.Err != nil {
		a, more := a.syncFailed(m.Err)
		return a, append(effects, more...)
	}
	s.Reason, s.failures, s.Out = "", 0, false
	if s.Waiting == 0 && m.Outcome.everything() {
		s.Linked.Synced = a.Clock.Wall
		effects = append(effects, KeepLinked{Linked: s.Linked})
	}
	a = a.withoutNotice(NoticeOut).clockNotice(m.Outcome.AheadMs).reminded()
	return a, append(effects, SyncLater{Edited: a.Sync.again})
}

// everything tells whether a run left nothing behind: only then the other side is as good as a backup.
func (o SyncOutcome) everything() bool { return o.Refused+o.Left+o.Later+o.Damaged == 0 }

// NoticeServerClock is the code of the notice that this device's clock is far from the server's.
const NoticeServerClock = "server-clock"

// clockOff is how far the two clocks may be apart before the owner is told: what is written now sorts among what the others write by
// these clocks. Our own choice.
const clockOff = 5 * 60 * 1000

// clockNotice tells of a clock that is far off. Which of the two is wrong the owner sees at once.
func (a App) clockNotice(aheadMs int64) App {
	if aheadMs > -clockOff && aheadMs < clockOff {
		return a.withoutNotice(NoticeServerClock)
	}
	way, off := "ahead of", aheadMs
	if off < 0 {
		way, off = "behind", -off
	}
	return a.withNotice(Notice{Code: NoticeServerClock, Level: LevelCaution, Action: ActionPutAway,
		Text: words.S("The clock of this device is %s %s the server's. Set the one that is wrong: sheets and readings carry these times.", longTime(off), way)})
}

// longTime writes a length of time in its largest whole unit.
func longTime(ms int64) string {
	const minute = 60 * 1000
	for _, u := range []struct {
		ms   int64
		name string
	}{{365 * 24 * 60 * minute, "year"}, {24 * 60 * minute, "day"}, {60 * minute, "hour"}} {
		if ms >= u.ms {
			return words.S("about %s", words.Count(int((ms+u.ms/2)/u.ms), u.name))
		}
	}
	return words.S("about %s", words.Count(int((ms+minute/2)/minute), "minute"))
}

// NoticeOut is the code of the notice that the server no longer lets this device in.
const NoticeOut = "put-out"

// syncFailed says why, and whether it is tried again by itself.
func (a App) syncFailed(err error) (App, []Effect) {
	s := &a.Sync
	s.failures++
	s.Reason = vaultReason(err)
	if !isOut(err) {
		return a, []Effect{SyncLater{Failures: s.failures}}
	}
	s.Out, s.Invite, s.Devices, s.Report = true, nil, Devices{}, ""
	return a.withNotice(Notice{Code: NoticeOut, Level: LevelCaution, Action: ActionPutAway,
		Text: words.S("The server of “%s” no longer lets this device in. Everything stays on this device; what you enter from now on is here alone. To go on together, leave the shop under Bench, Devices and sync, and join it with a new code.", s.Linked.Shop)}), nil
}

// synced is when this device was last in step with its server, 0 when it has none.
func (a App) synced() int64 {
	if a.Sync.Linked.Paired() {
		return a.Sync.Linked.Synced
	}
	return 0
}

// countWaiting takes the store's own count of what waits, between runs.
func (a App) countWaiting(h StoreHealth) App {
	if h.Known && !a.Sync.Running && len(a.waiting) == 0 {
		a.Sync.Waiting = h.Waiting
	}
	return a
}
