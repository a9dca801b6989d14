//go:build !js

package bolt

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// PutBlob implements storage.Store. The time of the file is when it was put.
func (s *Store) PutBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	if err := storage.CheckBlob(data); err != nil {
		return "", err
	}
	h := storage.HashOf(data)
	lock := s.v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	if err := s.view(ctx, func(*bbolt.Bucket) error { return nil }); err != nil {
		return "", err
	}
	path := blobPath(s.v.folder, s.id, h)
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = writeWhole(path, func(w io.Writer) error { _, err := w.Write(data); return err })
	}
	if err == nil {
		err = syncFolders(path)
	}
	if err != nil {
		return "", fmt.Errorf("attachment %s: %w", h, full(err))
	}
	key, err := hex.DecodeString(h)
	if err != nil {
		return "", err
	}
	if _, err := s.v.note(ctx, s.id, h, path); err != nil {
		return "", err
	}
	return h, s.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, s.id)
		if err != nil {
			return err
		}
		if b.Bucket(blobsBucket).Get(key) != nil {
			return errNothing
		}
		return b.Bucket(storeBucket).Bucket(looseBucket).Put(key, number(uint64(len(data))))
	})
}

// here tells whether an attachment is held, named by an op or not.
func here(b *bbolt.Bucket, h storage.Hash) bool {
	key, err := hex.DecodeString(h)
	return err == nil && (b.Bucket(blobsBucket).Get(key) != nil || b.Bucket(storeBucket).Bucket(looseBucket).Get(key) != nil)
}

// Blob implements storage.Store.
func (s *Store) Blob(ctx context.Context, h storage.Hash) (data []byte, err error) {
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		if vault.CheckHash(h) != nil || !here(b, h) {
			return fmt.Errorf("attachment %s: %w", h, storage.ErrNotFound)
		}
		if data, err = os.ReadFile(blobPath(s.v.folder, s.id, h)); err != nil {
			return fmt.Errorf("%w: attachment %s: %w", storage.ErrCorrupt, h, err)
		}
		if storage.HashOf(data) != h {
			return fmt.Errorf("%w: attachment %s has another content than its name says", storage.ErrCorrupt, h)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return data, nil
}

// Blobs implements storage.Store.
func (s *Store) Blobs(ctx context.Context, last storage.Hash, limit int) (page []storage.BlobInfo, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		var names []storage.Hash
		for _, rows := range []*bbolt.Bucket{b.Bucket(blobsBucket), b.Bucket(storeBucket).Bucket(looseBucket)} {
			names = append(names, namesAfter(rows, last, limit)...)
		}
		slices.Sort(names)
		for _, h := range names[:min(limit, len(names))] {
			info, err := os.Stat(blobPath(s.v.folder, s.id, h))
			if err != nil {
				return fmt.Errorf("%w: attachment %s: %w", storage.ErrCorrupt, h, err)
			}
			page = append(page, storage.BlobInfo{Hash: h, Size: int(info.Size()), Put: info.ModTime()})
		}
		return nil
	})
	return page, err
}

// namesAfter lists up to limit names of a bucket above one.
func namesAfter(rows *bbolt.Bucket, last storage.Hash, limit int) (names []storage.Hash) {
	c := rows.Cursor()
	start, _ := hex.DecodeString(last) // what is no name lists from its first digits on
	for key, _ := c.Seek(start); key != nil && len(names) < limit; key, _ = c.Next() {
		if h := hex.EncodeToString(key); h > last {
			names = append(names, h)
		}
	}
	return names
}

// MissingBlobs implements storage.Store.
func (s *Store) MissingBlobs(ctx context.Context, names ...storage.Hash) (missing []storage.Hash, err error) {
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		for _, h := range names {
			if !here(b, h) {
				missing = append(missing, h)
			}
		}
		return nil
	})
	return missing, err
}

// DropOrphans implements storage.Store. One at a time, each under the lock of
// its attachment: else one that is put again meanwhile would lose its file.
func (s *Store) DropOrphans(ctx context.Context, now time.Time, keep ...storage.Hash) (dropped []storage.Hash, err error) {
	var names []storage.Hash
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		loose := b.Bucket(storeBucket).Bucket(looseBucket)
		names = namesAfter(loose, "", rowCount(loose))
		return nil
	})
	for _, h := range names {
		if err != nil {
			break
		}
		if slices.Contains(keep, h) {
			continue
		}
		var gone bool
		if gone, err = s.dropOrphan(ctx, h, now); gone {
			dropped = append(dropped, h)
		}
	}
	return dropped, err
}

// dropOrphan deletes one attachment if no op names it by now and it is old.
func (s *Store) dropOrphan(ctx context.Context, h storage.Hash, now time.Time) (gone bool, err error) {
	lock := s.v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	path := blobPath(s.v.folder, s.id, h)
	info, err := os.Stat(path)
	if err == nil && now.Sub(info.ModTime()) <= storage.OrphanAge {
		return false, nil
	}
	key, err := hex.DecodeString(h)
	if err != nil {
		return false, err
	}
	err = s.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, s.id)
		if err != nil {
			return err
		}
		loose := b.Bucket(storeBucket).Bucket(looseBucket)
		if gone = loose.Get(key) != nil; !gone {
			return errNothing // an op has come that names it
		}
		return loose.Delete(key)
	})
	if err != nil || !gone {
		return false, err
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return true, fmt.Errorf("attachment %s: %w", h, err)
	}
	return true, nil
}
