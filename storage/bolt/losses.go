//go:build !js

package bolt

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"go.etcd.io/bbolt"

	"torchside/storage/vault"
)

// losses lists what the present vault holds and the backup does not.
func (r *restorer) losses() (losses []string, err error) {
	db, err := openFile(filepath.Join(r.staging, vaultFile), lockWait)
	if err != nil {
		return nil, err
	}
	err = db.View(func(staged *bbolt.Tx) error {
		if newer := r.newerSchema(); newer != "" {
			losses = append(losses, "all it holds, as a newer torchside wrote it (schema "+newer+")")
		}
		r.readOld(func(tx *bbolt.Tx) error {
			shops, err := shopList(tx)
			for _, s := range shops {
				if text := lost(tx, staged, s.ID); text != "" {
					losses = append(losses, fmt.Sprintf("%s of the shop %q", text, s.Name))
				}
			}
			return err
		})
		return nil
	})
	return losses, errors.Join(err, db.Close())
}

// lost says how many changes and attachments of a shop are not in a backup, ""
// if none.
func lost(old, staged *bbolt.Tx, id vault.ShopID) string {
	own := old.Bucket(shopsBucket).Bucket([]byte(id))
	var other *bbolt.Bucket
	if shops := staged.Bucket(shopsBucket); shops != nil {
		other = shops.Bucket([]byte(id))
	}
	var parts []string
	if n := lostChanges(own, other); n > 0 {
		parts = append(parts, counted(n, "change", "changes"))
	}
	if n := lostTexts(own, other); n > 0 {
		parts = append(parts, counted(n, "older version", "older versions"))
	}
	if n := lostBlobs(own, other); n > 0 {
		parts = append(parts, counted(n, "photo or file", "photos or files"))
	}
	return strings.Join(parts, " and ")
}

func counted(n uint64, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// lostChanges counts those behind the end of the other log, or all of them if
// the two have nothing in common.
func lostChanges(own, other *bbolt.Bucket) uint64 {
	log := own.Bucket(logBucket)
	last := log.Sequence()
	if other == nil {
		return last
	}
	n := min(last, other.Bucket(logBucket).Sequence())
	a, b := entryAt(own, n), entryAt(other, n)
	if n > 0 && a.sound() && b.sound() && bytes.Equal(a.chain(), b.chain()) {
		return last - n
	}
	return last
}

// lostTexts counts the ops both logs have whose text only the own one has. Of
// different logs lostChanges counts all.
func lostTexts(own, other *bbolt.Bucket) (n uint64) {
	if other == nil || other.Bucket(droppedBucket) == nil {
		return 0
	}
	_ = other.Bucket(droppedBucket).ForEach(func(key, value []byte) error { // which returns only our errors
		a, b := entry(own.Bucket(logBucket).Get(key)), entry(value)
		if b.sound() && a.sound() && bytes.Equal(a.chain(), b.chain()) {
			n++
		}
		return nil
	})
	return n
}

// lostBlobs counts the attachments held that the other shop does not even know.
// One that it wants is in place already: it is taken in when it is asked for.
func lostBlobs(own, other *bbolt.Bucket) (n uint64) {
	_ = own.Bucket(blobsBucket).ForEach(func(key, _ []byte) error { // which returns only our errors
		if other == nil || other.Bucket(blobsBucket).Get(key) == nil && other.Bucket(wantedBucket).Get(key) == nil {
			n++
		}
		return nil
	})
	return n
}

// newerSchema is the schema of the present vault if this program does not know it, else "".
func (r *restorer) newerSchema() (newer string) {
	if r.old == nil {
		return ""
	}
	err := guard(r.path, func() error {
		return r.old.View(func(tx *bbolt.Tx) error {
			if meta := tx.Bucket(metaBucket); meta != nil {
				if s := string(meta.Get(schemaKey)); !isKnown(s) {
					newer = strconv.Quote(s)
				}
			}
			return nil
		})
	})
	if err != nil {
		r.done.Unknown = true
	}
	return newer
}

// readOld reads the present vault. One that cannot be read, or is of an older
// schema, has nothing to tell.
func (r *restorer) readOld(f func(*bbolt.Tx) error) {
	if r.old == nil {
		return
	}
	err := guard(r.path, func() error {
		return r.old.View(func(tx *bbolt.Tx) error {
			if !hasShops(tx) {
				return nil
			}
			return f(tx)
		})
	})
	if err != nil {
		r.done.Unknown = true
	}
}
