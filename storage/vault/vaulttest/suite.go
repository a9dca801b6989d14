// Package vaulttest holds every vault to its contract. [Run] is the whole of
// it; [Agrees] compares a vault with a plain list of what was acknowledged.
package vaulttest

import (
	"context"
	"slices"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// Open opens the data of one test; opening again follows a Close.
type Open func(t *testing.T) vault.Vault

// Run tests that a vault keeps its contract. fresh makes empty data for one
// test and returns how to open it.
func Run(t *testing.T, fresh func(t *testing.T) Open) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := &bench{T: t, open: fresh(t), src: storagetest.NewSource(1)}
			b.reopen()
			defer func() { b.try(b.v.Close()) }()
			c.test(b)
		})
	}
}

// cases are grouped by file: log.go, blobs.go, access.go, history.go, model.go.
var cases = []struct {
	name string
	test func(*bench)
}{
	{"an empty vault answers with nothing", emptyVault},
	{"shops have names of their own and stay after reopening", shops},
	{"a shop that does not exist is refused everywhere", noShop},
	{"ops are numbered from 1 and linked by their chain", numbered},
	{"pushing again holds what is there", pushTwice},
	{"a bad op is rejected and the others are stored", rejects},
	{"pages end at their limits and hold at least one op", pages},
	{"a checkpoint of another vault or another past is refused", mismatches},
	{"two shops know nothing of each other", isolated},
	{"what a vault returns belongs to the caller", ownership},
	{"pushes at the same time get numbers without gaps", concurrent},
	{"a call that is cancelled or comes after Close does nothing", ended},

	{"an attachment arrives in pieces", pieces},
	{"an attachment is continued after reopening", continued},
	{"a piece at the wrong place says what is held", wrongPlace},
	{"an attachment with another hash is thrown away", wrongHash},
	{"an attachment nobody names is refused", notWanted},
	{"names that are no hash are refused, paths too", badNames},
	{"an attachment is wanted until it is held in full", wanted},

	{"devices are known by their token until they are revoked", devices},
	{"a device is changed from its own shop only", otherShop},
	{"when a device was seen is noted now and then", touched},
	{"a code lets one device in, once, and in time", codes},
	{"a code survives a refused name", refusedName},
	{"attempts are remembered through reopening", attempts},
	{"the audit log is newest first and by shop", audit},

	{"replaced versions go when they are older than the limit", trims},
	{"a place before what was dropped is refused", trimmedPlaces},
	{"what is shown, disputed, unexplained or young stays", keepsWhatCounts},
	{"an attachment let go of is wanted when it is named again", wantedAgain},
	{"days are counted by the vault, once each", countsDays},

	{"random pushes and pieces agree with a plain list", randomly},
}

// bench is the world of one test.
type bench struct {
	*testing.T
	open Open
	v    vault.Vault
	src  storagetest.Source
}

// ctx is what most calls are made with.
func (b *bench) ctx() context.Context { return context.Background() }

// reopen closes the vault, if it is open, and opens it again.
func (b *bench) reopen() {
	b.Helper()
	if b.v != nil {
		b.try(b.v.Close())
	}
	b.v = b.open(b.T)
}

// try fails the test for good if there is an error.
func (b *bench) try(err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// now is the wall time of the tests.
var now = time.Date(2026, 3, 14, 15, 9, 26, 535e6, time.UTC)

// shop makes one.
func (b *bench) shop(name string) vault.ShopID {
	b.Helper()
	s, err := b.v.CreateShop(b.ctx(), name, now)
	b.try(err)
	return s.ID
}

// push stores ops that must all get the given status.
func (b *bench) push(shop vault.ShopID, want vault.Status, ops ...storage.Op) []vault.Ack {
	b.Helper()
	acks, err := b.v.Push(b.ctx(), shop, ops)
	b.try(err)
	if len(acks) != len(ops) {
		b.Fatalf("%d answers for %d ops", len(acks), len(ops))
	}
	for i, a := range acks {
		if a.Op != ops[i].ID || a.Status != want {
			b.Fatalf("op %d: got %+v, want it %s", i, a, want)
		}
	}
	return acks
}

// op is a new record of one op that names attachments.
func (b *bench) op(blobs ...storage.Hash) storage.Op {
	o := storagetest.RandomOps(b.src.Uint64(), 1)[0]
	slices.Sort(blobs)
	o.Blobs = blobs
	return o
}

// everything is one page without limits.
var everything = vault.Limits{Ops: 1 << 30, Bytes: 1 << 40}

// all pulls the whole log.
func (b *bench) all(shop vault.ShopID) vault.Page {
	b.Helper()
	page, err := b.v.Pull(b.ctx(), shop, vault.Checkpoint{}, everything)
	b.try(err)
	return page
}
