package replicate_test

import (
	"context"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"torchside/storage"
	"torchside/storage/replicate"
)

// note is a lease in memory; full cannot be written.
type note struct {
	mu     sync.Mutex
	holder string
	until  time.Time
	full   bool
}

func (n *note) TakeLease(ctx context.Context, holder string, now time.Time, length time.Duration) (bool, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	switch {
	case ctx.Err() != nil:
		return false, ctx.Err()
	case n.full:
		return false, storage.ErrFull
	case n.holder != "" && n.holder != holder && now.Before(n.until):
		return false, nil
	}
	n.holder, n.until = holder, now.Add(length)
	return true, nil
}

func (n *note) DropLease(ctx context.Context, holder string) error {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.holder == holder {
		n.holder = ""
	}
	return ctx.Err()
}

func TestUnderLease_lets_one_window_work_however_long_it_takes(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		n, done := &note{}, make(chan bool)
		go func() {
			done <- replicate.UnderLease(t.Context(), n, "one", func(context.Context) { time.Sleep(5 * time.Minute) })
		}()
		for range 290 {
			time.Sleep(time.Second)
			if replicate.UnderLease(t.Context(), n, "two", func(context.Context) { t.Error("both are at work") }) {
				t.Fatal("the second window says it worked")
			}
		}
		if !<-done {
			t.Error("the first window says it did not work")
		}
		if !replicate.UnderLease(t.Context(), n, "two", func(context.Context) {}) {
			t.Error("the lease stays after the work")
		}
	})
}

// A window that was closed in the middle of its work cannot drop the lease.
func TestUnderLease_of_a_window_that_is_gone_ends_by_itself(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		n := &note{holder: "gone", until: time.Now().Add(20 * time.Second)}
		waited := 0
		for !replicate.UnderLease(t.Context(), n, "two", func(context.Context) {}) {
			time.Sleep(time.Second)
			waited++
		}
		if waited < 15 || waited > 25 {
			t.Errorf("waited %d s, want about 20", waited)
		}
	})
}

func TestUnderLease_ends_the_work_of_a_window_that_slept_too_long(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		n := &note{}
		ended := false
		worked := replicate.UnderLease(t.Context(), n, "one", func(ctx context.Context) {
			n.mu.Lock()
			n.holder, n.until = "two", time.Now().Add(time.Hour) // taken meanwhile
			n.mu.Unlock()
			<-ctx.Done()
			ended = true
		})
		if worked || !ended || n.holder != "two" {
			t.Errorf("worked %v, ended %v, %q has the lease", worked, ended, n.holder)
		}
	})
}

func TestUnderLease_works_where_no_lease_can_be_written_and_drops_it_after_a_fault(t *testing.T) {
	did := false
	if !replicate.UnderLease(t.Context(), &note{full: true}, "one", func(context.Context) { did = true }) || !did {
		t.Error("a full device does not work at all")
	}
	n := &note{}
	func() {
		defer func() { _ = recover() }()
		replicate.UnderLease(t.Context(), n, "one", func(context.Context) { panic("fault") })
	}()
	if n.holder != "" {
		t.Error("the lease stays after a fault")
	}
}
