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
func each(list []byte, f func(n int)) {
	for n := -1; len(list) > 0; {
		gap, size := binary.Uvarint(list)
		n += int(gap) + 1
		f(n)
		list = list[size:]
	}
}

// format is the first byte of a block. Another one is another build's.
const format = 1

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
	out = binary.AppendUvarint(out, uint64(len(b.terms)))
	for i, t := range b.terms {
		out = appendText(out, t)
		out = appendText(out, string(b.lists[i]))
	}
	return out
}

func appendText(out []byte, text string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(text))), text...)
}

// errFormat is a block whose bytes are not what Encode writes.
var errFormat = errors.New("block of the index")

// Decode reads what Encode wrote. storage.ErrCorrupt: it is something else.
// All texts share one copy of the data.
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
	n := r.number(2)
	b.terms, b.lists = make([]string, 0, n), make([][]byte, 0, n)
	for range n {
		b.terms = append(b.terms, r.text())
		b.lists = append(b.lists, []byte(r.text()))
	}
	if r.broken || r.rest != "" || !b.sound() {
		return nil, fmt.Errorf("%w: %w", errFormat, storage.ErrCorrupt)
	}
	return b, nil
}

// sound tells whether every list names records there are, so that no answer
// can go wrong later.
func (b *Block) sound() bool {
	for i, list := range b.lists {
		if i > 0 && b.terms[i-1] >= b.terms[i] || !soundList(list, len(b.Records)) {
			return false
		}
	}
	for i := 1; i < len(b.Records); i++ {
		if b.Records[i-1].ID >= b.Records[i].ID {
			return false
		}
	}
	return true
}

func soundList(list []byte, records int) bool {
	if len(list) == 0 {
		return false
	}
	for n := -1; len(list) > 0; {
		gap, size := binary.Uvarint(list)
		if size <= 0 || gap >= uint64(records) {
			return false
		}
		if n += int(gap) + 1; n >= records {
			return false
		}
		list = list[size:]
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

// number reads a count of things that take at least least bytes each, so that
// a damaged one cannot ask for memory without end.
func (r *reader) number(least int) int {
	n, size := uint64(0), 0
	for shift := 0; ; shift += 7 {
		c := r.take(1)
		if c == "" || shift > 28 {
			r.broken = true
			return 0
		}
		n |= uint64(c[0]&0x7f) << shift
		size++
		if c[0] < 0x80 {
			break
		}
	}
	if n > uint64(len(r.rest)/least) {
		r.broken = true
		return 0
	}
	return int(n)
}

func (r *reader) text() string { return r.take(r.number(1)) }
