package main

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/remote"
	"torchside/storage/server"
	"torchside/storage/wire"
)

// The crowd: that many shops in one vault, each with that many devices, each with new sheets, all at once.
const (
	crowdShops   = 50
	crowdDevices = 4
	crowdSheets  = 100
	crowdBatch   = 50
)

// BenchmarkServe_200_devices_at_once gives how long one exchange takes when all devices of 50 shops come back at the same moment, and what
// the server holds then. Each sends its sheets and takes those of the others of its shop.
func BenchmarkServe_200_devices_at_once(b *testing.B) {
	for b.Loop() {
		folder := b.TempDir()
		devices := crowd(b, folder)
		s := startChild(b, folder)
		b.Cleanup(manyAddresses())
		var mu sync.Mutex
		var took []time.Duration
		start := time.Now()
		var all sync.WaitGroup
		for _, l := range devices {
			all.Go(func() {
				own, err := l.exchange(b, s.url)
				if err != nil {
					b.Error(err)
				}
				mu.Lock()
				took = append(took, own...)
				mu.Unlock()
			})
		}
		all.Wait()
		whole := time.Since(start)
		slices.Sort(took)
		at := func(percent int) float64 { return took[(len(took)-1)*percent/100].Seconds() * 1e3 }
		b.ReportMetric(at(50), "p50-ms")
		b.ReportMetric(at(95), "p95-ms")
		b.ReportMetric(at(99), "p99-ms")
		b.ReportMetric(whole.Seconds(), "all-in-step-s")
		b.ReportMetric(residentMB(b, s.cmd.Process.Pid), "busy-MB")
		s.kill()
	}
}

// crowd makes the shops in a vault, and lets the devices join by a clock that goes fast: strangers may ask only so often.
func crowd(b *testing.B, folder string) (devices []*load) {
	b.Helper()
	v, err := bolt.Open(folder)
	if err != nil {
		b.Fatal(err)
	}
	var clock atomic.Int64
	clock.Store(time.Now().UnixMilli())
	now := func() time.Time { return time.UnixMilli(clock.Add(10_000)) }
	srv := httptest.NewServer(server.New(server.Config{Vault: v, Log: slog.New(slog.DiscardHandler), Now: now}))
	for i := range crowdShops {
		shop, err := v.CreateShop(b.Context(), fmt.Sprintf("Shop %d", i), now())
		if err != nil {
			b.Fatal(err)
		}
		for range crowdDevices {
			code, _, err := server.IssueCode(b.Context(), v, shop.ID, "", now())
			if err != nil {
				b.Fatal(err)
			}
			joined, err := remote.Pair(b.Context(), srv.URL, code, "Phone")
			if err != nil {
				b.Fatal(err)
			}
			l := &load{token: joined.Token}
			l.dev = l.newID(b)
			devices = append(devices, l)
		}
	}
	srv.Close()
	if err := v.Close(); err != nil {
		b.Fatal(err)
	}
	return devices
}

// manyAddresses has connections come from fifty addresses of this machine in turn: of one address the server takes few at once.
func manyAddresses() (restore func()) {
	var n atomic.Int64
	usual := http.DefaultTransport
	many := usual.(*http.Transport).Clone()
	many.MaxIdleConnsPerHost = crowdShops * crowdDevices
	many.DialContext = func(ctx context.Context, network, addr string) (net.Conn, error) {
		from := &net.TCPAddr{IP: net.IPv4(127, 0, 1, byte(1+n.Add(1)%50))}
		return (&net.Dialer{LocalAddr: from}).DialContext(ctx, network, addr)
	}
	http.DefaultTransport = many
	return func() { http.DefaultTransport = usual }
}

// exchange sends the sheets of one device and takes over what there is, and gives how long each request took.
func (l *load) exchange(b *testing.B, url string) (took []time.Duration, err error) {
	c := remote.New(url, l.token)
	var since storage.Checkpoint
	for left, more := crowdSheets, true; left > 0 || more; {
		q := wire.SyncRequest{Dev: l.dev, Since: since}
		for range min(left, crowdBatch) {
			l.n++
			q.Ops = append(q.Ops, storage.Op{
				ID: l.newID(b), Rec: l.newID(b), Kind: "sheet", Schema: 1, Dev: l.dev, N: l.n,
				HLC: storage.HLC{Milli: time.Now().UnixMilli()}, At: "2026-03-01T08:00:00.000Z",
				Body: fmt.Appendf(nil, `{"title":"Gate hinge %d","note":%q}`, l.n, strings.Repeat("a little faster; ", 30)),
			})
		}
		start := time.Now()
		r, err := c.Sync(b.Context(), q)
		if err != nil {
			return took, err
		}
		took = append(took, time.Since(start))
		left -= len(q.Ops)
		since, more = r.Next, r.More
	}
	return took, nil
}
