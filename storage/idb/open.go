//go:build js

package idb

import (
	"context"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// Names of object stores, indexes and keys. Renaming one strands data.
const (
	opsStore    = "ops"    // key: op id
	headsStore  = "heads"  // key: record id
	outboxStore = "outbox" // key: op id
	metaStore   = "meta"   // key: deviceKey
	namesIndex  = "names"  // ops by "record/parent", each parent an entry
	kindIndex   = "kind"   // heads by [kind, record id]
	deviceKey   = "device"
)

// upgrades lead from each version of the database to the next; the version is
// their number. Never change one that was released, only add.
var upgrades = []func(db js.Value){
	func(db js.Value) {
		ops := db.Call("createObjectStore", opsStore, map[string]any{"keyPath": "op"})
		ops.Call("createIndex", namesIndex, "names", map[string]any{"multiEntry": true})
		heads := db.Call("createObjectStore", headsStore, map[string]any{"keyPath": "rec"})
		heads.Call("createIndex", kindIndex, []any{"kind", "rec"})
		db.Call("createObjectStore", outboxStore, map[string]any{"keyPath": "op"})
		db.Call("createObjectStore", metaStore)
	},
}

// opening is one request to open the database. Its callbacks live until the
// request has ended, even when nobody waits for it any more.
type opening struct {
	request   js.Value
	done      chan error // gets one value
	abandoned bool       // nobody waits: a database that still opens is closed
	settled   bool
	fault     error // why an upgrade was given up
	funcs     []js.Func
}

// connect opens a connection and brings the database up to this version.
func connect(ctx context.Context, name string, version int) (js.Value, error) {
	factory := js.Global().Get("indexedDB")
	if !factory.Truthy() {
		return js.Undefined(), storage.ErrUnavailable
	}
	o := &opening{done: make(chan error, 1)}
	if err := try(func() { o.request = factory.Call("open", name, version) }); err != nil {
		return js.Undefined(), err
	}
	o.on("success", o.success)
	o.on("error", o.failure)
	o.on("blocked", func(js.Value) { o.settle(storage.ErrBlocked) })
	o.on("upgradeneeded", o.upgrade)
	select {
	case err := <-o.done:
		if err != nil {
			return js.Undefined(), err
		}
		return o.request.Get("result"), nil
	case <-ctx.Done():
		o.abandoned = true
		return js.Undefined(), ctx.Err()
	}
}

func (o *opening) on(event string, f func(event js.Value)) {
	fn := js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	})
	o.funcs = append(o.funcs, fn)
	o.request.Set("on"+event, fn)
}

// settle tells who waits, once. After blocked the request still runs on.
func (o *opening) settle(err error) {
	if o.settled {
		return
	}
	o.settled = true
	o.abandoned = o.abandoned || err != nil
	o.done <- err
}

func (o *opening) release() {
	for _, f := range o.funcs {
		f.Release()
	}
}

func (o *opening) success(js.Value) {
	defer o.release()
	if o.abandoned {
		o.request.Get("result").Call("close")
		return
	}
	o.settle(nil)
}

func (o *opening) failure(event js.Value) {
	defer o.release()
	event.Call("preventDefault") // reported here, not on the console
	err := o.fault
	if err == nil {
		err = errorOf(o.request.Get("error"))
	}
	o.settle(err)
}

// upgrade runs the missing steps inside the browser's upgrade transaction. If
// one fails the database stays at its old version.
func (o *opening) upgrade(event js.Value) {
	db, from := o.request.Get("result"), event.Get("oldVersion").Int()
	o.fault = try(func() {
		for _, step := range upgrades[min(from, len(upgrades)):] {
			step(db)
		}
	})
	if o.fault != nil || o.abandoned {
		o.fault = fmt.Errorf("upgrade the database from version %d: %w", from, errOr(o.fault, context.Canceled))
		o.request.Get("transaction").Call("abort")
	}
}

// errOr returns err, or other if there is none.
func errOr(err, other error) error {
	if err != nil {
		return err
	}
	return other
}
