package effects

import (
	"context"

	"torchside/pwa/state"
	"torchside/storage"
)

// compareHeld compares the store with what the browser remembers of it. A store without a single change, deletions counted, that
// held records before was emptied by the browser: that is told, now and at every start until somebody has read it.
func (r *Runner) compareHeld(ctx context.Context) {
	s, err := r.open(ctx)
	if err != nil {
		return // said by the job that needed the store
	}
	u, err := s.Usage(ctx)
	if err != nil {
		r.dropped(err)
		return // nothing is known of the store: nothing is said of it
	}
	held := r.ports.Browser.Held()
	switch {
	case u.Ops == 0 && held.IsEmptied():
		held = held.Emptied()
		r.ports.Browser.KeepHeld(held)
	case u.Ops > 0:
		held.Records, held.At = u.Records, r.now().UnixMilli()
		r.ports.Browser.KeepHeld(held)
	}
	if held.Lost != nil {
		r.post(state.StoreEmptied{Lost: *held.Lost})
	}
}

// hold counts what was just written: a record whose change follows no other is new.
func (r *Runner) hold(written []storage.Record) {
	held := r.ports.Browser.Held()
	for _, w := range written {
		if len(w.Heads) == 1 && len(w.Heads[0].Parents) == 0 {
			held.Records++
		}
	}
	held.At = r.now().UnixMilli()
	r.ports.Browser.KeepHeld(held)
}

// filed remembers that a file with everything was handed over.
func (r *Runner) filed() {
	held := r.ports.Browser.Held()
	held.File = r.now().UnixMilli()
	r.ports.Browser.KeepHeld(held)
}

// forgetLost forgets a loss that was read.
func (r *Runner) forgetLost(context.Context) {
	held := r.ports.Browser.Held()
	held.Lost = nil
	r.ports.Browser.KeepHeld(held)
}
