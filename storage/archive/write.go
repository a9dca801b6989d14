package archive

import (
	"archive/zip"
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"slices"
	"strings"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
)

// pageOps is how many ops are read from a store at a time.
const pageOps = 200

// Export writes everything the store holds to w, op by op, so that memory does
// not grow with the store. app is the version of the app, at the time of day.
// Ops stored while it runs may or may not be in the file. Errors are those of
// the store and of w; the file is then of no use.
func Export(ctx context.Context, s storage.Store, w io.Writer, app string, at time.Time) (Manifest, error) {
	return write(w, app, at, content{
		ops: func(yield func(storage.Op) error) error { return stored(ctx, s, yield) },
		blobs: func(yield func(storage.Hash, []byte) error) ([]storage.Hash, error) {
			return storedBlobs(ctx, s, yield)
		},
	})
}

// ExportUnsaved writes everything the store holds, as Export does, and the drafts it refused, stamped as if this were another
// device: the store knows nothing of them. A draft that breaks a rule of Op is left out; skipped says how many. Errors are
// those of the store, of random and of w.
func ExportUnsaved(ctx context.Context, s storage.Store, w io.Writer, drafts []storage.Draft, app string, at time.Time, random io.Reader) (m Manifest, skipped int, err error) {
	meta, err := s.Meta(ctx)
	if err != nil {
		return Manifest{}, 0, fmt.Errorf("export: %w", err)
	}
	more, err := stampSound(storage.Meta{HLC: meta.HLC}, at, random, drafts)
	if err != nil {
		return Manifest{}, 0, err
	}
	m, err = write(w, app, at, content{
		ops: func(yield func(storage.Op) error) error { return storedWith(ctx, s, more, yield) },
		blobs: func(yield func(storage.Hash, []byte) error) ([]storage.Hash, error) {
			return storedBlobs(ctx, s, yield)
		},
	})
	return m, len(drafts) - len(more), err
}

// stored yields every op of a store by ascending id.
func stored(ctx context.Context, s storage.Store, yield func(storage.Op) error) error {
	for after := storage.ID(""); ; {
		page, err := s.Ops(ctx, after, pageOps)
		if err != nil || len(page) == 0 {
			return err
		}
		for _, op := range page {
			if err := yield(op); err != nil {
				return err
			}
			after = op.ID
		}
	}
}

// storedWith yields every op of a store and the given ones, which are sorted, together by ascending id.
func storedWith(ctx context.Context, s storage.Store, more []storage.Op, yield func(storage.Op) error) error {
	err := stored(ctx, s, func(op storage.Op) error {
		for ; len(more) > 0 && more[0].ID < op.ID; more = more[1:] {
			if err := yield(more[0]); err != nil {
				return err
			}
		}
		return yield(op)
	})
	for _, op := range more {
		if err != nil {
			return err
		}
		err = yield(op)
	}
	return err
}

// stampSound stamps drafts, leaves out those that break a rule of Op, and sorts the others by id.
func stampSound(m storage.Meta, at time.Time, random io.Reader, drafts []storage.Draft) ([]storage.Op, error) {
	_, stamped, err := storage.StampDrafts(m, at, random, drafts...)
	if err != nil {
		return nil, err
	}
	sound := slices.DeleteFunc(stamped, func(op storage.Op) bool { return op.Check() != nil })
	slices.SortFunc(sound, func(p, q storage.Op) int { return strings.Compare(string(p.ID), string(q.ID)) })
	return sound, nil
}

// Write writes the given ops, in any order; of ops with the same id the first
// one is taken. storage.ErrInvalid: an op breaks a rule of Op.
func Write(w io.Writer, ops []storage.Op, app string, at time.Time) (Manifest, error) {
	return write(w, app, at, content{ops: listed(ops)})
}

// listed yields the given ops by ascending id.
func listed(ops []storage.Op) func(yield func(storage.Op) error) error {
	sorted, _ := merge.Union(ops, nil)
	return func(yield func(storage.Op) error) error {
		for _, op := range sorted {
			if err := op.Check(); err != nil {
				return err
			}
			if err := yield(op); err != nil {
				return err
			}
		}
		return nil
	}
}

// content is what goes into a file.
type content struct {
	ops func(yield func(storage.Op) error) error
	// blobs gives every attachment and returns those that cannot be read; nil for none.
	blobs func(yield func(storage.Hash, []byte) error) (lost []storage.Hash, err error)
}

// write makes the zip. Attachments come after the ops, so that none is missing
// that an op of the file refers to and the store holds; the manifest comes last,
// when the counts are known.
func write(w io.Writer, app string, at time.Time, c content) (Manifest, error) {
	z := zip.NewWriter(w)
	m, err := writeAll(z, app, at, c)
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return Manifest{}, fmt.Errorf("export: %w", err)
	}
	return m, nil
}

func writeAll(z *zip.Writer, app string, at time.Time, c content) (Manifest, error) {
	if err := writeText(z, readmeName, at, []byte(readme)); err != nil {
		return Manifest{}, err
	}
	m, err := writeOps(z, app, at, c.ops)
	if err != nil {
		return Manifest{}, err
	}
	if c.blobs != nil {
		if m.Lost, err = c.blobs(func(name storage.Hash, data []byte) error {
			m.Blobs++
			m.BlobBytes += int64(len(data))
			return writeBlob(z, name, at, data)
		}); err != nil {
			return Manifest{}, err
		}
	}
	text, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return Manifest{}, err
	}
	return m, writeText(z, manifestName, at, append(text, '\n'))
}

func writeOps(z *zip.Writer, app string, at time.Time, each func(yield func(storage.Op) error) error) (Manifest, error) {
	lines, err := entry(z, opsName, at)
	if err != nil {
		return Manifest{}, err
	}
	c := newCounter(lines)
	if err := each(c.op); err != nil {
		return Manifest{}, err
	}
	if err := c.buffer.Flush(); err != nil {
		return Manifest{}, err
	}
	return c.manifest(app, at), nil
}

func entry(z *zip.Writer, name string, at time.Time) (io.Writer, error) {
	return z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: at.UTC()})
}

func writeText(z *zip.Writer, name string, at time.Time, text []byte) error {
	w, err := entry(z, name, at)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// writeBlob writes an attachment as it is: photos are compressed already.
func writeBlob(z *zip.Writer, name storage.Hash, at time.Time, data []byte) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: blobsFolder + name, Method: zip.Store, Modified: at.UTC()})
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

// storedBlobs yields every attachment of a store by ascending name. One whose
// content is damaged is left out and named: the rest must get out.
func storedBlobs(ctx context.Context, s storage.Store, yield func(storage.Hash, []byte) error) (lost []storage.Hash, err error) {
	for after := storage.Hash(""); ; {
		page, err := s.Blobs(ctx, after, pageOps)
		if err != nil || len(page) == 0 {
			return lost, err
		}
		for _, info := range page {
			after = info.Hash
			data, err := s.Blob(ctx, info.Hash)
			switch {
			case errors.Is(err, storage.ErrNotFound): // removed meanwhile: nothing refers to it
				continue
			case errors.Is(err, storage.ErrCorrupt):
				lost = append(lost, info.Hash)
				continue
			case err == nil:
				err = yield(info.Hash, data)
			}
			if err != nil {
				return lost, err
			}
		}
	}
}

// counter writes ops as lines and keeps what the manifest tells of them.
type counter struct {
	buffer *bufio.Writer
	sum    hash.Hash
	ops    int
	bytes  int64
	recs   map[storage.ID]bool
}

func newCounter(w io.Writer) *counter {
	sum := sha256.New()
	return &counter{buffer: bufio.NewWriter(io.MultiWriter(w, sum)), sum: sum, recs: make(map[storage.ID]bool)}
}

func (c *counter) op(op storage.Op) error {
	line, err := json.Marshal(op)
	if err != nil {
		return err
	}
	n, err := c.buffer.Write(append(line, '\n'))
	c.ops++
	c.bytes += int64(n)
	c.recs[op.Rec] = true
	return err
}

func (c *counter) manifest(app string, at time.Time) Manifest {
	return Manifest{
		Format: Format, Version: Version, App: app, ExportedAt: at, Ops: c.ops, Records: len(c.recs),
		Bytes: c.bytes, SHA256: hex.EncodeToString(c.sum.Sum(nil)),
	}
}
