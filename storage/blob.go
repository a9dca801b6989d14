package storage

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"
)

// Hash names an attachment by its content: its SHA-256 as lower-case hex.
type Hash = string

// HashOf returns the name of data.
func HashOf(data []byte) Hash {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// MaxBlob is the size limit of one attachment in bytes: room for a photo as a
// camera makes it, little enough to be held in memory on a small phone.
const MaxBlob = 16 << 20

// OrphanAge is how long an attachment stays that no op refers to: a draft may
// still be open. A draft kept longer must put its attachments again when it
// is saved, or be named to DropOrphans.
const OrphanAge = 24 * time.Hour

// Blobs is the part of a Store that keeps attachments: photos and other files,
// outside the ops and named by their content. Put them first, then save the op
// that refers to them. An op may refer to an attachment that is not (yet) here.
type Blobs interface {
	// PutBlob stores data and returns its name, after it is durable. Storing
	// what is held already does no harm. ErrInvalid: no data, or more than
	// MaxBlob. ErrFull leaves everything else as it is: ops can still be saved
	// where there is room for them.
	PutBlob(ctx context.Context, data []byte) (Hash, error)

	// Blob returns an attachment. Its content is checked against its name.
	// ErrNotFound: it is not here. ErrCorrupt: it is, but with other content.
	Blob(ctx context.Context, h Hash) ([]byte, error)

	// Blobs returns up to limit attachments with a name above after, by
	// ascending name; "" starts, and an empty page ends. ErrInvalid: a limit
	// below 1.
	Blobs(ctx context.Context, after Hash, limit int) ([]BlobInfo, error)

	// MissingBlobs returns those of the given names that are not held, in the
	// order given.
	MissingBlobs(ctx context.Context, names ...Hash) ([]Hash, error)

	// DropOrphans removes the attachments that no op refers to, that were put
	// more than OrphanAge before now, and that are not among keep. It returns
	// their names.
	DropOrphans(ctx context.Context, now time.Time, keep ...Hash) ([]Hash, error)
}

// BlobInfo describes an attachment held.
type BlobInfo struct {
	Hash Hash
	Size int
	Put  time.Time // when it was last put, by the clock of the device
}

// CheckBlob returns ErrInvalid unless data may be an attachment.
func CheckBlob(data []byte) error {
	switch {
	case len(data) == 0:
		return fmt.Errorf("%w: an attachment without content", ErrInvalid)
	case len(data) > MaxBlob:
		return fmt.Errorf("%w: attachment of %d bytes, at most %d", ErrInvalid, len(data), MaxBlob)
	}
	return nil
}
