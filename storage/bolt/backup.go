//go:build !js

package bolt

import (
	"archive/tar"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
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
//	end.json               ending: the hash of the database, the numbers of attachments
//
// The database is of one moment. Attachments follow it; what arrived meanwhile
// is not among them, and what it names and is missing was missing in the vault.
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
	Missing     int    `json:"missing,omitempty"` // attachments the database names as held that were lost before
}

// Gap is an attachment that a vault should hold and a backup cannot.
type Gap struct {
	Shop string // its name
	Hash storage.Hash
	Why  string
}

// GapError says that a backup holds everything but some attachments, which the
// vault itself has lost.
type GapError struct {
	File string // where the backup is
	Kept string // an older backup that was left as it is, "" if there was none
	Gaps []Gap
}

// maxGaps is how many gaps an error lists.
const maxGaps = 20

// Error lists what is missing and what can be done.
func (e *GapError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s could not be backed up; everything else is in %s.", counted(uint64(len(e.Gaps)), "photo or file", "photos or files"), e.File)
	if e.Kept != "" {
		fmt.Fprintf(&b, " The older backup %s was left as it is: it may still hold them.", e.Kept)
	}
	for _, g := range e.Gaps[:min(maxGaps, len(e.Gaps))] {
		fmt.Fprintf(&b, "\n    shop %q, %s: %s", g.Shop, g.Hash, g.Why)
	}
	if more := len(e.Gaps) - maxGaps; more > 0 {
		fmt.Fprintf(&b, "\n    and %d more", more)
	}
	b.WriteString("\nStop the server and run \"torchside check --repair\": the phones are then asked for them again")
	return b.String()
}

// Is makes errors.Is(err, storage.ErrCorrupt) true.
func (e *GapError) Is(target error) bool { return target == storage.ErrCorrupt }

// Backup writes a copy of the vault as it is now, while it is in use. It goes
// on past attachments that are missing or damaged, and returns those.
func (v *Vault) Backup(ctx context.Context, w io.Writer, now time.Time) (gaps []Gap, err error) {
	v.trimming.RLock() // which would take attachments away that the copied database names
	defer v.trimming.RUnlock()
	out := tar.NewWriter(w)
	first := manifest{Format: backupFormat, Schema: schema, Store: v.id, Made: vault.Wall(now)}
	if err := tarJSON(out, manifestName, first, now); err != nil {
		return nil, full(err)
	}
	sum := sha256.New()
	var blobs []heldBlob
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		if err := out.WriteHeader(header(vaultFile, tx.Size(), now)); err != nil {
			return err
		}
		if _, err := tx.WriteTo(io.MultiWriter(out, sum)); err != nil {
			return err
		}
		blobs, err = allBlobs(tx)
		return err
	})
	for _, b := range blobs {
		if err == nil {
			gaps, err = v.backupBlob(ctx, out, b, now, gaps)
		}
	}
	if err != nil {
		return nil, full(err)
	}
	end := ending{SHA256: hex.EncodeToString(sum.Sum(nil)), Attachments: len(blobs) - len(gaps), Missing: len(gaps)}
	return gaps, full(errorsOf(tarJSON(out, endName, end, now), out.Close()))
}

// gapsExt ends the name of a backup with gaps that must not take an older one's place.
const gapsExt = ".incomplete"

// BackupFile writes a backup to a file, which is there in full or not at all. A
// file of that name that is there already is replaced. GapError: the backup is
// there without some attachments; it then does not replace another, but has
// ".incomplete" behind its name. storage.ErrFull: there is no room for it.
func (v *Vault) BackupFile(ctx context.Context, file string, now time.Time) error {
	if err := v.outside(file); err != nil {
		return err
	}
	var gaps []Gap
	err := writeWhole(file+gapsExt, func(w io.Writer) (err error) {
		gaps, err = v.Backup(ctx, w, now)
		return err
	})
	if err == nil && len(gaps) > 0 && exists(file) {
		return &GapError{File: file + gapsExt, Kept: file, Gaps: gaps}
	}
	if err == nil {
		err = errorsOf(os.Rename(file+gapsExt, file), syncFolder(filepath.Dir(file)))
	}
	if err != nil {
		return fmt.Errorf("the backup %s: %w", file, full(err))
	}
	if len(gaps) > 0 {
		return &GapError{File: file, Gaps: gaps}
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

// heldBlob is an attachment that is held, and the name of its shop.
type heldBlob struct {
	blobRef
	name string
}

// allBlobs lists what is held of all shops.
func allBlobs(tx *bbolt.Tx) (all []heldBlob, err error) {
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
			all = append(all, heldBlob{blobRef{s.ID, hex.EncodeToString(key)}, s.Name})
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// backupBlob copies one attachment, or adds it to the gaps. It is read whole,
// which is MaxBlob at most, so that nothing damaged gets into the backup.
func (v *Vault) backupBlob(ctx context.Context, out *tar.Writer, b heldBlob, now time.Time, gaps []Gap) ([]Gap, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	data, err := readBlob(blobPath(v.folder, b.shop, b.hash))
	if err == nil && storage.HashOf(data) != b.hash {
		err = errors.New("its file has another content than its name says")
	}
	if err != nil {
		return append(gaps, Gap{Shop: b.name, Hash: b.hash, Why: err.Error()}), nil
	}
	if err := out.WriteHeader(header(blobName(b.blobRef), int64(len(data)), now)); err != nil {
		return nil, err
	}
	_, err = out.Write(data)
	return gaps, err
}

// readBlob reads a file that may be damaged, and so of any length.
func readBlob(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, storage.MaxBlob+1))
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
