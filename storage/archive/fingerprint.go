package archive

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"torchside/storage"
)

// Fingerprint returns one number, as lower-case hex, for everything a store
// holds: the SHA-256 of all ops in their one JSON form, a line each by ascending
// id, followed by the names of all attachments, a line each by ascending name.
// Every attachment is read and must be what its name says. Two stores with the
// same fingerprint hold the same history, whatever way it came to them.
// Errors are those of the store, storage.ErrCorrupt for a damaged attachment.
func Fingerprint(ctx context.Context, s storage.Store) (string, error) {
	sum := sha256.New()
	c := newCounter(sum)
	if err := stored(ctx, s, c.op); err != nil {
		return "", fmt.Errorf("fingerprint: %w", err)
	}
	if err := c.buffer.Flush(); err != nil {
		return "", fmt.Errorf("fingerprint: %w", err)
	}
	lost, err := storedBlobs(ctx, s, func(name storage.Hash, _ []byte) error {
		_, err := sum.Write([]byte(name + "\n"))
		return err
	})
	if err == nil && len(lost) > 0 {
		err = fmt.Errorf("attachment %s: %w", lost[0], storage.ErrCorrupt)
	}
	if err != nil {
		return "", fmt.Errorf("fingerprint: %w", err)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
