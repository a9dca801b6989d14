//go:build js

package idb

import (
	"context"
	"syscall/js"
)

// tx is one running transaction. All its steps run inside the browser's
// callbacks, so it never closes early for want of a request; nothing in a step
// may wait. Requests without a next step need no callback: if one fails, the
// browser aborts the transaction and says why.
type tx struct {
	js      js.Value
	steps   []func(result js.Value)
	success js.Func
	funcs   []js.Func
	fault   error      // why we aborted it
	done    chan error // gets one value, at complete or abort
}

// begin starts a transaction over the object stores; body issues its first
// requests. Writing asks for strict durability.
func begin(db js.Value, write bool, stores []any, body func(*tx)) (*tx, error) {
	t := &tx{done: make(chan error, 1)}
	err := try(func() {
		if write {
			t.js = db.Call("transaction", stores, "readwrite", map[string]any{"durability": "strict"})
		} else {
			t.js = db.Call("transaction", stores, "readonly")
		}
	})
	if err != nil {
		return nil, err
	}
	t.success = js.FuncOf(func(request js.Value, _ []js.Value) any {
		t.guard(func() { t.steps[request.Get("step").Int()](request.Get("result")) })
		return nil
	})
	t.funcs = append(t.funcs, t.success)
	t.on("complete", func() { t.finish(nil) })
	t.on("abort", func() {
		if t.fault == nil {
			t.fault = errorOf(t.js.Get("error"))
		}
		t.finish(t.fault)
	})
	t.guard(func() { body(t) })
	return t, nil
}

func (t *tx) on(event string, f func()) {
	fn := js.FuncOf(func(js.Value, []js.Value) any {
		f()
		return nil
	})
	t.funcs = append(t.funcs, fn)
	t.js.Set("on"+event, fn)
}

// finish is the last event: no callback of the transaction can follow.
func (t *tx) finish(err error) {
	for _, f := range t.funcs {
		f.Release()
	}
	t.done <- err
}

// wait waits for the end. When ctx ends first the transaction is aborted, and
// releases its callbacks by itself.
func (t *tx) wait(ctx context.Context) error {
	select {
	case err := <-t.done:
		return err
	case <-ctx.Done():
		t.abort(ctx.Err())
		return ctx.Err()
	}
}

// guard runs a step; what it throws aborts the transaction.
func (t *tx) guard(step func()) {
	if err := try(step); err != nil {
		t.abort(err)
	}
}

// abort ends the transaction without writing anything; the first reason is
// kept. One that has ended already cannot be aborted, which needs no telling.
func (t *tx) abort(reason error) {
	if t.fault == nil {
		t.fault = reason
	}
	_ = try(func() { t.js.Call("abort") })
}

// store returns an object store of the transaction.
func (t *tx) store(name string) js.Value { return t.js.Call("objectStore", name) }

// then runs a step with the request's result.
func (t *tx) then(request js.Value, step func(result js.Value)) {
	request.Set("step", len(t.steps))
	request.Set("onsuccess", t.success)
	t.steps = append(t.steps, step)
}

// all runs a step with the results of several requests, in their order.
func (t *tx) all(requests []js.Value, step func(results []js.Value)) {
	results := make([]js.Value, len(requests))
	left := len(requests)
	if left == 0 {
		step(results)
		return
	}
	for i, r := range requests {
		t.then(r, func(result js.Value) {
			results[i] = result
			if left--; left == 0 {
				step(results)
			}
		})
	}
}
