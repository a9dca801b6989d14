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
	"path/filepath"
	"strings"

	"torchside/storage"
	"torchside/storage/vault"
)

// maxJSON is the most a JSON file of a backup may have in bytes.
const maxJSON = 64 << 10

// unpacked is a backup taken apart in a folder.
type unpacked struct {
	folder   string
	manifest manifest
	blobs    []blobRef
	missing  int // attachments the database names as held that the backup lacks
}

// unpacker reads one backup.
type unpacker struct {
	unpacked
	in  *tar.Reader
	sum string // of the database
	end *ending
}

// unpack takes a backup apart into a folder and compares it with its hashes.
// storage.ErrCorrupt: it is no backup, or damaged. storage.ErrNewer: a newer
// program made it.
func unpack(ctx context.Context, file, folder string) (*unpacked, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, fmt.Errorf("the backup cannot be read: %w", err)
	}
	defer f.Close()
	u := &unpacker{in: tar.NewReader(f), unpacked: unpacked{folder: folder}}
	for err == nil {
		if err = ctx.Err(); err == nil {
			err = u.next()
		}
	}
	if err == io.EOF {
		err = u.complete()
	}
	if err != nil {
		return nil, fmt.Errorf("the backup %s: %w", file, full(err))
	}
	return &u.unpacked, nil
}

// broken is the error of a backup that is not one.
func broken(what string) error {
	return fmt.Errorf("%w: %s. The vault was left as it is; try an older backup", storage.ErrCorrupt, what)
}

// next takes one file out; io.EOF at the end.
func (u *unpacker) next() error {
	h, err := u.in.Next()
	switch {
	case err == io.EOF:
		return io.EOF
	case err != nil:
		return broken("it cannot be read on: " + err.Error())
	case u.end != nil:
		return broken("something follows its end")
	case u.manifest.Format == 0 && h.Name != manifestName:
		return broken("it is no backup of a vault")
	case h.Typeflag != tar.TypeReg:
		return broken(fmt.Sprintf("%q in it is no plain file", h.Name))
	}
	switch h.Name {
	case manifestName:
		return u.first()
	case vaultFile:
		u.sum, err = u.write(filepath.Join(u.folder, vaultFile))
		return err
	case endName:
		u.end = new(ending)
		return u.json(u.end)
	}
	return u.blob(h.Name)
}

// first reads the manifest.
func (u *unpacker) first() error {
	if err := u.json(&u.manifest); err != nil {
		return err
	}
	switch {
	case u.manifest.Format > backupFormat:
		return fmt.Errorf("%w: its form is %d and this program knows %d: use a newer torchside", storage.ErrNewer, u.manifest.Format, backupFormat)
	case u.manifest.Format < 1:
		return broken("it is no backup of a vault")
	}
	return nil
}

func (u *unpacker) json(row any) error {
	raw, err := io.ReadAll(io.LimitReader(u.in, maxJSON))
	if err == nil {
		err = json.Unmarshal(raw, row)
	}
	if err != nil {
		return broken(err.Error())
	}
	return nil
}

// write takes a file out and returns its hash.
func (u *unpacker) write(to string) (string, error) {
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return "", err
	}
	f, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, os.ErrExist) {
		return "", broken("it holds a file twice")
	}
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	_, err = io.Copy(io.MultiWriter(f, sum), u.in)
	if errors.Is(err, io.ErrUnexpectedEOF) {
		err = broken("its end is missing")
	}
	if err == nil {
		err = f.Sync()
	}
	return hex.EncodeToString(sum.Sum(nil)), errors.Join(err, f.Close())
}

// blob takes an attachment out. Its name must be made of nothing but a shop's
// id and a hash, so it cannot lead out of the folder.
func (u *unpacker) blob(name string) error {
	parts := strings.Split(name, "/")
	if len(parts) != 5 || vault.CheckHash(parts[4]) != nil || !isShopID(parts[1]) {
		return broken(fmt.Sprintf("%q in it is none of its files", name))
	}
	b := blobRef{vault.ShopID(parts[1]), parts[4]}
	if name != blobName(b) {
		return broken(fmt.Sprintf("%q in it is none of its files", name))
	}
	sum, err := u.write(blobPath(u.folder, b.shop, b.hash))
	if err == nil && sum != b.hash {
		err = broken("attachment " + b.hash + " has another content than its name says")
	}
	u.blobs = append(u.blobs, b)
	return err
}

// isShopID tells whether a name in a backup is of the form of a shop's id.
func isShopID(s string) bool {
	b, err := hex.DecodeString(s)
	return err == nil && len(b) == idSize && hex.EncodeToString(b) == s
}

// complete compares what was taken out with the ending.
func (u *unpacker) complete() error {
	switch {
	case u.manifest.Format == 0:
		return broken("it is no backup of a vault")
	case u.end == nil:
		return broken("its end is missing")
	case u.end.SHA256 != u.sum:
		return broken("its database is not what was written")
	case u.end.Attachments != len(u.blobs):
		return broken(fmt.Sprintf("it has %d attachments, not %d", len(u.blobs), u.end.Attachments))
	}
	u.missing = u.end.Missing
	return nil
}
