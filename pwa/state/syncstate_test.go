package state

import (
	"slices"
	"strings"
	"testing"
)

// "On the server" is only said when the last run went well and took everything along, photos too.
func TestSync_is_on_the_server_only_when_the_last_run_took_everything(t *testing.T) {
	good := Sync{Linked: Linked{Shop: "yard", ID: "d", Synced: 1}}
	if !good.Linked.Paired() {
		t.Fatal("the device of this test is in no shop")
	}
	if got := good.State(); got != SyncServer {
		t.Fatalf("after a good run: %s", got)
	}
	failed, photos := good, good
	failed.Reason = "no answer"
	photos.Progress.AllPhotos = 1
	later := good
	later.Progress.Later = 1
	for name, s := range map[string]Sync{"failed run": failed, "photo left here": photos, "photo for the next run": later} {
		if got := s.State(); got != SyncWaiting {
			t.Errorf("%s: %s, want %s", name, got, SyncWaiting)
		}
	}
}

// A run that leaves anything behind is no backup: the reminder to make one goes by when both sides were last in step.
func TestSync_is_in_step_only_when_nothing_is_left(t *testing.T) {
	for name, o := range map[string]SyncOutcome{"refused": {Refused: 1}, "photos for Wi-Fi": {Left: 1}, "photos for later": {Later: 1}, "damaged": {Damaged: 1}, "waiting": {Waiting: 1}} {
		a := pairedApp(t)
		a.Sync.Linked.Synced, a.Clock.Wall = 5, 1000
		a, _ = Reduce(a, SyncAsked{})
		if a, _ = Reduce(a, SyncDone{Outcome: o}); a.Sync.Linked.Synced != 5 {
			t.Errorf("%s: in step since %d", name, a.Sync.Linked.Synced)
		}
		a, _ = Reduce(a, SyncAsked{})
		if a, _ = Reduce(a, SyncDone{}); a.Sync.Linked.Synced != 1000 {
			t.Errorf("%s, then nothing left: in step since %d", name, a.Sync.Linked.Synced)
		}
	}
}

func TestSync_shows_why_changes_were_refused_for_as_long_as_they_are(t *testing.T) {
	a := pairedApp(t)
	for range 2 {
		a, _ = Reduce(a, SyncAsked{})
		a, _ = Reduce(a, SyncDone{Outcome: SyncOutcome{Refused: 2, Reasons: []string{"too large"}}})
		if a.Sync.Refused != 2 || !slices.Equal(a.Sync.Reasons, []string{"too large"}) || a.Sync.State() != SyncNeeds {
			t.Fatalf("%+v", a.Sync)
		}
	}
}

// A clock that is far off is told of, with how far and which way, until it is right.
func TestSync_tells_of_a_clock_that_is_far_off(t *testing.T) {
	const minute, hour, day = 60_000, 3_600_000, 24 * 3_600_000
	for ahead, want := range map[int64]string{
		4 * minute: "", -4 * minute: "", 6 * minute: "about 6 minutes ahead of", -7 * minute: "about 7 minutes behind", 2 * hour: "about 2 hours ahead of",
		-3 * day: "about 3 days behind", 10 * 365 * day: "about 10 years ahead of",
	} {
		a := pairedApp(t)
		a, _ = Reduce(a, SyncAsked{})
		a, _ = Reduce(a, SyncDone{Outcome: SyncOutcome{AheadMs: ahead}})
		i := slices.IndexFunc(a.Notices, func(n Notice) bool { return n.Code == NoticeServerClock })
		if (i >= 0) != (want != "") || i >= 0 && !strings.Contains(a.Notices[i].Text, want) {
			t.Errorf("%d ms: %+v, want %q", ahead, a.Notices, want)
		}
		a, _ = Reduce(a, SyncAsked{})
		if a, _ = Reduce(a, SyncDone{}); slices.ContainsFunc(a.Notices, func(n Notice) bool { return n.Code == NoticeServerClock }) {
			t.Errorf("%d ms: told of a clock that is right again", ahead)
		}
	}
}
