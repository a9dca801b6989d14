package answer

import (
	"context"
	"errors"
	"io"

	"torchside/storage"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// BlobState tells how much of an attachment the vault has.
func (s Shop) BlobState(ctx context.Context, h storage.Hash) (wire.BlobState, error) {
	have, complete, err := s.Vault.BlobOffset(ctx, s.ID, h)
	if err != nil {
		return wire.BlobState{}, wireError(err)
	}
	return wire.BlobState{Have: have, Complete: complete}, nil
}

// PutPiece adds a piece of an attachment.
func (s Shop) PutPiece(ctx context.Context, h storage.Hash, offset int64, data []byte, last bool) error {
	if len(data) > wire.MaxPiece {
		return wire.Errorf(wire.CodeTooLarge, "a piece of %d bytes, at most %d", len(data), wire.MaxPiece)
	}
	if err := s.Vault.WriteBlob(ctx, s.ID, h, offset, data, last); err != nil {
		return wireError(err)
	}
	return nil
}

// GetPiece reads a piece of an attachment. An offset at or behind its end
// gives no data and its size.
func (s Shop) GetPiece(ctx context.Context, h storage.Hash, offset int64) (wire.Piece, error) {
	if offset < 0 {
		return wire.Piece{}, wire.Errorf(wire.CodeMalformed, "an offset of %d bytes, from 0", offset)
	}
	blob, size, err := s.Vault.OpenBlob(ctx, s.ID, h)
	if err != nil {
		return wire.Piece{}, wireError(err)
	}
	defer blob.Close() // it was only read
	piece := wire.Piece{Size: size, Data: make([]byte, max(0, min(wire.MaxPiece, size-offset)))}
	if len(piece.Data) == 0 {
		return piece, nil
	}
	if _, err := blob.Seek(offset, io.SeekStart); err != nil {
		return wire.Piece{}, wireError(err)
	}
	if _, err := io.ReadFull(blob, piece.Data); err != nil {
		return wire.Piece{}, wireError(err)
	}
	return piece, nil
}

// kinds are the codes of the vault's errors, and what a person can do. Those of
// the medium are told without what they wrap, which may name files.
var kinds = []struct {
	err    error
	code   wire.Code
	do     string
	medium bool
}{
	{storage.ErrFull, wire.CodeFull, "free space on the disk of the server; nothing was lost", true},
	{storage.ErrClosed, wire.CodeUnavailable, "try again in a moment", true},
	{storage.ErrLost, wire.CodeUnavailable, "look at the server's log, then start the server again", true},
	{storage.ErrCorrupt, wire.CodeInternal, "stop the server and run: torchside check", true},
	{storage.ErrInvalid, wire.CodeMalformed, "", false},
	{vault.ErrNoBlob, wire.CodeNotFound, "", false},
	{vault.ErrNotWanted, wire.CodeNotFound, "", false},
	{vault.ErrNoShop, wire.CodeNotFound, "", false},
	{vault.ErrHash, wire.CodeBadHash, "send it again from the start", false},
}

// wireError makes an error of a vault fit to be sent: of a kind that is not
// known it says only that something failed.
func wireError(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	if at := (*vault.OffsetError)(nil); errors.As(err, &at) {
		return wire.Errorf(wire.CodeOffset, "%v", at)
	}
	if gone := (*vault.GoneError)(nil); errors.As(err, &gone) {
		return &wire.Error{Code: wire.CodeNotFound, Message: gone.Error(), Gone: gone.Tag}
	}
	for _, k := range kinds {
		switch {
		case !errors.Is(err, k.err):
		case k.medium:
			return &wire.Error{Code: k.code, Message: k.err.Error(), Do: k.do}
		default:
			return &wire.Error{Code: k.code, Message: err.Error(), Do: k.do}
		}
	}
	failed := &wire.Error{Code: wire.CodeInternal, Message: "the vault failed", Do: "look at the server's log, and run: torchside check"}
	return failed.Because(err)
}
