//go:build !js

package bolt

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// Compacted says how long the file of the vault was and is.
type Compacted struct{ Before, After int64 }

// compactFile is the name of the new file until it takes the vault's place.
const compactFile = vaultFile + ".compact" + partExt

// Of the new file: how much is put into it at a time, which is in memory until
// then, and by how much it grows, of which the last piece may stay empty.
const (
	compactBatch = 4 << 20
	compactGrow  = 1 << 20
)

// Compact writes the vault of a folder anew, without the room that a trim or
// years of changes left unused, and puts that in its place once it was
// read back and compared. Nothing in it changes, its id neither, so that no
// device notices. There must be room for both files at once.
//
// ErrInUse: a process has it open. fs.ErrNotExist: there is none.
// storage.ErrCorrupt: it is damaged. storage.ErrNewer: a newer program wrote it.
// storage.ErrFull: there is no room for the new file. After any error the vault
// is as it was; a copy that was cut short is deleted by the next Open or Compact.
func Compact(ctx context.Context, folder string) (Compacted, error) {
	c := &compactor{ctx: ctx, path: filepath.Join(folder, vaultFile), to: filepath.Join(folder, compactFile)}
	if _, err := os.Stat(c.path); err != nil {
		return Compacted{}, fmt.Errorf("no vault to compact: %w", err)
	}
	held, err := lock(folder, "stop the server first")
	if err != nil {
		return Compacted{}, err
	}
	if err = c.run(); err == nil {
		err = syncFolder(folder)
	}
	return c.done, errors.Join(err, held.Close())
}

// compactor is one Compact under way.
type compactor struct {
	ctx      context.Context
	path, to string
	done     Compacted
}

func (c *compactor) run() error {
	if err := dropPart(c.to); err != nil {
		return err
	}
	err := c.write()
	if err == nil {
		c.done.Before, c.done.After, err = sizes(c.path, c.to)
	}
	if err == nil {
		err = c.ctx.Err()
	}
	if err == nil {
		err = os.Rename(c.to, c.path) // in one step: whenever the power fails, there is one file or the other, and both hold the same
	}
	if err != nil {
		return errors.Join(full(err), dropPart(c.to))
	}
	return nil
}

// write makes the new file, syncs it, and compares it with the old one.
func (c *compactor) write() error {
	old, err := openToRead(c.path)
	if err != nil {
		return err
	}
	err = guard(c.path, func() error { return old.View(knownLayout(c.path)) })
	if err == nil {
		err = c.copy(old)
	}
	if err == nil {
		err = c.compare(old)
	}
	return errors.Join(err, old.Close())
}

// copy puts everything into the new file. It is synced once, at the end: nobody
// counts on it before.
func (c *compactor) copy(old *bbolt.DB) error {
	return guard(c.path, func() error {
		fresh, err := bbolt.Open(c.to, 0o600, &bbolt.Options{FreelistType: bbolt.FreelistMapType, NoSync: true, NoGrowSync: true})
		if err != nil {
			return fmt.Errorf("the new file %s: %w", c.to, full(err))
		}
		fresh.AllocSize = compactGrow
		if err = bbolt.Compact(fresh, old, compactBatch); err == nil {
			err = fresh.Sync()
		}
		if err != nil {
			err = fmt.Errorf("the new file %s: %w", c.to, full(err))
		}
		return errors.Join(err, fresh.Close())
	})
}

// compare reads the new file back: its pages first, then everything on them
// beside what the old one holds.
func (c *compactor) compare(old *bbolt.DB) error {
	fresh, err := openToRead(c.to)
	if err != nil {
		return err
	}
	err = guard(c.to, func() error {
		return old.View(func(was *bbolt.Tx) error {
			return fresh.View(func(is *bbolt.Tx) error {
				return c.same(was.Cursor().Bucket(), is.Cursor().Bucket())
			})
		})
	})
	return errors.Join(err, fresh.Close())
}

// same tells whether two buckets hold the same, and those within them.
func (c *compactor) same(was, is *bbolt.Bucket) error {
	if err := c.ctx.Err(); err != nil {
		return err
	}
	if was.Sequence() != is.Sequence() {
		return fmt.Errorf("the new file %s is not what was written: the disk may be failing", c.to)
	}
	old, fresh := was.Cursor(), is.Cursor()
	key, value := old.First()
	for k, v := fresh.First(); key != nil || k != nil; k, v = fresh.Next() {
		if !bytes.Equal(key, k) || (value == nil) != (v == nil) || !bytes.Equal(value, v) {
			return fmt.Errorf("the new file %s is not what was written: the disk may be failing", c.to)
		}
		if v == nil {
			if err := c.same(was.Bucket(key), is.Bucket(k)); err != nil {
				return err
			}
		}
		key, value = old.Next()
	}
	return nil
}

// openToRead opens a database nobody writes, after a look at all its pages.
func openToRead(path string) (db *bbolt.DB, err error) {
	if err := lookAtPages(path); err != nil {
		return nil, err
	}
	err = guard(path, func() (err error) {
		db, err = bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, Timeout: lockWait})
		return err
	})
	if errors.Is(err, berrors.ErrTimeout) {
		return nil, fmt.Errorf("%w: %s: stop the server first", ErrInUse, path)
	}
	if err != nil {
		return nil, fmt.Errorf("the vault %s cannot be opened: %w", path, err)
	}
	return db, nil
}

// knownLayout refuses a file whose layout this program does not know.
func knownLayout(path string) func(*bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		meta := tx.Bucket(metaBucket)
		if meta == nil || len(meta.Get(storeKey)) != 32 {
			return damage(path, "it does not say which vault it is")
		}
		if found := string(meta.Get(schemaKey)); !isKnown(found) {
			return newerLayout(path, found)
		}
		return nil
	}
}

// sizes are the lengths of two files.
func sizes(a, b string) (ofA, ofB int64, err error) {
	if ofA, err = fileSize(a); err == nil {
		ofB, err = fileSize(b)
	}
	return ofA, ofB, err
}

// dropPart deletes what is left of a copy that was cut short, if there is any.
func dropPart(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}
