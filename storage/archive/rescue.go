package archive

import (
	"context"
	"io"
	"slices"
	"time"

	"torchside/storage"
)

// Rescue writes what is known of a store that cannot be read in full: the
// records as they were last read, the drafts it refused, and the attachments it
// still gives; s is nil when it cannot be opened. Ops that were replaced are not
// in it. A draft that breaks a rule of Op is left out; skipped says how many.
// Errors are those of random and of w.
func Rescue(ctx context.Context, s storage.Store, w io.Writer, records []storage.Record, drafts []storage.Draft, app string, at time.Time, random io.Reader) (m Manifest, skipped int, err error) {
	sound, err := stampSound(storage.Meta{}, at, random, drafts)
	if err != nil {
		return Manifest{}, 0, err
	}
	ops := slices.Clone(sound)
	for _, r := range records {
		ops = append(ops, r.Heads...)
	}
	m, err = write(w, app, at, content{ops: listed(ops), blobs: readable(ctx, s)})
	return m, len(drafts) - len(sound), err
}

// readable gives the attachments up to where the store breaks off; those that are damaged are named.
func readable(ctx context.Context, s storage.Store) func(yield func(storage.Hash, []byte) error) ([]storage.Hash, error) {
	if s == nil {
		return nil
	}
	return func(yield func(storage.Hash, []byte) error) ([]storage.Hash, error) {
		var failed error
		lost, _ := storedBlobs(ctx, s, func(name storage.Hash, data []byte) error {
			failed = yield(name, data)
			return failed
		})
		return lost, failed
	}
}
