package vaulttest

import (
	"math/rand/v2"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// Agrees checks that the log of a shop holds exactly these ops, in any order,
// numbered without gaps and with a chain that follows from them, and that the
// counts say so. It pulls in pages.
func Agrees(t testing.TB, v vault.Vault, shop vault.ShopID, want []storage.Op) {
	t.Helper()
	var since vault.Checkpoint
	var got []storage.Op
	for more := true; more; {
		page, err := v.Pull(t.Context(), shop, since, vault.Limits{Ops: 17, Bytes: 1 << 20})
		if err != nil {
			t.Fatal(err)
		}
		ops, err := page.Decode()
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, ops...)
		if page.Next.Seq != uint64(len(got)) {
			t.Fatalf("%d ops up to number %d", len(got), page.Next.Seq)
		}
		since, more = page.Next, page.More
	}
	all, mismatched := merge.Union(want, got)
	if len(mismatched) > 0 || len(all) != len(want) || len(got) != len(want) {
		t.Fatalf("the log has %d ops, want %d; together they are %d, other content %v", len(got), len(want), len(all), mismatched)
	}
	stats := statsOf(t, v, shop)
	if stats.Last != since || stats.Records != records(want) {
		t.Errorf("stats %+v, want %d records up to %+v", stats, records(want), since)
	}
}

// records counts the records that ops belong to.
func records(ops []storage.Op) int {
	seen := make(map[storage.ID]bool)
	for _, op := range ops {
		seen[op.Rec] = true
	}
	return len(seen)
}

func statsOf(t testing.TB, v vault.Vault, shop vault.ShopID) vault.ShopStats {
	t.Helper()
	stats, err := v.Stats(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(stats.Shops, func(s vault.ShopStats) bool { return s.Shop.ID == shop })
	if at < 0 {
		t.Fatalf("no stats of shop %s", shop)
	}
	return stats.Shops[at]
}

// plain is what a shop must hold.
type plain struct {
	id     vault.ShopID
	ops    []storage.Op // pushed and acknowledged
	left   []storage.Op // still to be pushed
	photos map[storage.Hash][]byte
	held   map[storage.Hash]bool
}

// randomly drives two shops and compares them with plain lists.
func randomly(b *bench) {
	r := rand.New(b.src)
	var all []*plain
	for i, name := range []string{"Home", "Club"} {
		s := &plain{id: b.shop(name), photos: make(map[storage.Hash][]byte), held: make(map[storage.Hash]bool)}
		s.left = storagetest.Shuffled(uint64(i), storagetest.RandomOps(uint64(20+i), 150))
		b.withPhotos(r, s)
		all = append(all, s)
	}
	for range 200 {
		s := all[r.IntN(len(all))]
		switch r.IntN(8) {
		case 0:
			b.reopen()
		case 1, 2, 3:
			b.sendOps(r, s)
		default:
			b.sendPiece(r, s)
		}
	}
	for _, s := range all {
		Agrees(b.T, b.v, s.id, s.ops)
		b.agreesOnPhotos(s)
	}
}

// withPhotos lets some ops name attachments. An op that is there twice names
// the same ones.
func (b *bench) withPhotos(r *rand.Rand, s *plain) {
	named := make(map[storage.ID][]storage.Hash)
	for i := range s.left {
		op := &s.left[i]
		if _, done := named[op.ID]; !done {
			for range max(0, r.IntN(4)-1) {
				data := []byte(string(b.src.ID(r.Int64N(1e12))) + "a photo")[:1+r.IntN(40)]
				s.photos[storage.HashOf(data)] = data
				named[op.ID] = append(named[op.ID], storage.HashOf(data))
			}
			slices.Sort(named[op.ID])
			named[op.ID] = slices.Compact(named[op.ID])
		}
		op.Blobs = named[op.ID]
	}
}

// sendOps pushes a batch, sometimes with ops that are there already.
func (b *bench) sendOps(r *rand.Rand, s *plain) {
	b.Helper()
	n := min(r.IntN(12), len(s.left))
	batch := slices.Clone(s.left[:n])
	s.left = s.left[n:]
	for range r.IntN(3) {
		if len(s.ops) > 0 {
			batch = append(batch, s.ops[r.IntN(len(s.ops))])
		}
	}
	acks, err := b.v.Push(b.ctx(), s.id, batch)
	b.try(err)
	for i, a := range acks {
		known := slices.ContainsFunc(s.ops, func(o storage.Op) bool { return o.ID == a.Op })
		if want := map[bool]vault.Status{true: vault.Held, false: vault.Stored}[known]; a.Status != want {
			b.Fatalf("op %s: got %+v, want it %s", a.Op, a, want)
		}
		if !known {
			s.ops = append(s.ops, batch[i])
		}
		b.try(b.v.Verify(b.ctx(), s.id, a.At))
	}
}

// sendPiece sends the next piece of some wanted attachment.
func (b *bench) sendPiece(r *rand.Rand, s *plain) {
	b.Helper()
	names, err := b.v.Want(b.ctx(), s.id, 5)
	b.try(err)
	if len(names) == 0 {
		return
	}
	h := names[r.IntN(len(names))]
	data := s.photos[h]
	have, _, err := b.v.BlobOffset(b.ctx(), s.id, h)
	b.try(err)
	end := int(have) + 1 + r.IntN(len(data)-int(have))
	b.try(b.v.WriteBlob(b.ctx(), s.id, h, have, data[have:end], end == len(data)))
	s.held[h] = end == len(data)
}

// agreesOnPhotos checks what is wanted, and reads what is held.
func (b *bench) agreesOnPhotos(s *plain) {
	b.Helper()
	var want []storage.Hash
	var size int64
	held := 0
	for _, op := range s.ops {
		want = append(want, op.Blobs...)
	}
	slices.Sort(want)
	want = slices.DeleteFunc(slices.Compact(want), func(h storage.Hash) bool {
		if !s.held[h] {
			return false
		}
		b.holds(s.id, h, s.photos[h])
		held++
		size += int64(len(s.photos[h]))
		return true
	})
	got, err := b.v.Want(b.ctx(), s.id, 1000)
	b.try(err)
	stats := statsOf(b.T, b.v, s.id)
	if !slices.Equal(got, want) || stats.Wanted != len(want) || stats.Blobs != held || stats.BlobBytes != size {
		b.Errorf("wants %d, stats %+v; want %d wanted, %d held of %d bytes", len(got), stats, len(want), held, size)
	}
}
