package replicate_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/answer"
	"torchside/storage/memory"
	"torchside/storage/replicate"
	"torchside/storage/storagetest"
	"torchside/storage/vault/memvault"
	"torchside/storage/wire"
)

// home is a vault with one shop, as a peer.
func home(t *testing.T, seed uint64) (*memvault.Disk, answer.Shop) {
	t.Helper()
	disk, err := memvault.NewDisk(storagetest.NewSource(seed))
	if err != nil {
		t.Fatal(err)
	}
	v := disk.Open()
	shop, err := v.CreateShop(t.Context(), "home", storagetest.Start)
	if err != nil {
		t.Fatal(err)
	}
	return disk, answer.Shop{Vault: v, ID: shop.ID, Now: func() time.Time { return storagetest.Start }}
}

// device is a store with an author and an engine.
type device struct {
	*memory.Store
	author *storage.Author
	engine *replicate.Engine
}

func newDevice(s *memory.Store, local storage.Replica, peer replicate.Peer, seed uint64, opts replicate.Options) device {
	now := func() time.Time { return storagetest.Start }
	opts.Now, opts.Dev = now, "0195936f-0000-7000-8000-000000000000"
	return device{s, storage.NewAuthor(s, now, storagetest.NewSource(seed)), replicate.New(local, peer, opts)}
}

func plainDevice(peer replicate.Peer, seed uint64) device {
	s := memory.New()
	return newDevice(s, s, peer, seed, replicate.Options{Fields: func(kind string) bool { return kind == "torch" }})
}

func (d device) run(t *testing.T) replicate.Outcome {
	t.Helper()
	done, err := d.engine.Run(t.Context(), true)
	if err != nil {
		t.Fatalf("run: %v", err)
	}
	return done
}

func (d device) save(t *testing.T, body string, blobs ...storage.Hash) storage.Record {
	t.Helper()
	records, err := d.author.Write(t.Context(), storage.Draft{Kind: "torch", Schema: 1, Body: []byte(body), Blobs: blobs})
	if err != nil {
		t.Fatal(err)
	}
	return records[0]
}

func (d device) waits(t *testing.T) int {
	t.Helper()
	u, err := d.Usage(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return u.Waiting
}

func Example() {
	disk, _ := memvault.NewDisk(storagetest.NewSource(1))
	v := disk.Open()
	shop, _ := v.CreateShop(context.Background(), "home", storagetest.Start)
	peer := answer.Shop{Vault: v, ID: shop.ID, Now: time.Now}

	phone, tablet := plainDevice(peer, 1), plainDevice(peer, 2)
	_, _ = phone.author.Save(context.Background(), "torch", 1, []byte("as bought"))
	sent, _ := phone.engine.Run(context.Background(), true)
	got, _ := tablet.engine.Run(context.Background(), true)
	fmt.Println("sent", sent.Sent, "got", got.Got)
	// Output: sent 1 got 1
}

func TestRun_brings_two_devices_to_the_same_records_and_photos(t *testing.T) {
	_, peer := home(t, 1)
	phone, tablet := plainDevice(peer, 1), plainDevice(peer, 2)
	photo, err := phone.PutBlob(t.Context(), bytes.Repeat([]byte("photo"), 200_000)) // four pieces
	if err != nil {
		t.Fatal(err)
	}
	for i := range 450 { // three requests
		phone.save(t, fmt.Sprint("phone ", i))
	}
	phone.save(t, "with a photo", photo)
	tablet.save(t, "tablet")
	if done := phone.run(t); done.Sent != 451 || done.Photos != 1 || done.Waiting != 0 {
		t.Errorf("first run %+v", done)
	}
	if done := tablet.run(t); done.Sent != 1 || done.Got != 451 || done.Photos != 1 || done.AllPhotos != 1 {
		t.Errorf("the tablet's run %+v", done)
	}
	if done := phone.run(t); done.Got != 1 || done.Sent != 0 {
		t.Errorf("second run %+v", done)
	}
	for _, d := range []device{phone, tablet} {
		if data, err := d.Blob(t.Context(), photo); err != nil || len(data) != 1_000_000 || d.waits(t) != 0 {
			t.Errorf("photo of %d bytes, %v; %d wait", len(data), err, d.waits(t))
		}
		if u, err := d.Usage(t.Context()); err != nil || u.Records != 452 {
			t.Errorf("%d records, %v", u.Records, err)
		}
	}
	if done := phone.run(t); done.Sent+done.Got+done.AllPhotos != 0 {
		t.Errorf("a run with nothing to do did %+v", done)
	}
}

// counted notes what goes over the line.
type counted struct {
	replicate.Peer
	syncs, largest, pieces int
	fail                   func(call int) error
}

func (c *counted) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	c.syncs++
	c.largest = max(c.largest, len(q.Ops))
	if c.fail != nil {
		if err := c.fail(c.syncs); err != nil {
			return wire.SyncReply{}, err
		}
	}
	return c.Peer.Sync(ctx, q)
}

func (c *counted) PutPiece(ctx context.Context, h storage.Hash, at int64, data []byte, last bool) error {
	c.pieces++
	if c.fail != nil {
		if err := c.fail(c.pieces); err != nil {
			return err
		}
	}
	return c.Peer.PutPiece(ctx, h, at, data, last)
}

func (c *counted) GetPiece(ctx context.Context, h storage.Hash, at int64) (wire.Piece, error) {
	c.pieces++
	if c.fail != nil {
		if err := c.fail(c.pieces); err != nil {
			return wire.Piece{}, err
		}
	}
	return c.Peer.GetPiece(ctx, h, at)
}

func TestRun_takes_one_round_trip_for_each_two_hundred_changes_and_one_when_idle(t *testing.T) {
	_, peer := home(t, 2)
	c := &counted{Peer: peer}
	phone := plainDevice(c, 1)
	for i := range 1000 {
		phone.save(t, fmt.Sprint(i))
	}
	phone.run(t)
	if c.syncs != 5 || c.largest != 200 {
		t.Errorf("%d round trips with up to %d changes, want 5 with 200", c.syncs, c.largest)
	}
	c.syncs = 0
	phone.run(t)
	if c.syncs != 1 {
		t.Errorf("%d round trips when there was nothing to do", c.syncs)
	}
}

func TestRun_keeps_requests_below_the_limit_in_bytes(t *testing.T) {
	_, peer := home(t, 3)
	c := &counted{Peer: peer}
	phone := plainDevice(c, 1)
	escaped := string(bytes.Repeat([]byte{1}, storage.MaxBody)) // six bytes each as JSON
	for range 3 {
		phone.save(t, escaped)
		phone.save(t, string(bytes.Repeat([]byte("x"), 90_000)))
	}
	if done := phone.run(t); done.Sent != 6 || phone.waits(t) != 0 {
		t.Errorf("run %+v", done)
	}
	if c.largest > 2 {
		t.Errorf("%d large changes in one request", c.largest)
	}
}

func TestRun_refuses_only_the_change_that_is_too_large_for_the_vault(t *testing.T) {
	_, peer := home(t, 4)
	phone := plainDevice(narrow{peer}, 1)
	phone.save(t, "one")
	big := phone.save(t, string(bytes.Repeat([]byte("x"), 50_000)))
	for i := range 20 {
		phone.save(t, fmt.Sprint(i))
	}
	done := phone.run(t)
	refused, err := phone.Refusals(t.Context())
	if err != nil || done.Sent != 21 || done.Refused != 1 || len(refused) != 1 || refused[0].Op != big.Heads[0].ID || refused[0].Reason == "" {
		t.Errorf("run %+v, refused %v, %v", done, refused, err)
	}
	if done := phone.run(t); done.Sent != 0 || done.Refused != 1 || !slices.Equal(done.Reasons, []string{refused[0].Reason}) {
		t.Errorf("the next run forgets what stands refused, or sends it again: %+v", done)
	}
}

// narrow is a vault behind something that passes small messages only.
type narrow struct{ replicate.Peer }

func (n narrow) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	size := 0
	for _, op := range q.Ops {
		size += len(op.Body)
	}
	if size > 10_000 {
		return wire.SyncReply{}, wire.Errorf(wire.CodeTooLarge, "%d bytes", size)
	}
	return n.Peer.Sync(ctx, q)
}

func TestRun_says_when_the_vault_answers_for_fewer_changes_than_it_got(t *testing.T) {
	_, peer := home(t, 5)
	phone := plainDevice(dumb{peer}, 1)
	phone.save(t, "one")
	if _, err := phone.engine.Run(t.Context(), true); err == nil || phone.waits(t) != 1 {
		t.Errorf("error %v, %d wait", err, phone.waits(t))
	}
}

// dumb answers for nothing.
type dumb struct{ replicate.Peer }

func (d dumb) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	reply, err := d.Peer.Sync(ctx, q)
	reply.Acks = nil
	return reply, err
}

func TestRun_goes_on_after_any_lost_answer_without_sending_a_record_twice(t *testing.T) {
	errCut := errors.New("cut off")
	for cut := 1; cut <= 4; cut++ {
		_, peer := home(t, 6)
		c := &counted{Peer: peer, fail: func(call int) error {
			if call == cut {
				return errCut
			}
			return nil
		}}
		phone, tablet := plainDevice(c, 1), plainDevice(peer, 2)
		for i := range 500 {
			phone.save(t, fmt.Sprint(i))
		}
		if _, err := phone.engine.Run(t.Context(), true); cut <= 3 && !errors.Is(err, errCut) {
			t.Fatalf("cut at %d: error %v", cut, err)
		}
		c.fail = nil
		phone.run(t)
		if done := tablet.run(t); done.Got != 500 || phone.waits(t) != 0 {
			t.Errorf("cut at %d: the tablet got %d, %d wait", cut, done.Got, phone.waits(t))
		}
	}
}

func TestRun_ends_with_its_context(t *testing.T) {
	_, peer := home(t, 7)
	ctx, cancel := context.WithCancel(t.Context())
	c := &counted{Peer: peer, fail: func(call int) error {
		if call == 2 {
			cancel()
		}
		return nil
	}}
	phone := plainDevice(c, 1)
	for i := range 700 {
		phone.save(t, fmt.Sprint(i))
	}
	done, err := phone.engine.Run(ctx, true)
	if !errors.Is(err, context.Canceled) || done.Sent > 400 || phone.waits(t) != 700-done.Sent {
		t.Errorf("%v after %d of 700; %d wait", err, done.Sent, phone.waits(t))
	}
}

func TestRun_tells_how_far_it_is(t *testing.T) {
	_, peer := home(t, 8)
	var told []replicate.Progress
	s := memory.New()
	phone := newDevice(s, s, peer, 1, replicate.Options{Progress: func(p replicate.Progress) { told = append(told, p) }})
	photo, err := phone.PutBlob(t.Context(), []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 300 {
		phone.save(t, fmt.Sprint(i), photo)
	}
	phone.run(t)
	want := []replicate.Progress{{Sent: 200, Waiting: 100}, {Sent: 300}, {Sent: 300, Photos: 1, AllPhotos: 1}}
	if !slices.Equal(told, want) {
		t.Errorf("told %+v, want %+v", told, want)
	}
}

// What differs in one field each is settled by whoever meets it first, and by
// all in the same way; what differs in the same field stays for a person.
func TestRun_settles_rig_records_changed_in_different_fields(t *testing.T) {
	_, peer := home(t, 15)
	phone, tablet := plainDevice(peer, 1), plainDevice(peer, 2)
	torch := phone.save(t, `{"a":1,"b":1}`)
	clash := phone.save(t, `{"a":1}`)
	phone.run(t)
	tablet.run(t)
	for _, edit := range []struct {
		d    device
		rec  storage.Record
		body string
	}{{phone, torch, `{"a":2,"b":1}`}, {tablet, torch, `{"a":1,"b":2}`}, {phone, clash, `{"a":2}`}, {tablet, clash, `{"a":3}`}} {
		if _, err := edit.d.author.Update(t.Context(), edit.rec, 1, []byte(edit.body)); err != nil {
			t.Fatal(err)
		}
	}
	phone.run(t)
	if done := tablet.run(t); done.Merged != 1 {
		t.Errorf("the tablet settled %d records, want 1", done.Merged)
	}
	phone.run(t)
	for _, d := range []device{phone, tablet} {
		if r, err := d.Get(t.Context(), torch.ID); err != nil || string(r.Body) != `{"a":2,"b":2}` || len(r.Heads) != 1 {
			t.Errorf("the torch is %s with %d heads, %v", r.Body, len(r.Heads), err)
		}
		if r, err := d.Get(t.Context(), clash.ID); err != nil || r.Conflict != storage.ConflictEdits || len(r.Heads) != 2 {
			t.Errorf("the clash is %s with %d heads, %v", r.Body, len(r.Heads), err)
		}
	}
}

func TestRun_tells_how_far_the_clock_is_ahead(t *testing.T) {
	_, peer := home(t, 16)
	peer.Now = func() time.Time { return storagetest.Start.Add(-365 * 24 * time.Hour) }
	if done := plainDevice(peer, 1).run(t); done.Ahead != 365*24*time.Hour {
		t.Errorf("ahead by %v, want a year", done.Ahead)
	}
}

// An id with two contents, which no author makes: each side keeps its own, it
// is shown on both phones, and everything else goes through.
func TestRun_keeps_both_sides_of_a_forged_change_and_stops_for_nothing(t *testing.T) {
	_, peer := home(t, 17)
	phone, tablet := plainDevice(peer, 1), plainDevice(peer, 2)
	ops := storagetest.RandomOps(18, 3)
	forged := ops[1].Clone()
	forged.N += 1000
	if _, err := phone.Append(t.Context(), ops...); err != nil {
		t.Fatal(err)
	}
	if _, err := tablet.Append(t.Context(), ops[0], forged); err != nil {
		t.Fatal(err)
	}
	phone.run(t)
	tablet.run(t)
	all, err := tablet.Ops(t.Context(), "", 10)
	if err != nil || len(all) != 3 || !slices.ContainsFunc(all, forged.Equal) {
		t.Errorf("the tablet holds %d changes, %v", len(all), err)
	}
	if r, err := tablet.Refusals(t.Context()); err != nil || len(r) != 1 || r[0].Op != forged.ID {
		t.Errorf("the tablet shows %v, %v", r, err)
	}
	if done := tablet.run(t); done.Sent+done.Got != 0 || done.Refused != 1 {
		t.Errorf("the next run %+v", done)
	}
}
