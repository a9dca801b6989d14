package replicate_test

import (
	"bytes"
	"context"
	"errors"
	"testing"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/replicate"
	"torchside/storage/wire"
)

// large is a photo of seven pieces.
var large = bytes.Repeat([]byte("0123456789abcdef"), 6*wire.MaxPiece/16+10)

// withPhoto makes a device that holds a record with the large photo.
func withPhoto(t *testing.T, peer replicate.Peer) (device, storage.Hash) {
	t.Helper()
	d := plainDevice(peer, 1)
	h, err := d.PutBlob(t.Context(), large)
	if err != nil {
		t.Fatal(err)
	}
	d.save(t, "with photo", h)
	return d, h
}

func TestRun_goes_on_with_a_photo_where_it_was_cut_off(t *testing.T) {
	errCut := errors.New("cut off")
	once := func(at int) func(int) error {
		return func(call int) error {
			if call == at {
				return errCut
			}
			return nil
		}
	}
	_, peer := home(t, 31)
	up := &counted{Peer: peer, fail: once(4)}
	phone, h := withPhoto(t, up)
	if _, err := phone.engine.Run(t.Context(), true); !errors.Is(err, errCut) {
		t.Fatalf("error %v", err)
	}
	if done := phone.run(t); done.Photos != 1 || up.pieces != 8 {
		t.Errorf("sent with %d pieces, want 7 and the lost one; %+v", up.pieces, done)
	}
	down := &counted{Peer: peer, fail: once(5)}
	tablet := plainDevice(down, 2)
	if _, err := tablet.engine.Run(t.Context(), true); !errors.Is(err, errCut) {
		t.Fatalf("error %v", err)
	}
	tablet.run(t)
	if data, err := tablet.Blob(t.Context(), h); err != nil || !bytes.Equal(data, large) || down.pieces != 8 {
		t.Errorf("got %d bytes with %d pieces, %v", len(data), down.pieces, err)
	}
}

func TestRun_leaves_photos_for_a_connection_that_costs_nothing(t *testing.T) {
	_, peer := home(t, 32)
	c := &counted{Peer: peer}
	phone, _ := withPhoto(t, c)
	done, err := phone.engine.Run(t.Context(), false)
	if err != nil || done.Sent != 1 || done.Left != 1 || done.Photos != 0 || c.pieces != 0 {
		t.Errorf("run %+v with %d pieces, %v", done, c.pieces, err)
	}
	tablet := plainDevice(peer, 2)
	if done := tablet.run(t); done.Got != 1 || done.Photos != 0 || done.Later != 1 || done.Damaged != 0 {
		t.Errorf("the tablet, before the photo is in the vault: %+v", done)
	}
	phone.run(t)
	if done := tablet.run(t); done.Photos != 1 {
		t.Errorf("the tablet, after: %+v", done)
	}
}

// spoiling changes bytes on the way, so many times.
type spoiling struct {
	replicate.Peer
	up, down int
}

func spoiled(data []byte) []byte {
	data = bytes.Clone(data)
	data[len(data)/2] ^= 0x10
	return data
}

func (s *spoiling) PutPiece(ctx context.Context, h storage.Hash, at int64, data []byte, last bool) error {
	if s.up--; s.up >= 0 {
		data = spoiled(data)
	}
	return s.Peer.PutPiece(ctx, h, at, data, last)
}

func (s *spoiling) GetPiece(ctx context.Context, h storage.Hash, at int64) (wire.Piece, error) {
	piece, err := s.Peer.GetPiece(ctx, h, at)
	if s.down--; s.down >= 0 && err == nil {
		piece.Data = spoiled(piece.Data)
	}
	return piece, err
}

func TestRun_never_takes_a_photo_whose_bytes_changed_on_the_way(t *testing.T) {
	for _, c := range []struct {
		name     string
		up, down int
		arrives  bool
	}{
		{"once up", 1, 0, true}, {"once down", 0, 1, true}, {"always up", 1000, 0, false}, {"always down", 0, 1000, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, peer := home(t, 33)
			line := &spoiling{Peer: peer, up: c.up, down: c.down}
			phone, h := withPhoto(t, line)
			phone.run(t)
			tablet := plainDevice(line, 2)
			tablet.run(t)
			missing, err := tablet.MissingBlobs(t.Context(), h)
			if err != nil || (len(missing) == 0) != c.arrives {
				t.Errorf("missing %.8v, %v; want it to arrive: %v", missing, err, c.arrives)
			}
			line.up, line.down = 0, 0
			phone.run(t)
			tablet.run(t)
			if data, err := tablet.Blob(t.Context(), h); err != nil || !bytes.Equal(data, large) {
				t.Errorf("over a good line: %d bytes, %v", len(data), err)
			}
		})
	}
}

// damagedStore cannot read one attachment.
type damagedStore struct {
	storage.Replica
	bad storage.Hash
}

func (d damagedStore) Blob(ctx context.Context, h storage.Hash) ([]byte, error) {
	if h == d.bad {
		return nil, storage.ErrCorrupt
	}
	return d.Replica.Blob(ctx, h)
}

func TestRun_passes_over_a_photo_that_is_damaged_here(t *testing.T) {
	_, peer := home(t, 34)
	s := memory.New()
	bad, err := s.PutBlob(t.Context(), []byte("damaged"))
	if err != nil {
		t.Fatal(err)
	}
	good, err := s.PutBlob(t.Context(), []byte("good"))
	if err != nil {
		t.Fatal(err)
	}
	phone := newDevice(s, damagedStore{s, bad}, peer, 1, replicate.Options{})
	phone.save(t, "one", bad)
	phone.save(t, "two", good)
	if done := phone.run(t); done.Damaged != 1 || done.Sent != 2 || done.Photos != 1 || done.Later != 1 {
		t.Errorf("run %+v", done)
	}
	if _, complete, err := peer.Vault.BlobOffset(t.Context(), peer.ID, good); err != nil || !complete {
		t.Errorf("the good photo is not in the vault: %v", err)
	}
}

// A photo the full tablet cannot keep must not keep changes from coming in.
func TestRun_takes_changes_when_there_is_no_room_for_photos(t *testing.T) {
	_, peer := home(t, 35)
	phone, _ := withPhoto(t, peer)
	phone.run(t)
	s := memory.New()
	tablet := newDevice(s, noPhotos{s}, peer, 2, replicate.Options{})
	done, err := tablet.engine.Run(t.Context(), true)
	if !errors.Is(err, storage.ErrFull) || done.Got != 1 {
		t.Errorf("run %+v, %v", done, err)
	}
}

type noPhotos struct{ storage.Replica }

func (noPhotos) PutBlob(context.Context, []byte) (storage.Hash, error) { return "", storage.ErrFull }
