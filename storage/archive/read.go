package archive

import (
	"archive/zip"
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"

	"torchside/storage"
)

// Archive is a file that was read and found sound. It is read again when it is
// imported, so its source must stay open and unchanged.
type Archive struct {
	Manifest Manifest

	ops   *zip.File
	blobs []*zip.File
}

// Read reads a file of the given size and checks all of it, to the last byte;
// progress may be nil. Errors, each saying what was found and where: ErrForeign
// (no zip, or no manifest of ours); storage.ErrNewer (a version above Version);
// storage.ErrCorrupt (cut short, altered, counts or checksums do not agree, too
// large, entries no export has, or an op that breaks a rule of storage.Op); or
// what the source says.
func Read(r io.ReaderAt, size int64, progress Progress) (*Archive, error) {
	if size > MaxFile {
		return nil, corrupt("%d bytes, at most %d are read", size, int64(MaxFile))
	}
	source := &source{r: r}
	z, err := zip.NewReader(source, size)
	if err != nil && source.err == nil {
		err = notZip(r, err)
	}
	if err != nil {
		return nil, source.or(err)
	}
	a, err := open(z, size)
	if err == nil {
		err = a.check(progress)
	}
	if err != nil {
		return nil, source.or(err)
	}
	return a, nil
}

// source remembers a failure of the medium, which is not the file's fault.
type source struct {
	r   io.ReaderAt
	err error
}

func (s *source) ReadAt(p []byte, off int64) (int, error) {
	n, err := s.r.ReadAt(p, off)
	if err != nil && !errors.Is(err, io.EOF) {
		s.err = err
	}
	return n, err
}

// or gives the medium's failure if there was one, else err.
func (s *source) or(err error) error {
	if s.err != nil {
		return fmt.Errorf("read the file: %w", s.err)
	}
	return err
}

// corrupt is a storage.ErrCorrupt that says what was found.
func corrupt(format string, a ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{storage.ErrCorrupt}, a...)...)
}

// notZip tells a zip cut short, which begins like one, from something else.
func notZip(r io.ReaderAt, err error) error {
	var begin [4]byte
	if n, _ := r.ReadAt(begin[:], 0); n == len(begin) && bytes.Equal(begin[:], []byte("PK\x03\x04")) {
		return corrupt("the file is cut short or altered: %v", err)
	}
	return fmt.Errorf("%w: it is no zip file", ErrForeign)
}

// open reads the manifest and sorts the entries; nothing is unpacked yet but
// the manifest.
func open(z *zip.Reader, size int64) (*Archive, error) {
	if len(z.File) > MaxEntries {
		return nil, corrupt("%d files in it, at most %d are read", len(z.File), MaxEntries)
	}
	byName := make(map[string]*zip.File, len(z.File))
	for _, f := range z.File {
		if byName[f.Name] == nil {
			byName[f.Name] = f
		}
	}
	m, err := readManifest(byName[manifestName])
	if err != nil {
		return nil, err
	}
	a := &Archive{Manifest: m, ops: byName[opsName]}
	if a.ops == nil {
		return nil, corrupt("there is no %s in it", opsName)
	}
	if m.Version > 1 {
		err = a.sortEntries(z, size)
	}
	return a, err
}

// sortEntries takes only what an export has. Nothing is ever unpacked to a
// path, but a name such as ../x shows that no export was made here; parts that
// overlap would unpack to far more than the file.
func (a *Archive) sortEntries(z *zip.Reader, size int64) error {
	seen := make(map[string]bool, len(z.File))
	packed := uint64(0)
	for _, f := range z.File {
		name, isBlob := strings.CutPrefix(f.Name, blobsFolder)
		switch {
		case seen[f.Name]:
			return corrupt("it holds %q twice", f.Name)
		case isBlob && isHash(name):
			if f.UncompressedSize64 == 0 || f.UncompressedSize64 > storage.MaxBlob {
				return corrupt("%s has %d bytes, attachments have 1 to %d", f.Name, f.UncompressedSize64, storage.MaxBlob)
			}
			a.blobs = append(a.blobs, f)
		case f.Name != readmeName && f.Name != manifestName && f.Name != opsName && f.Name != blobsFolder:
			return corrupt("it holds %q, which no export has", f.Name)
		}
		seen[f.Name] = true
		if packed += f.CompressedSize64; packed > uint64(size) {
			return corrupt("its parts claim to be larger than the file, from %q on", f.Name)
		}
	}
	if len(a.blobs) != a.Manifest.Blobs {
		return corrupt("%d attachments, %s says %d", len(a.blobs), manifestName, a.Manifest.Blobs)
	}
	return nil
}

func isHash(name string) bool {
	sum, err := hex.DecodeString(name)
	return err == nil && len(sum) == sha256.Size && name == hex.EncodeToString(sum)
}

// readManifest reads the entry that makes the file ours. Only format and
// version are read strictly: they decide how to read the rest.
func readManifest(f *zip.File) (Manifest, error) {
	text, err := readEntry(f, manifestName, maxManifest)
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
		return Manifest{}, corrupt("%s: %v", manifestName, err)
	}
	if m.Bytes < 0 || m.Bytes > MaxText {
		return Manifest{}, corrupt("%d bytes of data, at most %d are read", m.Bytes, int64(MaxText))
	}
	return m, nil
}

// readEntry unpacks one entry of at most limit bytes; the zip's own checksum
// is verified on the way.
func readEntry(f *zip.File, name string, limit int64) ([]byte, error) {
	if f == nil {
		return nil, fmt.Errorf("there is no %s in it", name)
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%s cannot be unpacked: %v", name, err)
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be unpacked: %v", name, err)
	}
	if int64(len(text)) > limit {
		return nil, fmt.Errorf("%s is larger than %d bytes", name, limit)
	}
	return text, nil
}

// total is how many bytes of content there are.
func (a *Archive) total() int64 { return a.Manifest.Bytes + a.Manifest.BlobBytes }

// check reads everything once.
func (a *Archive) check(progress Progress) error {
	m, sum, read := a.Manifest, newCounter(io.Discard), int64(0)
	err := a.eachOp(sum.sum, func(op storage.Op, size int) error {
		sum.ops++
		sum.recs[op.Rec] = true
		if read += int64(size); sum.ops%pageOps == 0 {
			progress.tell(read, a.total())
		}
		return nil
	})
	if err != nil {
		return err
	}
	if read != m.Bytes || hex.EncodeToString(sum.sum.Sum(nil)) != m.SHA256 {
		return corrupt("%s is not what %s says it is", opsName, manifestName)
	}
	if sum.ops != m.Ops || len(sum.recs) != m.Records {
		return corrupt("%d changes of %d records, %s says %d of %d", sum.ops, len(sum.recs), manifestName, m.Ops, m.Records)
	}
	for _, f := range a.blobs {
		data, err := readBlob(f)
		if err != nil {
			return err
		}
		read += int64(len(data))
		progress.tell(read, a.total())
	}
	if read != a.total() {
		return corrupt("%d bytes of attachments, %s says %d", read-m.Bytes, manifestName, m.BlobBytes)
	}
	return nil
}

// Each calls f for every op, by ascending id, reading the file once more. It
// ends with the first error of f, or storage.ErrCorrupt if the file is no longer
// what Read found sound.
func (a *Archive) Each(f func(storage.Op) error) error {
	return a.eachOp(sha256.New(), func(op storage.Op, _ int) error { return f(op) })
}

// eachOp reads the lines one by one and checks every op and their order. What
// is read also goes to sum, the size of each line to each.
func (a *Archive) eachOp(sum hash.Hash, each func(op storage.Op, size int) error) error {
	if int64(a.ops.UncompressedSize64) > a.Manifest.Bytes {
		return corrupt("%s is larger than %d bytes", opsName, a.Manifest.Bytes)
	}
	r, err := a.ops.Open()
	if err != nil {
		return corrupt("%s cannot be unpacked: %v", opsName, err)
	}
	defer r.Close()
	lines := bufio.NewReaderSize(io.TeeReader(io.LimitReader(r, a.Manifest.Bytes+1), sum), maxLine)
	last := storage.ID("")
	for n := 1; ; n++ {
		line, err := lines.ReadSlice('\n')
		switch {
		case err == io.EOF && len(line) == 0:
			return nil
		case err == bufio.ErrBufferFull:
			return corrupt("%s line %d is longer than %d bytes", opsName, n, maxLine)
		case err != nil && err != io.EOF:
			return corrupt("%s line %d cannot be unpacked: %v", opsName, n, err)
		}
		op, err := readOp(line, last)
		if err != nil {
			return corrupt("%s line %d: %v", opsName, n, err)
		}
		last = op.ID
		if err := each(op, len(line)); err != nil {
			return err
		}
	}
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

// readBlob reads an attachment and compares it with its name.
func readBlob(f *zip.File) ([]byte, error) {
	data, err := readEntry(f, f.Name, storage.MaxBlob)
	if err != nil {
		return nil, corrupt("%v", err)
	}
	if got := storage.HashOf(data); blobsFolder+got != f.Name {
		return nil, corrupt("the content of %s is that of %s", f.Name, got)
	}
	return data, nil
}
