package effects

import (
	"context"
	"errors"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
)

// camera is a browser that prepares what it is told to and shares nothing.
type camera struct {
	fakeBrowser
	list  []Prepared
	err   error
	asked int
}

func (c *camera) Prepare(_ context.Context, source int) ([]Prepared, error) {
	c.asked = source
	return c.list, c.err
}

func (c *camera) ShareText(title, _ string, failed func(string)) { failed("no app for " + title) }

func TestRunner_stores_each_photo_by_itself_and_says_which_was_refused(t *testing.T) {
	b := newBench(t)
	c := &camera{list: []Prepared{{Name: "a.jpg", Full: []byte("full"), Thumb: []byte("thumb"), W: 4, H: 3, Type: "image/jpeg"}, {Name: "letter.jpg", Why: "no picture"},
		{Name: "empty.jpg"}, {Name: "b.heic", Full: []byte("heic"), Type: "image/heic"}}}
	b.runner.ports.Browser = c
	got := b.run(state.PutPhotos{Key: "k", Role: "after", Source: 7})
	want := []state.Msg{
		state.PhotoStored{Key: "k", Role: "after", Name: "a.jpg", Type: "image/jpeg", Hash: storage.HashOf([]byte("full")), ThumbHash: storage.HashOf([]byte("thumb")), W: 4, H: 3, Bytes: 4},
		state.PhotoRefused{Key: "k", Name: "letter.jpg", Why: "no picture"},
		nil,
		state.PhotoStored{Key: "k", Role: "after", Name: "b.heic", Type: "image/heic", Hash: storage.HashOf([]byte("heic")), Bytes: 4},
		state.PhotosPut{Key: "k"},
	}
	if len(got) != len(want) || c.asked != 7 {
		t.Fatalf("%#v", got)
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
	b := newBench(t)
	for name, browser := range map[string]Browser{"cannot": b.browser, "fails": &camera{err: errors.New("torn")}} {
		b.runner.ports.Browser = browser
		got := b.run(state.PutPhotos{Key: "k"})
		if _, ok := got[0].(state.PhotoRefused); !ok || len(got) != 2 || got[1] != (state.PhotosPut{Key: "k"}) {
			t.Errorf("%s: %#v", name, got)
		}
	}
}

func TestRunner_hands_over_files_and_texts_or_says_why_not(t *testing.T) {
	b := newBench(t)
	if got := b.run(state.HandFile{Name: "t.csv", Data: []byte("x")}); got[0] != (state.FileHanded{Name: "t.csv"}) || string(b.browser.got.Data) != "x" {
		t.Errorf("%#v", got)
	}
	b.browser.refuse = errors.New("no")
	if got, ok := b.run(state.HandFile{Name: "t.csv"})[0].(state.FileRefused); !ok || got.Err == nil {
		t.Errorf("%#v", got)
	}
	if got, ok := b.run(state.ShareText{Title: "x"})[0].(state.SheetShareFailed); !ok || got.Why == "" {
		t.Errorf("%#v", got)
	}
	b.runner.ports.Browser = &camera{}
	if got := b.run(state.ShareText{Title: "x"}); got[0] != (state.SheetShareFailed{Why: "no app for x"}) {
		t.Errorf("%#v", got)
	}
}
