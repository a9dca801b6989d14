package effects

import (
	"context"
	"errors"
	"testing"

	"torchside/pwa/state"
)

// A file of the app comes back under its address, and a failure with its reason; an app that has no files says so.
func TestReadStatic_answersWithFileOrReason(t *testing.T) {
	b := newBench(t)
	broken := errors.New("no network")
	for _, c := range []struct {
		read func(context.Context, string) ([]byte, error)
		data string
		err  error
	}{
		{func(_ context.Context, address string) ([]byte, error) { return []byte("of " + address), nil }, "of /web/a.json", nil},
		{func(context.Context, string) ([]byte, error) { return nil, broken }, "", broken},
		{nil, "", nil},
	} {
		b.runner.ports.Static = c.read
		got := b.run(state.ReadStatic{Address: "/web/a.json"})
		if len(got) != 1 {
			t.Fatalf("%d messages, want 1: %v", len(got), got)
		}
		m, ok := got[0].(state.StaticRead)
		switch {
		case !ok || m.Address != "/web/a.json" || string(m.Data) != c.data:
			t.Errorf("got %+v", got[0])
		case c.read == nil && m.Err == nil, c.read != nil && !errors.Is(m.Err, c.err):
			t.Errorf("error is %v", m.Err)
		}
	}
}
