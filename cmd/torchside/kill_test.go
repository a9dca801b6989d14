package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/rand"
	"flag"
	"fmt"
	"math/big"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/remote"
	"torchside/storage/wire"
)

// kills is how often the server is killed; .ci/serverkill.sh asks for more.
var kills = flag.Int("kills", 50, "how often the server is killed under load")

// child is a torchside in a process of its own.
type child struct {
	cmd *exec.Cmd
	url string
}

func startChild(t testing.TB, folder string) child {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	cmd := &exec.Cmd{Path: exe, Args: []string{"torchside-built", "serve", "--addr", "127.0.0.1:0", "--data", folder}, Stderr: &errs}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, url, ok := strings.Cut(lines.Text(), " is at "); ok {
			go func() {
				for lines.Scan() { // the server must not block on a full pipe
				}
			}()
			return child{cmd, url}
		}
	}
	t.Fatalf("the server did not start: %v: %s", cmd.Wait(), errs.String())
	return child{}
}

// kill ends the process as a power cut would, as far as one process can know.
func (c child) kill() {
	_ = c.cmd.Process.Kill()
	_ = c.cmd.Wait() // "signal: killed" is what was asked for
}

// load pushes through one device until an error, and remembers what was promised.
type load struct {
	token string
	dev   storage.ID
	n     uint64

	acked   map[storage.ID]bool
	batches [][]storage.ID          // whole or not at all
	photos  map[storage.Hash][]byte // completed
}

func randomNumber(below int64) int64 {
	n, err := rand.Int(rand.Reader, big.NewInt(below))
	if err != nil {
		panic(err) // rand.Reader is documented never to fail
	}
	return n.Int64()
}

func (l *load) newID(t testing.TB) storage.ID {
	id, err := storage.NewID(storage.HLC{Milli: time.Now().UnixMilli()}, rand.Reader)
	if err != nil {
		t.Error(err)
	}
	return id
}

// run writes until the server is gone.
func (l *load) run(ctx context.Context, t *testing.T, url string, since storage.Checkpoint) {
	c := remote.New(url, l.token)
	for {
		q := wire.SyncRequest{Dev: l.dev, Since: since}
		var ids []storage.ID
		photo := fmt.Appendf(nil, "photo %d of %s", l.n, l.dev)
		for i := range 1 + randomNumber(20) {
			l.n++
			op := storage.Op{
				ID: l.newID(t), Rec: l.newID(t), Kind: "sheet", Schema: 1, Dev: l.dev, N: l.n,
				HLC: storage.HLC{Milli: time.Now().UnixMilli()}, At: "2026-03-01T08:00:00.000Z", Body: []byte(strings.Repeat("x", int(randomNumber(2000)))),
			}
			if i == 0 {
				op.Blobs = []string{storage.HashOf(photo)}
			}
			q.Ops, ids = append(q.Ops, op), append(ids, op.ID)
		}
		l.batches = append(l.batches, ids)
		reply, err := c.Sync(ctx, q)
		if err != nil {
			return
		}
		if reply.Mismatch {
			t.Error("the vault has forgotten a checkpoint it gave out")
			return
		}
		for _, a := range reply.Acks {
			if a.Status != wire.Stored {
				t.Errorf("%+v", a)
			}
			l.acked[a.Op] = true
		}
		if since = reply.Next; randomNumber(4) == 0 {
			if c.PutPiece(ctx, storage.HashOf(photo), 0, photo, true) != nil {
				return
			}
			l.photos[storage.HashOf(photo)] = photo
		}
	}
}

// survey reads all of the vault: what was promised is there, and batches are whole or absent.
func survey(t testing.TB, url string, since storage.Checkpoint, seen map[storage.ID]bool, loads []*load) storage.Checkpoint {
	t.Helper()
	c := remote.New(url, loads[0].token)
	for more := true; more; {
		reply, err := c.Sync(t.Context(), wire.SyncRequest{Dev: loads[0].dev, Since: since})
		if err != nil || reply.Mismatch {
			t.Fatalf("pulling after a kill: mismatch %v, %v", reply.Mismatch, err)
		}
		for _, raw := range reply.Ops {
			seen[wire.OpID(raw)] = true
		}
		since, more = reply.Next, reply.More
	}
	for _, l := range loads {
		l.verify(t, c, seen)
	}
	return since
}

func (l *load) verify(t testing.TB, c *remote.Client, seen map[storage.ID]bool) {
	t.Helper()
	for id := range l.acked {
		if !seen[id] {
			t.Fatalf("op %s was acknowledged and is gone", id)
		}
	}
	for _, ids := range l.batches {
		there := 0
		for _, id := range ids {
			if seen[id] {
				there++
			}
		}
		if there != 0 && there != len(ids) {
			t.Fatalf("half a batch: %d of %d", there, len(ids))
		}
	}
	for h, want := range l.photos {
		piece, err := c.GetPiece(t.Context(), h, 0)
		if err != nil || !bytes.Equal(piece.Data, want) {
			t.Fatalf("photo %s was acknowledged: %q, %v", h, piece.Data, err)
		}
	}
	l.batches, l.photos = nil, map[storage.Hash][]byte{} // seen once is enough: the whole log is read again at the end
}

// A server killed at any moment under load has lost nothing it acknowledged, and its vault is sound.
func TestServe_killed_at_random_moments_loses_nothing_acknowledged(t *testing.T) {
	folder := t.TempDir()
	loads, seen, since := []*load{}, map[storage.ID]bool{}, storage.Checkpoint{}
	for range 2 {
		loads = append(loads, &load{acked: map[storage.ID]bool{}, photos: map[storage.Hash][]byte{}})
	}
	server := startChild(t, folder)
	for i, l := range loads {
		l.dev = l.newID(t)
		out, _ := ownerLine(t, folder, "pair")
		joined, err := remote.Pair(t.Context(), server.url, shownCode(t, out), fmt.Sprintf("Phone %d", i))
		if err != nil {
			t.Fatal(err)
		}
		l.token = joined.Token
	}
	for i := range *kills {
		var wait sync.WaitGroup
		for _, l := range loads {
			wait.Go(func() { l.run(t.Context(), t, server.url, since) })
		}
		time.Sleep(time.Duration(randomNumber(int64(60 * time.Millisecond)))) // the moment of the kill, not a wait for anything
		server.kill()
		wait.Wait()
		if i%10 == 9 || i == *kills-1 {
			report, err := bolt.Check(t.Context(), folder)
			if err != nil || !report.Sound() {
				t.Fatalf("after kill %d: %+v, %v", i+1, report.Findings, err)
			}
		}
		server = startChild(t, folder)
		since = survey(t, server.url, since, seen, loads)
		if t.Failed() {
			break
		}
	}
	clear(seen)
	survey(t, server.url, storage.Checkpoint{}, seen, loads)
	server.kill()
	t.Logf("%d kills: %d ops acknowledged and present, %d in the vault", *kills, len(loads[0].acked)+len(loads[1].acked), len(seen))
}
