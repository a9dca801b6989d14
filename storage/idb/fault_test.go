//go:build js

package idb

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// patch replaces a property of a browser prototype for the rest of the test.
// The replacement is JavaScript with the old function as "old".
func patch(t *testing.T, object, property, source string) {
	t.Helper()
	prototype := js.Global().Get(object).Get("prototype")
	old := prototype.Get(property)
	prototype.Set(property, js.Global().Get("Function").New("old", source).Invoke(old))
	t.Cleanup(func() { prototype.Set(property, old) })
}

// writer returns a store on a fresh database and an author on it.
func writer(t *testing.T) (*Store, *storage.Author) {
	t.Helper()
	s := opened(t, freshName())
	return s, storage.NewAuthor(s, time.Now, storagetest.NewSource(rand.Uint64()))
}

// count wants so many ops in the store.
func count(t *testing.T, s *Store, want int) {
	t.Helper()
	u, err := s.Usage(context.Background())
	if err != nil || u.Ops != want {
		t.Errorf("%d ops held, %v; want %d", u.Ops, err, want)
	}
}

// The words are those of phones that broke the connection in the background.
const failTransactions = `let left = %d; return function(...args) {
	if (left-- > 0) throw new DOMException("Connection to Indexed Database server lost. Refresh the page to try again", "UnknownError");
	return old.apply(this, args);
};`

func TestStore_reopens_a_lost_connection_once(t *testing.T) {
	s, author := writer(t)
	patch(t, "IDBDatabase", "transaction", fmt.Sprintf(failTransactions, 1))
	before := s.db
	if _, err := author.Save(context.Background(), "torch", 1, []byte("kept")); err != nil {
		t.Fatalf("save over a lost connection: %v", err)
	}
	if s.db.Equal(before) {
		t.Error("the broken connection is still in use")
	}
	count(t, s, 1)
}

func TestStore_reports_a_connection_lost_twice_and_recovers(t *testing.T) {
	s, author := writer(t)
	patch(t, "IDBDatabase", "transaction", fmt.Sprintf(failTransactions, 2))
	if _, err := author.Save(context.Background(), "torch", 1, []byte("not kept")); !errors.Is(err, storage.ErrLost) {
		t.Fatalf("error = %v, want ErrLost", err)
	}
	if _, err := author.Save(context.Background(), "torch", 1, []byte("kept")); err != nil {
		t.Fatalf("save after the loss: %v", err)
	}
	count(t, s, 1)
}

// The browser wrote the data, but the page hears of an abort without a reason.
// Doing it again must not make a second record.
func TestStore_does_not_double_a_write_whose_end_was_lost(t *testing.T) {
	s, author := writer(t)
	patch(t, "IDBDatabase", "transaction", `let left = 1; return function(...args) {
		const tx = old.apply(this, args);
		if (args[1] === "readwrite" && left-- > 0) {
			Object.defineProperty(tx, "oncomplete", { set(f) { tx.addEventListener("complete", () => tx.onabort(new Event("abort"))); } });
		}
		return tx;
	};`)
	rec, err := author.Save(context.Background(), "torch", 1, []byte("once"))
	if err != nil {
		t.Fatal(err)
	}
	count(t, s, 1)
	if got, err := s.Get(context.Background(), rec.ID); err != nil || string(got.Body) != "once" {
		t.Errorf("record returned is not the one held: %q, %v", got.Body, err)
	}
}

// Both ways a full disk shows: a request that fails, and a commit that does.
func TestStore_says_when_the_device_is_full_and_keeps_nothing_of_the_write(t *testing.T) {
	for _, c := range []struct{ name, object, method, source string }{
		{"request", "IDBObjectStore", "put", `return function() { throw new DOMException("full", "QuotaExceededError"); };`},
		{"commit", "IDBDatabase", "transaction", `return function(...args) {
			const tx = old.apply(this, args);
			if (args[1] === "readwrite") {
				Object.defineProperty(tx, "error", { get() { return new DOMException("full", "QuotaExceededError"); } });
				const put = tx.objectStore("meta").put("x", "spare");
				put.addEventListener("success", () => tx.abort());
			}
			return tx;
		};`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, author := writer(t)
			t.Run("while full", func(t *testing.T) {
				patch(t, c.object, c.method, c.source)
				if _, err := author.Save(context.Background(), "torch", 1, []byte("no room")); !errors.Is(err, storage.ErrFull) {
					t.Fatalf("error = %v, want ErrFull", err)
				}
			})
			count(t, s, 0)
			if _, err := author.Save(context.Background(), "torch", 1, []byte("room again")); err != nil {
				t.Errorf("save after space was freed: %v", err)
			}
		})
	}
}

func TestOpen_says_when_the_browser_has_no_storage(t *testing.T) {
	patchGlobal(t, "indexedDB", js.Undefined())
	if _, err := Open(context.Background(), freshName(), storage.Index{}); !errors.Is(err, storage.ErrUnavailable) {
		t.Errorf("error = %v, want ErrUnavailable", err)
	}
}

// patchGlobal hides a global for the rest of the test.
func patchGlobal(t *testing.T, name string, value js.Value) {
	t.Helper()
	old := js.Global().Get(name)
	define := func(v js.Value) {
		js.Global().Get("Object").Call("defineProperty", js.Global(), name,
			map[string]any{"value": v, "configurable": true, "writable": true})
	}
	define(value)
	t.Cleanup(func() { define(old) })
}

func TestStore_gives_its_connection_up_when_the_page_is_hidden(t *testing.T) {
	s, author := writer(t)
	document := js.Global().Get("document")
	js.Global().Get("Object").Call("defineProperty", document, "hidden", map[string]any{"value": true, "configurable": true})
	defer document.Delete("hidden")
	document.Call("dispatchEvent", js.Global().Get("Event").New("visibilitychange"))
	if s.db.Truthy() {
		t.Error("a hidden page still holds its connection")
	}
	if _, err := author.Save(context.Background(), "torch", 1, []byte("back")); err != nil {
		t.Errorf("save after the page came back: %v", err)
	}
	count(t, s, 1)
}
