package main

import (
	"fmt"
	"net/http"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/wire"
)

var residentLine = regexp.MustCompile(`(?m)^VmRSS:\s+(\d+) kB$`)

// residentMB is the memory a process holds; it fails where the system does not tell (Linux does).
func residentMB(b *testing.B, pid int) float64 {
	b.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Fatal(err)
	}
	m := residentLine.FindSubmatch(text)
	if m == nil {
		b.Fatalf("no VmRSS in %s", text)
	}
	kB, err := strconv.Atoi(string(m[1]))
	if err != nil {
		b.Fatal(err)
	}
	return float64(kB) / 1024
}

// BenchmarkServe_memory gives what a whole server process holds: idle, and after 10 000 sheets were
// pushed and pulled by the real client, whose paces it gives too.
func BenchmarkServe_memory(b *testing.B) {
	const sheets, batch = 10_000, wire.MaxOps
	for b.Loop() {
		folder := b.TempDir()
		s := startChild(b, folder)
		resp, err := http.Get(s.url + "/healthz")
		if err != nil {
			b.Fatal(err)
		}
		_ = resp.Body.Close()
		b.ReportMetric(residentMB(b, s.cmd.Process.Pid), "idle-MB")
		out, _ := ownerLine(b, folder, "pair")
		joined, err := remote.Pair(b.Context(), s.url, shownCode(b, out), "Bench")
		if err != nil {
			b.Fatal(err)
		}
		c := remote.New(s.url, joined.Token)
		l := load{}
		l.dev = l.newID(b)
		start := time.Now()
		var since storage.Checkpoint
		for range sheets / batch {
			q := wire.SyncRequest{Dev: l.dev, Since: since}
			for range batch {
				l.n++
				q.Ops = append(q.Ops, storage.Op{
					ID: l.newID(b), Rec: l.newID(b), Kind: "sheet", Schema: 1, Dev: l.dev, N: l.n,
					HLC: storage.HLC{Milli: time.Now().UnixMilli()}, At: "2026-03-01T08:00:00.000Z",
					Body: fmt.Appendf(nil, `{"title":"Hinge leaf %d","note":%q}`, l.n, strings.Repeat("a little faster; ", 30)),
				})
			}
			r, err := c.Sync(b.Context(), q)
			if err != nil {
				b.Fatal(err)
			}
			since = r.Next
		}
		b.ReportMetric(sheets/time.Since(start).Seconds(), "push/s")
		start = time.Now()
		survey(b, s.url, storage.Checkpoint{}, map[storage.ID]bool{}, []*load{{token: joined.Token, dev: l.dev}})
		b.ReportMetric(sheets/time.Since(start).Seconds(), "pull/s")
		b.ReportMetric(residentMB(b, s.cmd.Process.Pid), "busy-MB")
		s.kill()
	}
}
