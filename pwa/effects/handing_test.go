package effects

import (
	"errors"
	"testing"

	"torchside/pwa/state"
)

// sharer is a browser whose share sheet fails.
type sharer struct{ fakeBrowser }

func (s *sharer) ShareText(title, _ string, failed func(string)) { failed("no app for " + title) }

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
	b.runner.ports.Browser = &sharer{}
	if got := b.run(state.ShareText{Title: "x"}); got[0] != (state.SheetShareFailed{Why: "no app for x"}) {
		t.Errorf("%#v", got)
	}
}
