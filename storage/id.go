package storage

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"time"
)

// ID is 128 bits as the lower-case text form of a UUID. Ids made by an author
// are version 7 (RFC 9562 section 5.7), so their text sorts by the time they
// were made. Version 8 is accepted too: an id may be computed from content.
type ID string

// idText is the length of an ID: 32 digits and four hyphens.
const idText = 36

// NewID makes a version 7 id from a clock reading and 62 bits of randomness.
// The low 12 bits of the counter follow the milliseconds (RFC 9562 section
// 6.2, method 1), so ids of one device sort as they were made.
func NewID(at HLC, random io.Reader) (ID, error) {
	var b [16]byte
	if _, err := io.ReadFull(random, b[8:]); err != nil {
		return "", fmt.Errorf("random bytes for an id: %w", err)
	}
	binary.BigEndian.PutUint64(b[:8], uint64(at.Milli)<<16|0x7000|uint64(at.Counter&0xfff))
	b[8] = b[8]&0x3f | 0x80
	return idFrom(b), nil
}

// HashID makes a version 8 id from content, so that whoever has the same
// content makes the same id. 122 bits of a SHA-256 stay.
func HashID(content []byte) ID {
	sum := sha256.Sum256(content)
	b := [16]byte(sum[:16])
	b[6] = b[6]&0x0f | 0x80
	b[8] = b[8]&0x3f | 0x80
	return idFrom(b)
}

// idFrom writes 16 bytes in the form 8-4-4-4-12.
func idFrom(b [16]byte) ID {
	var s [idText]byte
	at := 0
	for i, part := range [][]byte{b[0:4], b[4:6], b[6:8], b[8:10], b[10:16]} {
		if i > 0 {
			s[at] = '-'
			at++
		}
		at += hex.Encode(s[at:], part)
	}
	return ID(s[:])
}

// Check returns ErrInvalid unless the id is the canonical text of a version 7
// or 8 UUID.
func (id ID) Check() error {
	if len(id) != idText {
		return fmt.Errorf("%w: id %q is not %d characters long", ErrInvalid, id, idText)
	}
	for i := range len(id) {
		if !idCharacter(i, id[i]) {
			return fmt.Errorf("%w: id %q is not a version 7 or 8 UUID in lower case", ErrInvalid, id)
		}
	}
	return nil
}

// idCharacter tells whether c may stand at position i of an id.
func idCharacter(i int, c byte) bool {
	switch i {
	case 8, 13, 18, 23:
		return c == '-'
	case 14: // version
		return c == '7' || c == '8'
	case 19: // variant
		return c == '8' || c == '9' || c == 'a' || c == 'b'
	}
	return '0' <= c && c <= '9' || 'a' <= c && c <= 'f'
}

// Time returns when a version 7 id was made, by the clock of its device. It
// is the zero time for any other text.
func (id ID) Time() time.Time {
	if id.Check() != nil || id[14] != '7' {
		return time.Time{}
	}
	var b [8]byte
	if _, err := hex.Decode(b[2:], []byte(id[:8]+id[9:13])); err != nil {
		return time.Time{}
	}
	return time.UnixMilli(int64(binary.BigEndian.Uint64(b[:])))
}
