//go:build js

// Command peer is the page of the test: a device that joins, sends and fetches through the
// browser's fetch. It writes what came of it into the title of the page.
package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"syscall/js"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/wire"
)

func main() {
	title := "all well"
	if err := run(context.Background()); err != nil {
		title = "failed: " + err.Error()
	}
	js.Global().Get("document").Set("title", title)
}

func run(ctx context.Context) error {
	code := strings.TrimPrefix(js.Global().Get("location").Get("hash").String(), "#"+wire.JoinFragment)
	if _, err := remote.Pair(ctx, "", "00000000", "Phone"); !errors.Is(err, &wire.Error{Code: wire.CodeWrongCode}) {
		return fmt.Errorf("a wrong code: %w", err)
	}
	joined, err := remote.Pair(ctx, "", code, "Phone")
	if err != nil {
		return err
	}
	c := remote.New("", joined.Token)
	photo := bytes.Repeat([]byte("photo"), 100_000) // two pieces
	if err := exchange(ctx, c, photo); err != nil {
		return err
	}
	if err := photos(ctx, c, photo); err != nil {
		return err
	}
	if err := limits(ctx, c); err != nil {
		return err
	}
	if _, err := c.RevokeDevice(ctx, joined.Device.ID); err != nil {
		return err
	}
	if _, err := c.Devices(ctx); !errors.Is(err, &wire.Error{Code: wire.CodeRevoked}) {
		return fmt.Errorf("put out, it gets %v", err)
	}
	return nil
}

// exchange sends an op large enough to be packed and reads it back.
func exchange(ctx context.Context, c *remote.Client, photo []byte) error {
	const dev, id = "01890000-0000-7000-8000-00000000000a", "01890000-0001-7000-8000-000000000001"
	op := storage.Op{
		ID: id, Rec: id, Kind: "sheet", Schema: 1, Dev: dev, N: 1, HLC: storage.HLC{Milli: 1_700_000_000_000},
		At: "2026-03-01T08:00:00.000Z", Body: bytes.Repeat([]byte("body "), 1000), Blobs: []string{storage.HashOf(photo)},
	}
	r, err := c.Sync(ctx, wire.SyncRequest{Dev: dev, Ops: []storage.Op{op}})
	if err != nil || len(r.Acks) != 1 || r.Acks[0].Status != wire.Stored {
		return fmt.Errorf("pushing: %+v, %w", r.Acks, err)
	}
	r, err = c.Sync(ctx, wire.SyncRequest{Dev: dev})
	if err != nil || len(r.Ops) != 1 {
		return fmt.Errorf("pulling: %d ops, %w", len(r.Ops), err)
	}
	var back storage.Op
	if err := back.UnmarshalJSON(r.Ops[0]); err != nil || !back.Equal(op) {
		return fmt.Errorf("pulled %+v, %w", back, err)
	}
	return nil
}

func photos(ctx context.Context, c *remote.Client, photo []byte) error {
	h := storage.HashOf(photo)
	if err := c.PutPiece(ctx, h, 0, photo[:wire.MaxPiece], false); err != nil {
		return err
	}
	s, err := c.BlobState(ctx, h)
	if err != nil || s.Have != wire.MaxPiece {
		return fmt.Errorf("state %+v, %w", s, err)
	}
	if err := c.PutPiece(ctx, h, s.Have, photo[s.Have:], true); err != nil {
		return err
	}
	var got []byte
	for len(got) < len(photo) {
		piece, err := c.GetPiece(ctx, h, int64(len(got)))
		if err != nil || piece.Size != int64(len(photo)) {
			return fmt.Errorf("piece of %d, %w", piece.Size, err)
		}
		got = append(got, piece.Data...)
	}
	if !bytes.Equal(got, photo) {
		return errors.New("the photo came back changed")
	}
	return nil
}

// limits are what fetch must not do: wait for ever, and take another's answer for the server's.
func limits(ctx context.Context, c *remote.Client) error {
	short, end := context.WithTimeout(ctx, 200*time.Millisecond)
	defer end()
	if _, err := remote.New("/silent", "x").Devices(short); !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("a silent server: %v", err)
	}
	for _, base := range []string{"/portal", "/redirect", "/broken"} {
		_, err := remote.New(base, "x").Devices(ctx)
		if said := new(wire.Error); err == nil || errors.As(err, &said) {
			return fmt.Errorf("%s: %v", base, err)
		}
	}
	_, err := c.Devices(ctx)
	return err
}
