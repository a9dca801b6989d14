package storage_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"testing"
	"testing/iotest"
	"time"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

func ExampleAuthor() {
	ctx := context.Background()
	author := storage.NewAuthor(memory.New(), time.Now, storagetest.NewSource(1))
	torch, _ := author.Save(ctx, "torch", 1, []byte("as bought"))
	torch, _ = author.Update(ctx, torch, 1, []byte("new valve"))
	fmt.Printf("%s %s\n", torch.Kind, torch.Body)
	torch, _ = author.Delete(ctx, torch)
	fmt.Println("deleted:", torch.Deleted)
	torch, _ = author.Update(ctx, torch, 1, []byte("new valve"))
	fmt.Println("deleted:", torch.Deleted)
	// Output:
	// torch new valve
	// deleted: true
	// deleted: false
}

// A record that was never stored has no state a change could be based on.
func TestAuthor_changes_only_records_it_was_shown(t *testing.T) {
	author := storage.NewAuthor(memory.New(), time.Now, storagetest.NewSource(2))
	if _, err := author.Update(context.Background(), storage.Record{}, 1, nil); !errors.Is(err, storage.ErrNotFound) {
		t.Errorf("update: %v", err)
	}
	if _, err := author.Delete(context.Background(), storage.Record{}); !errors.Is(err, storage.ErrNotFound) {
		t.Errorf("delete: %v", err)
	}
	if records, err := author.Write(context.Background()); records != nil || err != nil {
		t.Errorf("writing nothing: %v, %v", records, err)
	}
}

func TestAuthor_saves_nothing_without_randomness(t *testing.T) {
	s := memory.New()
	for _, bytes := range []int{0, 8, 16} { // fails at the device, op and record id
		random := io.MultiReader(io.LimitReader(storagetest.NewSource(5), int64(bytes)), iotest.ErrReader(errNoLuck))
		_, err := storage.NewAuthor(s, time.Now, random).Save(context.Background(), "torch", 1, nil)
		if !errors.Is(err, errNoLuck) {
			t.Errorf("with %d random bytes: %v", bytes, err)
		}
	}
	if u, err := s.Usage(context.Background()); err != nil || u.Ops != 0 {
		t.Errorf("%d ops held, %v", u.Ops, err)
	}
}

// A failing store passes its error through the author, so that the interface
// can tell a full device from a lost connection.
func TestAuthor_reports_what_a_failing_store_says(t *testing.T) {
	faulty := storagetest.NewFaulty(memory.New())
	author := storage.NewAuthor(faulty, time.Now, storagetest.NewSource(3))
	faulty.FailAfter(1, storage.ErrFull)
	seen, err := author.Save(context.Background(), "torch", 1, []byte("saved"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := author.Update(context.Background(), seen, 1, []byte("not saved")); !errors.Is(err, storage.ErrFull) {
		t.Errorf("error = %v, want ErrFull", err)
	}
	if got, err := faulty.Get(context.Background(), seen.ID); err != nil || string(got.Body) != "saved" {
		t.Errorf("held: %q, %v", got.Body, err)
	}
	if _, err := faulty.Append(context.Background(), storagetest.RandomOps(3, 1)...); !errors.Is(err, storage.ErrFull) {
		t.Errorf("append: %v, want ErrFull", err)
	}
	faulty.Heal()
	if _, err := author.Update(context.Background(), seen, 1, []byte("saved now")); err != nil || faulty.Writes() != 4 {
		t.Errorf("after healing: %v, %d writes tried", err, faulty.Writes())
	}
}

// What replaces something is later than it by the clock, when that is not
// absurdly far ahead.
func TestStampDrafts_moves_the_clock_past_what_was_seen(t *testing.T) {
	now := storagetest.Start
	op := storagetest.RandomOps(4, 1)[0]
	op.HLC = storage.HLC{Milli: now.Add(time.Minute).UnixMilli(), Counter: 9}
	draft := storage.Draft{Seen: storage.NewRecord([]storage.Op{op}), Body: []byte("x")}
	meta, ops, err := storage.StampDrafts(storage.Meta{N: 6}, now, storagetest.NewSource(4), draft)
	if err != nil {
		t.Fatal(err)
	}
	if ops[0].HLC.Compare(op.HLC) != 1 || meta.HLC != ops[0].HLC || meta.N != 7 || ops[0].N != 7 || ops[0].Kind != op.Kind {
		t.Errorf("op %+v, meta %+v", ops[0], meta)
	}
}
