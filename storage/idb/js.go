//go:build js

package idb

import (
	"context"
	"errors"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// try runs f and turns what JavaScript throws into an error. Any other panic
// is a fault of this package and goes on.
func try(f func()) (err error) {
	defer func() {
		switch thrown := recover().(type) {
		case nil:
		case js.Error:
			err = errorOf(thrown.Value)
		default:
			panic(thrown)
		}
	}()
	f()
	return nil
}

// byName maps names of DOMExceptions (W3C Indexed Database API 3.0 and Web IDL)
// to errors of the contract. Those that phones use for a connection gone in
// the background are many and vary by version; all of them are ErrLost, which
// is tried again once.
var byName = map[string]error{
	"QuotaExceededError": storage.ErrFull,
	"VersionError":       storage.ErrNewer,
	"NotReadableError":   storage.ErrCorrupt,
	"NotFoundError":      storage.ErrCorrupt, // an object store is missing
	"SecurityError":      storage.ErrUnavailable,
	"InvalidStateError":  storage.ErrLost, // connection is closing
	"AbortError":         storage.ErrLost,
	"UnknownError":       storage.ErrLost, // connection to the database server lost
	"TimeoutError":       storage.ErrLost,
}

// errorOf turns a DOMException or any other thrown value into an error. A
// transaction aborted by the browser without a reason gives null: lost.
func errorOf(thrown js.Value) error {
	if !thrown.Truthy() {
		return fmt.Errorf("%w: transaction ended without a reason", storage.ErrLost)
	}
	name, message := text(thrown, "name"), text(thrown, "message")
	if known, ok := byName[name]; ok {
		return fmt.Errorf("%w (%s: %s)", known, name, message)
	}
	return fmt.Errorf("browser storage: %s: %s", name, message)
}

// text reads a property as text, "" where there is none.
func text(v js.Value, name string) string {
	if v.Type() != js.TypeObject && v.Type() != js.TypeFunction {
		return ""
	}
	if p := v.Get(name); p.Type() == js.TypeString {
		return p.String()
	}
	return ""
}

// await waits for a promise. When ctx ends first the callbacks stay until the
// promise is settled, as it may still call them.
func await(ctx context.Context, promise js.Value) (js.Value, error) {
	type outcome struct {
		value js.Value
		err   error
	}
	settled := make(chan outcome, 1)
	var resolved, rejected js.Func
	settle := func(o outcome) any {
		resolved.Release()
		rejected.Release()
		settled <- o
		return nil
	}
	resolved = js.FuncOf(func(_ js.Value, args []js.Value) any { return settle(outcome{value: args[0]}) })
	rejected = js.FuncOf(func(_ js.Value, args []js.Value) any { return settle(outcome{err: errorOf(args[0])}) })
	promise.Call("then", resolved, rejected)
	select {
	case o := <-settled:
		return o.value, o.err
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}

// lost tells whether a fresh connection may help.
func lost(err error) bool { return errors.Is(err, storage.ErrLost) }
