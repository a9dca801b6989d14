package archive_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// imported reads and imports a file that must be sound.
func imported(t testing.TB, s storage.Store, file []byte) archive.Report {
	t.Helper()
	a, err := read(file)
	if err != nil {
		t.Fatal(err)
	}
	report, err := archive.Import(context.Background(), s, a, nil)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// records reads everything a store holds.
func records(t testing.TB, s storage.Store) []storage.Record {
	t.Helper()
	all, err := s.List(context.Background(), storage.Query{Deleted: true})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestImport_into_an_empty_store_gives_the_same_records(t *testing.T) {
	ops := storagetest.RandomOps(5, 700)
	s := memory.New()
	report := imported(t, s, exported(t, ops))
	if report.Added != len(ops) || report.Held != 0 || report.Records != len(merge.Records(ops)) || !slices.Equal(report.Split, split(ops)) {
		t.Errorf("report: %d added, %d held, %d records, %d split", report.Added, report.Held, report.Records, len(report.Split))
	}
	if !storagetest.SameRecords(records(t, s), merge.Records(ops)) {
		t.Error("the store holds other records")
	}
}

// split returns the records of some ops that are in conflict.
func split(ops []storage.Op) []storage.ID {
	var ids []storage.ID
	for _, r := range merge.Records(ops) {
		if r.Conflict != storage.ConflictNone {
			ids = append(ids, r.ID)
		}
	}
	return ids
}

func TestImport_twice_changes_nothing(t *testing.T) {
	ops := storagetest.RandomOps(6, 300)
	s := memory.New()
	imported(t, s, exported(t, ops))
	before := records(t, s)
	report := imported(t, s, exported(t, ops))
	if report.Added != 0 || report.Held != len(ops) || report.Records != 0 || len(report.Split) != 0 {
		t.Errorf("report: %d added, %d held, %d records", report.Added, report.Held, report.Records)
	}
	if !storagetest.SameRecords(records(t, s), before) {
		t.Error("importing again changed something")
	}
}

// Two devices that import each other's files, in either order, agree.
func TestImport_in_any_order_ends_in_the_same_state(t *testing.T) {
	for seed := range uint64(20) {
		ops := storagetest.RandomOps(seed, 60)
		mixed := storagetest.Shuffled(seed, ops)
		here, there := filled(t, mixed[:30]), filled(t, mixed[20:])
		a, b := exportOf(t, here), exportOf(t, there)
		imported(t, here, b)
		imported(t, there, a)
		if !storagetest.SameRecords(records(t, here), records(t, there)) {
			t.Errorf("seed %d: the devices differ", seed)
		}
	}
}

func exportOf(t testing.TB, s storage.Store) []byte {
	t.Helper()
	var file bytes.Buffer
	if _, err := archive.Export(context.Background(), s, &file, "test", storagetest.Start); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// Edited here since the export, edited there too: both versions stay.
func TestImport_keeps_both_versions_of_a_record_changed_on_both_sides(t *testing.T) {
	clock := &storagetest.Clock{At: storagetest.Start}
	here, there := memory.New(), memory.New()
	mine := storage.NewAuthor(here, clock.Now, storagetest.NewSource(7))
	theirs := storage.NewAuthor(there, clock.Now, storagetest.NewSource(8))
	seen, err := mine.Save(context.Background(), "torch", 1, []byte("as bought"))
	if err != nil {
		t.Fatal(err)
	}
	imported(t, there, exportOf(t, here))
	clock.Move(time.Hour)
	for _, edit := range []struct {
		by   *storage.Author
		body string
	}{{mine, "mine"}, {theirs, "theirs"}} {
		if _, err := edit.by.Update(context.Background(), seen, 1, []byte(edit.body)); err != nil {
			t.Fatal(err)
		}
	}
	report := imported(t, here, exportOf(t, there))
	if report.Added != 1 || report.Held != 1 || !slices.Equal(report.Split, []storage.ID{seen.ID}) {
		t.Fatalf("report = %+v", report)
	}
	both := records(t, here)[0]
	bodies := fmt.Sprintf("%s %s", both.Heads[0].Body, both.Heads[1].Body)
	if bodies != "mine theirs" && bodies != "theirs mine" {
		t.Errorf("heads hold %q", bodies)
	}
}

// A forged or damaged op must not replace the one held, and not stop others.
func TestImport_refuses_an_op_held_with_other_content_and_takes_the_rest(t *testing.T) {
	ops := storagetest.RandomOps(9, 20)
	s := filled(t, ops[:10])
	forged := ops[3].Clone()
	forged.Kind = "forged"
	report := imported(t, s, exported(t, append([]storage.Op{forged}, ops[4:]...)))
	if len(report.Refused) != 1 || report.Refused[0] != forged.ID || report.Added != 10 || report.Held != 6 {
		t.Errorf("report: refused %v, %d added, %d held", report.Refused, report.Added, report.Held)
	}
	if !storagetest.SameRecords(records(t, s), merge.Records(ops)) {
		t.Error("the forged op changed something")
	}
}

func TestImport_reports_what_it_stored_before_the_store_was_full(t *testing.T) {
	ops := storagetest.RandomOps(10, 500)
	faulty := storagetest.NewFaulty(memory.New())
	faulty.FailAfter(1, storage.ErrFull)
	a, err := read(exported(t, ops))
	if err != nil {
		t.Fatal(err)
	}
	report, err := archive.Import(context.Background(), faulty, a, nil)
	if !errors.Is(err, storage.ErrFull) || report.Added == 0 || report.Added >= len(ops) {
		t.Fatalf("%d added, %v", report.Added, err)
	}
	faulty.Heal()
	rest, err := archive.Import(context.Background(), faulty, a, nil)
	if err != nil || rest.Added != len(ops)-report.Added || rest.Held != report.Added {
		t.Errorf("second try: %d added, %d held, %v", rest.Added, rest.Held, err)
	}
}

func FuzzRead_never_panics_and_never_accepts_what_it_cannot_write_again(f *testing.F) {
	f.Add(exported(f, storagetest.RandomOps(11, 5)))
	f.Add(entries(f, "manifest.json", `{"format":"torchside-archive","version":1}`, "ops.jsonl", ""))
	f.Fuzz(func(t *testing.T, file []byte) {
		a, err := read(file)
		if err != nil {
			return
		}
		again, err := read(exported(t, opsOf(t, a)))
		if err != nil || !storagetest.SameOps(opsOf(t, again), opsOf(t, a)) {
			t.Errorf("accepted but not the same when written again: %v", err)
		}
	})
}
