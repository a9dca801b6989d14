package vault

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"torchside/storage"
)

// Chain returns the chain value that follows last ("" before the first op)
// when an op is added in the form raw, that of storage.Op.MarshalJSON.
func Chain(last []byte, id storage.ID, raw []byte) [sha256.Size]byte {
	sum := sha256.Sum256(raw)
	return ChainSum(last, id, sum)
}

// ChainSum is Chain where only the SHA-256 of the op's JSON is known.
func ChainSum(last []byte, id storage.ID, sum [sha256.Size]byte) [sha256.Size]byte {
	linked := make([]byte, 0, 2*sha256.Size+len(id))
	linked = append(linked, last...)
	linked = append(linked, id...)
	return sha256.Sum256(append(linked, sum[:]...))
}

// CheckName returns storage.ErrInvalid unless name may be that of a shop or a
// device: 1 to MaxName bytes of printable text without blanks around it.
func CheckName(name string) error {
	printable := !strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) })
	switch {
	case strings.TrimSpace(name) == "":
		return fmt.Errorf("%w: a name is needed", storage.ErrInvalid)
	case len(name) > MaxName:
		return fmt.Errorf("%w: the name has %d bytes, at most %d", storage.ErrInvalid, len(name), MaxName)
	case !utf8.ValidString(name) || !printable:
		return fmt.Errorf("%w: the name %q has characters that cannot be printed", storage.ErrInvalid, name)
	case strings.TrimSpace(name) != name:
		return fmt.Errorf("%w: the name %q begins or ends with a blank", storage.ErrInvalid, name)
	}
	return nil
}

// CheckHash returns storage.ErrInvalid unless h is the name of an attachment:
// 64 lower-case hexadecimal digits, and so no path.
func CheckHash(h storage.Hash) error {
	sum, err := hex.DecodeString(h)
	if err != nil || len(sum) != sha256.Size || hex.EncodeToString(sum) != h {
		return fmt.Errorf("%w: %q is not the name of an attachment, 64 digits 0-9 and a-f", storage.ErrInvalid, h)
	}
	return nil
}

// Check returns storage.ErrInvalid unless both limits are at least 1.
func (l Limits) Check() error {
	if l.Ops < 1 || l.Bytes < 1 {
		return fmt.Errorf("%w: a page of %d changes and %d bytes, at least 1 of each", storage.ErrInvalid, l.Ops, l.Bytes)
	}
	return nil
}

// CheckKey returns storage.ErrInvalid unless key may be one of Attempts.
func CheckKey(key string) error {
	if key == "" || len(key) > MaxKey {
		return fmt.Errorf("%w: a key of %d bytes, 1 to %d", storage.ErrInvalid, len(key), MaxKey)
	}
	return nil
}

// Cut brings the texts of an entry within MaxDetail and its time to Wall.
func (e AuditEntry) Cut() AuditEntry {
	e.At, e.Event, e.Detail = Wall(e.At), cut(e.Event), cut(e.Detail)
	return e
}

func cut(s string) string {
	if len(s) > MaxDetail {
		s = s[:MaxDetail]
	}
	return strings.ToValidUTF8(s, "")
}

// RandomID draws 128 bits and writes them as 32 lower-case hexadecimal digits:
// the form of the ids of vaults, shops and devices. The only errors are those
// of random.
func RandomID(random io.Reader) (string, error) {
	var b [16]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return "", fmt.Errorf("random bytes for an id: %w", err)
	}
	return hex.EncodeToString(b[:]), nil
}

// CheckPiece returns storage.ErrInvalid unless data at offset may be a piece of
// the attachment h.
func CheckPiece(h storage.Hash, offset int64, data []byte) error {
	if err := CheckHash(h); err != nil {
		return err
	}
	if offset < 0 || len(data) == 0 || offset > storage.MaxBlob || offset+int64(len(data)) > storage.MaxBlob {
		return fmt.Errorf("%w: a piece of %d bytes at %d: some bytes are needed, and all within %d", storage.ErrInvalid, len(data), offset, storage.MaxBlob)
	}
	return nil
}

// TouchDue tells whether a device last noted at seen is to be noted at now. A
// clock that was set back does not keep it from being noted.
func TouchDue(seen, now time.Time) bool {
	passed := now.Sub(seen)
	return passed >= TouchEvery || passed <= -TouchEvery
}

// Wall returns a time as a vault gives it back: in UTC, to the millisecond.
func Wall(t time.Time) time.Time { return t.UTC().Truncate(time.Millisecond) }

// Wall returns the attempts as a vault gives them back.
func (a Attempts) Wall() Attempts {
	a.Last, a.Until = Wall(a.Last), Wall(a.Until)
	return a
}
