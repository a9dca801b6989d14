//go:build !js

package bolt

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
)

// walker looks at every page of the file that is in use, without mapping it.
// The library's own check follows page numbers wherever they lead, also out of
// the file, so this one comes first. The forms are those of page.go and
// bucket.go in go.etcd.io/bbolt/internal/common.
type walker struct {
	file io.ReaderAt
	meta
	seen map[uint64]bool
}

// Kinds of pages, and lengths of what is on them.
const (
	branchPage = 0x01
	leafPage   = 0x02
	elemSize   = 16 // of either kind
	bucketLeaf = 0x01
	bucketHead = 16 // root page, number of the sequence
	maxDepth   = 64 // far above any tree of this size
)

// walk returns what is wrong with the pages below the root, nil if nothing is.
func walk(file io.ReaderAt, m meta) error {
	w := &walker{file: file, meta: m, seen: make(map[uint64]bool)}
	return w.tree(m.root, 0)
}

// tree looks at a page and all below it, of the bucket and of those within it.
func (w *walker) tree(id uint64, depth int) error {
	if depth > maxDepth {
		return fmt.Errorf("page %d: pages lead to each other without end", id)
	}
	p, err := w.page(id)
	if err != nil {
		return err
	}
	return w.elements(p, id, depth)
}

// page reads a page with what overflows from it.
func (w *walker) page(id uint64) ([]byte, error) {
	if id < 2 || id >= w.pages {
		return nil, fmt.Errorf("page %d: there is no such page among %d", id, w.pages)
	}
	if w.seen[id] {
		return nil, fmt.Errorf("page %d: it is used twice", id)
	}
	w.seen[id] = true
	head := make([]byte, pageHeader)
	if _, err := w.file.ReadAt(head, int64(id)*int64(w.pageSize)); err != nil {
		return nil, fmt.Errorf("page %d: %w", id, err)
	}
	overflow := uint64(binary.NativeEndian.Uint32(head[12:]))
	if own := binary.NativeEndian.Uint64(head); own != id {
		return nil, fmt.Errorf("page %d: it says it is page %d", id, own)
	}
	if id+overflow >= w.pages {
		return nil, fmt.Errorf("page %d: it goes on beyond the last page", id)
	}
	p := make([]byte, (1+overflow)*uint64(w.pageSize))
	if _, err := w.file.ReadAt(p, int64(id)*int64(w.pageSize)); err != nil {
		return nil, fmt.Errorf("page %d: %w", id, err)
	}
	return p, nil
}

// elements looks at what is on a page, which may be one within a value.
func (w *walker) elements(p []byte, id uint64, depth int) error {
	kind, count := binary.NativeEndian.Uint16(p[8:]), int(binary.NativeEndian.Uint16(p[10:]))
	if kind != branchPage && kind != leafPage || pageHeader+count*elemSize > len(p) || kind == branchPage && count == 0 {
		return fmt.Errorf("page %d: its kind %#x or its count %d is wrong", id, kind, count)
	}
	var last []byte
	for i := range count {
		e := p[pageHeader+i*elemSize:]
		key, err := w.element(e, kind, id, depth)
		if err != nil {
			return err
		}
		if i > 0 && bytes.Compare(last, key) >= 0 {
			return fmt.Errorf("page %d: its keys are not in order", id)
		}
		last = key
	}
	return nil
}

// element looks at one: it begins at e, and what it points at is behind it.
func (w *walker) element(e []byte, kind uint16, id uint64, depth int) (key []byte, err error) {
	u32 := binary.NativeEndian.Uint32
	if kind == branchPage {
		key, err = span(e, id, uint64(u32(e)), uint64(u32(e[4:])))
		if err != nil {
			return nil, err
		}
		return key, w.tree(binary.NativeEndian.Uint64(e[8:]), depth+1)
	}
	at, keySize, valueSize := uint64(u32(e[4:])), uint64(u32(e[8:])), uint64(u32(e[12:]))
	key, err = span(e, id, at, keySize)
	if err != nil {
		return nil, err
	}
	value, err := span(e, id, at+keySize, valueSize)
	if err != nil || u32(e)&bucketLeaf == 0 {
		return key, err
	}
	return key, w.bucket(value, id, depth)
}

// span is a part of the page.
func span(e []byte, id, at, size uint64) ([]byte, error) {
	if at < elemSize && size > 0 || at+size > uint64(len(e)) {
		return nil, fmt.Errorf("page %d: something on it reaches beyond its end", id)
	}
	return e[at : at+size], nil
}

// bucket looks into a bucket within a value: a root page, or if that is 0 a
// page that follows in the value.
func (w *walker) bucket(value []byte, id uint64, depth int) error {
	if len(value) < bucketHead {
		return fmt.Errorf("page %d: a bucket on it is cut short", id)
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		return w.tree(root, depth+1)
	}
	if len(value) < bucketHead+pageHeader {
		return fmt.Errorf("page %d: a bucket on it is cut short", id)
	}
	return w.elements(value[bucketHead:], id, depth+1)
}
