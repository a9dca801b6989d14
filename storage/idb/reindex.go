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
const indexPage = 200

// keepIndex makes the index anew where it is not ours, or when told to. The
// first page is done before it returns, which is all there is in a small
// store; the rest goes on beside the use of the store, and after a restart
// from where it ended. What stops it, as a full device, only leaves answers
// marked as partial.
func (s *Store) keepIndex(ctx context.Context, anew bool) {
	more, err := s.indexSome(ctx, true, anew)
	if err != nil || !more {
		return
	}
	go func() {
		for more, err := true, error(nil); more && err == nil; {
			more, err = s.indexSome(context.Background(), false, false)
		}
	}()
}

// indexSome does one page and reports whether there is more to do. At the
// first one an index of another version is given up; later, another version
// means that another tab has taken over.
func (s *Store) indexSome(ctx context.Context, first, anew bool) (more bool, err error) {
	var x *indexing
	err = s.run(ctx, true, []any{metaStore, headsStore, dirsStore, blocksStore}, func(t *tx) {
		more = false
		x = &indexing{t: t, known: &s.known}
		meta := t.store(metaStore)
		t.all([]js.Value{meta.Call("get", indexKey), meta.Call("get", staleKey)}, func(rows []js.Value) {
			state, known := readIndexState(rows[0])
			ours := known && state.Version == s.index.Version
			switch {
			case first && (anew || !ours || rows[1].Truthy()):
				meta.Call("delete", staleKey)
				t.store(dirsStore).Call("clear")
				t.store(blocksStore).Call("clear")
				state = indexState{Version: s.index.Version}
			case !ours, state.Done:
				return
			}
			s.indexPage(x, state, &more)
		})
	})
	if err == nil {
		s.known.learn(x.staged)
	}
	return more, err
}

// indexPage makes the entries of the next records.
func (s *Store) indexPage(x *indexing, state indexState, more *bool) {
	heads := x.t.store(headsStore).Call("getAll", keyRange().Call("lowerBound", string(state.After), true), indexPage)
	x.t.then(heads, func(rows js.Value) {
		entries := make(changes)
		for i := range rows.Length() {
			row := rows.Index(i)
			state.After = storage.ID(row.Get("rec").String())
			// A record that cannot be read cannot be found either; Get says why.
			if heads, err := readHeads(row); err == nil {
				entries.add("", storage.NewRecord(heads), s.index)
			}
		}
		state.Done = rows.Length() < indexPage
		*more = !state.Done
		x.make(entries)
		if err := writeIndexState(x.t, state); err != nil {
			x.t.abort(err)
		}
	})
}
