//go:build js

package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"io"
	"time"

	"torchside/pwa"
	"torchside/pwa/effects"
	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/archive"
)

// files reads and writes the one file that holds everything.
type files struct{}

var _ effects.Files = files{}

// Export writes the whole store and what it refused.
func (files) Export(ctx context.Context, s storage.Store, refused []storage.Draft) (effects.File, error) {
	return file(func(w io.Writer, at time.Time) (archive.Manifest, int, error) {
		return archive.ExportUnsaved(ctx, s, w, refused, pwa.Version, at, rand.Reader)
	})
}

// Rescue writes what is known without the store.
func (files) Rescue(records []storage.Record, refused []storage.Draft) (effects.File, error) {
	return file(func(w io.Writer, at time.Time) (archive.Manifest, int, error) {
		return archive.Rescue(w, records, refused, pwa.Version, at, rand.Reader)
	})
}

func file(write func(io.Writer, time.Time) (archive.Manifest, int, error)) (effects.File, error) {
	var data bytes.Buffer
	now := time.Now()
	m, skipped, err := write(&data, now)
	name := "torchside-" + now.Format("2006-01-02-150405") + ".zip"
	return effects.File{Name: name, Data: data.Bytes(), Records: m.Records, Skipped: skipped}, err
}

// Import adds what the file holds.
func (files) Import(ctx context.Context, s storage.Store, data []byte) (state.ImportDone, error) {
	a, err := archive.Read(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return state.ImportDone{}, err
	}
	r, err := archive.Import(ctx, s, a)
	done := state.ImportDone{Added: r.Added, Held: r.Held, Split: len(r.Conflicts())}
	for _, id := range r.Refused {
		done.Refused = append(done.Refused, string(id))
	}
	return done, err
}
