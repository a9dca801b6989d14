//go:build !js

package bolt

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"slices"

	"torchside/storage"
)

// DamageError says that a vault cannot be read, and what can be done. It is
// storage.ErrCorrupt.
type DamageError struct {
	Path   string   // of the file
	What   string   // is wrong with it
	Copies []string // older states of it in the same folder, newest first
}

// Error names the file, what is wrong, and the ways out.
func (e *DamageError) Error() string {
	text := fmt.Sprintf("the vault %s is damaged: %s. It was left as it is. Put the last backup back with \"torchside restore FILE\"", e.Path, e.What)
	if len(e.Copies) > 0 {
		text += fmt.Sprintf(", or move it away and put %s in its place", e.Copies[0])
	}
	return text + "; without a backup, move it away and start again: the phones send everything they hold to the new vault"
}

// Is makes errors.Is(err, storage.ErrCorrupt) true.
func (e *DamageError) Is(target error) bool { return target == storage.ErrCorrupt }

// damage makes the error of a file.
func damage(path, what string) error {
	return &DamageError{Path: path, What: what, Copies: copies(path)}
}

// copies lists older states of a vault kept beside it, newest first.
func copies(path string) []string {
	found, err := filepath.Glob(path + ".*")
	if err != nil { // the path is no pattern
		return nil
	}
	found = slices.DeleteFunc(found, func(p string) bool { return filepath.Ext(p) == partExt })
	age := func(p string) int64 {
		if info, err := os.Stat(p); err == nil {
			return info.ModTime().UnixNano()
		}
		return 0
	}
	slices.SortFunc(found, func(a, b string) int { return int(min(1, max(-1, age(b)-age(a)))) })
	return found
}

// meta is one of the two pages at the beginning of the file that say where all
// others are, as go.etcd.io/bbolt/internal/common/meta.go lays it out. They are
// read here too because the library maps the file into memory and trusts them:
// a file cut short would end the process.
type meta struct {
	pageSize uint32
	root     uint64 // page of the root bucket
	freelist uint64
	pages    uint64 // number of pages in use
	txid     uint64
}

// Numbers of the file format.
const (
	boltMagic    = 0xED0CDAED
	boltVersion  = 2
	pageHeader   = 16
	metaSize     = 64
	noFreelist   = 1<<64 - 1
	minPageSize  = 512
	maxPageSize  = 64 << 10
	metaChecksum = metaSize - 8 // bytes before the checksum
)

// decodeMeta reads a meta from the page it stands on.
func decodeMeta(page []byte) (m meta, ok bool) {
	if len(page) < pageHeader+metaSize {
		return m, false
	}
	b := page[pageHeader : pageHeader+metaSize]
	u32, u64 := binary.NativeEndian.Uint32, binary.NativeEndian.Uint64
	m = meta{pageSize: u32(b[8:]), root: u64(b[16:]), freelist: u64(b[32:]), pages: u64(b[40:]), txid: u64(b[48:])}
	sum := fnv.New64a()
	_, _ = sum.Write(b[:metaChecksum]) // a hash never fails
	ok = u32(b) == boltMagic && u32(b[4:]) == boltVersion && u64(b[metaChecksum:]) == sum.Sum64() &&
		m.pageSize >= minPageSize && m.pageSize <= maxPageSize
	return m, ok
}

// newestMeta returns the meta that holds. The second page stands one page size
// in, which is only known from the first: so all sizes are tried.
func newestMeta(f io.ReaderAt) (meta, bool) {
	read := func(at int64) (meta, bool) {
		page := make([]byte, pageHeader+metaSize)
		if n, _ := f.ReadAt(page, at); n < len(page) {
			return meta{}, false
		}
		return decodeMeta(page)
	}
	newest, found := read(0)
	for size := int64(minPageSize); size <= maxPageSize; size *= 2 {
		if m, ok := read(size); ok && int64(m.pageSize) == size && (!found || m.txid > newest.txid) {
			newest, found = m, true
		}
	}
	return newest, found
}

// examine tells, without mapping the file, whether it can be opened at all. An
// empty or missing file can: it becomes a new vault.
func examine(path string) error {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("the vault cannot be read: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return fmt.Errorf("the vault cannot be read: %w", err)
	}
	if info.Size() == 0 {
		return nil
	}
	m, ok := newestMeta(f)
	if !ok {
		return damage(path, "its beginning is not that of a vault")
	}
	if need := int64(m.pages) * int64(m.pageSize); info.Size() < need {
		return damage(path, fmt.Sprintf("it has %d bytes and should have at least %d, so its end is missing", info.Size(), need))
	}
	return nil
}
