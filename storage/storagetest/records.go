package storagetest

import (
	"errors"
	"strings"
	"time"

	"torchside/storage"
)

func emptyStore(b *bench) {
	list, err := b.store.List(b.Context(), storage.Query{Deleted: true})
	b.ok(err)
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	if len(list) != 0 || meta != (storage.Meta{}) {
		b.Errorf("empty store holds %v and %+v", list, meta)
	}
	_, err = b.store.Get(b.Context(), NewSource(9).ID(1))
	b.fails(err, storage.ErrNotFound)
}

// Bodies are opaque: JSON with odd spacing, text, and bytes that are no text
// must all come back as they were.
func savedReadsBack(b *bench) {
	for _, body := range []string{"{ \"a\" : 1 }\n", "½ \u2028 <&>", "\xff\xfe\x00\x01", ""} {
		rec := b.save(body)
		b.shows(rec, body)
		b.holds(rec)
		if len(rec.Heads) != 1 || rec.Conflict != storage.ConflictNone || rec.Deleted {
			b.Errorf("new record is not plain: %+v", rec)
		}
		if want := "2026-03-14T09:26:53.589-05:00"; rec.At != want {
			b.Errorf("At = %q, want the user's wall time %q", rec.At, want)
		}
	}
}

func updateReplaces(b *bench) {
	first := b.save("one")
	second, err := b.author.Update(b.Context(), first, 2, []byte("two"))
	b.ok(err)
	b.holds(second)
	b.shows(second, "two")
	if len(second.Heads) != 1 || second.ID != first.ID || second.Schema != 2 || second.Kind != "torch" {
		b.Errorf("updated record = %+v", second)
	}
	if got := allOps(b, b.store); len(got) != 2 {
		b.Errorf("%d ops kept, want both", len(got))
	}
}

func deleteAndUndo(b *bench) {
	rec := b.save("one")
	gone, err := b.author.Delete(b.Context(), rec)
	b.ok(err)
	b.holds(gone)
	live, err := b.store.List(b.Context(), storage.Query{})
	b.ok(err)
	if !gone.Deleted || gone.Kind != "torch" || len(live) != 0 {
		b.Errorf("after deletion: %+v, %d live records", gone, len(live))
	}
	back, err := b.author.Update(b.Context(), gone, rec.Schema, rec.Body)
	b.ok(err)
	b.holds(back)
	b.shows(back, "one")
	if back.Deleted || back.Conflict != storage.ConflictNone {
		b.Errorf("after undo: %+v", back)
	}
}

// Two tabs that loaded the same record must not overwrite each other.
func conflictAndSettle(b *bench) {
	seen := b.save("one")
	_, err := b.author.Update(b.Context(), seen, 1, []byte("two"))
	b.ok(err)
	b.clock.Move(time.Second)
	both, err := b.author.Update(b.Context(), seen, 1, []byte("three"))
	b.ok(err)
	b.holds(both)
	b.shows(both, "three")
	if len(both.Heads) != 2 || both.Conflict != storage.ConflictEdits {
		b.Errorf("want two heads in conflict, got %+v", both)
	}
	settled, err := b.author.Update(b.Context(), both, 1, []byte("two"))
	b.ok(err)
	b.holds(settled)
	if len(settled.Heads) != 1 || settled.Conflict != storage.ConflictNone {
		b.Errorf("want one head, got %+v", settled)
	}
}

// The edit is older than the deletion by the clock, and still wins.
func editBeatsDelete(b *bench) {
	seen := b.save("one")
	_, err := b.author.Update(b.Context(), seen, 1, []byte("two"))
	b.ok(err)
	b.clock.Move(time.Hour)
	rec, err := b.author.Delete(b.Context(), seen)
	b.ok(err)
	b.holds(rec)
	b.shows(rec, "two")
	if rec.Deleted || rec.Conflict != storage.ConflictDelete {
		b.Errorf("want the edit shown and flagged, got %+v", rec)
	}
}

func severalDrafts(b *bench) {
	old := b.save("old")
	records, err := b.author.Write(b.Context(),
		storage.Draft{Kind: "torch", Schema: 1, Body: []byte("a")},
		storage.Draft{Seen: old, Body: []byte("new")},
		storage.Draft{Kind: "hose", Schema: 1, Body: []byte("b")},
	)
	b.ok(err)
	var bodies []string
	for _, r := range records {
		b.holds(r)
		bodies = append(bodies, string(r.Body))
	}
	if got := strings.Join(bodies, " "); got != "a new b" || records[1].ID != old.ID || records[0].ID >= records[2].ID {
		b.Errorf("records = %s, ids %s and %s", got, records[0].ID, records[2].ID)
	}
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	if meta.N != 4 || meta.Dev == "" || meta.Dev != records[0].Heads[0].Dev {
		b.Errorf("meta after four ops = %+v", meta)
	}
}

func badDraftSavesNothing(b *bench) {
	b.save("one")
	before, err := b.store.Meta(b.Context())
	b.ok(err)
	good := storage.Draft{Kind: "torch", Schema: 1, Body: []byte("good")}
	for _, bad := range []storage.Draft{
		{Schema: 1}, {Kind: "torch"}, {Kind: "two words", Schema: 1},
		{Kind: "torch", Schema: 1, Body: make([]byte, storage.MaxBody+1)},
		{Kind: "torch", Schema: 1, Blobs: []string{"photo.jpg"}},
	} {
		_, err := b.author.Write(b.Context(), good, bad)
		b.fails(err, storage.ErrInvalid)
	}
	after, err := b.store.Meta(b.Context())
	b.ok(err)
	if len(allOps(b, b.store)) != 1 || after != before {
		b.Errorf("a refused write left something: meta %+v, was %+v", after, before)
	}
}

func failingStamp(b *bench) {
	broken := errors.New("no randomness")
	_, err := b.store.Commit(b.Context(), func(m storage.Meta) (storage.Meta, []storage.Op, error) {
		m.N = 77
		return m, RandomOps(1, 1), broken
	})
	b.fails(err, broken)
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	if meta != (storage.Meta{}) {
		b.Errorf("meta = %+v, want none", meta)
	}
}

func clockSetBack(b *bench) {
	seen := b.save("one")
	b.clock.Move(-10 * 365 * 24 * time.Hour)
	later, err := b.author.Update(b.Context(), seen, 1, []byte("two"))
	b.ok(err)
	b.shows(later, "two")
	if later.Heads[0].HLC.Compare(seen.Heads[0].HLC) <= 0 {
		b.Errorf("clock went from %v to %v", seen.Heads[0].HLC, later.Heads[0].HLC)
	}
	next := b.save("three")
	if next.ID <= seen.ID {
		b.Errorf("record %s made after %s sorts before it", next.ID, seen.ID)
	}
}
