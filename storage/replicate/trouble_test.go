package replicate_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"torchside/storage/answer"
	"torchside/storage/replicate"
	"torchside/storage/wire"
)

func TestRun_fills_a_vault_that_was_put_back_or_replaced(t *testing.T) {
	disk, peer := home(t, 10)
	phone := plainDevice(peer, 1)
	phone.save(t, "before")
	phone.run(t)
	backup := disk.Snapshot()
	photo, err := phone.PutBlob(t.Context(), []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	phone.save(t, "after", photo)
	phone.run(t)

	disk.Restore(backup)
	old := peer
	old.Vault = disk.Open()
	_, empty := home(t, 11)
	for _, other := range []answer.Shop{old, empty} {
		engine := replicate.New(phone.Store, other, replicate.Options{Now: other.Now, Dev: "0195936f-0000-7000-8000-000000000000"})
		done, err := engine.Run(t.Context(), true)
		if err != nil || !done.Replaced || done.Sent != 2 || done.Photos != 1 {
			t.Errorf("run %+v, %v", done, err)
		}
		if _, complete, err := other.Vault.BlobOffset(t.Context(), other.ID, photo); err != nil || !complete {
			t.Errorf("the photo is not in the vault: %v", err)
		}
	}
}

// The backup was made between the change and its photo: the places match, and
// only the vault can tell that the photo is missing.
func TestRun_sends_a_photo_again_that_the_vault_lost(t *testing.T) {
	disk, peer := home(t, 12)
	phone := plainDevice(peer, 1)
	photo, err := phone.PutBlob(t.Context(), []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	phone.save(t, "with photo", photo)
	if done, err := phone.engine.Run(t.Context(), false); err != nil || done.Left != 1 {
		t.Fatalf("run %+v, %v", done, err)
	}
	backup := disk.Snapshot()
	phone.run(t)
	disk.Restore(backup)
	peer.Vault = disk.Open()
	engine := replicate.New(phone.Store, peer, replicate.Options{Now: peer.Now, Dev: "0195936f-0000-7000-8000-000000000000"})
	done, err := engine.Run(t.Context(), true)
	if err != nil || done.Replaced || done.Photos != 1 {
		t.Errorf("run %+v, %v", done, err)
	}
	if _, complete, err := peer.Vault.BlobOffset(t.Context(), peer.ID, photo); err != nil || !complete {
		t.Errorf("the photo is not in the vault: %v", err)
	}
}

func TestRun_gives_up_when_two_vaults_answer_in_turn(t *testing.T) {
	_, one := home(t, 13)
	_, two := home(t, 14)
	phone := plainDevice(&turns{peers: []answer.Shop{one, two}}, 1)
	for i := range 500 {
		phone.save(t, fmt.Sprint(i))
	}
	if done, err := phone.engine.Run(t.Context(), true); err == nil || !done.Replaced {
		t.Errorf("run %+v, %v", done, err)
	}
}

type turns struct {
	answer.Shop
	peers []answer.Shop
	n     int
}

func (p *turns) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	p.n++
	return p.peers[p.n%2].Sync(ctx, q)
}

// A device that was put out, or whose token is not known any more, keeps all
// it has, and what it makes goes on to wait.
func TestRun_loses_nothing_when_the_device_is_not_let_in(t *testing.T) {
	_, peer := home(t, 19)
	door := &counted{Peer: peer}
	phone := plainDevice(door, 1)
	phone.save(t, "before")
	phone.run(t)
	at, err := phone.Checkpoint(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	phone.save(t, "after")
	door.fail = func(int) error { return wire.Errorf(wire.CodeUnauthorized, "put out") }
	if _, err := phone.engine.Run(t.Context(), true); !errors.Is(err, &wire.Error{Code: wire.CodeUnauthorized}) {
		t.Errorf("error %v", err)
	}
	now, err := phone.Checkpoint(t.Context())
	if u, _ := phone.Usage(t.Context()); err != nil || now != at || u.Ops != 2 || u.Waiting != 1 {
		t.Errorf("checkpoint %v, usage %+v, %v", now, u, err)
	}
}
