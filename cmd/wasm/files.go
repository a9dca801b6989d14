//go:build js

package main

import (
	"context"
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
		return archive.ExportUnsaved(ctx, s, w, refused, pwa.Version, at, random{})
	})
}

// Rescue writes what is known without the store, and the attachments that can be read of it.
func (files) Rescue(ctx context.Context, s storage.Store, records []storage.Record, refused []storage.Draft) (effects.File, error) {
	return file(func(w io.Writer, at time.Time) (archive.Manifest, int, error) {
		return archive.Rescue(ctx, s, w, records, refused, pwa.Version, at, random{})
	})
}

func file(write func(io.Writer, time.Time) (archive.Manifest, int, error)) (effects.File, error) {
	var p parts
	now := time.Now()
	m, skipped, err := write(&p, now)
	if err != nil {
		return effects.File{}, err
	}
	name := "torchside-" + now.Format("2006-01-02-150405") + ".zip"
	return effects.File{Name: name, Parts: p.blob("application/zip"), Records: m.Records, Skipped: skipped}, nil
}

// Check says what the file would bring.
func (files) Check(ctx context.Context, s storage.Store, file state.Source, progress func(state.ImportStep, int64, int64)) (state.ImportPlan, error) {
	a, err := archive.Read(file, file.Size(), func(done, total int64) { progress(state.ImportChecking, done, total) })
	if err != nil {
		return state.ImportPlan{}, err
	}
	p, err := archive.Preview(ctx, s, a)
	return state.ImportPlan{New: p.New, Changed: p.Changed, Known: p.Known, Photos: p.Blobs, Split: p.Split}, err
}

// Import checks the whole file and adds what it holds.
func (files) Import(ctx context.Context, s storage.Store, file state.Source, progress func(state.ImportStep, int64, int64)) (state.ImportDone, error) {
	step := func(step state.ImportStep) archive.Progress {
		return func(done, total int64) { progress(step, done, total) }
	}
	a, err := archive.Read(file, file.Size(), step(state.ImportChecking))
	if err != nil {
		return state.ImportDone{}, err
	}
	r, err := archive.Import(ctx, s, a, step(state.ImportAdding))
	done := state.ImportDone{Added: r.Added, Held: r.Held, Split: len(r.Split)}
	for _, id := range r.Refused {
		done.Refused = append(done.Refused, string(id))
	}
	return done, err
}
