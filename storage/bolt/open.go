//go:build !js

package bolt

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"torchside/storage"
	"torchside/storage/vault"
)

// lockWait is long enough for a server that is just stopping, short enough for
// a person.
const lockWait = 2 * time.Second

// partExt ends the names of files that are still being written.
const partExt = ".part"

// ErrInUse is what Open returns while another process holds the vault.
var ErrInUse = errors.New("the vault is in use by another process")

// Open opens the vault in a folder, or makes one. One process at a time may
// hold it.
//
// ErrInUse: another one does. storage.ErrNewer: a newer program wrote it.
// DamageError: it cannot be read. storage.ErrFull: there is no room for a new
// one, or for the copy that is made before an older layout is changed.
func Open(folder string) (*Vault, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the data folder cannot be made: %w", full(err))
	}
	held, err := lock(folder, "two writers would damage it: stop the other torchside, or give this one another --data folder")
	if err != nil {
		return nil, err
	}
	v, err := openLocked(folder, held)
	if err != nil {
		return nil, errors.Join(err, held.Close())
	}
	return v, nil
}

// openLocked opens the vault in a folder whose lock is held; Close gives that back.
func openLocked(folder string, held *os.File) (*Vault, error) {
	path := filepath.Join(folder, vaultFile)
	_ = dropPart(filepath.Join(folder, compactFile)) // it only takes up room, as no Compact runs while the lock is held
	db, file, err := openDB(path, lockWait)
	if err != nil {
		return nil, err
	}
	v := &Vault{folder: folder, path: path, lock: held, putBack: writeMetas, syncFile: (*os.File).Sync}
	if err = v.take(db, file); err == nil {
		err = v.prepare()
	}
	if err == nil { // which may have written
		v.metas, err = v.readMetas()
	}
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return v, nil
}

// openFile opens the database alone, new or of any schema.
func openFile(path string, wait time.Duration) (*bbolt.DB, error) {
	db, _, err := openDB(path, wait)
	return db, err
}

// openDB opens the database, and gives the file that it is in too.
func openDB(path string, wait time.Duration) (db *bbolt.DB, file *os.File, err error) {
	if err := examine(path); err != nil {
		return nil, nil, err
	}
	keep := func(name string, how int, mode os.FileMode) (f *os.File, err error) {
		file, err = os.OpenFile(name, how, mode)
		return file, err
	}
	err = guard(path, func() error {
		db, err = bbolt.Open(path, 0o600, &bbolt.Options{Timeout: wait, FreelistType: bbolt.FreelistMapType, OpenFile: keep, InitialMmapSize: headroom(path)})
		return err
	})
	if err == nil {
		return db, file, nil
	}
	if file != nil {
		_ = file.Close() // what the library leaves open when it panics; the first error says more
	}
	return nil, nil, openError(path, err)
}

// openError says what an error of the library means.
func openError(path string, err error) error {
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return fmt.Errorf("%w: %s: two writers would damage it: stop the other torchside, or give this one another --data folder", ErrInUse, path)
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrVersionMismatch), errors.Is(err, berrors.ErrChecksum):
		return damage(path, "its beginning is not that of a vault")
	}
	return fmt.Errorf("the vault %s cannot be opened: %w", path, full(err))
}

// prepare identifies the file and brings an older layout up to date.
func (v *Vault) prepare() error {
	old, err := v.schemaOf()
	if err != nil {
		return err
	}
	if old != "" && !isKnown(old) {
		return newerLayout(v.path, old)
	}
	if old != schema {
		if err := v.upgrade(old); err != nil {
			return err
		}
	}
	return guard(v.path, func() error {
		return v.db.View(func(tx *bbolt.Tx) error {
			v.id = string(tx.Bucket(metaBucket).Get(storeKey))
			for _, name := range topBuckets {
				if tx.Bucket(name) == nil {
					return damage(v.path, fmt.Sprintf("its part %q is missing", name))
				}
			}
			return nil
		})
	})
}

// newerLayout is the error of a layout this program does not know.
func newerLayout(path, found string) error {
	return fmt.Errorf("the vault %s has schema %q and this program knows %q: %w: use a newer torchside", path, found, schema, storage.ErrNewer)
}

// schemaOf reads the layout's number, "" in a new file.
func (v *Vault) schemaOf() (found string, err error) {
	err = guard(v.path, func() error {
		return v.db.View(func(tx *bbolt.Tx) error {
			b := tx.Bucket(metaBucket)
			if b == nil {
				if key, _ := tx.Cursor().First(); key != nil {
					return damage(v.path, "it does not say which vault it is")
				}
				return nil
			}
			found = string(b.Get(schemaKey))
			if found == "" || len(b.Get(storeKey)) != 32 {
				return damage(v.path, "it does not say which vault it is")
			}
			return nil
		})
	})
	return found, err
}

// upgrade brings a new file, or one of an older schema, to the present one. The
// older file is copied first.
func (v *Vault) upgrade(old string) error {
	if old != "" {
		if err := copyFile(v.path, v.path+".schema"+old); err != nil {
			return fmt.Errorf("the vault %s could not be copied before its layout is changed: %w", v.path, full(err))
		}
	}
	err := guard(v.path, func() error { return v.db.Update(layOut) })
	if err != nil {
		return fmt.Errorf("the vault %s: %w", v.path, full(err))
	}
	return nil
}

// layOut makes what is missing of the present schema.
func layOut(tx *bbolt.Tx) error {
	meta, err := tx.CreateBucketIfNotExists(metaBucket)
	if err != nil {
		return err
	}
	if meta.Get(storeKey) == nil {
		id, err := vault.RandomID(rand.Reader)
		if err != nil {
			return err
		}
		if err := meta.Put(storeKey, []byte(id)); err != nil {
			return err
		}
	}
	for _, name := range topBuckets {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	if err := layOutShops(tx); err != nil {
		return err
	}
	return meta.Put(schemaKey, []byte(schema))
}

// layOutShops makes what is missing of each shop.
func layOutShops(tx *bbolt.Tx) error {
	shops, err := shopList(tx)
	for _, s := range shops {
		b := tx.Bucket(shopsBucket).Bucket([]byte(s.ID))
		c, bad := readCounts(b.Get(countsKey))
		if err := errorsOf(bad, b.Put(countsKey, c.bytes())); err != nil {
			return err
		}
		for _, name := range historyBuckets {
			if _, err := b.CreateBucketIfNotExists(name); err != nil {
				return err
			}
		}
	}
	return err
}

// copyFile copies a file so that the copy is there in full or not at all.
func copyFile(from, to string) error {
	src, err := os.Open(from)
	if err != nil {
		return err
	}
	defer src.Close()
	return writeWhole(to, func(w io.Writer) error {
		_, err := io.Copy(w, src)
		return err
	})
}

// writeWhole makes a file that is there in full and synced, or not at all.
func writeWhole(path string, write func(io.Writer) error) error {
	part := path + partExt
	f, err := os.OpenFile(part, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(part, path)
	}
	if err != nil {
		_ = os.Remove(part) // the first error says more
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// syncFolder makes the names in a folder durable.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" { // which offers no such thing
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
