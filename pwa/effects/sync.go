package effects

import (
	"context"
	"errors"
	"math/rand/v2"
	"sync"
	"time"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/replicate"
)

// Vault is the server as the app reaches it. What the server refuses comes as a *state.VaultError; any other error means that it
// was not reached.
type Vault interface {
	// Join shows a code and returns the place it gives.
	Join(ctx context.Context, code, name string) (Link, error)
	// Sync brings the store and the server in step once.
	Sync(ctx context.Context, l Link, s storage.Replica, photos bool, progress func(state.SyncOutcome)) (state.SyncOutcome, error)
	// Invite makes a code for one more device.
	Invite(ctx context.Context, l Link) (state.Invite, error)
	// Devices lists the shop's devices and names the shop; Rename and Revoke change one first.
	Devices(ctx context.Context, l Link) ([]state.Device, string, error)
	Rename(ctx context.Context, l Link, id, name string) ([]state.Device, string, error)
	Revoke(ctx context.Context, l Link, id string) ([]state.Device, string, error)
	// Alone does a job unless another window of the app is at one on this store, and reports whether it did. The job's context
	// ends when another window takes over, which counts as not done.
	Alone(ctx context.Context, s storage.Replica, job func(context.Context)) bool
	// Free tells whether the connection costs nothing, and whether the browser knows.
	Free() (free, known bool)
	// DeviceName is a word for this kind of device.
	DeviceName() string
}

// Link is the device's place in a shop with the secret that opens it. It never leaves this package for the state.
type Link struct {
	state.Linked
	Token string
}

// link is the place as last kept, and the clock of the next run.
type link struct {
	mu    sync.Mutex
	now   Link
	timer *time.Timer
}

func (l *link) get() Link {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.now
}

func (l *link) set(to Link) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.now = to
}

// startSync tells whether the device is in a shop.
func (r *Runner) startSync() {
	if r.ports.Vault == nil {
		return
	}
	r.link.set(r.ports.Browser.Link())
	r.post(state.DeviceNamed{Name: r.ports.Vault.DeviceName()})
	r.post(state.LinkRead{Linked: r.link.get().Linked})
}

// syncing runs what concerns the server; effects that are none of it are passed over.
func (r *Runner) syncing(e state.Effect) {
	if r.ports.Vault == nil {
		return
	}
	switch e := e.(type) {
	case state.RunSync:
		r.queue(func(ctx context.Context) { r.runSync(ctx, e) })
	case state.SyncLater:
		r.syncLater(e)
	case state.KeepLinked:
		r.keepLinked(e.Linked)
	case state.JoinShop:
		r.away(func(ctx context.Context) { r.join(ctx, e) }, func() { r.post(state.Joined{Err: errFault}) })
	case state.LeaveShop:
		r.away(func(ctx context.Context) { r.leave(ctx, e) }, func() { r.post(state.Left{Err: errFault}) })
	case state.MakeInvite:
		r.away(func(ctx context.Context) {
			i, err := r.ports.Vault.Invite(ctx, r.link.get())
			r.post(state.Invited{Invite: i, Err: err})
		}, func() { r.post(state.Invited{Err: errFault}) })
	default:
		r.devices(e)
	}
}

// devices reads or changes the list of devices.
func (r *Runner) devices(e state.Effect) {
	var ask func(context.Context, Link) ([]state.Device, string, error)
	switch e := e.(type) {
	case state.AskDevices:
		ask = r.ports.Vault.Devices
	case state.RenameDevice:
		ask = func(ctx context.Context, l Link) ([]state.Device, string, error) {
			return r.ports.Vault.Rename(ctx, l, e.ID, e.Name)
		}
	case state.RevokeDevice:
		ask = func(ctx context.Context, l Link) ([]state.Device, string, error) {
			return r.ports.Vault.Revoke(ctx, l, e.ID)
		}
	default:
		return
	}
	r.away(func(ctx context.Context) {
		list, shop, err := ask(ctx, r.link.get())
		r.post(state.DevicesRead{List: list, Shop: shop, Err: err})
	}, func() { r.post(state.DevicesRead{Err: errFault}) })
}

// away does a job over the network beside the queue. A fault of our own is answered too, or its page would wait for ever.
func (r *Runner) away(job func(context.Context), fault func()) {
	r.queue(func(ctx context.Context) {
		r.beside(ctx, func(ctx context.Context) {
			answered := false
			defer func() {
				if !answered {
					fault()
				}
			}()
			job(ctx)
			answered = true
		})
	})
}

// runSync begins a run beside the queue, so that what is typed meanwhile is saved meanwhile.
func (r *Runner) runSync(ctx context.Context, e state.RunSync) {
	s, err := r.open(ctx)
	replica, ok := s.(storage.Replica)
	if err == nil && !ok {
		err = errors.New("this storage cannot be brought in step with a server")
	}
	if err != nil {
		r.post(state.SyncDone{Err: err})
		return
	}
	r.beside(ctx, func(ctx context.Context) {
		done := state.SyncDone{Err: errFault}
		defer func() { r.post(done) }()
		done = r.syncOnce(ctx, replica, e)
	})
}

// syncOnce is one run, unless another window is at it.
func (r *Runner) syncOnce(ctx context.Context, s storage.Replica, e state.RunSync) (done state.SyncDone) {
	free, known := r.ports.Vault.Free()
	photos := e.Photos || e.AnyCost || known && free
	mine := r.ports.Vault.Alone(ctx, s, func(ctx context.Context) {
		done.Err = errFault // until the run says otherwise
		done.Outcome, done.Err = r.ports.Vault.Sync(ctx, r.link.get(), s, photos, func(o state.SyncOutcome) {
			r.post(state.SyncProgressed{Outcome: o})
		})
	})
	done.Outcome.Elsewhere, done.Outcome.CostUnknown = !mine, !known
	if done.Outcome.Got+done.Outcome.Merged+done.Outcome.Forgot+done.Outcome.Photos > 0 {
		r.ports.Browser.Announce()
	}
	if errors.Is(done.Err, storage.ErrClosed) {
		err := done.Err
		r.queue(func(context.Context) { r.dropped(err) })
	}
	return done
}

// syncLater has SyncDue posted after a while; only the last one asked for counts.
func (r *Runner) syncLater(e state.SyncLater) {
	wait := replicate.AfterEdit
	if !e.Edited {
		wait = replicate.Wait(e.Failures, rand.Float64())
	}
	r.link.mu.Lock()
	defer r.link.mu.Unlock()
	if r.link.timer != nil {
		r.link.timer.Stop()
	}
	r.link.timer = time.AfterFunc(wait, func() { r.post(state.SyncDue{}) })
}

// keepLinked keeps what the state knows of the place; the secret stays as it is. A browser that does not keep it asks for a code
// again after a restart.
func (r *Runner) keepLinked(to state.Linked) {
	r.link.mu.Lock()
	defer r.link.mu.Unlock()
	if to.ID != r.link.now.ID {
		return // left meanwhile
	}
	r.link.now.Linked = to
	_ = r.ports.Browser.KeepLink(r.link.now)
}

func (r *Runner) join(ctx context.Context, e state.JoinShop) {
	l, err := r.ports.Vault.Join(ctx, e.Code, e.Name)
	if err == nil {
		err = r.ports.Browser.KeepLink(l)
	}
	if err == nil {
		r.link.set(l)
	}
	r.post(state.Joined{Linked: l.Linked, Err: err})
}

// leave puts this device out on the server, if that can be told, and forgets the place either way.
func (r *Runner) leave(ctx context.Context, e state.LeaveShop) {
	_, _, err := r.ports.Vault.Revoke(ctx, r.link.get(), e.ID)
	r.link.set(Link{})
	if kept := r.ports.Browser.KeepLink(Link{}); err == nil {
		err = kept
	}
	r.post(state.Left{Err: err})
}
