// Package memvault keeps a vault in memory: for tests of what talks to one, and
// as the plainest reading of the contract. Nothing survives the process.
//
// A [Disk] keeps the data across several opens, as files would. It can fail as
// files do: [Disk.CrashAt] stops everything just before or just after a commit,
// [Disk.SetFull] leaves no room, and [Disk.Snapshot] with [Disk.Restore] puts an
// older state back.
package memvault

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"sync"

	"torchside/storage"
	"torchside/storage/vault"
)

// ErrCrashed is what a call returns during which the vault crashed.
var ErrCrashed = errors.New("the vault crashed")

// Disk is the data behind the vaults opened on it.
type Disk struct {
	mu     sync.Mutex
	random io.Reader
	state  *state
	opened int // handles of an earlier number are dead
	full   bool
	crash  *crash
	plan   func(log []vault.Link, most int) ([]int, []storage.Hash)
}

// PlanWith has Trim ask another plan than vault.Plan, as a test of tests does.
func (d *Disk) PlanWith(plan func(log []vault.Link, most int) (drop []int, free []storage.Hash)) {
	d.plan = plan
}

// crash is one to come.
type crash struct {
	commits int // until then
	moment  Moment
}

// Moment is where a crash strikes.
type Moment int

// Moments of a crash. Either way the caller gets no answer.
const (
	BeforeCommit Moment = iota // nothing of the call is kept
	AfterCommit                // all of it is
)

// state is what a crash leaves. Snapshots share what is in it, so slices are
// only ever appended to and ops never changed.
type state struct {
	id       string
	shops    []vault.Shop
	logs     map[vault.ShopID]*log
	devices  []device
	codes    []vault.Code
	attempts map[string]vault.Attempts
	touched  []string // keys of attempts, changed longest ago first
	audit    []vault.AuditEntry
}

type device struct {
	vault.Device
	token vault.SecretHash
}

// log is one shop.
type log struct {
	entries []entry
	seqs    map[storage.ID]int // op to number
	records map[storage.ID]bool
	blobs   map[storage.Hash][]byte // held in full
	partial map[storage.Hash][]byte // lost in a crash
	wanted  map[storage.Hash]bool   // named and not held in full
	gone    map[storage.Hash]bool   // let go of, and not named since
	limit   vault.Limit
	line    vault.Line
}

// entry is one of a log. A dropped one has no raw.
type entry struct {
	link  vault.Link
	raw   []byte
	sum   [sha256.Size]byte // of raw
	chain string
}

// NewDisk returns an empty vault whose ids come from random, which must be as
// unpredictable as crypto/rand.Reader outside tests. The only errors are those
// of random.
func NewDisk(random io.Reader) (*Disk, error) {
	id, err := vault.RandomID(random)
	if err != nil {
		return nil, err
	}
	return &Disk{random: random, plan: vault.Plan, state: &state{
		id: id, logs: make(map[vault.ShopID]*log), attempts: make(map[string]vault.Attempts),
	}}, nil
}

// Open returns the vault on the disk. Those opened before are closed, as if
// their process had been killed.
func (d *Disk) Open() *Vault {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.opened++
	return &Vault{disk: d, number: d.opened}
}

// CrashAt makes the vault crash at the given commit from now on, 1 for the next.
func (d *Disk) CrashAt(commit int, m Moment) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.crash = &crash{commits: commit, moment: m}
}

// Crash ends the open vault now, between two commits.
func (d *Disk) Crash() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.kill()
}

// kill ends all handles and loses what was not synced.
func (d *Disk) kill() {
	d.opened++
	d.crash = nil
	for _, l := range d.state.logs {
		clear(l.partial)
	}
}

// SetFull says whether the disk is full: what writes then fails.
func (d *Disk) SetFull(full bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.full = full
}

// Snapshot returns a copy of the disk as it is now, which later writes do not
// change: a backup.
func (d *Disk) Snapshot() *Disk {
	d.mu.Lock()
	defer d.mu.Unlock()
	return &Disk{random: d.random, plan: d.plan, state: d.state.clone()}
}

// Restore puts the state of another disk in place of this one's, which crashes.
// The vault keeps the id it has in that state, as a copied file does.
func (d *Disk) Restore(from *Disk) {
	from.mu.Lock()
	s := from.state.clone()
	from.mu.Unlock()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.kill()
	d.state = s
}

func (s *state) clone() *state {
	c := *s
	c.shops, c.devices, c.codes = slices.Clone(s.shops), slices.Clone(s.devices), slices.Clone(s.codes)
	c.attempts, c.touched, c.audit = maps.Clone(s.attempts), slices.Clone(s.touched), slices.Clone(s.audit)
	c.logs = make(map[vault.ShopID]*log, len(s.logs))
	for id, l := range s.logs {
		c.logs[id] = &log{
			entries: slices.Clip(l.entries), seqs: maps.Clone(l.seqs), records: maps.Clone(l.records),
			blobs: maps.Clone(l.blobs), partial: make(map[storage.Hash][]byte), wanted: maps.Clone(l.wanted),
			gone: maps.Clone(l.gone), limit: l.limit, line: l.line,
		}
	}
	return &c
}

// log returns that of a shop.
func (s *state) log(shop vault.ShopID) (*log, error) {
	l, ok := s.logs[shop]
	if !ok {
		return nil, fmt.Errorf("shop %q: %w", shop, vault.ErrNoShop)
	}
	return l, nil
}
