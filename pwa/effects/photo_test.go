package effects

import (
	"context"
	"errors"
	"slices"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
)

// camera is a browser that prepares what it is told to, one by one, and shows photos.
type camera struct {
	fakeBrowser
	list  []Prepared
	err   error
	asked []int
	plain bool
	read  func(string, func([]byte))
	ended chan struct{}
}

func (c *camera) Next(_ context.Context, source int, plain bool) (Prepared, bool, error) {
	c.asked, c.plain = append(c.asked, source), plain
	if len(c.list) == 0 {
		return Prepared{}, false, c.err
	}
	p := c.list[0]
	c.list = c.list[1:]
	return p, true, nil
}

func (c *camera) ShowBlobs(read func(string, func([]byte))) func() {
	c.read = read
	return func() { close(c.ended) }
}

// shoot runs an effect with the queue at work and returns what was posted until the choice was dealt with.
func (b *bench) shoot(e state.PutPhotos) []state.Msg {
	b.t.Helper()
	ctx, end := context.WithCancel(b.t.Context())
	defer end()
	done := make(chan []state.Msg)
	var got []state.Msg
	b.runner.post = func(m state.Msg) {
		got = append(got, m)
		if _, last := m.(state.PhotosPut); last {
			done <- got
		}
	}
	go b.runner.work(ctx)
	b.runner.Run([]state.Effect{e})
	return <-done
}

func TestRunner_stores_each_photo_by_itself_and_says_which_was_refused(t *testing.T) {
	b := newBench(t)
	c := &camera{list: []Prepared{{Name: "a.jpg", Full: []byte("full"), Thumb: []byte("thumb"), W: 4, H: 3, Type: "image/jpeg"},
		{Name: "letter.jpg", Why: "no picture", Offer: 9}, {Name: "empty.jpg"}, {Name: "b.heic", Full: []byte("heic"), Type: "image/heic"}}}
	b.runner.ports.Browser = c
	got := b.shoot(state.PutPhotos{Key: "k", Role: "after", Source: 7, Plain: true})
	want := []state.Msg{
		state.PhotoStored{Key: "k", Role: "after", Name: "a.jpg", Type: "image/jpeg", Hash: storage.HashOf([]byte("full")), ThumbHash: storage.HashOf([]byte("thumb")), W: 4, H: 3, Bytes: 4},
		state.PhotoRefused{Key: "k", Role: "after", Name: "letter.jpg", Why: "no picture", Offer: 9},
		nil,
		state.PhotoStored{Key: "k", Role: "after", Name: "b.heic", Type: "image/heic", Hash: storage.HashOf([]byte("heic")), Bytes: 4},
		state.PhotosPut{Key: "k"},
	}
	if len(got) != len(want) || slices.ContainsFunc(c.asked, func(n int) bool { return n != 7 }) || !c.plain {
		t.Fatalf("%#v, asked %v", got, c.asked)
	}
	for i := range want {
		if want[i] != nil && got[i] != want[i] {
			t.Errorf("answer %d: %+v", i, got[i])
		}
	}
	if s, ok := got[2].(state.PhotoStored); !ok || !errors.Is(s.Err, storage.ErrInvalid) {
		t.Errorf("a file without content: %#v", got[2])
	}
	held, err := b.store.Blob(t.Context(), storage.HashOf([]byte("thumb")))
	if err != nil || string(held) != "thumb" {
		t.Errorf("%q %v", held, err)
	}
}

// The sheet waits for PhotosPut: it must come even when nothing else does.
func TestRunner_ends_a_choice_of_photos_whatever_happens(t *testing.T) {
	for name, browser := range map[string]Browser{"cannot": &fakeBrowser{}, "fails": &camera{err: errors.New("torn")}} {
		b := newBench(t)
		b.runner.ports.Browser = browser
		got := b.shoot(state.PutPhotos{Key: "k"})
		if _, ok := got[0].(state.PhotoRefused); !ok || len(got) != 2 || got[1] != (state.PhotosPut{Key: "k"}) {
			t.Errorf("%s: %#v", name, got)
		}
	}
}

// The picture must reach the page whatever the store says, or it would wait for ever.
func TestRunner_shows_photos_by_their_name_and_nothing_for_what_is_not_here(t *testing.T) {
	b := newBench(t)
	c := &camera{ended: make(chan struct{})}
	b.runner.ports.Browser = c
	ctx, end := context.WithCancel(t.Context())
	b.runner.showBlobs(ctx)
	h, err := b.store.PutBlob(t.Context(), []byte("picture"))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{h: "picture", storage.HashOf([]byte("other")): "", "no name": ""} {
		got := "not called"
		c.read(name, func(data []byte) { got = string(data) })
		b.runner.drain(ctx)
		if got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	end()
	<-c.ended
}
