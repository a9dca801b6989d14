//go:build js

package fulltest

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/idb"
)

// The browser's own limit, not a made-up error: at some point a save says
// full, everything saved before is there, and nothing of the last one is.
func TestStore_fills_up_to_the_browsers_limit_and_loses_nothing(t *testing.T) {
	limitStorage(t, 1<<20)
	s, err := idb.Open(context.Background(), "full", storage.Index{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	author := storage.NewAuthor(s, time.Now, rand.Reader)
	body := make([]byte, storage.MaxBody)
	if _, err := rand.Read(body); err != nil {
		t.Fatal(err)
	}
	var saved []storage.ID
	for range 200 {
		var rec storage.Record
		if rec, err = author.Save(context.Background(), "sheet", 1, body); err != nil {
			break
		}
		saved = append(saved, rec.ID)
	}
	if !errors.Is(err, storage.ErrFull) {
		t.Fatalf("after %d saves of %d bytes: %v, want ErrFull", len(saved), len(body), err)
	}
	limitStorage(t, 0)
	if u, err := s.Usage(context.Background()); err != nil || u.Ops != len(saved) || len(saved) == 0 {
		t.Errorf("%d ops held, %v; want %d", u.Ops, err, len(saved))
	}
	for _, id := range saved {
		if rec, err := s.Get(context.Background(), id); err != nil || !bytes.Equal(rec.Body, body) {
			t.Errorf("record %s saved before the limit: %v", id, err)
		}
	}
	if _, err := author.Save(context.Background(), "sheet", 1, body); err != nil {
		t.Errorf("save after the limit was lifted: %v", err)
	}
}

// limitStorage has the runner limit what this address may keep, 0 for no limit,
// and waits until the browser knows.
func limitStorage(t *testing.T, bytes int) {
	t.Helper()
	limit := js.Global().Get("limitStorage")
	if !limit.Truthy() {
		t.Fatal("run this through .ci/wasmtest.sh, which can limit the browser's storage")
	}
	limit.Invoke(bytes)
	for range 200 {
		if js.Global().Get("storageLimit").Equal(js.ValueOf(bytes)) {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatal("the browser did not take the limit")
}
