//go:build js

package idb

import (
	"context"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

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
// one fails, or nobody waits any more, the database stays at its old version.
func (o *opening) upgrade(event js.Value) {
	db, from := o.request.Get("result"), event.Get("oldVersion").Int()
	to, tx := event.Get("newVersion").Int(), o.request.Get("transaction")
	if o.fault = context.Canceled; !o.abandoned {
		o.fault = try(func() {
			for _, step := range upgrades[min(from, len(upgrades)):min(to, len(upgrades))] {
				step(db, tx)
			}
		})
	}
	if o.fault != nil {
		o.fault = fmt.Errorf("upgrade the database from version %d: %w", from, o.fault)
		tx.Call("abort")
	}
}
