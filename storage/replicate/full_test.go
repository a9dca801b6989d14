package replicate_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/replicate"
	"torchside/storage/wire"
)

// fullStore has no room: while full, no write of an exchange is done. It notes
// the largest page of ops that was read.
type fullStore struct {
	storage.Replica
	full    bool
	largest int
}

// room fails when there is none.
func (f *fullStore) room() error {
	if f.full {
		return storage.ErrFull
	}
	return nil
}

func (f *fullStore) Waiting(ctx context.Context, after storage.ID, limit int) ([]storage.Op, error) {
	ops, err := f.Replica.Waiting(ctx, after, limit)
	f.largest = max(f.largest, len(ops))
	return ops, err
}

func (f *fullStore) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (storage.Appended, error) {
	if f.full {
		return storage.Appended{}, storage.ErrFull
	}
	return f.Replica.Pulled(ctx, next, ops...)
}

func (f *fullStore) Append(ctx context.Context, ops ...storage.Op) (storage.Appended, error) {
	if f.full {
		return storage.Appended{}, storage.ErrFull
	}
	return f.Replica.Append(ctx, ops...)
}

func (f *fullStore) PutBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	if f.full {
		return "", storage.ErrFull
	}
	return f.Replica.PutBlob(ctx, data)
}

func (f *fullStore) Sent(ctx context.Context, ids ...storage.ID) error {
	return errors.Join(f.room(), f.Replica.Sent(ctx, when(!f.full, ids)...))
}

func (f *fullStore) Refuse(ctx context.Context, refused ...storage.Refusal) error {
	return errors.Join(f.room(), f.Replica.Refuse(ctx, when(!f.full, refused)...))
}

func (f *fullStore) BlobsSent(ctx context.Context, names ...storage.Hash) error {
	return errors.Join(f.room(), f.Replica.BlobsSent(ctx, when(!f.full, names)...))
}

func (f *fullStore) Requeue(ctx context.Context) error {
	if f.full {
		return storage.ErrFull
	}
	return f.Replica.Requeue(ctx)
}

func when[T any](ok bool, list []T) []T {
	if ok {
		return list
	}
	return nil
}

// fullPhone is a device that can be full.
func fullPhone(peer replicate.Peer) (device, *fullStore) {
	s := memory.New()
	full := &fullStore{Replica: s}
	return newDevice(s, full, peer, 1, replicate.Options{Fields: func(kind string) bool { return kind == "torch" }}), full
}

// hands wants a run of a full device to end in ErrFull after it did what needs no room.
func hands(t *testing.T, d device) replicate.Outcome {
	t.Helper()
	done, err := d.engine.Run(t.Context(), true)
	if !errors.Is(err, storage.ErrFull) {
		t.Errorf("error %v, want ErrFull", err)
	}
	return done
}

// A full device must still be able to hand over what it holds, all of it, and
// never reads all of it at once.
func TestRun_sends_changes_and_photos_from_a_device_that_is_full(t *testing.T) {
	_, peer := home(t, 9)
	tablet := plainDevice(peer, 2)
	theirs, err := tablet.PutBlob(t.Context(), []byte("theirs"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		tablet.save(t, fmt.Sprint("tablet ", i), theirs)
	}
	tablet.run(t)

	phone, full := fullPhone(peer)
	ours, err := phone.PutBlob(t.Context(), []byte("ours"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 650 {
		phone.save(t, fmt.Sprint(i), ours)
	}
	full.full = true
	if done := hands(t, phone); done.Sent != 650 || done.Got != 0 || done.Photos != 1 || done.AllPhotos != 1 {
		t.Errorf("run %+v", done)
	}
	if full.largest > wire.MaxOps+1 {
		t.Errorf("%d changes were read at once", full.largest)
	}
	if done := tablet.run(t); done.Got != 650 || done.Photos != 1 {
		t.Errorf("the tablet's run %+v", done)
	}
	full.full = false
	if done := phone.run(t); done.Got != 5 || done.Photos != 2 || phone.waits(t) != 0 { // ours once more, as that could not be noted
		t.Errorf("after there was room: %+v, %d wait", done, phone.waits(t))
	}
}

// It is full before anything of the vault is known, and what others made fits
// nowhere: what the vault refuses is still told, and holds up nothing.
func TestRun_tells_what_was_refused_on_a_device_that_is_full(t *testing.T) {
	_, peer := home(t, 20)
	line := &refusing{Peer: peer}
	phone, full := fullPhone(line)
	for i := range 300 {
		phone.save(t, fmt.Sprint(i))
	}
	full.full, line.refuse = true, true
	done := hands(t, phone)
	if done.Sent != 299 || done.Refused != 1 || len(done.Reasons) != 1 || done.Reasons[0] != "not this one" {
		t.Errorf("run %+v", done)
	}
	full.full = false
	if done := phone.run(t); done.Refused != 1 || phone.waits(t) != 0 {
		t.Errorf("after there was room: %+v, %d wait", done, phone.waits(t))
	}
}

// refusing takes all but the first change of a run.
type refusing struct {
	replicate.Peer
	refuse bool
	never  storage.ID
}

func (p *refusing) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	if p.refuse && p.never == "" {
		p.never = q.Ops[0].ID
	}
	rest := q
	rest.Ops = nil
	for _, op := range q.Ops {
		if op.ID != p.never {
			rest.Ops = append(rest.Ops, op)
		}
	}
	reply, err := p.Peer.Sync(ctx, rest)
	if len(rest.Ops) < len(q.Ops) {
		reply.Acks = append(reply.Acks, wire.Ack{Op: p.never, Status: wire.Rejected, Reason: "not this one"})
	}
	return reply, err
}

// The vault was replaced while the device is full: it can note nothing, and
// still refills the vault.
func TestRun_fills_a_new_vault_from_a_device_that_is_full(t *testing.T) {
	_, peer := home(t, 21)
	phone, full := fullPhone(peer)
	photo, err := phone.PutBlob(t.Context(), []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 450 {
		phone.save(t, fmt.Sprint(i), photo)
	}
	phone.run(t)
	full.full = true
	_, other := home(t, 22)
	engine := replicate.New(full, other, replicate.Options{Now: other.Now, Dev: "0195936f-0000-7000-8000-000000000000"})
	done, err := engine.Run(t.Context(), true)
	if !errors.Is(err, storage.ErrFull) || !done.Replaced || done.Sent != 450 || done.Photos != 1 {
		t.Errorf("run %+v, %v", done, err)
	}
	tablet := plainDevice(other, 2)
	if done := tablet.run(t); done.Got != 450 || done.Photos != 1 {
		t.Errorf("the tablet's run %+v", done)
	}
}

// Room runs out between what came in and what was to be made of it: the next
// run with room settles it.
func TestRun_settles_later_what_it_had_no_room_to_settle(t *testing.T) {
	_, peer := home(t, 23)
	phone, full := fullPhone(peer)
	tablet := plainDevice(peer, 2)
	torch := phone.save(t, `{"a":1,"b":1}`)
	phone.run(t)
	tablet.run(t)
	for _, edit := range []struct {
		d    device
		body string
	}{{phone, `{"a":2,"b":1}`}, {tablet, `{"a":1,"b":2}`}} {
		if _, err := edit.d.author.Update(t.Context(), torch, 1, []byte(edit.body)); err != nil {
			t.Fatal(err)
		}
	}
	tablet.run(t)
	full.Replica = noAppend{full.Replica}
	hands(t, phone)
	full.Replica = full.Replica.(noAppend).Replica
	if done := phone.run(t); done.Merged != 1 {
		t.Errorf("after there was room: %+v", done)
	}
}

// noAppend has room for nothing of its own.
type noAppend struct{ storage.Replica }

func (noAppend) Append(context.Context, ...storage.Op) (storage.Appended, error) {
	return storage.Appended{}, storage.ErrFull
}

// What an earlier run was refused is told by every later one, also one that
// ends before the vault is reached.
func TestRun_tells_earlier_refusals_when_the_vault_is_not_reached(t *testing.T) {
	_, peer := home(t, 24)
	door := &counted{Peer: peer, fail: func(int) error { return errors.New("no route") }}
	phone := plainDevice(door, 1)
	op := phone.save(t, "one").Heads[0].ID
	if err := phone.Refuse(t.Context(), storage.Refusal{Op: op, Reason: "too much"}); err != nil {
		t.Fatal(err)
	}
	phone.save(t, "two")
	done, err := phone.engine.Run(t.Context(), true)
	if err == nil || !done.Counted || done.Refused != 1 || len(done.Reasons) != 1 || done.Waiting != 1 {
		t.Errorf("run %+v, %v", done, err)
	}
	if err := phone.Close(); err != nil {
		t.Fatal(err)
	}
	if done, err := phone.engine.Run(t.Context(), true); err == nil || done.Counted {
		t.Errorf("a run without a store: %+v, %v", done, err)
	}
}
