//go:build !js

package server_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/remote"
	"torchside/storage/server"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// The work measured: so many sheets in full batches.
const (
	benchSheets = 10_000
	benchBatch  = wire.MaxOps
)

// benchOps are sheets as the journal writes them, about 700 bytes of body each.
func benchOps(tb testing.TB) []storage.Op {
	tb.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	random := byteSource{r}
	newID := func(n int) storage.ID {
		id, err := storage.NewID(storage.HLC{Milli: 1_770_000_000_000 + int64(n)}, random)
		if err != nil {
			tb.Fatal(err)
		}
		return id
	}
	dev := newID(0)
	ops := make([]storage.Op, benchSheets)
	for i := range ops {
		body := fmt.Sprintf(`{"at":"2026-03-01T08:%02d:00+01:00","title":"Hinge leaf %d","drill":"butt","work":"weld","metal":"mild_steel","joint":"butt",`+
			`"position":"flat","thickness_m":%.4f,"tip":"SAMPLE 14","filler":"RG45","filler_m":0.0024,"oxygen_gauge_pa":%d,"fuel_gauge_pa":%d,`+
			`"speed_m_s":%.5f,"scores":{"straight":%d,"width":%d,"penetration":%d,"clean":%d},"wrong":"Too slow at the end, the puddle ran %d mm wide.",`+
			`"next":"Flatter angle, a little faster; watch the leading edge.","notes":"Coupon %d of the third row, cut from the offcuts of the gate; held with two clamps on the bench and tacked at both ends and in the middle before welding."}`,
			i%60, i, 0.001+r.Float64()/200, 30000+r.IntN(20000), 30000+r.IntN(20000), r.Float64()/500, r.IntN(6), r.IntN(6), r.IntN(6), r.IntN(6), r.IntN(9), i)
		ops[i] = storage.Op{
			ID: newID(i), Rec: newID(i), Kind: "sheet", Schema: 1, Dev: dev, N: uint64(i + 1),
			HLC: storage.HLC{Milli: 1_770_000_000_000 + int64(i)}, At: "2026-03-01T08:00:00.000+01:00", Body: []byte(body),
		}
	}
	return ops
}

// byteSource gives the same bytes in every run.
type byteSource struct{ r *rand.Rand }

func (s byteSource) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(s.r.Uint32())
	}
	return len(p), nil
}

// bareServer is the floor: net/http, encoding/json, gzip and bbolt with three writes an op, synced,
// and nothing besides: no token, no check of an op, no chain, no limits, no log.
type bareServer struct{ db *bbolt.DB }

// bareOp is an op as plain JSON would have it: no check, no own form.
type bareOp struct {
	Op      string   `json:"op"`
	Rec     string   `json:"rec"`
	Kind    string   `json:"kind"`
	Schema  int      `json:"schema"`
	Parents []string `json:"parents,omitempty"`
	Dev     string   `json:"dev"`
	N       uint64   `json:"n"`
	HLC     string   `json:"hlc"`
	At      string   `json:"at"`
	Del     bool     `json:"del,omitempty"`
	Body    string   `json:"body,omitempty"`
	Blobs   []string `json:"blobs,omitempty"`
}

type bareRequest struct {
	Since storage.Checkpoint `json:"since"`
	Ops   []bareOp           `json:"ops"`
}

var bareBuckets = [][]byte{[]byte("log"), []byte("ops"), []byte("heads")}

func newBare(tb testing.TB, folder string) *bareServer {
	tb.Helper()
	db, err := bbolt.Open(filepath.Join(folder, "bare.bolt"), 0o600, &bbolt.Options{FreelistType: bbolt.FreelistMapType})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = db.Close() })
	err = db.Update(func(tx *bbolt.Tx) error {
		for _, name := range bareBuckets {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		tb.Fatal(err)
	}
	return &bareServer{db}
}

func (s *bareServer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := gzip.NewReader(r.Body)
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	var q bareRequest
	if err := json.NewDecoder(body).Decode(&q); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	reply, err := s.exchange(q)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Content-Encoding", "gzip")
	z, _ := gzip.NewWriterLevel(w, gzip.BestSpeed)
	_ = json.NewEncoder(z).Encode(reply)
	_ = z.Close()
}

func (s *bareServer) exchange(q bareRequest) (reply wire.SyncReply, err error) {
	if len(q.Ops) > 0 {
		err = s.db.Update(func(tx *bbolt.Tx) error { return s.put(tx, q.Ops, &reply) })
	} else {
		err = s.db.View(func(tx *bbolt.Tx) error { return s.get(tx, q.Since.Seq, &reply) })
	}
	return reply, err
}

func (s *bareServer) put(tx *bbolt.Tx, ops []bareOp, reply *wire.SyncReply) error {
	log, byID, heads := tx.Bucket(bareBuckets[0]), tx.Bucket(bareBuckets[1]), tx.Bucket(bareBuckets[2])
	for _, op := range ops {
		raw, err := json.Marshal(op)
		if err != nil {
			return err
		}
		n, _ := log.NextSequence()
		key := fmt.Appendf(nil, "%016x", n)
		for _, err := range []error{log.Put(key, raw), byID.Put([]byte(op.Op), key), heads.Put([]byte(op.Rec), []byte(op.Op))} {
			if err != nil {
				return err
			}
		}
		reply.Acks = append(reply.Acks, wire.Ack{Op: storage.ID(op.Op), Status: wire.Stored})
		reply.Next.Seq = n
	}
	return nil
}

func (s *bareServer) get(tx *bbolt.Tx, since uint64, reply *wire.SyncReply) error {
	c := tx.Bucket(bareBuckets[0]).Cursor()
	reply.Next.Seq = since
	size := 0
	for key, raw := c.Seek(fmt.Appendf(nil, "%016x", since+1)); key != nil; key, raw = c.Next() {
		if size += len(raw); len(reply.Ops) == wire.MaxOps || size > wire.MaxBytes {
			reply.More = true
			return nil
		}
		reply.Ops = append(reply.Ops, bytes.Clone(raw))
		reply.Next.Seq++
	}
	return nil
}

// benchServer is our server over a vault in files, with a device that has joined.
func benchServer(tb testing.TB, folder string) (url string, joined wire.PairReply) {
	tb.Helper()
	v, err := bolt.Open(folder)
	if err != nil {
		tb.Fatal(err)
	}
	srv := httptest.NewServer(server.New(server.Config{Vault: v, Log: slog.New(slog.NewJSONHandler(io.Discard, nil))}))
	tb.Cleanup(func() { srv.Close(); _ = v.Close() })
	shop, err := v.CreateShop(context.Background(), "Shop", time.Now())
	if err != nil {
		tb.Fatal(err)
	}
	code, _, err := server.IssueCode(context.Background(), v, shop.ID, "", time.Now())
	if err != nil {
		tb.Fatal(err)
	}
	joined, err = remote.Pair(context.Background(), srv.URL, code, "Bench")
	if err != nil {
		tb.Fatal(err)
	}
	return srv.URL, joined
}

// benchClient sends the same bytes to either server and reads the answers as they come.
type benchClient struct {
	tb         testing.TB
	url, token string
	sent, got  int // bytes of bodies, compressed
}

// post is one request. Only what the answer says of the next step is decoded: what the client does
// with the rest is not the server's work.
func (c *benchClient) post(body []byte) (next storage.Checkpoint, more bool) {
	r, err := http.NewRequest(http.MethodPost, c.url+wire.Prefix+wire.PathSync, bytes.NewReader(body))
	if err != nil {
		c.tb.Fatal(err)
	}
	for name, value := range map[string]string{
		"Content-Type": "application/json", "Content-Encoding": "gzip", "Accept-Encoding": "gzip", "Authorization": "Bearer " + c.token,
	} {
		r.Header.Set(name, value)
	}
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		c.tb.Fatal(err)
	}
	defer resp.Body.Close()
	packed, err := io.ReadAll(resp.Body)
	if err != nil || resp.StatusCode != http.StatusOK {
		c.tb.Fatalf("%d %s %v", resp.StatusCode, packed, err)
	}
	c.sent, c.got = c.sent+len(body), c.got+len(packed)
	text := packed
	if resp.Header.Get("Content-Encoding") == "gzip" {
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			c.tb.Fatal(err)
		}
		if text, err = io.ReadAll(z); err != nil {
			c.tb.Fatal(err)
		}
	}
	return nextOf(c.tb, text), bytes.Contains(text, []byte(`"more":true`))
}

// nextOf finds the next checkpoint in a reply.
func nextOf(tb testing.TB, text []byte) (next storage.Checkpoint) {
	_, from, ok := bytes.Cut(text, []byte(`"next":`))
	if !ok {
		tb.Fatalf("no checkpoint in %.200s", text)
	}
	end := bytes.IndexByte(from, '}')
	if err := json.Unmarshal(from[:end+1], &next); err != nil {
		tb.Fatal(err)
	}
	return next
}

// push sends prepared batches; pull fetches everything.
func (c *benchClient) push(batches [][]byte) time.Duration {
	start := time.Now()
	for _, b := range batches {
		c.post(b)
	}
	return time.Since(start)
}

func (c *benchClient) pull(dev storage.ID) time.Duration {
	start := time.Now()
	var since storage.Checkpoint
	for more := true; more; {
		text, err := json.Marshal(wire.SyncRequest{Dev: dev, Since: since})
		if err != nil {
			c.tb.Fatal(err)
		}
		since, more = c.post(zipped(text))
	}
	if since.Seq != benchSheets {
		c.tb.Fatalf("pulled %d sheets", since.Seq)
	}
	return time.Since(start)
}

// benchBatches are the requests of a push, ready to be sent: each with the checkpoint that the answer
// to the one before it gives, as a device would, so that nothing is sent back.
func benchBatches(tb testing.TB, ops []storage.Op, store string) (batches [][]byte, plain int) {
	tb.Helper()
	var since storage.Checkpoint
	var chain []byte
	for ; len(ops) > 0; ops = ops[benchBatch:] {
		text, err := json.Marshal(wire.SyncRequest{Dev: ops[0].Dev, Since: since, Ops: ops[:benchBatch]})
		if err != nil {
			tb.Fatal(err)
		}
		plain += len(text)
		batches = append(batches, zipped(text))
		for _, op := range ops[:benchBatch] {
			raw, err := json.Marshal(op)
			if err != nil {
				tb.Fatal(err)
			}
			sum := vault.Chain(chain, op.ID, raw)
			chain = sum[:]
		}
		since = storage.Checkpoint{Store: store, Seq: since.Seq + benchBatch, Chain: hex.EncodeToString(chain)}
	}
	return batches, plain
}

// BenchmarkSync pushes and pulls 10 000 sheets through the server and through the bare handler, in
// turns, and gives our pace as a share of the bare one's.
func BenchmarkSync(b *testing.B) {
	ops := benchOps(b)
	plain := 0
	var ours, bare [2]time.Duration // push, pull
	var c benchClient
	rounds := 0
	for b.Loop() {
		url, joined := benchServer(b, b.TempDir())
		batches, size := benchBatches(b, ops, joined.Store)
		plain = size
		floor := httptest.NewServer(newBare(b, b.TempDir()))
		c = benchClient{tb: b, url: url, token: joined.Token}
		f := benchClient{tb: b, url: floor.URL}
		bare[0] += f.push(batches)
		ours[0] += c.push(batches)
		pushed := c
		if pushed.got > benchSheets*100 {
			b.Fatalf("%d bytes came back from a push: sheets were sent back", pushed.got)
		}
		c.sent, c.got = 0, 0
		bare[1] += f.pull(ops[0].Dev)
		ours[1] += c.pull(ops[0].Dev)
		floor.Close()
		rounds++
		b.ReportMetric(float64(pushed.sent)/benchSheets, "bytes-up/sheet")
		b.ReportMetric(float64(c.got)/benchSheets, "bytes-down/sheet")
	}
	pace := func(d time.Duration) float64 { return float64(benchSheets*rounds) / d.Seconds() }
	b.ReportMetric(float64(plain)/benchSheets, "json-bytes/sheet")
	for i, name := range []string{"push", "pull"} {
		b.ReportMetric(pace(ours[i]), name+"/s")
		b.ReportMetric(pace(bare[i]), name+"-bare/s")
		b.ReportMetric(100*bare[i].Seconds()/ours[i].Seconds(), name+"-%of-bare")
	}
}
