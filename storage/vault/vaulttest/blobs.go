package vaulttest

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"

	"torchside/storage"
	"torchside/storage/vault"
)

// photo is an attachment of n bytes that a shop wants.
func (b *bench) photo(shop vault.ShopID, n int) (data []byte, h storage.Hash) {
	b.Helper()
	data = make([]byte, n)
	_, _ = b.src.Read(data) // a ChaCha8 source never fails
	h = storage.HashOf(data)
	b.push(shop, vault.Stored, b.op(h))
	return data, h
}

// holds checks that an attachment is there, from each of some places on.
func (b *bench) holds(shop vault.ShopID, h storage.Hash, data []byte) {
	b.Helper()
	for _, from := range []int64{0, int64(len(data) / 2)} {
		f, size, err := b.v.OpenBlob(b.ctx(), shop, h)
		b.try(err)
		_, err = f.Seek(from, io.SeekStart)
		b.try(err)
		read, err := io.ReadAll(f)
		b.try(err)
		b.try(f.Close())
		if size != int64(len(data)) || !bytes.Equal(read, data[from:]) {
			b.Fatalf("attachment %s: %d bytes from %d on, of %d", h, len(read), from, size)
		}
	}
	have, complete, err := b.v.BlobOffset(b.ctx(), shop, h)
	if err != nil || have != int64(len(data)) || !complete {
		b.Fatalf("attachment %s: offset %d, %v, %v", h, have, complete, err)
	}
}

func pieces(b *bench) {
	shop := b.shop("Home")
	data, h := b.photo(shop, 700_000)
	const piece = 256 << 10
	for at := 0; at < len(data); at += piece {
		have, complete, err := b.v.BlobOffset(b.ctx(), shop, h)
		if err != nil || have != int64(at) || complete {
			b.Fatalf("before the piece at %d: %d, %v, %v", at, have, complete, err)
		}
		if _, _, err := b.v.OpenBlob(b.ctx(), shop, h); !errors.Is(err, vault.ErrNoBlob) {
			b.Fatalf("half an attachment is seen: %v", err)
		}
		end := min(at+piece, len(data))
		b.try(b.v.WriteBlob(b.ctx(), shop, h, int64(at), data[at:end], end == len(data)))
	}
	b.holds(shop, h, data)
	b.reopen()
	b.holds(shop, h, data)
}

func continued(b *bench) {
	shop := b.shop("Home")
	data, h := b.photo(shop, 1000)
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, data[:400], false))
	b.reopen()
	have, complete, err := b.v.BlobOffset(b.ctx(), shop, h)
	if err != nil || have != 400 || complete {
		b.Fatalf("after reopening: %d, %v, %v", have, complete, err)
	}
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, []byte("begun anew"), false))
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, data[:10], false))
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 10, data[10:], true))
	b.holds(shop, h, data)
}

func wrongPlace(b *bench) {
	shop := b.shop("Home")
	data, h := b.photo(shop, 1000)
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, data[:400], false))
	check := func(at int64, have int64, complete bool) {
		b.Helper()
		err := b.v.WriteBlob(b.ctx(), shop, h, at, data[400:], true)
		var o *vault.OffsetError
		if !errors.As(err, &o) || o.Have != have || o.Complete != complete || o.Error() == "" {
			b.Errorf("a piece at %d: got %v, want an OffsetError of %d", at, err, have)
		}
	}
	check(399, 400, false)
	check(401, 400, false)
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 400, data[400:], true))
	check(400, 1000, true)
	check(0, 1000, true)
	b.holds(shop, h, data)
}

func wrongHash(b *bench) {
	shop := b.shop("Home")
	data, h := b.photo(shop, 1000)
	wrong := slices.Clone(data)
	wrong[500] ^= 1
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, wrong[:600], false))
	if err := b.v.WriteBlob(b.ctx(), shop, h, 600, wrong[600:], true); !errors.Is(err, vault.ErrHash) {
		b.Errorf("got %v, want ErrHash", err)
	}
	if have, complete, err := b.v.BlobOffset(b.ctx(), shop, h); err != nil || have != 0 || complete {
		b.Errorf("afterwards %d, %v, %v: want nothing held", have, complete, err)
	}
	b.try(b.v.WriteBlob(b.ctx(), shop, h, 0, data, true))
	b.holds(shop, h, data)
}

func notWanted(b *bench) {
	shop := b.shop("Home")
	data := []byte("nobody's")
	if err := b.v.WriteBlob(b.ctx(), shop, storage.HashOf(data), 0, data, true); !errors.Is(err, vault.ErrNotWanted) {
		b.Errorf("got %v, want ErrNotWanted", err)
	}
}

func badNames(b *bench) {
	shop := b.shop("Home")
	h := storage.HashOf([]byte("x"))
	for _, bad := range []string{"", "x", "../../../../etc/passwd", strings.ToUpper(h), h[:62] + "/.", h + "0", h[:63], "..%2f" + h[5:], h[:62] + "\x00a"} {
		_, _, offset := b.v.BlobOffset(b.ctx(), shop, bad)
		_, _, opened := b.v.OpenBlob(b.ctx(), shop, bad)
		written := b.v.WriteBlob(b.ctx(), shop, bad, 0, []byte("x"), true)
		for _, err := range []error{offset, opened, written} {
			if !errors.Is(err, storage.ErrInvalid) {
				b.Errorf("name %q: got %v, want ErrInvalid", bad, err)
			}
		}
	}
	_, h = b.photo(shop, 10)
	for _, c := range []struct {
		at   int64
		data []byte
	}{
		{-1, []byte("x")}, {0, nil}, {storage.MaxBlob, []byte("x")}, {0, make([]byte, storage.MaxBlob+1)},
		{1 << 62, []byte("x")}, {1<<63 - 1, []byte("x")},
	} {
		if err := b.v.WriteBlob(b.ctx(), shop, h, c.at, c.data, false); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("%d bytes at %d: got %v, want ErrInvalid", len(c.data), c.at, err)
		}
	}
}

func wanted(b *bench) {
	shop := b.shop("Home")
	var photos [][]byte
	var names []storage.Hash
	for range 5 {
		data, h := b.photo(shop, 50)
		photos, names = append(photos, data), append(names, h)
	}
	b.push(shop, vault.Stored, b.op(names[0], names[1])) // named twice, wanted once
	b.try(b.v.WriteBlob(b.ctx(), shop, names[2], 0, photos[2], true))
	b.try(b.v.WriteBlob(b.ctx(), shop, names[3], 0, photos[3][:10], false))
	b.push(shop, vault.Stored, b.op(names[2])) // held already
	b.reopen()
	want := []storage.Hash{names[0], names[1], names[3], names[4]}
	slices.Sort(want)
	for _, limit := range []int{1, 3, 4, 100} {
		got, err := b.v.Want(b.ctx(), shop, limit)
		b.try(err)
		if !slices.Equal(got, want[:min(limit, 4)]) {
			b.Errorf("wants %v, want the first %d of %v", got, limit, want)
		}
	}
	if _, err := b.v.Want(b.ctx(), shop, 0); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("limit 0: got %v, want ErrInvalid", err)
	}
}
