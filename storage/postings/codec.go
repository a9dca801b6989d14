package postings

import (
	"encoding/binary"
	"errors"
	"fmt"

	"torchside/storage"
)

// format is the first byte of a block. Another one is another build's.
const format = 2

// idText is the length of an id as text.
const idText = 36

// Encode writes the block as bytes.
func (b *Block) Encode() []byte {
	out := []byte{format}
	out = binary.AppendUvarint(out, uint64(len(b.Records)))
	for _, r := range b.Records {
		out = append(out, r.ID...)
		out = append(out, byte(r.Conflict))
		out = appendText(out, r.Sort)
		out = appendText(out, r.Brief)
	}
	out = appendText(out, b.terms.offsets)
	return append(out, b.terms.data...)
}

func appendText(out []byte, text string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(text))), text...)
}

// errFormat is a block whose bytes are not what Encode writes.
var errFormat = errors.New("block of the index")

// Decode reads what Encode wrote. storage.ErrCorrupt: it is something else.
// All texts share one copy of the data. Terms are looked at only when they are
// asked for.
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
	b.terms.offsets = r.text()
	b.terms.data = r.rest
	if r.broken || len(b.terms.offsets)%4 != 0 || !b.sound() {
		return nil, fmt.Errorf("%w: %w", errFormat, storage.ErrCorrupt)
	}
	return b, nil
}

// sound tells whether the records stand in order.
func (b *Block) sound() bool {
	for i := 1; i < len(b.Records); i++ {
		if b.Records[i-1].ID >= b.Records[i].ID {
			return false
		}
	}
	return true
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
