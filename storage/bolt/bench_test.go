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

// The bar is 1 s for a million records.
func BenchmarkOpen_of_1000000_records(b *testing.B) {
	folder, shop, last := loaded(b, 1_000_000)
	for b.Loop() {
		v, err := bolt.Open(folder)
		try(b, err)
		try(b, v.Verify(b.Context(), shop, last))
		try(b, v.Close())
	}
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
