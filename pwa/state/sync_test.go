package state

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"torchside/storage"
)

// pairedApp is an app in a shop, between two runs.
func pairedApp(t *testing.T) App {
	t.Helper()
	a, effects := Reduce(New(), LinkRead{Linked: Linked{Shop: "Home", ID: "d1", Name: "Phone"}})
	if !has[RunSync](effects) {
		t.Fatalf("no run at the start: %v", effects)
	}
	a, _ = Reduce(a, ClockRead{Wall: 1000})
	a, _ = Reduce(a, SyncDone{})
	return a
}

func has[E Effect](list []Effect) bool {
	for _, e := range list {
		if _, ok := e.(E); ok {
			return true
		}
	}
	return false
}

func TestSync_says_how_both_sides_stand(t *testing.T) {
	in := Linked{ID: "d1", Synced: 1}
	for _, c := range []struct {
		name string
		sync Sync
		want string
	}{
		{"in no shop", Sync{Waiting: 3}, SyncNone},
		{"all is there", Sync{Linked: in}, SyncServer},
		{"looking whether there is news is no news", Sync{Linked: in, Running: true}, SyncServer},
		{"changes wait", Sync{Linked: in, Waiting: 2}, SyncWaiting},
		{"changes are on their way", Sync{Linked: in, Waiting: 2, Running: true}, SyncBusy},
		{"never in step", Sync{Linked: Linked{ID: "d1"}}, SyncWaiting},
		{"photos wait for Wi-Fi", Sync{Linked: in, Progress: SyncOutcome{Left: 1}}, SyncWaiting},
		{"put out", Sync{Linked: in, Out: true, Waiting: 2}, SyncNeeds},
		{"changes refused", Sync{Linked: in, Refused: 1}, SyncNeeds},
	} {
		if got := c.sync.State(); got != c.want {
			t.Errorf("%s: %q, wanted %q", c.name, got, c.want)
		}
	}
}

func TestSync_that_fails_is_tried_again_and_says_why(t *testing.T) {
	for _, c := range []struct {
		err  error
		says string
	}{
		{errors.New("refused"), "was not reached"},
		{&VaultError{Code: codeFull}, "disk of the server is full"},
		{&VaultError{Code: codeUnavailable}, "starting or stopping"},
		{fmt.Errorf("pull: %w", storage.ErrFull), "This device is full"},
		{&VaultError{Code: "odd", Text: "Something new.", Do: "Update."}, "Something new. Update."},
	} {
		a := pairedApp(t)
		for failures := 1; failures <= 3; failures++ {
			a, _ = Reduce(a, SyncAsked{})
			var effects []Effect
			a, effects = Reduce(a, SyncDone{Err: c.err, Outcome: SyncOutcome{Waiting: 1}})
			if len(effects) != 1 || effects[0] != (SyncLater{Failures: failures}) {
				t.Errorf("%v: after %d failures %v", c.err, failures, effects)
			}
		}
		if !strings.Contains(a.Sync.Reason, c.says) || a.Sync.State() != SyncWaiting {
			t.Errorf("%v: said %q, state %q", c.err, a.Sync.Reason, a.Sync.State())
		}
	}
}

// Why changes were refused stays on the page for as long as they are, also when a later run ends before it could look.
func TestSync_that_ends_early_leaves_what_is_known_of_refused_and_waiting_changes(t *testing.T) {
	a := pairedApp(t)
	a, _ = Reduce(a, SyncAsked{})
	a, _ = Reduce(a, SyncDone{Outcome: SyncOutcome{Counted: true, Waiting: 3, Refused: 2, Reasons: []string{"too much"}}})
	for _, err := range []error{errors.New("no storage"), &VaultError{Code: codeRevoked}} {
		a, _ = Reduce(a, SyncAsked{})
		a, _ = Reduce(a, SyncDone{Err: err})
		if a.Sync.Refused != 2 || len(a.Sync.Reasons) != 1 || a.Sync.Waiting != 3 || a.Sync.State() != SyncNeeds {
			t.Errorf("after %v: %d refused for %v, %d wait, %q", err, a.Sync.Refused, a.Sync.Reasons, a.Sync.Waiting, a.Sync.State())
		}
	}
	a, _ = Reduce(a, SyncAsked{})
	if a, _ = Reduce(a, SyncDone{Outcome: SyncOutcome{Counted: true}, Err: errors.New("no route")}); a.Sync.Refused != 0 || a.Sync.Waiting != 0 {
		t.Errorf("none are refused any more: %+v", a.Sync)
	}
}

func TestSync_of_a_device_put_out_stops_and_deletes_nothing(t *testing.T) {
	for _, code := range []string{codeRevoked, codeUnauthorized} {
		a := pairedApp(t)
		before := len(a.records)
		a, _ = Reduce(a, SyncAsked{})
		a, effects := Reduce(a, SyncDone{Err: &VaultError{Code: code}})
		if len(effects) != 0 || !a.Sync.Out || !a.Sync.Linked.Paired() || len(a.records) != before {
			t.Errorf("%s: effects %v, %+v", code, effects, a.Sync)
		}
		if _, effects = Reduce(a, SyncDue{}); len(effects) != 0 {
			t.Errorf("%s: it goes on by itself: %v", code, effects)
		}
		if _, effects = Reduce(a, SyncAsked{}); !has[RunSync](effects) {
			t.Errorf("%s: the owner's wish does nothing", code)
		}
	}
}

func TestSync_keeps_count_of_changes_saved_while_it_runs(t *testing.T) {
	a := pairedApp(t)
	a, _ = Reduce(a, SyncAsked{})
	a, _ = Reduce(a, ThemeChosen{Theme: ThemeLight})
	a, _ = Reduce(a, WriteDone{Token: a.tokens})
	a, effects := Reduce(a, SyncDone{})
	if a.Sync.Waiting != 1 || !has[SyncLater](effects) || a.Sync.State() != SyncWaiting {
		t.Errorf("%d wait, %q, %v", a.Sync.Waiting, a.Sync.State(), effects)
	}
}

func TestSync_brings_what_came_into_view(t *testing.T) {
	a := pairedApp(t)
	for _, o := range []SyncOutcome{{Got: 1}, {Merged: 1}} {
		if _, effects := Reduce(a, SyncDone{Outcome: o, Err: errors.New("cut off later")}); !has[Reload](effects) {
			t.Errorf("%+v is not read: %v", o, effects)
		}
	}
}

func TestJoin_checks_code_and_name_before_the_server_counts_a_wrong_one(t *testing.T) {
	for _, c := range []struct{ code, name, says string }{
		{"1234 567", "Phone", "eight digits"},
		{"1234x5678", "Phone", "eight digits"},
		{"", "Phone", "eight digits"},
		{"12345678", " ", "Name of this device"},
		{"12345678", strings.Repeat("é", 61), "too long"},
		{"1234 5678", "Phone", ""},
		{"1234-5678", strings.Repeat("é", 60), ""},
	} {
		a, _ := Reduce(New(), JoinTyped{Field: "code", Text: c.code})
		a, _ = Reduce(a, JoinTyped{Field: "name", Text: c.name})
		a, effects := Reduce(a, JoinRequested{})
		if asked := has[JoinShop](effects); asked != (c.says == "") || !strings.Contains(a.Sync.Join.Error, c.says) {
			t.Errorf("%q, %q: asked %v, said %q", c.code, c.name, asked, a.Sync.Join.Error)
		}
	}
}

func TestJoin_that_is_refused_keeps_what_was_typed_and_says_why(t *testing.T) {
	for code, says := range map[string]string{codeWrongCode: "was used already", codeLocked: "ten minutes", "": "was not reached"} {
		a, _ := Reduce(New(), JoinLinked{Code: "12345678"})
		a, _ = Reduce(a, DeviceNamed{Name: "Phone"})
		a, _ = Reduce(a, JoinRequested{})
		err := error(&VaultError{Code: code})
		if code == "" {
			err = errors.New("no route")
		}
		a, _ = Reduce(a, Joined{Err: err})
		if j := a.Sync.Join; j.Busy || j.Code != "12345678" || !strings.Contains(j.Error, says) || a.Sync.Linked.Paired() {
			t.Errorf("%q: %+v", code, j)
		}
	}
}

func TestLeaving_asks_first_and_keeps_everything(t *testing.T) {
	a := pairedApp(t)
	a, effects := Reduce(a, LeaveRequested{})
	if len(effects) != 0 {
		t.Fatalf("it did not ask: %v", effects)
	}
	a, effects = Reduce(a, LeaveRequested{})
	if len(effects) != 1 || effects[0] != (LeaveShop{ID: "d1"}) {
		t.Fatalf("it does not leave: %v", effects)
	}
	a, _ = Reduce(a, Left{Err: errors.New("no route")})
	if a.Sync.Linked.Paired() || !strings.Contains(a.Sync.Report, "stays") || !strings.Contains(a.Sync.Report, "could not be told") {
		t.Errorf("%+v", a.Sync)
	}
}
