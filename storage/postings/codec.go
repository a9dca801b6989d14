package postings

import (
	"encoding/binary"
	"errors"
	"fmt"

	"torchside/storage"
)

// gaps writes ascending numbers as the gaps between them, most of which take
// one byte.
func gaps(numbers []int) []byte {
	var list []byte
	last := -1
	for _, n := range numbers {
		list = binary.AppendUvarint(list, uint64(n-last-1))
		last = n
	}
	return list
}

// each reads what gaps wrote.
func each(list string, f func(n int)) {
	r := reader{rest: list}
	for n := -1; r.rest != ""; {
		n += r.varint() + 1
		f(n)
	}
}

// format is the first byte of a block. Another one is another build's.
const format = 1

// idText is the length of an id as text.
const idText = 36

// Encode writes the block as bytes.
func (b *Block) Encode() []byte {
	b.open()
	out := []byte{format}
	out = binary.AppendUvarint(out, uint64(len(b.Records)))
	for _, r := range b.Records {
		out = append(out, r.ID...)
		out = append(out, byte(r.Conflict))
		out = appendText(out, r.Sort)
		out = appendText(out, r.Brief)
	}
	out = binary.AppendUvarint(out, uint64(len(b.terms)))
	for i, t := range b.terms {
		out = appendText(out, t)
		out = appendText(out, b.lists[i])
	}
	return out
}

func appendText(out []byte, text string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(text))), text...)
}

// errFormat is a block whose bytes are not what Encode writes.
var errFormat = errors.New("block of the index")

// Decode reads what Encode wrote. storage.ErrCorrupt: it is something else.
// All texts share one copy of the data; the terms are looked at only when they
// are asked for, as most lists open without a filter.
func Decode(data []byte) (*Block, error) {
	r := &reader{rest: string(data)}
	if r.take(1) != string(rune(format)) {
		return nil, fmt.Errorf("%w: %w", errFormat, storage.ErrCorrupt)
	}
	b := &Block{Records: make([]Record, 0, r.number(idText))}
	for range cap(b.Records) {
		rec := Record{ID: storage.ID(r.take(idText))}
		if c := r.take(1); c != "" {
			rec.Conflict = storage.Conflict(c[0])
		}
		rec.Sort, rec.Brief = r.text(), r.text()
		b.Records = append(b.Records, rec)
	}
	b.packed = r.rest
	if r.broken || !b.soundRecords() {
		return nil, fmt.Errorf("%w: %w", errFormat, storage.ErrCorrupt)
	}
	return b, nil
}

// open reads the terms. Those of a block that was damaged after it was written
// are none: the checksum of what a store keeps is the store's affair.
func (b *Block) open() {
	if b.packed == "" {
		return
	}
	r := &reader{rest: b.packed}
	b.packed = ""
	n := r.number(2)
	b.terms, b.lists = make([]string, 0, n), make([]string, 0, n)
	for range n {
		b.terms, b.lists = append(b.terms, r.text()), append(b.lists, r.text())
	}
	if r.broken || r.rest != "" || !b.soundTerms() {
		b.terms, b.lists = nil, nil
	}
}

// soundTerms tells whether every list names records there are, so that no
// answer can go wrong later.
func (b *Block) soundTerms() bool {
	for i, list := range b.lists {
		if i > 0 && b.terms[i-1] >= b.terms[i] || !soundList(list, len(b.Records)) {
			return false
		}
	}
	return true
}

func (b *Block) soundRecords() bool {
	for i := 1; i < len(b.Records); i++ {
		if b.Records[i-1].ID >= b.Records[i].ID {
			return false
		}
	}
	return true
}

func soundList(list string, records int) bool {
	r := reader{rest: list}
	for n := -1; r.rest != ""; {
		if n += r.varint() + 1; r.broken || n >= records {
			return false
		}
	}
	return list != ""
}

// reader takes a text apart; after a fault it gives nothing more.
type reader struct {
	rest   string
	broken bool
}

func (r *reader) take(n int) string {
	if r.broken || n > len(r.rest) {
		r.broken = true
		return ""
	}
	taken := r.rest[:n]
	r.rest = r.rest[n:]
	return taken
}

// varint reads one number of at most 28 bits.
func (r *reader) varint() int {
	n := 0
	for shift := 0; shift < 28 && len(r.rest) > 0; shift += 7 {
		c := r.rest[0]
		r.rest = r.rest[1:]
		if n |= int(c&0x7f) << shift; c < 0x80 {
			return n
		}
	}
	r.broken, r.rest = true, ""
	return 0
}

// number reads a count of things that take at least least bytes each, so that
// a damaged one cannot ask for memory without end.
func (r *reader) number(least int) int {
	n := r.varint()
	if n > len(r.rest)/least {
		r.broken = true
		return 0
	}
	return n
}

func (r *reader) text() string { return r.take(r.number(1)) }
