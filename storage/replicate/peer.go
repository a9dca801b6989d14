package replicate

import (
	"context"

	"torchside/storage"
	"torchside/storage/wire"
)

// Peer is the vault as a device reaches it: over HTTP in the app, directly in
// tests. Errors are a *wire.Error where the vault answered, and anything else
// where it was not reached or its answer was lost; then what was asked may have
// been done. Every call may be repeated.
type Peer interface {
	// Sync is one exchange; see package wire.
	Sync(ctx context.Context, req wire.SyncRequest) (wire.SyncReply, error)

	// BlobState tells how much of an attachment the vault has.
	BlobState(ctx context.Context, h storage.Hash) (wire.BlobState, error)

	// PutPiece adds up to wire.MaxPiece bytes at the offset BlobState gave; last
	// tells that no more follow. wire.CodeOffset: the vault has another number
	// of bytes. wire.CodeBadHash: all is there and does not have that name.
	// wire.CodeNotFound: none of its ops names it.
	PutPiece(ctx context.Context, h storage.Hash, offset int64, data []byte, last bool) error

	// GetPiece reads up to wire.MaxPiece bytes from an offset.
	// wire.CodeNotFound: the vault does not have all of it.
	GetPiece(ctx context.Context, h storage.Hash, offset int64) (wire.Piece, error)
}
