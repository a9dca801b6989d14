//go:build !js

package bolt

import (
	"archive/tar"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// A backup is one tar file (POSIX.1-2001, pax), so that any system can open it:
//
//	backup.json            manifest
//	vault.bolt             the database
//	blobs/SHOP/ab/cd/HASH  each attachment held in full
//	end.json               ending: the hash of the database, the number of attachments
//
// The database is of one moment. Attachments follow it; what arrived meanwhile
// is not among them, and none that it names is missing.
const (
	backupFormat = 1
	manifestName = "backup.json"
	endName      = "end.json"
)

// manifest is the first file of a backup.
type manifest struct {
	Format int       `json:"format"`
	Schema string    `json:"schema"`
	Store  string    `json:"store"`
	Made   time.Time `json:"made"`
}

// ending is the last one: a backup without it was cut short.
type ending struct {
	SHA256      string `json:"sha256"` // of vault.bolt
	Attachments int    `json:"attachments"`
}

// Backup writes a copy of the vault as it is now, while it is in use.
// storage.ErrCorrupt: an attachment is missing or damaged; check the vault.
func (v *Vault) Backup(ctx context.Context, w io.Writer, now time.Time) error {
	out := tar.NewWriter(w)
	first := manifest{Format: backupFormat, Schema: schema, Store: v.id, Made: vault.Wall(now)}
	if err := tarJSON(out, manifestName, first, now); err != nil {
		return err
	}
	sum := sha256.New()
	var blobs []blobRef
	err := v.view(ctx, func(tx *bbolt.Tx) error {
		if err := out.WriteHeader(header(vaultFile, tx.Size(), now)); err != nil {
			return err
		}
		if _, err := tx.WriteTo(io.MultiWriter(out, sum)); err != nil {
			return err
		}
		var err error
		blobs, err = allBlobs(tx)
		return err
	})
	if err != nil {
		return full(err)
	}
	for _, b := range blobs {
		if err := v.backupBlob(ctx, out, b, now); err != nil {
			return err
		}
	}
	end := ending{SHA256: hex.EncodeToString(sum.Sum(nil)), Attachments: len(blobs)}
	return full(errorsOf(tarJSON(out, endName, end, now), out.Close()))
}

// BackupFile writes a backup to a file, which is there in full or not at all.
// The error is that of Backup, or storage.ErrFull; a file of that name that is
// there already is replaced.
func (v *Vault) BackupFile(ctx context.Context, file string, now time.Time) error {
	if err := v.outside(file); err != nil {
		return err
	}
	err := writeWhole(file, func(w io.Writer) error { return v.Backup(ctx, w, now) })
	if err != nil {
		return fmt.Errorf("the backup %s: %w", file, full(err))
	}
	return nil
}

// outside refuses a file in the vault's own folder, where it could take the place of the vault itself.
func (v *Vault) outside(file string) error {
	dir, err := filepath.EvalSymlinks(filepath.Dir(file))
	if err != nil {
		return fmt.Errorf("the folder of the backup %s: %w", file, err)
	}
	own, err := filepath.EvalSymlinks(v.folder)
	if err != nil {
		return fmt.Errorf("the folder of the vault: %w", err)
	}
	rel, err := filepath.Rel(own, dir)
	if err == nil && filepath.IsLocal(rel) {
		return fmt.Errorf("the backup %s would lie in the vault's own folder %s: give a file elsewhere, best on another disk", file, own)
	}
	return nil
}

// allBlobs lists what is held of all shops.
func allBlobs(tx *bbolt.Tx) (all []blobRef, err error) {
	shops, err := shopList(tx)
	if err != nil {
		return nil, err
	}
	for _, s := range shops {
		b, err := shop(tx, s.ID)
		if err != nil {
			return nil, err
		}
		err = b.Bucket(blobsBucket).ForEach(func(key, _ []byte) error {
			all = append(all, blobRef{s.ID, hex.EncodeToString(key)})
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// backupBlob copies one attachment, checking it on the way.
func (v *Vault) backupBlob(ctx context.Context, out *tar.Writer, b blobRef, now time.Time) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	f, err := os.Open(blobPath(v.folder, b.shop, b.hash))
	if err != nil {
		return fmt.Errorf("%w: %w: see what \"torchside check\" says", storage.ErrCorrupt, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if err := out.WriteHeader(header(blobName(b), info.Size(), now)); err != nil {
		return full(err)
	}
	sum := sha256.New()
	if _, err := io.Copy(io.MultiWriter(out, sum), f); err != nil {
		return full(err)
	}
	if hex.EncodeToString(sum.Sum(nil)) != b.hash {
		return fmt.Errorf("%w: attachment %s has another content than its name says: see what \"torchside check\" says", storage.ErrCorrupt, b.hash)
	}
	return nil
}

// blobName is where an attachment is within a backup.
func blobName(b blobRef) string {
	return path.Join(blobsFolder, string(b.shop), b.hash[:2], b.hash[2:4], b.hash)
}

func header(name string, size int64, now time.Time) *tar.Header {
	return &tar.Header{Typeflag: tar.TypeReg, Name: name, Size: size, Mode: 0o600, ModTime: vault.Wall(now).Truncate(time.Second), Format: tar.FormatPAX}
}

func tarJSON(out *tar.Writer, name string, row any, now time.Time) error {
	raw, err := json.Marshal(row)
	if err != nil {
		return err
	}
	if err := out.WriteHeader(header(name, int64(len(raw)), now)); err != nil {
		return err
	}
	_, err = out.Write(raw)
	return err
}
