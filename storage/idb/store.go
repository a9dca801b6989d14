//go:build js

package idb

import (
	"context"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// Store is a storage.Store on one database of the page's address. Its fields
// need no lock: a program for GOOS=js runs one goroutine at a time and changes
// goroutines only where it waits.
type Store struct {
	name    string
	index   storage.Index
	known   known
	listed  bool          // attachments of before are in the lists
	gate    chan struct{} // holds one token: who has it may open the connection
	db      js.Value      // undefined while there is no connection
	watch   []js.Func     // callbacks on db
	ended   error         // why the store is of no more use
	visible js.Func       // callback on the page's visibility
}

var _ storage.Store = (*Store)(nil)

// Open opens the named database, makes it when there is none, and upgrades it
// when it is older than this build. Records are found by the given index; when
// the database holds entries of another version, they are made anew while the
// store is in use. Errors: storage.ErrUnavailable, ErrNewer, ErrBlocked,
// ErrFull, ErrLost, or that of ctx.
func Open(ctx context.Context, name string, index storage.Index) (*Store, error) {
	s := &Store{name: name, index: index, gate: make(chan struct{}, 1), db: js.Undefined()}
	if _, err := s.connection(ctx); err != nil {
		return nil, fmt.Errorf("open storage: %w", err)
	}
	s.watchPage()
	s.keepIndex(ctx, false)
	return s, nil
}

// connection returns the open connection or opens one.
func (s *Store) connection(ctx context.Context) (js.Value, error) {
	select {
	case s.gate <- struct{}{}:
		defer func() { <-s.gate }()
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
	if s.ended != nil || s.db.Truthy() {
		return s.db, s.ended
	}
	db, err := connect(ctx, s.name, len(upgrades))
	if err != nil {
		return js.Undefined(), err
	}
	if s.ended != nil { // closed while opening
		db.Call("close")
		return js.Undefined(), s.ended
	}
	s.db = db
	s.onDB("versionchange", func() { s.end() }) // or another tab's upgrade would wait for us for ever
	s.onDB("close", s.drop)                     // the browser closed it, as when site data are cleared
	return db, nil
}

func (s *Store) onDB(event string, f func()) {
	fn := js.FuncOf(func(js.Value, []js.Value) any {
		f()
		return nil
	})
	s.watch = append(s.watch, fn)
	s.db.Set("on"+event, fn)
}

// drop gives the connection up. Transactions running on it come to their end;
// the next call opens a new one.
func (s *Store) drop() {
	if !s.db.Truthy() {
		return
	}
	s.db.Set("onversionchange", nil)
	s.db.Set("onclose", nil)
	_ = try(func() { s.db.Call("close") }) // a connection that is gone is closed already
	for _, f := range s.watch {
		f.Release()
	}
	s.db, s.watch = js.Undefined(), nil
	s.known, s.listed = known{}, false // what comes next may be another database of that name
}

// end makes the store of no more use.
func (s *Store) end() {
	if s.ended == nil {
		s.ended = storage.ErrClosed
	}
	s.drop()
}

// watchPage gives the connection up when the page is hidden, before a phone
// breaks it. A worker has no page.
func (s *Store) watchPage() {
	document := js.Global().Get("document")
	if !document.Truthy() {
		return
	}
	s.visible = js.FuncOf(func(js.Value, []js.Value) any {
		if document.Get("hidden").Bool() {
			s.drop()
		}
		return nil
	})
	document.Call("addEventListener", "visibilitychange", s.visible)
}

// Close implements storage.Store.
func (s *Store) Close() error {
	s.end()
	if s.visible.Truthy() {
		js.Global().Get("document").Call("removeEventListener", "visibilitychange", s.visible)
		s.visible.Release()
		s.visible = js.Func{}
	}
	return nil
}

// run does one transaction, and does it once more on a new connection when the
// first was lost. body must forget what an earlier run of it found.
func (s *Store) run(ctx context.Context, write bool, stores []any, body func(*tx)) error {
	err := s.runOnce(ctx, write, stores, body)
	if lost(err) {
		s.drop()
		err = s.runOnce(ctx, write, stores, body)
	}
	return err
}

func (s *Store) runOnce(ctx context.Context, write bool, stores []any, body func(*tx)) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	db, err := s.connection(ctx)
	if err != nil {
		return err
	}
	t, err := begin(db, write, stores, body)
	if err != nil {
		return err
	}
	return t.wait(ctx)
}
