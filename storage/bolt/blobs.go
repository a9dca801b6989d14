//go:build !js

package bolt

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// blobsFolder is where attachments are, within the data folder.
const blobsFolder = "blobs"

// partialFolder holds those still arriving, within the folder of a shop.
const partialFolder = "partial"

// blobPath is where an attachment is once it is held. The shop must be one and
// the name a hash: neither can then leave the folder.
func blobPath(folder string, shop vault.ShopID, h storage.Hash) string {
	return filepath.Join(folder, blobsFolder, string(shop), h[:2], h[2:4], h)
}

func partialPath(folder string, shop vault.ShopID, h storage.Hash) string {
	return filepath.Join(folder, blobsFolder, string(shop), partialFolder, h)
}

// Want implements vault.Vault.
func (v *Vault) Want(ctx context.Context, id vault.ShopID, limit int) (names []storage.Hash, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		c := b.Bucket(wantedBucket).Cursor()
		for key, _ := c.First(); key != nil && len(names) < limit; key, _ = c.Next() {
			names = append(names, hex.EncodeToString(key))
		}
		return nil
	})
	return names, err
}

// known is what the database says of an attachment.
type known struct {
	held, wanted bool
	size         int64 // of a held one
	gone         error // a vault.GoneError of one that was let go of
}

// lookUp reads it. A wanted attachment whose file is in place already, as after
// a power cut, is taken in on the way.
func (v *Vault) lookUp(ctx context.Context, id vault.ShopID, h storage.Hash) (k known, err error) {
	key, err := hex.DecodeString(h)
	if err != nil {
		return k, err
	}
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		k.wanted = b.Bucket(wantedBucket).Get(key) != nil
		if k.size, k.held, err = blobSize(b, key); err == nil && b.Bucket(goneBucket).Get(key) != nil {
			line, err := lineOf(b)
			k.gone = &vault.GoneError{Hash: h, Tag: line.Tag()}
			return err
		}
		return err
	})
	if err != nil || !k.wanted {
		return k, err
	}
	path := blobPath(v.folder, id, h)
	if _, err := os.Stat(path); err != nil || checkFile(path, h) != nil {
		return k, nil
	}
	if err := syncFolders(path); err != nil { // the move may not have been made durable before the cut
		return k, fmt.Errorf("attachment %s: %w", h, full(err))
	}
	size, err := v.note(ctx, id, h, path)
	return known{held: true, size: size}, err
}

// blobSize reads the row of a held attachment.
func blobSize(b *bbolt.Bucket, key []byte) (size int64, held bool, err error) {
	row := b.Bucket(blobsBucket).Get(key)
	switch {
	case row == nil:
		return 0, false, nil
	case len(row) != 8:
		return 0, false, fmt.Errorf("%w: the size of attachment %x", storage.ErrCorrupt, key)
	}
	return int64(binary.BigEndian.Uint64(row)), true, nil
}

// BlobOffset implements vault.Vault.
func (v *Vault) BlobOffset(ctx context.Context, id vault.ShopID, h storage.Hash) (have int64, complete bool, err error) {
	if err := vault.CheckHash(h); err != nil {
		return 0, false, err
	}
	lock := v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	k, err := v.lookUp(ctx, id, h)
	if err == nil {
		err = k.gone
	}
	if err != nil || k.held {
		return k.size, k.held, err
	}
	have, err = fileSize(partialPath(v.folder, id, h))
	return have, false, err
}

// piece returns the lock of an attachment.
func (v *Vault) piece(h storage.Hash) interface {
	Lock()
	Unlock()
} {
	digit, _ := strconv.ParseUint(h[:1], 16, 4) // a digit, by CheckHash
	return &v.pieces[digit]
}

// fileSize is 0 for a file that is not there.
func fileSize(path string) (int64, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("an attachment: %w", err)
	}
	return info.Size(), nil
}

// WriteBlob implements vault.Vault.
func (v *Vault) WriteBlob(ctx context.Context, id vault.ShopID, h storage.Hash, offset int64, data []byte, last bool) error {
	if err := vault.CheckPiece(h, offset, data); err != nil {
		return err
	}
	lock := v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	k, err := v.lookUp(ctx, id, h)
	if err != nil {
		return err
	}
	path := partialPath(v.folder, id, h)
	have, err := fileSize(path)
	switch {
	case err != nil:
		return err
	case k.gone != nil:
		return k.gone
	case k.held:
		return &vault.OffsetError{Have: k.size, Complete: true}
	case offset != have && offset != 0:
		return &vault.OffsetError{Have: have}
	case !k.wanted:
		return fmt.Errorf("attachment %s: %w", h, vault.ErrNotWanted)
	}
	if err := v.writePiece(path, offset, data, last); err != nil {
		return fmt.Errorf("attachment %s: %w", h, full(err))
	}
	if !last {
		return nil
	}
	return v.complete(ctx, id, h, path)
}

// writePiece adds to a file. What a full disk left of the piece is cut off. When
// the file cannot be synced, all of it goes: which of the pieces before did not
// reach the disk is not known, and syncing again would not tell.
func (v *Vault) writePiece(path string, offset int64, data []byte, sync bool) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	err = f.Truncate(offset)
	if err == nil {
		if _, err = f.WriteAt(data, offset); err != nil {
			err = errors.Join(err, f.Truncate(offset))
		}
	}
	if err == nil && sync {
		if err = v.syncFile(f); err != nil {
			err = errors.Join(err, f.Truncate(0))
		}
	}
	return errors.Join(err, f.Close())
}

// complete checks an attachment that has arrived, moves it to its name and
// notes it.
func (v *Vault) complete(ctx context.Context, id vault.ShopID, h storage.Hash, part string) error {
	if err := checkFile(part, h); err != nil {
		if errors.Is(err, vault.ErrHash) {
			err = errors.Join(err, os.Remove(part))
		}
		return err
	}
	path := blobPath(v.folder, id, h)
	if err := moveBlob(part, path); err != nil {
		return fmt.Errorf("attachment %s: %w", h, full(err))
	}
	_, err := v.note(ctx, id, h, path)
	return err
}

// moveBlob gives a file its name, durably.
func moveBlob(from, to string) error {
	folder := filepath.Dir(to)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return syncFolders(to)
}

// syncFolders makes the name of an attachment durable, and those of its folders: cd, ab, shop, blobs may all be new.
func syncFolders(path string) error {
	for range 5 {
		path = filepath.Dir(path)
		if err := syncFolder(path); err != nil {
			return err
		}
	}
	return nil
}

// checkFile returns ErrHash unless a file has the content its name says.
func checkFile(path string, h storage.Hash) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("attachment %s: %w", h, err)
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return fmt.Errorf("attachment %s: %w", h, err)
	}
	if hex.EncodeToString(sum.Sum(nil)) != h {
		return fmt.Errorf("attachment %s: %w", h, vault.ErrHash)
	}
	return nil
}

// note writes into the database that an attachment is held, and returns its size.
func (v *Vault) note(ctx context.Context, id vault.ShopID, h storage.Hash, path string) (int64, error) {
	size, err := fileSize(path)
	if err != nil {
		return 0, err
	}
	key, err := hex.DecodeString(h)
	if err != nil {
		return 0, err
	}
	return size, v.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		if b.Bucket(wantedBucket).Get(key) == nil {
			return errNothing
		}
		c, err := readCounts(b.Get(countsKey))
		if err != nil {
			return err
		}
		c.Wanted--
		c.Blobs++
		c.BlobBytes += size
		return errorsOf(b.Bucket(wantedBucket).Delete(key), b.Bucket(blobsBucket).Put(key, number(uint64(size))), b.Put(countsKey, c.bytes()))
	})
}

// OpenBlob implements vault.Vault.
func (v *Vault) OpenBlob(ctx context.Context, id vault.ShopID, h storage.Hash) (vault.Blob, int64, error) {
	if err := vault.CheckHash(h); err != nil {
		return nil, 0, err
	}
	lock := v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	k, err := v.lookUp(ctx, id, h)
	if err != nil {
		return nil, 0, err
	}
	if k.gone != nil {
		return nil, 0, k.gone
	}
	if !k.held {
		return nil, 0, fmt.Errorf("attachment %s: %w", h, vault.ErrNoBlob)
	}
	f, err := os.Open(blobPath(v.folder, id, h))
	if errors.Is(err, fs.ErrNotExist) {
		err = errors.Join(fmt.Errorf("attachment %s: %w: its file is missing, it is wanted again", h, vault.ErrNoBlob), v.forget(ctx, id, h))
	}
	if err != nil {
		return nil, 0, err
	}
	info, err := f.Stat()
	if err == nil && info.Size() != k.size {
		err = fmt.Errorf("%w: attachment %s has %d bytes, not %d", storage.ErrCorrupt, h, info.Size(), k.size)
	}
	if err != nil {
		return nil, 0, errors.Join(err, f.Close())
	}
	return f, k.size, nil
}

// forget makes an attachment whose file is lost a wanted one again.
func (v *Vault) forget(ctx context.Context, id vault.ShopID, h storage.Hash) error {
	key, err := hex.DecodeString(h)
	if err != nil {
		return err
	}
	return v.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		size, held, err := blobSize(b, key)
		if err != nil {
			return err
		}
		if !held {
			return errNothing
		}
		c, err := readCounts(b.Get(countsKey))
		if err != nil {
			return err
		}
		c.Wanted++
		c.Blobs--
		c.BlobBytes -= size
		return errorsOf(b.Bucket(blobsBucket).Delete(key), b.Bucket(wantedBucket).Put(key, present), b.Put(countsKey, c.bytes()))
	})
}
