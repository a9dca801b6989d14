package archive

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"

	"torchside/storage"
)

// Read reads a file of the given size and checks all of it. Errors, each
// saying what was found: ErrForeign (no zip, or no manifest of ours);
// storage.ErrNewer (a version above Version); storage.ErrCorrupt (cut short,
// altered, counts or checksum do not agree, too large, or an op that breaks a
// rule of storage.Op).
func Read(r io.ReaderAt, size int64) (*Archive, error) {
	if size > MaxFile {
		return nil, fmt.Errorf("%w: %d bytes, at most %d are read", storage.ErrCorrupt, size, int64(MaxFile))
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, notZip(r, err)
	}
	m, err := readManifest(z)
	if err != nil {
		return nil, err
	}
	text, err := readText(z, m)
	if err != nil {
		return nil, err
	}
	ops, err := readOps(text, m)
	if err != nil {
		return nil, err
	}
	return &Archive{Manifest: m, Ops: ops}, nil
}

// notZip tells a zip cut short, which begins like one, from something else.
func notZip(r io.ReaderAt, err error) error {
	var begin [4]byte
	if n, _ := r.ReadAt(begin[:], 0); n == len(begin) && bytes.Equal(begin[:], []byte("PK\x03\x04")) {
		return fmt.Errorf("%w: the file is cut short or altered: %v", storage.ErrCorrupt, err)
	}
	return fmt.Errorf("%w: it is no zip file", ErrForeign)
}

// readManifest reads the entry that makes the file ours. Only format and
// version are read strictly: they decide how to read the rest.
func readManifest(z *zip.Reader) (Manifest, error) {
	text, err := readEntry(z, manifestName, maxManifest)
	if err != nil {
		return Manifest{}, fmt.Errorf("%w: %v", ErrForeign, err)
	}
	var kind struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(text, &kind); err != nil || kind.Format != Format || kind.Version < 1 {
		return Manifest{}, fmt.Errorf("%w: its %s does not say %q", ErrForeign, manifestName, Format)
	}
	if kind.Version > Version {
		return Manifest{}, fmt.Errorf("%w: export version %d, this app reads up to %d", storage.ErrNewer, kind.Version, Version)
	}
	var m Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		return Manifest{}, fmt.Errorf("%w: %s: %v", storage.ErrCorrupt, manifestName, err)
	}
	return m, nil
}

// readText reads the ops and compares them with the manifest.
func readText(z *zip.Reader, m Manifest) ([]byte, error) {
	if m.Bytes < 0 || m.Bytes > MaxText {
		return nil, fmt.Errorf("%w: %d bytes of data, at most %d are read", storage.ErrCorrupt, m.Bytes, int64(MaxText))
	}
	text, err := readEntry(z, opsName, m.Bytes)
	if err != nil {
		return nil, fmt.Errorf("%w: %v", storage.ErrCorrupt, err)
	}
	if sum := sha256.Sum256(text); int64(len(text)) != m.Bytes || hex.EncodeToString(sum[:]) != m.SHA256 {
		return nil, fmt.Errorf("%w: %s is not what %s says it is", storage.ErrCorrupt, opsName, manifestName)
	}
	return text, nil
}

// readEntry unpacks one entry of at most limit bytes; the zip's own checksum
// is verified on the way.
func readEntry(z *zip.Reader, name string, limit int64) ([]byte, error) {
	f, err := z.Open(name)
	if err != nil {
		return nil, fmt.Errorf("there is no %s in it", name)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be unpacked: %v", name, err)
	}
	if int64(len(text)) > limit {
		return nil, fmt.Errorf("%s is larger than %d bytes", name, limit)
	}
	return text, nil
}

// readOps reads the lines, checks every op and their order.
func readOps(text []byte, m Manifest) ([]storage.Op, error) {
	var ops []storage.Op
	recs := make(map[storage.ID]bool)
	last := storage.ID("")
	for line := range bytes.Lines(text) {
		op, err := readOp(line, last)
		if err != nil {
			return nil, fmt.Errorf("%w: %s line %d: %v", storage.ErrCorrupt, opsName, len(ops)+1, err)
		}
		ops = append(ops, op)
		recs[op.Rec] = true
		last = op.ID
	}
	if len(ops) != m.Ops || len(recs) != m.Records {
		return nil, fmt.Errorf("%w: %d changes of %d records, %s says %d of %d",
			storage.ErrCorrupt, len(ops), len(recs), manifestName, m.Ops, m.Records)
	}
	return ops, nil
}

func readOp(line []byte, last storage.ID) (storage.Op, error) {
	var op storage.Op
	if err := json.Unmarshal(line, &op); err != nil {
		return op, err
	}
	if err := op.Check(); err != nil {
		return op, err
	}
	if op.ID <= last {
		return op, fmt.Errorf("%s is not after %s", op.ID, last)
	}
	return op, nil
}
