//go:build js

package idb

import (
	"context"
	"syscall/js"

	"torchside/storage"
)

// Usage implements storage.Store. Bytes and Quota are the browser's estimate
// for everything of the page's address, cached program files included.
func (s *Store) Usage(ctx context.Context) (storage.Usage, error) {
	var u storage.Usage
	counted := []any{headsStore, opsStore, outboxStore, infosStore}
	err := s.run(ctx, false, counted, func(t *tx) {
		for i, to := range []*int{&u.Records, &u.Ops, &u.Waiting, &u.Blobs} {
			t.then(t.store(counted[i].(string)).Call("count"), func(n js.Value) { *to = n.Int() })
		}
	})
	if err != nil || !manager().Truthy() {
		return u, err
	}
	estimate, err := await(ctx, manager().Call("estimate"))
	if err != nil {
		return u, err
	}
	u.Bytes, u.Quota = size(estimate.Get("usage")), size(estimate.Get("quota"))
	kept, err := await(ctx, manager().Call("persisted"))
	u.Persistent = kept.Truthy()
	return u, err
}

// Keep implements storage.Store. Browsers may ask the user or decide by
// themselves, and most agree only once the app is on the home screen.
func (s *Store) Keep(ctx context.Context) (bool, error) {
	if s.ended != nil || !manager().Truthy() {
		return false, s.ended
	}
	kept, err := await(ctx, manager().Call("persist"))
	return kept.Truthy(), err
}

// manager is the browser's StorageManager, undefined outside secure contexts.
func manager() js.Value {
	navigator := js.Global().Get("navigator")
	if !navigator.Truthy() {
		return navigator
	}
	return navigator.Get("storage")
}

// size reads a byte count, 0 where the browser tells none.
func size(v js.Value) int64 {
	if v.Type() != js.TypeNumber {
		return 0
	}
	return int64(v.Float())
}
