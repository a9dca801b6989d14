//go:build js

package main

import (
	"context"
	"encoding/hex"
	"syscall/js"

	"torchside/storage"
	"torchside/storage/replicate"
)

// lockName is that of the lock over all windows of the app (Web Locks API).
const lockName = "torchside-sync"

// Alone holds the lock while the job runs, or, in a browser without locks, a lease in the store.
func (v *vault) Alone(ctx context.Context, s storage.Replica, job func(context.Context)) bool {
	locks := js.Global().Get("navigator").Get("locks")
	if locks.Truthy() {
		return locked(ctx, locks, job)
	}
	lease, ok := s.(replicate.Lease)
	if !ok {
		job(ctx)
		return true
	}
	if v.window == "" {
		name := make([]byte, 16)
		_, _ = random{}.Read(name) // the browser always gives them
		v.window = hex.EncodeToString(name)
	}
	return replicate.UnderLease(ctx, lease, v.window, job)
}

// locked does the job if the lock is free.
func locked(ctx context.Context, locks js.Value, job func(context.Context)) bool {
	got := make(chan bool, 1)
	var release js.Value
	executor := js.FuncOf(func(_ js.Value, args []js.Value) any { release = args[0]; return nil })
	defer executor.Release()
	granted := js.FuncOf(func(_ js.Value, args []js.Value) any {
		if args[0].IsNull() {
			got <- false
			return nil
		}
		held := js.Global().Get("Promise").New(executor)
		got <- true
		return held
	})
	defer granted.Release()
	locks.Call("request", lockName, map[string]any{"ifAvailable": true}, granted)
	select {
	case mine := <-got:
		if !mine {
			return false
		}
	case <-ctx.Done():
		return false
	}
	defer func() { release.Invoke() }()
	job(ctx)
	return true
}
