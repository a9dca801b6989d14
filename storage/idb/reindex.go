//go:build js

package idb

import (
	"context"
	"encoding/json"
	"syscall/js"

	"torchside/storage"
)

// indexState is the row that tells which index the entries are of. While they
// are made anew, After is the last record that was done.
type indexState struct {
	Version int        `json:"version"`
	After   storage.ID `json:"after"`
	Done    bool       `json:"done"`
}

// readIndexState reads the row; known is false when there is none, as in a
// database that never had entries.
func readIndexState(row js.Value) (state indexState, known bool) {
	if row.Type() != js.TypeString {
		return indexState{}, false
	}
	err := json.Unmarshal([]byte(row.String()), &state)
	return state, err == nil
}

func writeIndexState(t *tx, state indexState) error {
	text, err := json.Marshal(state)
	if err == nil {
		t.store(metaStore).Call("put", string(text), indexKey)
	}
	return err
}

// indexPage is how many records get a new entry in one transaction: few enough
// that a save or a question waits only a moment.
const indexPage = 100

// keepIndex makes entries anew where they are not those of our index. The
// first page is done before Open returns, which is all there is in a small
// store; the rest goes on beside the use of the store, and after a restart
// from where it ended. What stops it, as a full device, only leaves questions
// marked as partial.
func (s *Store) keepIndex(ctx context.Context) {
	more, err := s.indexSome(ctx, true)
	if err != nil || !more {
		return
	}
	go func() {
		for more, err := true, error(nil); more && err == nil; {
			more, err = s.indexSome(context.Background(), false)
		}
	}()
}

// indexSome does one page and reports whether there is more to do. At the
// first one entries of another version are given up; later, another version
// means that another tab has taken over.
func (s *Store) indexSome(ctx context.Context, first bool) (more bool, err error) {
	err = s.run(ctx, true, []any{metaStore, headsStore, termsStore, briefsStore}, func(t *tx) {
		more = false
		meta := t.store(metaStore)
		t.all([]js.Value{meta.Call("get", indexKey), meta.Call("get", staleKey)}, func(rows []js.Value) {
			state, known := readIndexState(rows[0])
			ours := known && state.Version == s.index.Version
			switch {
			case first && (!ours || rows[1].Truthy()):
				meta.Call("delete", staleKey)
				state = indexState{Version: s.index.Version}
			case !ours, state.Done:
				return
			}
			s.indexPage(t, state, &more)
		})
	})
	return more, err
}

// indexPage makes the entries of the next records anew.
func (s *Store) indexPage(t *tx, state indexState, more *bool) {
	heads := t.store(headsStore).Call("getAll", keyRange().Call("lowerBound", string(state.After), true), indexPage)
	t.then(heads, func(rows js.Value) {
		var records []storage.Record
		var old []js.Value
		for i := range rows.Length() {
			row := rows.Index(i)
			state.After = storage.ID(row.Get("rec").String())
			old = append(old, t.store(termsStore).Call("get", string(state.After)))
			// A record that cannot be read cannot be found either; Get says why.
			heads, err := readHeads(row)
			if err != nil {
				heads = nil
			}
			record := storage.NewRecord(heads)
			record.ID = state.After
			records = append(records, record)
		}
		state.Done = len(records) < indexPage
		*more = !state.Done
		t.all(old, func(old []js.Value) { t.guard(func() { s.enter(t, state, records, old) }) })
	})
}

// enter replaces the entries of a page of records and notes how far it came.
func (s *Store) enter(t *tx, state indexState, records []storage.Record, old []js.Value) {
	var entries []entryRow
	for i, rec := range records {
		dropEntry(t, rec.ID, old[i])
		if len(rec.Heads) > 0 && !rec.Deleted {
			entries = append(entries, newEntryRow(rec, s.index))
		}
	}
	err := putEntries(t, entries)
	if err == nil {
		err = writeIndexState(t, state)
	}
	if err != nil {
		t.abort(err)
	}
}
