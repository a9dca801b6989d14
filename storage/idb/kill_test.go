//go:build js

package idb

import (
	"context"
	"crypto/rand"
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
)

// The browser is killed from outside, by .ci/killtest.sh, right after this
// test noted a write as saved; then the same test is run on the same profile
// to look for all of them. Run without that script, both parts follow each
// other on two connections, without a kill.
func TestStore_survives_a_killed_browser(t *testing.T) {
	const name = "killed"
	switch os.Getenv("KILL_PHASE") {
	case "save":
		writes, err := strconv.Atoi(os.Getenv("KILL_WRITES"))
		if err != nil {
			t.Fatal(err)
		}
		saveMany(t, name, writes)
		select {} // until the browser is killed
	case "check":
		checkSaved(t, name, strings.Fields(js.Global().Get("givenByRunner").String()))
	default:
		checkSaved(t, name, saveMany(t, name, 3))
	}
}

// saveMany saves n records, noting each for the runner if there is one.
func saveMany(t *testing.T, name string, n int) []string {
	t.Helper()
	s := opened(t, name)
	author := storage.NewAuthor(s, time.Now, rand.Reader)
	var saved []string
	for i := range n {
		rec, err := author.Save(context.Background(), "sheet", 1, fmt.Appendf(nil, `{"weld":%d}`, i))
		if err != nil {
			t.Fatalf("save %d: %v", i, err)
		}
		saved = append(saved, string(rec.ID))
		if note := js.Global().Get("noteForRunner"); note.Truthy() {
			note.Invoke("saved " + string(rec.ID))
		}
	}
	return saved
}

// checkSaved wants every record, its op and its number.
func checkSaved(t *testing.T, name string, saved []string) {
	t.Helper()
	s := opened(t, name)
	if len(saved) == 0 {
		t.Fatal("nothing to look for")
	}
	for _, id := range saved {
		rec, err := s.Get(context.Background(), storage.ID(id))
		if err != nil || !strings.HasPrefix(string(rec.Body), `{"weld":`) {
			t.Errorf("record %s reported as saved: %v", id, err)
		}
	}
	usage, err := s.Usage(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	meta, err := s.Meta(context.Background())
	if err != nil || meta.N != uint64(usage.Ops) || usage.Ops != usage.Records || usage.Waiting != usage.Ops {
		t.Errorf("half a transaction: meta %+v, usage %+v, %v", meta, usage, err)
	}
}

// opened opens a database and closes it with the test.
func opened(t *testing.T, name string) *Store {
	t.Helper()
	s, err := Open(context.Background(), name, storage.Index{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}
