//go:build unix

package bolt_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// A club's vault after many years: a million records of fifty shops, which came
// in batches of 200, now of this shop and now of that.
const (
	manyRecords = 1_000_000
	manyShops   = 50
	perPush     = 200
)

// crowded is such a vault.
type crowded struct {
	folder string
	shops  []vault.ShopID
	src    storagetest.Source
	made   int   // records
	bodies int64 // bytes of what is in them
	marked vault.Checkpoint
}

// crowd makes one, which takes minutes, and remembers where its first shop stood.
func crowd(b *testing.B) *crowded {
	b.Helper()
	c := &crowded{folder: b.TempDir(), src: storagetest.NewSource(1)}
	v := open(b, c.folder)
	for i := range manyShops {
		s, err := v.CreateShop(b.Context(), fmt.Sprint("Shop ", i+1), now)
		try(b, err)
		c.shops = append(c.shops, s.ID)
	}
	for c.made < manyRecords {
		at := c.push(b, v)
		if c.made%(manyShops*perPush) == perPush { // it was the first shop's turn
			c.marked = at
		}
	}
	try(b, v.Close())
	return c
}

// push sends a batch of the shop whose turn it is.
func (c *crowded) push(b *testing.B, v *bolt.Vault) vault.Checkpoint {
	b.Helper()
	ops := sheets(c.src, c.made, perPush)
	shop := c.shops[c.made/perPush%manyShops]
	acks := push(b, v, shop, ops...)
	for _, op := range ops {
		c.made++
		c.bodies += int64(len(op.Body))
	}
	return acks[len(acks)-1].At
}

// size is how long the file of a vault is.
func size(b *testing.B, folder string) int64 {
	b.Helper()
	info, err := os.Stat(filepath.Join(folder, "vault.bolt"))
	try(b, err)
	return info.Size()
}

// The vault is made once. The bar of its start is 1 s.
func BenchmarkScale_of_1000000_records(b *testing.B) {
	began := time.Now()
	c := crowd(b)
	took := time.Since(began)
	b.Run("start", func(b *testing.B) {
		for b.Loop() {
			v, err := bolt.Open(c.folder)
			try(b, err)
			try(b, v.Verify(b.Context(), c.shops[0], c.marked))
			try(b, v.Close())
		}
		b.ReportMetric(float64(size(b, c.folder))/float64(c.made), "B-file/record")
		b.ReportMetric(float64(c.bodies)/float64(c.made), "B-body/record")
		b.ReportMetric(float64(c.made)/took.Seconds(), "made/s")
	})
	b.Run("pull", c.firstPull)
	b.Run("backup", c.backup)
	b.Run("compact", c.compact)
}

// firstPull is what a device waits for that asks first after a start: ten sheets
// came to its shop since it asked last.
func (c *crowded) firstPull(b *testing.B) {
	v := open(b, c.folder)
	push(b, v, c.shops[0], sheets(storagetest.NewSource(3), 2*manyRecords, 10)...)
	try(b, v.Close())
	var pulls time.Duration
	for b.Loop() {
		v := open(b, c.folder)
		began := time.Now()
		page, err := v.Pull(b.Context(), c.shops[0], c.marked, vault.Limits{Ops: perPush, Bytes: 256 << 10})
		pulls += time.Since(began)
		try(b, err)
		if len(page.Ops) != 10 || page.More {
			b.Fatalf("%d ops, more %v", len(page.Ops), page.More)
		}
		try(b, v.Close())
	}
	b.ReportMetric(float64(pulls.Microseconds())/float64(b.N), "µs/pull")
	b.ReportMetric(0, "ns/op")
}

// backup is taken while devices push, and while none does. What a push waits
// then is told beside what it waits without a backup.
func (c *crowded) backup(b *testing.B) {
	v := open(b, c.folder)
	file := filepath.Join(b.TempDir(), "backup")
	for b.Loop() {
		began := time.Now()
		try(b, v.BackupFile(b.Context(), file, now))
		alone := time.Since(began)
		quiet := c.pushes(b, v, func(n int) bool { return n < 200 })
		done := make(chan error, 1)
		var busy time.Duration
		began = time.Now()
		go func() {
			err := v.BackupFile(context.WithoutCancel(b.Context()), file, now)
			busy = time.Since(began)
			done <- err
		}()
		held := c.pushes(b, v, func(int) bool { return len(done) == 0 })
		try(b, <-done)
		info, err := os.Stat(file)
		try(b, err)
		b.ReportMetric(alone.Seconds(), "s/alone")
		b.ReportMetric(float64(info.Size())/1e6/alone.Seconds(), "MB/s")
		b.ReportMetric(busy.Seconds(), "s/with-pushes")
		report(b, "push", quiet)
		report(b, "push-meanwhile", held)
	}
	b.ReportMetric(0, "ns/op")
	try(b, v.Close())
}

// compact writes a copy of the vault anew.
func (c *crowded) compact(b *testing.B) {
	var took time.Duration
	for b.Loop() {
		folder := b.TempDir()
		try(b, bolt.CopyFile(filepath.Join(c.folder, "vault.bolt"), filepath.Join(folder, "vault.bolt")))
		began := time.Now()
		done, err := bolt.Compact(b.Context(), folder)
		took += time.Since(began)
		try(b, err)
		b.ReportMetric(float64(done.Before)/1e6, "MB-before")
		b.ReportMetric(float64(done.After)/1e6, "MB-after")
	}
	b.ReportMetric(took.Seconds()/float64(b.N), "s/compact")
	b.ReportMetric(0, "ns/op")
}

// pushes times pushes one behind the other, while more are wanted.
func (c *crowded) pushes(b *testing.B, v *bolt.Vault, more func(n int) bool) (took []time.Duration) {
	b.Helper()
	for more(len(took)) {
		ops := sheets(c.src, c.made, perPush)
		began := time.Now()
		push(b, v, c.shops[len(took)%manyShops], ops...)
		took = append(took, time.Since(began))
		c.made += perPush
	}
	return took
}

// report prints median, p95 and worst of times.
func report(b *testing.B, what string, took []time.Duration) {
	if len(took) == 0 {
		b.Fatalf("%s: none was measured", what)
	}
	slices.Sort(took)
	ms := func(share float64) float64 {
		return took[int(share*float64(len(took)-1))].Seconds() * 1e3
	}
	b.ReportMetric(ms(0.5), what+"-p50-ms")
	b.ReportMetric(ms(0.95), what+"-p95-ms")
	b.ReportMetric(ms(1), what+"-worst-ms")
}
