package storagetest

import (
	"context"
	"fmt"
	"slices"

	"torchside/storage"
)

func listPages(b *bench) {
	var torches []storage.ID
	for i := range 10 {
		rec, err := b.author.Save(b.Context(), []string{"torch", "hose"}[i%2], 1, fmt.Appendf(nil, "%d", i))
		b.ok(err)
		if rec.Kind == "torch" {
			torches = append(torches, rec.ID)
		}
	}
	_, err := b.author.Delete(b.Context(), b.get(torches[1]))
	b.ok(err)
	first := b.listed(storage.Query{Kind: "torch", Limit: 2})
	if want := []storage.ID{torches[0], torches[2]}; !slices.Equal(first, want) {
		b.Errorf("first page = %v, want %v", first, want)
	}
	rest := b.listed(storage.Query{Kind: "torch", After: torches[2], Limit: 9})
	if !slices.Equal(rest, torches[3:]) {
		b.Errorf("second page = %v, want %v", rest, torches[3:])
	}
	if all := b.listed(storage.Query{Kind: "torch", Deleted: true}); !slices.Equal(all, torches) {
		b.Errorf("with deleted = %v, want %v", all, torches)
	}
	if every := b.listed(storage.Query{}); len(every) != 9 || !slices.IsSorted(every) {
		b.Errorf("every kind = %v", every)
	}
	if none := b.listed(storage.Query{Kind: "tor"}); len(none) != 0 {
		b.Errorf("kind %q lists %v", "tor", none)
	}
}

func listExcept(b *bench) {
	ids := make(map[string][]storage.ID)
	var rest []storage.ID
	for i := range 12 {
		kind := []string{"sheet", "torch", "hose"}[i%3]
		rec, err := b.author.Save(b.Context(), kind, 1, nil)
		b.ok(err)
		ids[kind] = append(ids[kind], rec.ID)
		if kind != "sheet" {
			rest = append(rest, rec.ID)
		}
	}
	if got := b.listed(storage.Query{Except: []string{"sheet"}}); !slices.Equal(got, rest) {
		b.Errorf("without sheets = %v, want %v", got, rest)
	}
	if got := b.listed(storage.Query{Except: []string{"sheet"}, After: rest[1], Limit: 3}); !slices.Equal(got, rest[2:5]) {
		b.Errorf("a page without sheets = %v, want %v", got, rest[2:5])
	}
	if got := b.listed(storage.Query{Except: []string{"sheet", "torch"}}); !slices.Equal(got, ids["hose"]) {
		b.Errorf("without sheets and torches = %v, want %v", got, ids["hose"])
	}
	if got := b.listed(storage.Query{Kind: "sheet", Except: []string{"sheet"}}); len(got) != 0 {
		b.Errorf("a kind that is also excepted lists %v", got)
	}
}

// listed returns the ids of one page.
func (b *bench) listed(q storage.Query) []storage.ID {
	b.Helper()
	records, err := b.store.List(b.Context(), q)
	b.ok(err)
	var ids []storage.ID
	for _, r := range records {
		ids = append(ids, r.ID)
		b.holds(r)
	}
	return ids
}

func opsPages(b *bench) {
	ops := RandomOps(10, 30)
	_, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	slices.SortFunc(ops, func(x, y storage.Op) int {
		if x.ID < y.ID {
			return -1
		}
		return 1
	})
	page, err := b.store.Ops(b.Context(), ops[9].ID, 10)
	b.ok(err)
	if !SameOps(page, ops[10:20]) {
		b.Error("the second page of ten is not ops 10 to 19")
	}
	end, err := b.store.Ops(b.Context(), ops[29].ID, 10)
	b.ok(err)
	if len(end) != 0 {
		b.Errorf("%d ops after the last one", len(end))
	}
}

func badLimits(b *bench) {
	_, err := b.store.List(b.Context(), storage.Query{Limit: -1})
	b.fails(err, storage.ErrInvalid)
	_, err = b.store.Ops(b.Context(), "", 0)
	b.fails(err, storage.ErrInvalid)
}

// Changing what was handed in or out must not change what is stored.
func ownership(b *bench) {
	body := []byte("kept")
	rec, err := b.author.Save(b.Context(), "torch", 1, body)
	b.ok(err)
	body[0] = 'X'
	rec.Body[1] = 'X'
	b.shows(b.get(rec.ID), "kept")
	list, err := b.store.List(b.Context(), storage.Query{})
	b.ok(err)
	list[0].Body[0], list[0].Heads[0].Body[1] = 'X', 'X'
	ops := allOps(b, b.store)
	ops[0].Body[0] = 'X'
	b.shows(b.get(rec.ID), "kept")
}

func cancelled(b *bench) {
	ctx, cancel := context.WithCancel(b.Context())
	cancel()
	_, err := storage.NewAuthor(b.store, b.clock.Now, NewSource(11)).Save(ctx, "torch", 1, []byte("never"))
	b.fails(err, context.Canceled)
	_, err = b.store.Append(ctx, RandomOps(11, 1)...)
	b.fails(err, context.Canceled)
	_, err = b.store.List(ctx, storage.Query{})
	b.fails(err, context.Canceled)
	if got := allOps(b, b.store); len(got) != 0 {
		b.Errorf("cancelled writes left %d ops", len(got))
	}
}
