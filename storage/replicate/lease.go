package replicate

import (
	"context"
	"sync"
	"time"
)

// Lease is a note in a store that one window of the app is at work. It is for
// browsers that have no locks over all windows.
type Lease interface {
	// TakeLease takes or renews the lease for so long, and reports whether it
	// is the holder's now; else another has it. A lease that ends later than
	// one taken now would was taken before the clock was put back, and counts
	// as ended.
	TakeLease(ctx context.Context, holder string, now time.Time, length time.Duration) (bool, error)
	// DropLease ends the lease if the holder has it.
	DropLease(ctx context.Context, holder string) error
}

// leaseLength is how long the lease of a window that was closed keeps others
// waiting, and leaseRenewed after what time one at work renews it: late enough
// for a phone that gives a window in the background little time. Our own choice.
const (
	leaseLength  = 20 * time.Second
	leaseRenewed = 5 * time.Second
)

// UnderLease does a job while this window has the lease, and reports whether
// it did. The job's context ends when another window has taken the lease, as
// after this one was asleep: then false is reported too. Where the lease cannot
// be written, as on a full device, the job is done all the same: two at it at a
// time costs time but does no harm, as every exchange may be repeated.
func UnderLease(ctx context.Context, l Lease, holder string, job func(context.Context)) bool {
	mine, err := l.TakeLease(ctx, holder, time.Now(), leaseLength)
	if err == nil && !mine {
		return false
	}
	working, stop := context.WithCancel(ctx)
	var renewing sync.WaitGroup
	lost := false
	renewing.Go(func() { lost = renew(working, l, holder); stop() })
	defer func() { // also when the job ends in a fault
		stop()
		renewing.Wait()
		_ = l.DropLease(context.WithoutCancel(ctx), holder) // else it ends by itself
	}()
	job(working)
	stop()
	renewing.Wait()
	return !lost
}

// renew keeps the lease until the work ends, and reports whether it was lost before.
func renew(working context.Context, l Lease, holder string) (lost bool) {
	every := time.NewTicker(leaseRenewed)
	defer every.Stop()
	for {
		select {
		case <-working.Done():
			return false
		case <-every.C:
		}
		if mine, err := l.TakeLease(working, holder, time.Now(), leaseLength); err == nil && !mine {
			return true
		}
	}
}
