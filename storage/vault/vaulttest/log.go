package vaulttest

import (
	"context"
	"encoding/hex"
	"errors"
	"strings"
	"sync"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

func emptyVault(b *bench) {
	id := b.v.ID()
	b.reopen()
	if len(id) != 32 || b.v.ID() != id {
		b.Errorf("id %q, then %q: want 128 bits in hexadecimal, the same each time", id, b.v.ID())
	}
	shops, err := b.v.Shops(b.ctx())
	b.try(err)
	stats, err := b.v.Stats(b.ctx())
	b.try(err)
	if len(shops) != 0 || len(stats.Shops) != 0 {
		b.Errorf("a new vault has shops: %v, %v", shops, stats)
	}
	start := vault.Checkpoint{Store: id}
	page := b.all(b.shop("Home"))
	if len(page.Ops) != 0 || page.More || page.Next != start {
		b.Errorf("a new shop answers %+v, want nothing and %+v", page, start)
	}
}

func shops(b *bench) {
	home, club := b.shop("Home"), b.shop("Club, Vereinsheim Süd")
	for _, bad := range []string{"", " ", "Home", " Home", "Home ", "a\nb", "\xff", strings.Repeat("x", vault.MaxName+1)} {
		if s, err := b.v.CreateShop(b.ctx(), bad, now); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("shop %q: got %v, %v, want ErrInvalid", bad, s, err)
		}
		if err := b.v.RenameShop(b.ctx(), club, bad); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("renamed %q: got %v, want ErrInvalid", bad, err)
		}
	}
	b.try(b.v.RenameShop(b.ctx(), home, "Garage"))
	b.try(b.v.RenameShop(b.ctx(), home, "Garage")) // its own name is not taken
	b.reopen()
	all, err := b.v.Shops(b.ctx())
	b.try(err)
	want := []vault.Shop{{ID: home, Name: "Garage", Created: now}, {ID: club, Name: "Club, Vereinsheim Süd", Created: now}}
	if len(all) != 2 || all[0] != want[0] || all[1] != want[1] || home == club {
		b.Errorf("got %v, want %v", all, want)
	}
}

func noShop(b *bench) {
	b.shop("Home")
	const none = vault.ShopID("00000000000000000000000000000000")
	h := storage.HashOf([]byte("x"))
	for name, call := range map[string]func(vault.ShopID) error{
		"RenameShop":   func(s vault.ShopID) error { return b.v.RenameShop(b.ctx(), s, "X") },
		"Push":         func(s vault.ShopID) error { _, err := b.v.Push(b.ctx(), s, []storage.Op{b.op()}); return err },
		"Pull":         func(s vault.ShopID) error { _, err := b.v.Pull(b.ctx(), s, vault.Checkpoint{}, everything); return err },
		"Verify":       func(s vault.ShopID) error { return b.v.Verify(b.ctx(), s, vault.Checkpoint{}) },
		"Want":         func(s vault.ShopID) error { _, err := b.v.Want(b.ctx(), s, 1); return err },
		"BlobOffset":   func(s vault.ShopID) error { _, _, err := b.v.BlobOffset(b.ctx(), s, h); return err },
		"WriteBlob":    func(s vault.ShopID) error { return b.v.WriteBlob(b.ctx(), s, h, 0, []byte("x"), true) },
		"OpenBlob":     func(s vault.ShopID) error { _, _, err := b.v.OpenBlob(b.ctx(), s, h); return err },
		"AddDevice":    func(s vault.ShopID) error { _, err := b.v.AddDevice(b.ctx(), s, "X", secret(1), now); return err },
		"Devices":      func(s vault.ShopID) error { _, err := b.v.Devices(b.ctx(), s); return err },
		"RenameDevice": func(s vault.ShopID) error { return b.v.RenameDevice(b.ctx(), s, "x", "X") },
		"RevokeDevice": func(s vault.ShopID) error { return b.v.RevokeDevice(b.ctx(), s, "x", now) },
		"TouchDevice":  func(s vault.ShopID) error { return b.v.TouchDevice(b.ctx(), s, "x", now) },
		"AddCode":      func(s vault.ShopID) error { return b.v.AddCode(b.ctx(), code(s, 1), now) },
		"AuditLog":     func(s vault.ShopID) error { _, err := b.v.AuditLog(b.ctx(), s, 1); return err },
	} {
		for _, shop := range []vault.ShopID{none, "../../etc", "x"} {
			if err := call(shop); !errors.Is(err, vault.ErrNoShop) {
				b.Errorf("%s of shop %q: got %v, want ErrNoShop", name, shop, err)
			}
		}
	}
}

func numbered(b *bench) {
	shop := b.shop("Home")
	ops := storagetest.RandomOps(7, 40)
	var acks []vault.Ack
	for part := 0; part < len(ops); part += 8 {
		acks = append(acks, b.push(shop, vault.Stored, ops[part:part+8]...)...)
	}
	var chain []byte
	for i, op := range ops {
		raw, err := op.MarshalJSON()
		b.try(err)
		sum := vault.Chain(chain, op.ID, raw)
		chain = sum[:]
		want := vault.Checkpoint{Store: b.v.ID(), Seq: uint64(i + 1), Chain: hex.EncodeToString(chain)}
		if acks[i].At != want {
			b.Fatalf("op %d is at %+v, want %+v", i, acks[i].At, want)
		}
		b.try(b.v.Verify(b.ctx(), shop, want))
	}
	b.reopen()
	page := b.all(shop)
	read, err := page.Decode()
	b.try(err)
	for i, op := range ops {
		if len(read) != len(ops) || !read[i].Equal(op) {
			b.Fatalf("op %d of %d differs from what was pushed", i, len(read))
		}
	}
	if page.Next != acks[len(acks)-1].At || page.More {
		b.Errorf("the page ends at %+v", page.Next)
	}
}

func pushTwice(b *bench) {
	shop := b.shop("Home")
	ops := storagetest.RandomOps(8, 30)
	first := b.push(shop, vault.Stored, ops...)
	b.reopen()
	for i, again := range b.push(shop, vault.Held, ops...) {
		if again.At != first[i].At {
			b.Errorf("op %d was at %+v and is at %+v", i, first[i].At, again.At)
		}
	}
	if n := len(b.all(shop).Ops); n != len(ops) {
		b.Errorf("%d ops, want %d", n, len(ops))
	}
	acks, err := b.v.Push(b.ctx(), shop, nil)
	if err != nil || len(acks) != 0 {
		b.Errorf("pushing nothing: %v, %v", acks, err)
	}
}

func rejects(b *bench) {
	shop := b.shop("Home")
	held, fresh, bad, late := b.op(), b.op(), b.op(), b.op()
	b.push(shop, vault.Stored, held)
	changed := held.Clone()
	changed.At = "2020-01-01T00:00:00Z"
	again := fresh.Clone()
	again.N++
	bad.Kind = ""
	acks, err := b.v.Push(b.ctx(), shop, []storage.Op{changed, fresh, bad, fresh, again, late, {}})
	b.try(err)
	want := []struct {
		status vault.Status
		reason string
		seq    uint64
	}{
		{vault.Rejected, vault.ReasonMismatch, 0}, {vault.Stored, "", 2}, {vault.Rejected, vault.ReasonInvalid, 0}, {vault.Held, "", 2},
		{vault.Rejected, vault.ReasonMismatch, 0}, {vault.Stored, "", 3}, {vault.Rejected, vault.ReasonInvalid, 0},
	}
	for i, w := range want {
		a := acks[i]
		if a.Status != w.status || a.Reason != w.reason || a.At.Seq != w.seq || (a.Detail == "") != (w.reason == "") {
			b.Errorf("answer %d is %+v, want %+v", i, a, w)
		}
	}
	read, err := b.all(shop).Decode()
	b.try(err)
	if len(read) != 3 || !read[0].Equal(held) || !read[1].Equal(fresh) || !read[2].Equal(late) {
		b.Errorf("the log has %d ops, want the three good ones", len(read))
	}
}

func pages(b *bench) {
	shop := b.shop("Home")
	ops := storagetest.RandomOps(9, 25)
	ops[10].Del, ops[10].Body = false, []byte(strings.Repeat("x", 4000))
	acks := b.push(shop, vault.Stored, ops...)
	for _, limit := range []vault.Limits{{Ops: 7, Bytes: 1 << 20}, {Ops: 100, Bytes: 2000}, {Ops: 1, Bytes: 1}} {
		var since vault.Checkpoint
		got := 0
		for {
			page, err := b.v.Pull(b.ctx(), shop, since, limit)
			b.try(err)
			size := 0
			for _, raw := range page.Ops {
				size += len(raw)
			}
			got += len(page.Ops)
			if len(page.Ops) < 1 || len(page.Ops) > limit.Ops || len(page.Ops) > 1 && size > limit.Bytes || page.Next != acks[got-1].At {
				b.Fatalf("limit %+v: a page of %d ops and %d bytes, up to %+v", limit, len(page.Ops), size, page.Next)
			}
			if since = page.Next; !page.More {
				break
			}
		}
		if got != len(ops) {
			b.Errorf("limit %+v: %d ops, want %d", limit, got, len(ops))
		}
	}
	for _, bad := range []vault.Limits{{}, {Ops: 1}, {Bytes: 1}, {Ops: -1, Bytes: 5}} {
		if _, err := b.v.Pull(b.ctx(), shop, vault.Checkpoint{}, bad); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("limit %+v: got %v, want ErrInvalid", bad, err)
		}
	}
}

func mismatches(b *bench) {
	shop := b.shop("Home")
	acks := b.push(shop, vault.Stored, b.op(), b.op())
	last := acks[1].At
	for _, c := range []struct {
		why   string
		given vault.Checkpoint
	}{
		{vault.OtherStore, vault.Checkpoint{Store: strings.Repeat("0", 32), Seq: 2, Chain: last.Chain}},
		{vault.OtherStore, vault.Checkpoint{Store: strings.Repeat("0", 32)}},
		{vault.OtherStore, vault.Checkpoint{Seq: 2, Chain: last.Chain}},
		{vault.Ahead, vault.Checkpoint{Store: last.Store, Seq: 3, Chain: last.Chain}},
		{vault.Ahead, vault.Checkpoint{Store: last.Store, Seq: 1<<64 - 1, Chain: last.Chain}},
		{vault.OtherChain, vault.Checkpoint{Store: last.Store, Seq: 1, Chain: last.Chain}},
		{vault.OtherChain, vault.Checkpoint{Store: last.Store, Seq: 2}},
		{vault.OtherChain, vault.Checkpoint{Store: last.Store, Seq: 2, Chain: strings.ToUpper(last.Chain)}},
		{vault.OtherChain, vault.Checkpoint{Store: last.Store, Seq: 2, Chain: "no hexadecimal"}},
		{vault.OtherChain, vault.Checkpoint{Store: last.Store, Chain: last.Chain}},
	} {
		_, pulled := b.v.Pull(b.ctx(), shop, c.given, everything)
		for _, err := range []error{pulled, b.v.Verify(b.ctx(), shop, c.given)} {
			var m *vault.MismatchError
			if !errors.As(err, &m) || m.Why != c.why || m.Given != c.given || m.Store != b.v.ID() || m.Last != 2 || m.Error() == "" {
				b.Errorf("%+v: got %#v, want a mismatch of the %s", c.given, err, c.why)
			}
		}
	}
	for _, fine := range []vault.Checkpoint{{}, {Store: last.Store}, acks[0].At, last} {
		b.try(b.v.Verify(b.ctx(), shop, fine))
	}
}

func isolated(b *bench) {
	home, club := b.shop("Home"), b.shop("Club")
	photo := []byte("a photo")
	op := b.op(storage.HashOf(photo))
	b.push(home, vault.Stored, op)
	b.try(b.v.WriteBlob(b.ctx(), home, op.Blobs[0], 0, photo, true))
	if page := b.all(club); len(page.Ops) != 0 {
		b.Errorf("the other shop has %d ops", len(page.Ops))
	}
	if _, _, err := b.v.OpenBlob(b.ctx(), club, op.Blobs[0]); !errors.Is(err, vault.ErrNoBlob) {
		b.Errorf("the other shop's attachment: got %v, want ErrNoBlob", err)
	}
	if have, complete, err := b.v.BlobOffset(b.ctx(), club, op.Blobs[0]); err != nil || have != 0 || complete {
		b.Errorf("the other shop tells of the attachment: %d, %v, %v", have, complete, err)
	}
	b.push(club, vault.Stored, op)
	if names, err := b.v.Want(b.ctx(), club, 9); err != nil || len(names) != 1 {
		b.Errorf("the other shop wants %v, %v, want its own copy", names, err)
	}
}

func ownership(b *bench) {
	shop := b.shop("Home")
	op := b.op()
	op.Body, op.Del = []byte("before"), false
	mine := op.Clone()
	b.push(shop, vault.Stored, mine)
	mine.Body[0] = 'X'
	for range 2 {
		page := b.all(shop)
		read, err := page.Decode()
		b.try(err)
		if !read[0].Equal(op) {
			b.Fatal("what the caller changed is changed in the vault")
		}
		clear(page.Ops[0])
	}
}

func concurrent(b *bench) {
	shop := b.shop("Home")
	ops := storagetest.RandomOps(11, 64)
	var wg sync.WaitGroup
	for part := range 8 {
		wg.Go(func() {
			for i := range 8 {
				if _, err := b.v.Push(b.ctx(), shop, ops[part*8+i:part*8+i+1]); err != nil {
					b.Error(err)
				}
				if _, err := b.v.Pull(b.ctx(), shop, vault.Checkpoint{}, everything); err != nil {
					b.Error(err)
				}
			}
		})
	}
	wg.Wait()
	Agrees(b.T, b.v, shop, ops)
}

func ended(b *bench) {
	shop := b.shop("Home")
	gone, cancel := context.WithCancel(b.ctx())
	cancel()
	if _, err := b.v.Push(gone, shop, []storage.Op{b.op()}); !errors.Is(err, context.Canceled) {
		b.Errorf("a cancelled push: got %v", err)
	}
	if n := len(b.all(shop).Ops); n != 0 {
		b.Errorf("a cancelled push stored %d ops", n)
	}
	b.try(b.v.Close())
	b.try(b.v.Close())
	for name, err := range map[string]error{
		"Verify":    b.v.Verify(b.ctx(), shop, vault.Checkpoint{}),
		"WriteBlob": b.v.WriteBlob(b.ctx(), shop, storage.HashOf([]byte("x")), 0, []byte("x"), true),
		"Audit":     b.v.Audit(b.ctx(), vault.AuditEntry{At: now, Event: "x"}),
	} {
		if !errors.Is(err, storage.ErrClosed) {
			b.Errorf("%s after Close: got %v, want ErrClosed", name, err)
		}
	}
}
