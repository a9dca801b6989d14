package server

import (
	"fmt"
	"io"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"torchside/storage/vault"
)

// metrics counts what the server does. The labels are of fixed sets (routes, statuses, results),
// so their number is bounded.
type metrics struct {
	mu       sync.Mutex
	requests map[[2]string]uint64 // by route and status
	seconds  map[string]float64   // by route
	events   map[[2]string]uint64 // by name and result
	inFlight int
}

func newMetrics() *metrics {
	return &metrics{requests: map[[2]string]uint64{}, seconds: map[string]float64{}, events: map[[2]string]uint64{}}
}

func (m *metrics) begin() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.inFlight++
}

func (m *metrics) end(route, status string, took time.Duration) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.inFlight--
	m.requests[[2]string{route, status}]++
	m.seconds[route] += took.Seconds()
}

// add counts n events, as "ops" with the result "stored".
func (m *metrics) add(name, result string, n int) {
	if n == 0 {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.events[[2]string{name, result}] += uint64(n)
}

// write gives all of it in the text form of Prometheus (prometheus.io/docs/instrumenting/exposition_formats).
func (m *metrics) write(w io.Writer, stats vault.Stats) error {
	var b strings.Builder
	m.mu.Lock()
	m.writeRequests(&b)
	m.mu.Unlock()
	writeStats(&b, stats)
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	gauge(&b, "torchside_memory_bytes", "Memory taken from the system.", float64(mem.Sys-mem.HeapReleased))
	gauge(&b, "torchside_goroutines", "Goroutines alive.", float64(runtime.NumGoroutine()))
	_, err := io.WriteString(w, b.String())
	return err
}

func (m *metrics) writeRequests(b *strings.Builder) {
	head(b, "torchside_requests_total", "counter", "Requests answered, by route and status.")
	for _, key := range sortedKeys(m.requests) {
		fmt.Fprintf(b, "torchside_requests_total{route=%q,status=%q} %d\n", key[0], key[1], m.requests[key])
	}
	head(b, "torchside_request_seconds_total", "counter", "Time spent answering, by route.")
	for _, route := range slices.Sorted(maps.Keys(m.seconds)) {
		fmt.Fprintf(b, "torchside_request_seconds_total{route=%q} %g\n", route, m.seconds[route])
	}
	head(b, "torchside_events_total", "counter", "What requests did, by kind and result.")
	for _, key := range sortedKeys(m.events) {
		fmt.Fprintf(b, "torchside_events_total{event=%q,result=%q} %d\n", key[0], key[1], m.events[key])
	}
	gauge(b, "torchside_requests_in_flight", "Requests being answered.", float64(m.inFlight))
}

// writeStats sums over the shops: their names are nobody's business.
func writeStats(b *strings.Builder, stats vault.Stats) {
	var ops uint64
	var blobs, wanted, devices int
	for _, s := range stats.Shops {
		ops += s.Last.Seq
		blobs, wanted, devices = blobs+s.Blobs, wanted+s.Wanted, devices+s.Devices
	}
	gauge(b, "torchside_shops", "Shops in the vault.", float64(len(stats.Shops)))
	gauge(b, "torchside_devices", "Devices let in.", float64(devices))
	gauge(b, "torchside_ops", "Changes in the vault.", float64(ops))
	gauge(b, "torchside_attachments", "Attachments in the vault.", float64(blobs))
	gauge(b, "torchside_attachments_wanted", "Attachments named and not there.", float64(wanted))
	gauge(b, "torchside_vault_file_bytes", "Size of the vault's file.", float64(stats.FileBytes))
}

func sortedKeys(m map[[2]string]uint64) [][2]string {
	return slices.SortedFunc(maps.Keys(m), func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
}

func head(b *strings.Builder, name, kind, help string) {
	fmt.Fprintf(b, "# HELP %s %s\n# TYPE %s %s\n", name, help, name, kind)
}

func gauge(b *strings.Builder, name, help string, value float64) {
	head(b, name, "gauge", help)
	fmt.Fprintf(b, "%s %g\n", name, value)
}
