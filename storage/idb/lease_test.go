//go:build js

package idb

import (
	"context"
	"sync"
	"testing"
	"time"

	"torchside/storage/replicate"
)

var _ replicate.Lease = (*Store)(nil)

// takes takes the lease for 20 s.
func takes(t *testing.T, s *Store, holder string, now time.Time) bool {
	t.Helper()
	mine, err := s.TakeLease(context.Background(), holder, now, 20*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	return mine
}

func TestTakeLease_gives_it_to_one_window_until_it_ends(t *testing.T) {
	name, now := freshName(), time.UnixMilli(1_700_000_000_000)
	one, two := opened(t, name), opened(t, name)
	for _, c := range []struct {
		what   string
		s      *Store
		holder string
		after  time.Duration
		want   bool
	}{
		{"a free one", one, "one", 0, true},
		{"another's", two, "two", 19 * time.Second, false},
		{"the own one, renewed", one, "one", 19 * time.Second, true},
		{"another's, renewed", two, "two", 38 * time.Second, false},
		{"one that ended", two, "two", 39 * time.Second, true},
		{"another's", one, "one", 40 * time.Second, false},
		{"one from before the clock was put back", one, "one", -time.Hour, true},
	} {
		if got := takes(t, c.s, c.holder, now.Add(c.after)); got != c.want {
			t.Errorf("%s, after %v: %v", c.what, c.after, got)
		}
	}
	if err := two.DropLease(context.Background(), "two"); err != nil {
		t.Fatal(err)
	}
	if takes(t, two, "two", now.Add(-time.Hour)) {
		t.Error("a window dropped another's lease")
	}
	if err := one.DropLease(context.Background(), "one"); err != nil {
		t.Fatal(err)
	}
	if !takes(t, two, "two", now.Add(-time.Hour)) {
		t.Error("a lease that was dropped is not free")
	}
}

func TestTakeLease_passes_over_a_row_that_cannot_be_read(t *testing.T) {
	s, _ := writer(t)
	for _, bad := range []any{"{", 7, true} {
		if err := s.run(context.Background(), true, []any{metaStore}, func(t *tx) { t.store(metaStore).Call("put", bad, leaseKey) }); err != nil {
			t.Fatal(err)
		}
		if !takes(t, s, "one", time.Now()) {
			t.Errorf("%v keeps the lease", bad)
		}
	}
}

// Two windows of a browser without locks begin at the same moment.
func TestUnderLease_lets_one_of_two_windows_work(t *testing.T) {
	name := freshName()
	one, two := opened(t, name), opened(t, name)
	var both sync.WaitGroup
	working, most, refused := 0, 0, 0
	for holder, s := range map[string]*Store{"one": one, "two": two} {
		both.Go(func() {
			if !replicate.UnderLease(context.Background(), s, holder, func(context.Context) {
				working++
				most = max(most, working)
				time.Sleep(300 * time.Millisecond)
				working--
			}) {
				refused++
			}
		})
	}
	both.Wait()
	if most != 1 || refused != 1 {
		t.Errorf("%d at work at a time, %d told to wait", most, refused)
	}
	if !takes(t, two, "two", time.Now()) {
		t.Error("the lease stays after the work")
	}
}
