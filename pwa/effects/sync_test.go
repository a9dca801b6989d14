package effects

import (
	"context"
	"errors"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
)

// fakeVault answers as it is told.
type fakeVault struct {
	err         error
	others      bool // another window is at it
	free, known bool
	photos      []bool
	tokens      []string
	panics      bool
}

func (f *fakeVault) Join(_ context.Context, code, name string) (Link, error) {
	if f.err != nil {
		return Link{}, f.err
	}
	return Link{Linked: state.Linked{ID: "d1", Shop: "Home", Name: name}, Token: "secret " + code}, nil
}

func (f *fakeVault) Sync(_ context.Context, l Link, _ storage.Replica, photos bool, progress func(state.SyncOutcome)) (state.SyncOutcome, error) {
	if f.panics {
		panic("engine")
	}
	f.photos, f.tokens = append(f.photos, photos), append(f.tokens, l.Token)
	progress(state.SyncOutcome{Sent: 1})
	return state.SyncOutcome{Sent: 2, Got: 1}, f.err
}

func (f *fakeVault) Invite(context.Context, Link) (state.Invite, error) {
	return state.Invite{Code: "12345678"}, f.err
}

func (f *fakeVault) Devices(context.Context, Link) ([]state.Device, string, error) {
	return []state.Device{{ID: "d1"}}, "Home", f.err
}

func (f *fakeVault) Rename(_ context.Context, _ Link, id, name string) ([]state.Device, string, error) {
	return []state.Device{{ID: id, Name: name}}, "Home", f.err
}

func (f *fakeVault) Revoke(_ context.Context, _ Link, id string) ([]state.Device, string, error) {
	return []state.Device{{ID: id, Revoked: 1}}, "Home", f.err
}

func (f *fakeVault) Alone(ctx context.Context, _ storage.Replica, job func(context.Context)) bool {
	if !f.others {
		job(ctx)
	}
	return !f.others
}

func (f *fakeVault) Free() (free, known bool) { return f.free, f.known }
func (f *fakeVault) DeviceName() string       { return "Phone" }

// shared is a bench with a store that can be brought in step, and a server.
func shared(t *testing.T) (*bench, *fakeVault) {
	t.Helper()
	b, v := newBench(t), &fakeVault{}
	b.runner.ports.Vault = v
	b.runner.ports.Open = func(context.Context) (storage.Store, error) { return memory.New(), nil }
	b.browser.link = Link{Linked: state.Linked{ID: "d1"}, Token: "secret"}
	b.runner.startSync()
	return b, v
}

// ended is the answer that ends a run.
func ended(t *testing.T, got []state.Msg) state.SyncDone {
	t.Helper()
	var found []state.SyncDone
	for _, m := range got {
		if d, ok := m.(state.SyncDone); ok {
			found = append(found, d)
		}
	}
	if len(found) != 1 {
		t.Fatalf("a run ended %d times: %#v", len(found), got)
	}
	return found[0]
}

func TestRunner_exchanges_photos_as_the_owner_chose(t *testing.T) {
	for _, c := range []struct {
		run         state.RunSync
		free, known bool
		want        bool
	}{
		{state.RunSync{Photos: true}, false, true, true},
		{state.RunSync{}, true, true, true},
		{state.RunSync{}, false, true, false},
		{state.RunSync{}, true, false, false},
		{state.RunSync{AnyCost: true}, false, true, true},
	} {
		b, v := shared(t)
		v.free, v.known = c.free, c.known
		done := ended(t, b.run(c.run))
		if done.Err != nil || len(v.photos) != 1 || v.photos[0] != c.want || v.tokens[0] != "secret" || done.Outcome.CostUnknown == c.known {
			t.Errorf("%+v: %+v, photos %v", c, done, v.photos)
		}
		if b.browser.announced != 1 {
			t.Errorf("other windows were told %d times", b.browser.announced)
		}
	}
}

func TestRunner_answers_a_run_that_ends_in_a_fault_or_is_done_elsewhere(t *testing.T) {
	b, v := shared(t)
	v.panics = true
	if done := ended(t, b.run(state.RunSync{})); !errors.Is(done.Err, errFault) {
		t.Errorf("a fault is answered with %+v", done)
	}
	b, v = shared(t)
	v.others = true
	if done := ended(t, b.run(state.RunSync{})); !done.Outcome.Elsewhere || done.Err != nil || len(v.photos) != 0 {
		t.Errorf("another window's run is answered with %+v", done)
	}
}

func TestRunner_keeps_the_place_a_code_gives_and_no_other(t *testing.T) {
	b, v := shared(t)
	b.browser.link = Link{}
	got := b.run(state.JoinShop{Code: "12345678", Name: "Phone"})
	if j, ok := got[0].(state.Joined); !ok || j.Err != nil || j.Linked.ID != "d1" || b.browser.link.Token != "secret 12345678" {
		t.Errorf("joined %#v, kept %+v", got, b.browser.link)
	}
	before := b.browser.link
	v.err = &state.VaultError{Code: "wrong_code"}
	got = b.run(state.JoinShop{Code: "1", Name: "Phone"})
	if j, ok := got[0].(state.Joined); !ok || !errors.Is(j.Err, v.err) || b.browser.link != before {
		t.Errorf("refused %#v, kept %+v", got, b.browser.link)
	}
}

func TestRunner_forgets_the_place_on_leaving_also_when_the_server_is_away(t *testing.T) {
	b, v := shared(t)
	v.err = errors.New("no route")
	got := b.run(state.LeaveShop{ID: "d1"})
	if l, ok := got[0].(state.Left); !ok || !errors.Is(l.Err, v.err) || b.browser.link != (Link{}) || b.runner.link.get() != (Link{}) {
		t.Errorf("%#v, kept %+v", got, b.browser.link)
	}
	b.run(state.KeepLinked{Linked: state.Linked{ID: "d1", Synced: 5}}) // of a run that was under way
	if b.browser.link != (Link{}) {
		t.Errorf("the place came back: %+v", b.browser.link)
	}
}
