package server_test

import (
	"bytes"
	"errors"
	"testing"

	"torchside/storage"
	"torchside/storage/wire"
)

func TestBlob_pieces_in_order_and_with_the_right_content_only(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	photo := bytes.Repeat([]byte("0123456789abcdef"), wire.MaxPiece/8) // two pieces
	h := storage.HashOf(photo)
	put := func(offset int64, data []byte, last bool, want wire.Code) {
		t.Helper()
		err := p.PutPiece(t.Context(), h, offset, data, last)
		if want == "" && err != nil || want != "" && !errors.Is(err, &wire.Error{Code: want}) {
			t.Errorf("at %d: %v, want %q", offset, err, want)
		}
	}
	put(0, photo[:wire.MaxPiece], false, wire.CodeNotFound) // no op names it yet
	p.push(t, m.dev, m.op(t, "with a photo", h))
	put(0, photo[:wire.MaxPiece+1], false, wire.CodeTooLarge)
	put(5, photo[5:100], false, wire.CodeOffset)
	put(0, photo[:wire.MaxPiece], false, "")
	put(wire.MaxPiece+1, photo[wire.MaxPiece+1:], true, wire.CodeOffset)
	if s, err := p.BlobState(t.Context(), h); err != nil || s.Have != wire.MaxPiece || s.Complete {
		t.Errorf("state %+v, %v", s, err)
	}
	if _, err := p.GetPiece(t.Context(), h, 0); !errors.Is(err, &wire.Error{Code: wire.CodeNotFound}) {
		t.Errorf("half a photo is handed out: %v", err)
	}
	put(wire.MaxPiece, append([]byte("x"), photo[wire.MaxPiece+1:]...), true, wire.CodeBadHash)
	put(0, photo[:wire.MaxPiece], false, "")
	put(wire.MaxPiece, photo[wire.MaxPiece:], true, "")
	var got []byte
	for int64(len(got)) < int64(len(photo)) {
		piece, err := p.GetPiece(t.Context(), h, int64(len(got)))
		if err != nil || len(piece.Data) == 0 || piece.Size != int64(len(photo)) {
			t.Fatalf("%d bytes of %d, %v", len(piece.Data), piece.Size, err)
		}
		got = append(got, piece.Data...)
	}
	if !bytes.Equal(got, photo) {
		t.Error("the photo came back changed")
	}
	for _, query := range []string{"?offset=-1", "?offset=x", "?offset=99999999999999999999", "?offset=0&last=maybe"} {
		_, refused, body := w.ask(asked{method: "PUT", path: wire.BlobPath(h) + query, token: p.token, body: []byte("x"),
			header: map[string]string{"Content-Type": "application/octet-stream"}})
		if refused.Code != wire.CodeMalformed {
			t.Errorf("%s: %s", query, body)
		}
	}
}
