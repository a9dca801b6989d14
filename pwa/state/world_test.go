package state

import (
	"bytes"
	"context"
	"errors"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/memory"
)

// world runs an app against a store in memory, as package effects does in the browser: every effect is answered at once.
type world struct {
	t       *testing.T
	app     App
	store   storage.Store
	author  *storage.Author
	fail    error            // what the store answers to writes; nil when it works
	hold    bool             // writes are not answered yet
	held    []Write          // those writes
	drafts  map[string]Draft // what the browser keeps
	files   []HandFile       // what was handed to the person
	counts  int              // how often the store was asked for counts
	effects []Effect         // all effects seen, in order
}

// errNoDisk stands for any refusal of a store.
var errNoDisk = errors.New("no disk")

// newWorld opens an app on an empty store.
func newWorld(t *testing.T) *world {
	t.Helper()
	w := &world{t: t, store: memory.NewIndexed(testIndex), drafts: map[string]Draft{}}
	w.author = storage.NewAuthor(w.store, ticking(), counting())
	w.restart()
	return w
}

// restart is a reload of the page: memory goes, store and drafts stay.
func (w *world) restart() {
	w.app = New()
	w.post(DraftsLoaded{Drafts: w.drafts})
	w.run([]Effect{Reload{}})
}

// post is one message and all that follows from it.
func (w *world) post(m Msg) {
	w.t.Helper()
	app, effects := Reduce(w.app, m)
	w.app = app
	w.run(effects)
}

func (w *world) run(effects []Effect) {
	w.t.Helper()
	for _, e := range effects {
		w.effects = append(w.effects, e)
		switch e := e.(type) {
		case Write:
			w.write(e)
		case Reload:
			records, err := w.store.List(context.Background(), storage.Query{})
			if err != nil {
				w.t.Fatal(err)
			}
			w.post(Loaded{Records: records})
		case KeepDraft:
			w.drafts[e.Key] = e.Draft
			if e.Draft.IsZero() {
				delete(w.drafts, e.Key)
			}
		default:
			w.answer(e)
		}
	}
}

func (w *world) write(e Write) {
	w.t.Helper()
	if w.hold {
		w.held = append(w.held, e)
		return
	}
	if w.fail != nil {
		w.post(WriteFailed{Token: e.Token, Err: w.fail})
		return
	}
	records, err := w.author.Write(context.Background(), e.Drafts...)
	if err != nil {
		w.t.Fatalf("write refused by the store: %v", err)
	}
	w.post(WriteDone{Token: e.Token, Records: records})
}

// release answers the writes that were held back.
func (w *world) release() {
	w.t.Helper()
	held := w.held
	w.hold, w.held = false, nil
	for _, e := range held {
		w.write(e)
	}
}

// fill types into the open form, in the order given: key, text, key, text …
func (w *world) fill(texts ...string) {
	w.t.Helper()
	for i := 0; i < len(texts); i += 2 {
		w.post(FormTyped{Key: texts[i], Text: texts[i+1]})
	}
}

// add enters one part by hand and saves it.
func (w *world) add(k Kind, line string, texts ...string) {
	w.t.Helper()
	w.post(PartAdded{Kind: k, Line: line})
	w.fill(texts...)
	w.post(FormSaved{})
	if w.app.Rig.Form != nil {
		w.t.Fatalf("%s not saved: %+v", k, w.app.Rig.Form.Fields)
	}
}

// bodies are the stored bodies of all live records, to see that nothing was damaged.
func (w *world) bodies() map[storage.ID]string {
	w.t.Helper()
	records, err := w.store.List(context.Background(), storage.Query{})
	if err != nil {
		w.t.Fatal(err)
	}
	out := map[storage.ID]string{}
	for _, r := range records {
		out[r.ID] = string(r.Body)
	}
	return out
}

// ticking is a clock that moves one second with every look.
func ticking() func() time.Time {
	now := time.Date(2031, 5, 1, 8, 0, 0, 0, time.UTC)
	return func() time.Time { now = now.Add(time.Second); return now }
}

// counting is a source of bytes that never repeat: ids are then the same in every run.
func counting() *counter { return &counter{} }

type counter struct{ n uint64 }

func (c *counter) Read(p []byte) (int, error) {
	c.n++
	copy(p, bytes.Repeat([]byte{byte(c.n), byte(c.n >> 8)}, len(p)/2+1))
	return len(p), nil
}
