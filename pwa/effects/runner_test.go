package effects

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// bench is a runner with everything it needs; its messages are kept in order.
type bench struct {
	t       *testing.T
	store   *storagetest.Faulty
	browser *fakeBrowser
	files   *fakeFiles
	runner  *Runner
	opened  int
	openErr error

	mu  sync.Mutex
	got []state.Msg
}

func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{t: t, store: storagetest.NewFaulty(memory.New()), browser: &fakeBrowser{drafts: map[string]state.Draft{}}, files: &fakeFiles{}}
	b.runner = NewRunner(Ports{
		Open: func(context.Context) (storage.Store, error) {
			b.opened++
			return b.store, b.openErr
		},
		Author:  func(s storage.Store) *storage.Author { return storage.NewAuthor(s, time.Now, rand.Reader) },
		Files:   b.files,
		Browser: b.browser,
		Limit:   1000,
	}, b.post)
	return b
}

func (b *bench) post(m state.Msg) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.got = append(b.got, m)
}

// run runs effects and does the queued jobs to the end.
func (b *bench) run(list ...state.Effect) []state.Msg {
	b.t.Helper()
	b.got = nil
	b.runner.Run(list)
	b.runner.drain(b.t.Context())
	b.runner.long.Wait()
	b.runner.drain(b.t.Context()) // what the long jobs left to the queue
	return b.got
}

func write(token int, kind string) state.Write {
	return state.Write{Token: token, Drafts: []storage.Draft{{Kind: kind, Schema: 1, Body: []byte(`{}`)}}}
}

type fakeBrowser struct {
	drafts    map[string]state.Draft
	draftErr  error
	done      []string
	got       File
	refuse    error
	announced int
	held      state.Held
	link      Link
	linkErr   error
}

func (f *fakeBrowser) Held() state.Held      { return f.held }
func (f *fakeBrowser) KeepHeld(h state.Held) { f.held = h }
func (f *fakeBrowser) Link() Link            { return f.link }
func (f *fakeBrowser) KeepLink(l Link) error {
	if f.linkErr == nil {
		f.link = l
	}
	return f.linkErr
}

func (f *fakeBrowser) Drafts() map[string]state.Draft { return f.drafts }
func (f *fakeBrowser) KeepDraft(key string, d state.Draft) error {
	if d.IsZero() {
		delete(f.drafts, key)
	} else {
		f.drafts[key] = d
	}
	return f.draftErr
}
func (f *fakeBrowser) ShowTheme(theme string)  { f.done = append(f.done, "theme "+theme) }
func (f *fakeBrowser) SetLanguage(code string) { f.done = append(f.done, "language "+code) }
func (f *fakeBrowser) ShowTop(act string)      { f.done = append(f.done, "top "+act) }
func (f *fakeBrowser) Download(file File) error {
	f.got = file
	return f.refuse
}
func (f *fakeBrowser) Restart()  { f.done = append(f.done, "restart") }
func (f *fakeBrowser) Announce() { f.announced++ }

// fakeFiles writes how many records and refused changes it was given.
type fakeFiles struct {
	exportErr, importErr error
	panics               bool
	skipped              int
}

func (f *fakeFiles) Export(ctx context.Context, s storage.Store, refused []storage.Draft) (File, error) {
	if f.panics {
		panic("zip")
	}
	records, err := s.List(ctx, storage.Query{})
	return File{Name: "stored", Records: len(records) + len(refused), Skipped: f.skipped}, errors.Join(err, f.exportErr)
}

func (f *fakeFiles) Rescue(_ context.Context, _ storage.Store, records []storage.Record, refused []storage.Draft) (File, error) {
	return File{Name: "rescued", Records: len(records) + len(refused)}, nil
}

func (f *fakeFiles) Check(_ context.Context, _ storage.Store, file state.Source, _ func(state.ImportStep, int64, int64)) (state.ImportPlan, error) {
	return state.ImportPlan{Known: int(file.Size())}, f.importErr
}

func (f *fakeFiles) Import(_ context.Context, _ storage.Store, file state.Source, _ func(state.ImportStep, int64, int64)) (state.ImportDone, error) {
	return state.ImportDone{Added: int(file.Size())}, f.importErr
}

func TestRunner_answers_a_write_only_after_the_store_has_it(t *testing.T) {
	b := newBench(t)
	got := b.run(write(7, "torch"))
	done, ok := got[0].(state.WriteDone)
	if !ok || len(got) != 1 || done.Token != 7 || len(done.Records) != 1 {
		t.Fatalf("answers %#v", got)
	}
	if r, err := b.store.Get(t.Context(), done.Records[0].ID); err != nil || r.Kind != "torch" {
		t.Errorf("the store holds %+v, %v", r, err)
	}
	if b.browser.announced != 1 {
		t.Errorf("other windows were told %d times", b.browser.announced)
	}
}

func TestRunner_tells_why_a_write_was_refused_and_goes_on(t *testing.T) {
	for _, err := range []error{storage.ErrFull, storage.ErrUnavailable, errors.New("odd")} {
		b := newBench(t)
		b.store.FailAfter(0, err)
		got := b.run(write(1, "torch"))
		failed, ok := got[0].(state.WriteFailed)
		if !ok || failed.Token != 1 || !errors.Is(failed.Err, err) {
			t.Errorf("%v: answers %#v", err, got)
		}
		b.store.Heal()
		if got := b.run(write(2, "torch")); fmt.Sprintf("%T", got[0]) != "state.WriteDone" {
			t.Errorf("%v: after healing %#v", err, got)
		}
	}
}

func TestRunner_opens_the_store_anew_when_it_was_closed(t *testing.T) {
	b := newBench(t)
	b.run(state.Reload{})
	b.store.FailAfter(0, storage.ErrClosed)
	b.run(write(1, "torch"))
	b.store.Heal()
	got := b.run(write(2, "torch"))
	if _, ok := got[0].(state.WriteDone); !ok || b.opened < 2 {
		t.Errorf("opened %d times, answers %#v", b.opened, got)
	}
}

func TestRunner_says_when_the_store_cannot_be_opened_and_tries_again_later(t *testing.T) {
	b := newBench(t)
	b.openErr = storage.ErrUnavailable
	if got := b.run(state.Reload{}); !errors.Is(got[0].(state.StoreFailed).Err, storage.ErrUnavailable) {
		t.Errorf("answers %#v", got)
	}
	b.openErr = nil
	if got := b.run(state.Reload{}); len(got[0].(state.Loaded).Records) != 0 {
		t.Errorf("answers %#v", got)
	}
}

// Effects reach the store in the order they were asked for, whatever happens in between.
func TestRunner_keeps_the_order(t *testing.T) {
	b := newBench(t)
	var list []state.Effect
	for i := range 50 {
		list = append(list, write(i, "torch"))
	}
	for i, m := range b.run(list...) {
		if m.(state.WriteDone).Token != i {
			t.Fatalf("answer %d is %#v", i, m)
		}
	}
}

func TestRunner_exports_the_store_or_what_is_known_without_it(t *testing.T) {
	known := []storage.Record{{ID: "r"}}
	refused := []storage.Draft{{Kind: "tip"}}
	for _, tt := range []struct {
		name    string
		prepare func(*bench)
		effect  state.Export
		want    string
		records int
	}{
		{"all well", func(*bench) {}, state.Export{Records: known}, "stored", 1},
		{"changes refused", func(*bench) {}, state.Export{Records: known, Unsaved: refused}, "stored", 2},
		{"changes refused and no reading", func(b *bench) { b.files.exportErr = storage.ErrLost }, state.Export{Records: known, Unsaved: refused}, "rescued", 2},
		{"no store", func(b *bench) { b.openErr, b.runner.store = storage.ErrUnavailable, nil }, state.Export{Records: known}, "rescued", 1},
		{"store that cannot be read", func(b *bench) { b.files.exportErr = storage.ErrLost }, state.Export{Records: known}, "rescued", 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.run(write(1, "torch"))
			tt.prepare(b)
			got := b.run(tt.effect)
			if b.browser.got.Name != tt.want || b.browser.got.Records != tt.records {
				t.Errorf("handed over %+v", b.browser.got)
			}
			if done, ok := got[0].(state.ExportDone); !ok || done.Records != tt.records {
				t.Errorf("answers %#v", got)
			}
		})
	}
}

func TestRunner_says_when_a_file_could_not_be_handed_over_or_read_in(t *testing.T) {
	b := newBench(t)
	b.browser.refuse = errors.New("blocked")
	if got := b.run(state.Export{}); got[0].(state.TransferFailed).What != "export" {
		t.Errorf("answers %#v", got)
	}
	b.files.importErr = storage.ErrCorrupt
	if got := b.run(state.CheckImport{File: strings.NewReader("123")}); got[0].(state.TransferFailed).What != "import" {
		t.Errorf("answers %#v", got)
	}
	if got := b.run(state.Import{File: strings.NewReader("123")}); got[0].(state.TransferFailed).Some.Added != 3 {
		t.Errorf("answers %#v", got)
	}
	b.files.importErr = nil
	if got := b.run(state.CheckImport{File: strings.NewReader("123")}); got[0].(state.ImportChecked).Plan.Known != 3 {
		t.Errorf("answers %#v", got)
	}
	if got := b.run(state.Import{File: strings.NewReader("123")}); got[0].(state.ImportDone).Added != 3 {
		t.Errorf("answers %#v", got)
	}
}

// A fault in one job is told of and does not stop the next.
func TestRunner_survives_a_fault(t *testing.T) {
	b := newBench(t)
	b.files.panics = true
	got := b.run(state.Export{}, write(1, "torch"))
	failed := slices.ContainsFunc(got, func(m state.Msg) bool { f, ok := m.(state.Failed); return ok && strings.Contains(f.What, "zip") })
	saved := slices.ContainsFunc(got, func(m state.Msg) bool { _, ok := m.(state.WriteDone); return ok })
	if !failed || !saved {
		t.Errorf("answers %#v", got)
	}
}

func TestRunner_keeps_drafts_at_once_and_says_when_it_cannot(t *testing.T) {
	b := newBench(t)
	draft := state.Draft{Kind: state.KindTip, Texts: map[string]string{"name": "3"}}
	b.runner.Run([]state.Effect{state.KeepDraft{Key: "k", Draft: draft}}) // nothing of the queue is done
	if b.browser.drafts["k"].Texts["name"] != "3" {
		t.Errorf("kept %v", b.browser.drafts)
	}
	b.browser.draftErr = errors.New("quota")
	if got := b.run(state.KeepDraft{Key: "k"}); len(got) != 1 || len(b.browser.drafts) != 0 {
		t.Errorf("answers %#v, kept %v", got, b.browser.drafts)
	}
}

func TestRunner_does_at_once_what_the_browser_does_at_once(t *testing.T) {
	b := newBench(t)
	b.run(state.ShowTheme{Theme: "light"}, state.ShowTop{Act: "x"}, state.Restart{})
	if want := []string{"theme light", "top x", "restart"}; !slices.Equal(b.browser.done, want) {
		t.Errorf("did %v", b.browser.done)
	}
}

func TestRunner_tells_how_the_store_is_after_asking_to_keep_it(t *testing.T) {
	b := newBench(t)
	got := b.run(write(1, "torch"), state.AskPersistent{})
	if h, ok := got[1].(state.HealthRead); !ok || !h.Health.Known || h.Health.Records != 1 {
		t.Errorf("answers %#v", got)
	}
}

// Started, it brings the drafts first, then the records, and works until it is stopped.
func TestRunner_starts_with_drafts_and_records(t *testing.T) {
	b := newBench(t)
	b.browser.drafts["k"] = state.Draft{Kind: state.KindTip}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	loaded := make(chan struct{})
	var first, drafts state.Msg
	b.runner.post = func(m state.Msg) {
		if first == nil {
			first = m
		} else if drafts == nil {
			drafts = m
		}
		if _, ok := m.(state.Loaded); ok {
			close(loaded)
		}
	}
	b.runner.Start(ctx)
	<-loaded
	if l, ok := first.(state.LimitKnown); !ok || l.Bytes != 1000 {
		t.Errorf("the limit told is %#v", first)
	}
	if d, ok := drafts.(state.DraftsLoaded); !ok || len(d.Drafts) != 1 {
		t.Errorf("message before the records %#v", drafts)
	}
}
