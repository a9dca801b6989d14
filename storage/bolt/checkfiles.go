//go:build !js

package bolt

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"torchside/storage"
	"torchside/storage/vault"
)

// files are those in the folder of attachments that nothing has vouched for yet.
type files struct{ paths map[string]bool }

// files lists them.
func (c *checker) files() (*files, error) {
	f := &files{paths: make(map[string]bool)}
	err := filepath.WalkDir(filepath.Join(c.folder, blobsFolder), func(path string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err == nil && !d.IsDir() {
			f.paths[path] = true
		}
		return errors.Join(err, c.ctx.Err())
	})
	return f, err
}

// left returns those that nothing vouched for, in order.
func (f *files) left() []string {
	var left []string
	for path := range f.paths {
		left = append(left, path)
	}
	slices.Sort(left)
	return left
}

// attachments compares what ops name with what is noted, and that with the
// files. The error is that of the context alone.
func (k *shopCheck) attachments(f *files) error {
	held, wanted := k.b.Bucket(blobsBucket), k.b.Bucket(wantedBucket)
	for key := range k.blobs {
		if (held.Get(key[:]) == nil) == (wanted.Get(key[:]) == nil) {
			k.wrong("attachment %x is noted neither as held nor as wanted, or as both", key)
		}
	}
	rows := rowCount(held) + rowCount(wanted)
	if rows != len(k.blobs) {
		k.wrong("%d attachments are noted, %d are named", rows, len(k.blobs))
	}
	k.counts.Wanted = int64(rowCount(wanted))
	err := wanted.ForEach(func(key, _ []byte) error {
		delete(f.paths, partialPath(k.folder, k.id, hex.EncodeToString(key)))
		delete(f.paths, blobPath(k.folder, k.id, hex.EncodeToString(key))) // moved just before a power cut
		return k.ctx.Err()
	})
	if err != nil {
		return err
	}
	if own := k.b.Bucket(storeBucket); own != nil && own.Bucket(looseBucket) != nil {
		for _, h := range namesAfter(own.Bucket(looseBucket), "", rowCount(own.Bucket(looseBucket))) {
			delete(f.paths, blobPath(k.folder, k.id, h)) // put, and to be named soon
		}
	}
	return held.ForEach(func(key, _ []byte) error {
		size, _, err := blobSize(k.b, key)
		if err != nil {
			k.wrong("%v", err)
		}
		k.counts.Blobs++
		k.counts.BlobBytes += size
		k.attachment(f, hex.EncodeToString(key), size)
		return k.ctx.Err()
	})
}

// attachment reads the file of one that is held.
func (k *shopCheck) attachment(f *files, h storage.Hash, size int64) {
	path := blobPath(k.folder, k.id, h)
	delete(f.paths, path)
	err := checkFile(path, h)
	own, _ := fileSize(path) // an error shows in checkFile too
	what := ""
	switch {
	case errors.Is(err, fs.ErrNotExist):
		what = "the file " + path + " is missing"
	case errors.Is(err, vault.ErrHash) || err == nil && own != size:
		what = "the file " + path + " has another content than its name says"
	case err != nil:
		what = "the file " + path + " cannot be read: " + err.Error()
	default:
		return
	}
	k.damaged(what, doBlob)
	k.report.lost = append(k.report.lost, blobRef{k.id, h})
	k.report.Lost++
	k.report.LostBytes += size
}

// Repair mends what it can of what Check found, and returns what is left and
// what it did: lost attachments are wanted again, so that a device that has them
// sends them, and files nothing names are deleted. While anything else is
// damaged it changes nothing. Its errors are those of Check and Open.
func Repair(ctx context.Context, folder string) (Report, error) {
	if _, err := os.Stat(folder); err != nil {
		return Report{}, noVault(err)
	}
	held, err := lock(folder, "stop the server first")
	if err != nil {
		return Report{}, err
	}
	report, err := repairLocked(ctx, folder, held)
	if closed := held.Close(); !errors.Is(closed, fs.ErrClosed) { // by the vault that was opened
		err = errors.Join(err, closed)
	}
	return report, err
}

// repairLocked repairs under the lock, so that what was found is still so.
func repairLocked(ctx context.Context, folder string, held *os.File) (Report, error) {
	report, err := Check(ctx, folder)
	if err != nil || len(report.lost)+len(report.unused) == 0 || report.damage > len(report.lost) {
		return report, err
	}
	v, err := openLocked(folder, held)
	if err != nil {
		return report, err
	}
	done, err := v.repair(ctx, report)
	if err = errors.Join(err, v.Close()); err != nil {
		return report, err
	}
	report, err = Check(ctx, folder)
	report.Mended = done
	return report, err
}

// damagedFolder is where a repair keeps attachments that are not what they
// should be, within the data folder: part of a photo may be better than none.
const damagedFolder = "damaged"

func (v *Vault) repair(ctx context.Context, r Report) (done Mended, err error) {
	for _, b := range r.lost {
		if err := v.forget(ctx, b.shop, b.hash); err != nil {
			return done, err
		}
		done.Wanted++
		if err := v.setAside(b, &done); err != nil {
			return done, fmt.Errorf("attachment %s: %w", b.hash, full(err))
		}
	}
	for _, path := range r.unused {
		size, err := fileSize(path)
		if err = errorsOf(err, os.Remove(path)); err != nil {
			return done, err
		}
		done.Deleted++
		done.DeletedBytes += size
	}
	return done, nil
}

// setAside moves what is there of a lost attachment out of the way.
func (v *Vault) setAside(b blobRef, done *Mended) error {
	from, to := blobPath(v.folder, b.shop, b.hash), filepath.Join(v.folder, damagedFolder, string(b.shop), b.hash)
	if !exists(from) {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return err
	}
	done.Kept = append(done.Kept, to)
	return errorsOf(os.Rename(from, to), syncFolder(filepath.Dir(to)), syncFolder(filepath.Dir(from)))
}
