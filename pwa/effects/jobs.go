package effects

import (
	"context"
	"errors"

	"torchside/pwa/state"
	"torchside/storage"
)

// write stores drafts. A store closed under us (another window upgraded it) is opened once more: writing again is then safe,
// because nothing of it was written.
func (r *Runner) write(ctx context.Context, e state.Write) {
	answered := false
	defer func() {
		// A fault leaves the write unanswered otherwise, and its form would say "saving" for ever.
		if fault := recover(); fault != nil {
			if !answered {
				r.post(state.WriteFailed{Token: e.Token, Err: errFault})
			}
			panic(fault)
		}
	}()
	records, err := r.tryWrite(ctx, e.Drafts)
	if errors.Is(err, storage.ErrClosed) {
		records, err = r.tryWrite(ctx, e.Drafts)
	}
	answered = true
	r.remember(e.Token, records, err)
	if err != nil {
		r.post(state.WriteFailed{Token: e.Token, Err: err})
		return
	}
	r.post(state.WriteDone{Token: e.Token, Records: records})
	r.hold(records)
	r.ports.Browser.Announce()
}

// errFault is what a write says that ended in a fault of our own.
var errFault = errors.New("a fault in this app")

func (r *Runner) tryWrite(ctx context.Context, drafts []storage.Draft) ([]storage.Record, error) {
	if _, err := r.open(ctx); err != nil {
		return nil, err
	}
	records, err := r.author.Write(ctx, drafts...)
	r.dropped(err)
	return records, err
}

// reload reads all live records but those of kinds that are asked for.
func (r *Runner) reload(ctx context.Context) {
	records, err := r.tryList(ctx)
	if errors.Is(err, storage.ErrClosed) {
		records, err = r.tryList(ctx)
	}
	if err != nil {
		r.post(state.StoreFailed{Err: err})
		return
	}
	r.compareHeld(ctx)
	r.post(state.Loaded{Records: records})
}

func (r *Runner) tryList(ctx context.Context) ([]storage.Record, error) {
	s, err := r.open(ctx)
	if err != nil {
		return nil, err
	}
	records, err := s.List(ctx, storage.Query{Except: r.ports.Queried})
	r.dropped(err)
	return records, err
}

// keep asks the browser never to throw the data away. Its refusal is no failure: Bench shows it.
func (r *Runner) keep(ctx context.Context) {
	if s, err := r.open(ctx); err == nil {
		// An error means the browser does not say; usage then tells the same.
		_, _ = s.Keep(ctx)
	}
	r.health(ctx)
}

func (r *Runner) health(ctx context.Context) {
	s, err := r.open(ctx)
	if err != nil {
		return // said by the job that needed the store
	}
	u, err := s.Usage(ctx)
	if err != nil {
		r.dropped(err)
		return
	}
	r.post(state.HealthRead{Health: state.StoreHealth{
		Known: true, Records: u.Records, Waiting: u.Waiting, Persistent: u.Persistent, Bytes: u.Bytes, Quota: u.Quota,
	}})
}
