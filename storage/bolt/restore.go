//go:build !js

package bolt

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"torchside/storage/vault"
)

// Restored says what Restore did.
type Restored struct {
	Made    time.Time // of the backup
	Stats   vault.Stats
	Missing int    // attachments that were lost before the backup was made, and are wanted again
	Aside   string // where the vault that was there is now; "" if there was none
	Unknown bool   // that vault could not be read, so devices put out since the backup may ask again
}

// NewerError says that the vault in place holds changes the backup does not.
type NewerError struct {
	Made   time.Time // of the backup
	Losses []string  // what would be gone, one for each shop
}

// Error says what would be lost.
func (e *NewerError) Error() string {
	return fmt.Sprintf("the vault holds what the backup of %s does not: %s. Phones that hold it would send it again; to put the backup in its place all the same, add --force: the present vault is then kept beside it",
		e.Made.Format("2006-01-02 15:04 MST"), strings.Join(e.Losses, "; "))
}

// Restore puts a backup in the place of the vault in a folder. The database
// that was there is kept beside it under another name, its attachments stay.
// The restored vault has a new id, so every device notices, takes over what is
// there and sends what it holds. Pairing codes are gone, and devices that were
// put out since stay out.
//
// NewerError: the vault holds changes the backup does not, and force is not
// set. ErrInUse: a process has the vault open. storage.ErrCorrupt: the backup
// is damaged. storage.ErrNewer: a newer program made it. storage.ErrFull: there
// is no room for it. After any error the vault is as it was.
func Restore(ctx context.Context, folder, backup string, force bool, now time.Time) (Restored, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return Restored{}, fmt.Errorf("the data folder cannot be made: %w", full(err))
	}
	held, err := lock(folder, "stop the server first")
	if err != nil {
		return Restored{}, err
	}
	r := &restorer{ctx: ctx, folder: folder, path: filepath.Join(folder, vaultFile), staging: filepath.Join(folder, "restore"+partExt)}
	if err = r.openOld(); err == nil {
		err = r.run(backup, force, now)
	}
	err = errors.Join(err, os.RemoveAll(r.staging), r.closeOld(), held.Close())
	return r.done, err
}

// restorer is one Restore under way.
type restorer struct {
	ctx                   context.Context
	folder, path, staging string
	old                   *bbolt.DB // nil: there is none, or it cannot be read
	done                  Restored
}

// openOld opens the present vault, if it can be read.
func (r *restorer) openOld() error {
	if !exists(r.path) {
		return nil
	}
	err := guard(r.path, func() (err error) {
		r.old, err = bbolt.Open(r.path, 0o600, &bbolt.Options{Timeout: lockWait})
		return err
	})
	if errors.Is(err, berrors.ErrTimeout) {
		return fmt.Errorf("%w: %s: stop the server first", ErrInUse, r.path)
	}
	if errors.Is(err, fs.ErrPermission) { // there may be anything in it
		return fmt.Errorf("the vault %s may not be read, so it is not replaced: %w", r.path, err)
	}
	if err != nil {
		r.old = nil
	}
	if r.old != nil && examine(r.path) == nil {
		return nil
	}
	r.done.Unknown = true
	return r.closeOld()
}

// closeOld closes the old vault.
func (r *restorer) closeOld() error {
	if r.old == nil {
		return nil
	}
	db := r.old
	r.old = nil
	return db.Close()
}

func (r *restorer) run(backup string, force bool, now time.Time) error {
	if err := os.RemoveAll(r.staging); err != nil {
		return err
	}
	u, err := unpack(r.ctx, backup, r.staging)
	if err != nil {
		return err
	}
	if r.done.Stats, err = r.examine(u); err != nil {
		return err
	}
	r.done.Made, r.done.Missing = u.manifest.Made, u.missing
	losses, err := r.losses()
	if err != nil {
		return err
	}
	if len(losses) > 0 && !force {
		return &NewerError{Made: u.manifest.Made, Losses: losses}
	}
	if err := r.renew(); err != nil {
		return fmt.Errorf("the backup: %w", full(err))
	}
	return full(r.swap(u.blobs, now))
}

// examine checks what was unpacked. Attachments that the backup says it lacks
// become wanted ones.
func (r *restorer) examine(u *unpacked) (stats vault.Stats, err error) {
	report, err := Check(r.ctx, r.staging)
	if err != nil {
		return stats, err
	}
	if report.damage > len(report.lost) || len(report.lost) != u.missing {
		return stats, broken("its contents do not fit together: " + report.what())
	}
	if u.missing == 0 {
		return report.Stats, nil
	}
	v, err := Open(r.staging)
	if err != nil {
		return stats, err
	}
	for _, b := range report.lost {
		err = errorsOf(err, v.forget(r.ctx, b.shop, b.hash))
	}
	if err == nil {
		stats, err = v.Stats(r.ctx)
	}
	return stats, errors.Join(err, v.Close())
}

// what is the first finding in words.
func (r Report) what() string {
	if len(r.Findings) == 0 {
		return "it says that attachments are missing, and none is"
	}
	return r.Findings[0].What
}

// renew gives the unpacked vault a new id, ends its codes, and puts out the
// devices that the present vault has put out.
func (r *restorer) renew() error {
	revoked := make(map[string]time.Time)
	r.readOld(func(tx *bbolt.Tx) error {
		return eachDevice(tx, func(id []byte, row deviceRow) {
			if !row.Revoked.IsZero() {
				revoked[string(id)] = row.Revoked
			}
		})
	})
	db, err := openFile(filepath.Join(r.staging, vaultFile), lockWait)
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error { return renew(tx, revoked) })
	return errors.Join(err, db.Close())
}

// hasShops tells whether a file is of a layout that has shops and devices.
func hasShops(tx *bbolt.Tx) bool {
	meta := tx.Bucket(metaBucket)
	if meta == nil {
		return false
	}
	found := string(meta.Get(schemaKey))
	return isKnown(found) && found != schemaFirst
}

func renew(tx *bbolt.Tx, revoked map[string]time.Time) error {
	if !hasShops(tx) {
		return nil // an old layout has neither shops nor devices
	}
	id, err := vault.RandomID(rand.Reader)
	if err != nil {
		return err
	}
	if err := tx.Bucket(metaBucket).Put(storeKey, []byte(id)); err != nil {
		return err
	}
	if err := tx.DeleteBucket(codesBucket); err != nil {
		return err
	}
	if _, err := tx.CreateBucket(codesBucket); err != nil {
		return err
	}
	if err := dropLoose(tx); err != nil {
		return err
	}
	rows := make(map[string]deviceRow)
	err = eachDevice(tx, func(id []byte, row deviceRow) {
		if at, out := revoked[string(id)]; out && row.Revoked.IsZero() {
			row.Revoked = at
			rows[string(id)] = row
		}
	})
	for id, row := range rows {
		err = errorsOf(err, putRow(tx.Bucket(devicesBucket), []byte(id), row))
	}
	return err
}

// dropLoose forgets attachments that no op names: a backup leaves them out.
func dropLoose(tx *bbolt.Tx) error {
	shops, err := shopList(tx)
	for _, s := range shops {
		own := tx.Bucket(shopsBucket).Bucket([]byte(s.ID)).Bucket(storeBucket)
		if own == nil {
			continue
		}
		_, made := own.CreateBucketIfNotExists(looseBucket)
		if err := errorsOf(made, own.DeleteBucket(looseBucket)); err != nil {
			return err
		}
		if _, err := own.CreateBucket(looseBucket); err != nil {
			return err
		}
	}
	return err
}

// swap puts the unpacked files in place. Attachments first: they are named by
// their content, so those of both vaults can lie side by side. Then the
// database, in one step: whenever the power fails, there is one vault or the
// other.
func (r *restorer) swap(blobs []blobRef, now time.Time) error {
	for _, b := range blobs {
		to := blobPath(r.folder, b.shop, b.hash)
		if checkFile(to, b.hash) == nil {
			continue
		}
		if err := moveBlob(blobPath(r.staging, b.shop, b.hash), to); err != nil {
			return err
		}
	}
	if err := r.closeOld(); err != nil { // some systems replace no file that is open; the lock is held on
		return err
	}
	if exists(r.path) {
		aside := r.path + asideExt + now.UTC().Format("20060102T150405Z")
		if err := os.Link(r.path, aside); err != nil {
			err = copyFile(r.path, aside) // as where the file system has no links
			if err != nil {
				return err
			}
		}
		r.done.Aside = aside
	}
	if err := os.Rename(filepath.Join(r.staging, vaultFile), r.path); err != nil {
		return err
	}
	return syncFolder(r.folder)
}

// asideExt stands between the name of the vault and the time when a restore put it aside.
const asideExt = ".before-"

// asides lists the vaults that restores put aside, by path.
func asides(path string) ([]string, error) { return filepath.Glob(path + asideExt + "*") }

// exists tells whether there is a file.
func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
