//go:build unix

package bolt_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// sheets makes n new records of about 600 bytes, as sheets are.
func sheets(src storagetest.Source, first, n int) []storage.Op {
	ops := make([]storage.Op, n)
	body := make([]byte, 300)
	for i := range ops {
		at := storagetest.Start.Add(time.Duration(first+i) * time.Second)
		_, _ = src.Read(body) // a ChaCha8 source never fails
		ops[i] = storage.Op{
			ID: src.ID(at.UnixMilli()), Rec: src.ID(at.UnixMilli()), Kind: "sheet", Schema: 1, Dev: src.ID(0), N: uint64(first + i + 1),
			HLC: storage.HLC{Milli: at.UnixMilli()}, At: at.Format(storage.AtLayout), Body: fmt.Appendf(nil, `{"note":"%x"}`, body[:150]),
		}
	}
	return ops
}

// loaded makes a vault of n records.
func loaded(b *testing.B, n int) (folder string, shop vault.ShopID, last vault.Checkpoint) {
	b.Helper()
	folder, shop = fresh(b)
	v := open(b, folder)
	src := storagetest.NewSource(1)
	const batch = 2000
	for first := 0; first < n; first += batch {
		acks := push(b, v, shop, sheets(src, first, min(batch, n-first))...)
		last = acks[len(acks)-1].At
	}
	try(b, v.Close())
	return folder, shop, last
}

func BenchmarkCheck_of_100000_records(b *testing.B) {
	folder, _, _ := loaded(b, 100_000)
	for b.Loop() {
		r, err := bolt.Check(context.Background(), folder)
		try(b, err)
		if !r.Sound() {
			b.Fatal(r.Findings)
		}
	}
}

// Batches of 200, each synced, as devices send them.
func BenchmarkPush_of_200_sheets(b *testing.B) {
	folder, shop := fresh(b)
	v := open(b, folder)
	src, n := storagetest.NewSource(2), 0
	for b.Loop() {
		push(b, v, shop, sheets(src, n, 200)...)
		n += 200
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "sheets/s")
}

// What is new costs the same however much is old.
func BenchmarkPull_of_10_new_sheets(b *testing.B) {
	for _, old := range []int{1000, 100_000} {
		b.Run(fmt.Sprint("behind ", old), func(b *testing.B) {
			folder, shop, last := loaded(b, old)
			v := open(b, folder)
			push(b, v, shop, sheets(storagetest.NewSource(3), old, 10)...)
			for b.Loop() {
				page, err := v.Pull(b.Context(), shop, last, vault.Limits{Ops: 200, Bytes: 256 << 10})
				try(b, err)
				if len(page.Ops) != 10 || page.More {
					b.Fatalf("%d ops, more %v", len(page.Ops), page.More)
				}
			}
		})
	}
}

func BenchmarkPull_of_everything_in_pages_of_200(b *testing.B) {
	folder, shop, last := loaded(b, 50_000)
	v := open(b, folder)
	n := 0
	for b.Loop() {
		var since vault.Checkpoint
		for since.Seq < last.Seq {
			page, err := v.Pull(b.Context(), shop, since, vault.Limits{Ops: 200, Bytes: 256 << 10})
			try(b, err)
			n += len(page.Ops)
			since = page.Next
		}
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "sheets/s")
}

// What a limit saves: 20,000 records of five versions each, of which the vault
// keeps one. It prints how long the trim holds up writers beside a batch pushed,
// what stays of a dropped version, and how many new ones the freed pages take
// before the file grows.
func BenchmarkTrim_of_80000_of_100000_versions(b *testing.B) {
	for b.Loop() {
		folder, shop := fresh(b)
		v := open(b, folder)
		src, last := storagetest.NewSource(1), []storage.Op(nil)
		try(b, v.SetKeep(b.Context(), shop, 1, now))
		for version := range 5 {
			ops := sheets(src, 20_000*version, 20_000)
			for i := range ops {
				if version > 0 {
					ops[i].Rec, ops[i].Parents = last[i].Rec, []storage.ID{last[i].ID}
				}
			}
			for i := 0; i < len(ops); i += 2000 {
				push(b, v, shop, ops[i:i+2000]...)
			}
			last = ops
		}
		for i := range 3 {
			try(b, v.MarkDay(b.Context(), now.AddDate(0, 0, i+1)))
		}
		size := func() int64 {
			s, err := v.Stats(b.Context())
			try(b, err)
			return s.FileBytes
		}
		before := size()
		start := time.Now()
		done, err := v.Trim(b.Context(), shop)
		try(b, err)
		took := time.Since(start)
		trimmed, more := size(), 0
		start = time.Now()
		for ; size() == trimmed && more < 200_000; more += 200 {
			push(b, v, shop, sheets(src, 100_000+more, 200)...)
		}
		b.ReportMetric(took.Seconds(), "s/trim")
		b.ReportMetric(took.Seconds()/(time.Since(start).Seconds()/float64(more/200)), "batches-of-200/trim")
		b.ReportMetric(float64(done.Bytes)/float64(done.Ops), "B-dropped/op")
		b.ReportMetric(float64(before)/1e6, "MB-before")
		b.ReportMetric(float64(trimmed)/1e6, "MB-after")
		b.ReportMetric(float64(more), "new-before-it-grows")
		if done.Ops != 80_000 {
			b.Fatalf("dropped %+v", done)
		}
		try(b, v.Close())
	}
}
