package effects

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"torchside/pwa/state"
	"torchside/storage"
)

// Runner runs effects. Make one with [NewRunner], call Start once, and hand it every list of effects Reduce returns.
type Runner struct {
	ports Ports
	post  func(state.Msg)

	wake chan struct{} // holds at most one token: there is work
	mu   sync.Mutex
	jobs []func(context.Context)
	long sync.WaitGroup // jobs beside the queue

	link link // the place in a shop

	darkroom sync.Mutex // held while the photos of one choice are prepared

	// Used by the queue alone.
	store   storage.Store
	author  *storage.Author
	answers map[int]answer // to the last writes, by token

	now func() time.Time
}

// NewRunner returns a runner whose answers go to post. post may be called from another goroutine and must not wait.
func NewRunner(p Ports, post func(state.Msg)) *Runner {
	return &Runner{ports: p, post: post, wake: make(chan struct{}, 1), answers: map[int]answer{}, now: time.Now}
}

// Start brings back the drafts, opens the store and reads it. It returns at once; the queue ends with ctx.
func (r *Runner) Start(ctx context.Context) {
	r.post(state.LimitKnown{Bytes: r.ports.Limit})
	r.post(state.DraftsLoaded{Drafts: r.ports.Browser.Drafts()})
	r.queue(r.reload)
	r.queue(func(context.Context) { r.startSync() })
	r.showBlobs(ctx)
	go r.work(ctx)
}

// Run runs effects in order. Those of the store are queued.
func (r *Runner) Run(list []state.Effect) {
	for _, e := range list {
		r.one(e)
	}
}

func (r *Runner) one(e state.Effect) {
	switch e := e.(type) {
	case state.KeepDraft:
		if err := r.ports.Browser.KeepDraft(e.Key, e.Draft); err != nil {
			r.post(state.DraftFailed{Err: err})
		}
	case state.ShowTheme:
		r.ports.Browser.ShowTheme(e.Theme)
	case state.SetLanguage:
		r.queue(func(context.Context) { r.ports.Browser.SetLanguage(e.Code) }) // after what is still to be saved
	case state.ShowTop:
		r.ports.Browser.ShowTop(e.Act)
	case state.Restart:
		r.ports.Browser.Restart()
	case state.SetAlarms, state.Ring, state.Say, state.SetPace, state.ReadAloud:
		r.alarm(e)
	case state.ReadStatic:
		r.beside(context.Background(), func(ctx context.Context) { r.readStatic(ctx, e) })
	case state.Write:
		r.queue(func(ctx context.Context) { r.write(ctx, e) })
	case state.Reload:
		r.queue(r.reload)
	case state.ForgetLost:
		r.queue(r.forgetLost)
	case state.AskPersistent:
		r.queue(r.keep)
	case state.ReadHealth:
		r.queue(r.health)
	case state.Export:
		r.queue(func(ctx context.Context) { r.export(ctx, e) })
	case state.CheckImport:
		r.queue(func(ctx context.Context) { r.checked(ctx, e) })
	case state.Import:
		r.queue(func(ctx context.Context) { r.imported(ctx, e) })
	default:
		r.storing(e)
	}
}

func (r *Runner) queue(job func(context.Context)) {
	r.mu.Lock()
	r.jobs = append(r.jobs, job)
	r.mu.Unlock()
	select {
	case r.wake <- struct{}{}:
	default:
	}
}

// work does the queued jobs, one at a time, until ctx ends.
func (r *Runner) work(ctx context.Context) {
	for {
		r.drain(ctx)
		select {
		case <-r.wake:
		case <-ctx.Done():
			return
		}
	}
}

func (r *Runner) drain(ctx context.Context) {
	for {
		r.mu.Lock()
		if len(r.jobs) == 0 {
			r.mu.Unlock()
			return
		}
		job := r.jobs[0]
		r.jobs = r.jobs[1:]
		r.mu.Unlock()
		r.guarded(ctx, job)
	}
}

// beside does a long job without keeping the queue waiting: what is typed while a file is written must be saved meanwhile. The
// job must leave what the queue uses to the queue.
func (r *Runner) beside(ctx context.Context, job func(context.Context)) {
	r.long.Add(1)
	go func() {
		defer r.long.Done()
		r.guarded(ctx, job)
	}()
}

// guarded keeps a fault in one job from ending the program; the others go on.
func (r *Runner) guarded(ctx context.Context, job func(context.Context)) {
	defer func() {
		if fault := recover(); fault != nil {
			r.post(state.Failed{What: fmt.Sprint(fault)})
		}
	}()
	job(ctx)
}

// open returns the store, opening it when there is none.
func (r *Runner) open(ctx context.Context) (storage.Store, error) {
	if r.store != nil {
		return r.store, nil
	}
	s, err := r.ports.Open(ctx)
	if err != nil {
		return nil, err
	}
	r.store, r.author = s, r.ports.Author(s)
	return s, nil
}

// dropped forgets a store that is of no more use, so that the next job opens a new one.
func (r *Runner) dropped(err error) {
	if errors.Is(err, storage.ErrClosed) {
		r.store, r.author = nil, nil
	}
}
