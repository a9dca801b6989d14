package storagetest

import (
	"context"
	"sync"

	"torchside/storage"
)

// Faulty is a store whose writes fail when told to. Reads pass through, as
// they do on a full phone. A failing write writes nothing.
type Faulty struct {
	storage.Store

	mu     sync.Mutex
	left   int // writes that still succeed
	fault  error
	writes int
}

// NewFaulty wraps a store; until FailAfter is called it works.
func NewFaulty(s storage.Store) *Faulty { return &Faulty{Store: s} }

// FailAfter lets n more writes (Commit, Append or PutBlob) succeed and fails all later
// ones with err, as a store does: storage.ErrFull, ErrLost, ErrClosed.
func (f *Faulty) FailAfter(n int, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.left, f.fault = n, err
}

// Heal lets all writes succeed again.
func (f *Faulty) Heal() { f.FailAfter(0, nil) }

// Writes returns how many writes were tried, failed ones included.
func (f *Faulty) Writes() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.writes
}

// Commit implements storage.Store.
func (f *Faulty) Commit(ctx context.Context, stamp storage.Stamp) ([]storage.Record, error) {
	if err := f.write(); err != nil {
		return nil, err
	}
	return f.Store.Commit(ctx, stamp)
}

// Append implements storage.Store.
func (f *Faulty) Append(ctx context.Context, ops ...storage.Op) (storage.Appended, error) {
	if err := f.write(); err != nil {
		return storage.Appended{}, err
	}
	return f.Store.Append(ctx, ops...)
}

// PutBlob implements storage.Store.
func (f *Faulty) PutBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	if err := f.write(); err != nil {
		return "", err
	}
	return f.Store.PutBlob(ctx, data)
}

// write counts one write and says whether it fails.
func (f *Faulty) write() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.writes++
	if f.fault == nil {
		return nil
	}
	if f.left > 0 {
		f.left--
		return nil
	}
	return f.fault
}
