package storage

import (
	"bytes"
	"cmp"
	"encoding/hex"
	"fmt"
	"slices"
	"time"
)

// Op is one immutable change to one record. Once stored it is never altered:
// the same id always means the same content, on every device, for ever.
type Op struct {
	ID      ID       // of this change
	Rec     ID       // of the record it changes
	Kind    string   // what the body describes, as "torch" or "sheet"
	Schema  int      // form of the body within its kind, from 1
	Parents []ID     // changes this one replaces, sorted; none for a new record
	Dev     ID       // device that made it
	N       uint64   // its number on that device, from 1; shows gaps, is no identity
	HLC     HLC      // breaks ties between heads
	At      string   // wall time with offset (RFC 3339), for display only
	Del     bool     // the record is deleted
	Body    []byte   // opaque; may be empty
	Blobs   []string // attachments: SHA-256 as lower-case hex, sorted
}

// Limits of one op. MaxBody leaves room for an op in one exchange of 256 kB
// even after its text has been escaped; the others are far above any use and
// keep a damaged or hostile file from filling memory.
const (
	MaxBody    = 96 << 10 // bytes
	MaxKind    = 64       // bytes
	MaxParents = 1024     // count
	MaxBlobs   = 256      // count
)

// AtLayout is the form of Op.At, with milliseconds and the offset of the place.
const AtLayout = "2006-01-02T15:04:05.000Z07:00"

// Check returns ErrInvalid, and what is wrong, unless the op keeps the rules
// written at its fields and limits. Every store checks before it writes.
func (o Op) Check() error {
	for _, part := range []func() error{o.checkIDs, o.checkParents, o.checkSource, o.checkContent} {
		if err := part(); err != nil {
			return err
		}
	}
	return nil
}

func (o Op) checkIDs() error {
	for _, id := range []ID{o.ID, o.Rec, o.Dev} {
		if err := id.Check(); err != nil {
			return err
		}
	}
	return nil
}

func (o Op) checkParents() error {
	if len(o.Parents) > MaxParents {
		return fmt.Errorf("%w: %d parents, at most %d", ErrInvalid, len(o.Parents), MaxParents)
	}
	for i, p := range o.Parents {
		if err := p.Check(); err != nil {
			return err
		}
		if p == o.ID || i > 0 && o.Parents[i-1] >= p {
			return fmt.Errorf("%w: parents of %s are not sorted, repeat, or name the change itself", ErrInvalid, o.ID)
		}
	}
	return nil
}

func (o Op) checkSource() error {
	if o.N < 1 {
		return fmt.Errorf("%w: change %s has no number", ErrInvalid, o.ID)
	}
	if o.HLC.Milli < 0 || o.HLC.Milli > maxMilli {
		return fmt.Errorf("%w: clock reading of %d ms", ErrInvalid, o.HLC.Milli)
	}
	if _, err := time.Parse(time.RFC3339Nano, o.At); err != nil {
		return fmt.Errorf("%w: time %q of change %s", ErrInvalid, o.At, o.ID)
	}
	return nil
}

func (o Op) checkContent() error {
	switch {
	case o.Kind == "" || len(o.Kind) > MaxKind || !plainText(o.Kind):
		return fmt.Errorf("%w: kind %q is not 1 to %d printable characters", ErrInvalid, o.Kind, MaxKind)
	case o.Schema < 1:
		return fmt.Errorf("%w: schema %d, from 1", ErrInvalid, o.Schema)
	case len(o.Body) > MaxBody:
		return fmt.Errorf("%w: body of %d bytes, at most %d", ErrInvalid, len(o.Body), MaxBody)
	case len(o.Blobs) > MaxBlobs:
		return fmt.Errorf("%w: %d attachments, at most %d", ErrInvalid, len(o.Blobs), MaxBlobs)
	}
	return checkBlobs(o.Blobs)
}

// plainText tells whether s is printable ASCII: kinds are names in code.
func plainText(s string) bool {
	for i := range len(s) {
		if s[i] < 0x21 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

func checkBlobs(blobs []string) error {
	for i, b := range blobs {
		sum, err := hex.DecodeString(b)
		if err != nil || len(sum) != 32 || b != hex.EncodeToString(sum) {
			return fmt.Errorf("%w: attachment name %q is not a SHA-256", ErrInvalid, b)
		}
		if i > 0 && blobs[i-1] >= b {
			return fmt.Errorf("%w: attachments are not sorted or repeat", ErrInvalid)
		}
	}
	return nil
}

// Equal tells whether two ops have the same content, field by field. A nil
// and an empty slice are the same.
func (o Op) Equal(p Op) bool {
	return o.ID == p.ID && o.Rec == p.Rec && slices.Equal(o.Parents, p.Parents) &&
		o.Dev == p.Dev && o.N == p.N && o.HLC == p.HLC && o.At == p.At && o.sameContent(p)
}

// sameContent tells whether two ops leave the record in the same state.
func (o Op) sameContent(p Op) bool {
	return o.Kind == p.Kind && o.Schema == p.Schema && o.Del == p.Del &&
		bytes.Equal(o.Body, p.Body) && slices.Equal(o.Blobs, p.Blobs)
}

// Compare orders heads of one record: the highest is the one shown. An edit is
// above a deletion whatever the clocks say, then the later clock, then the
// higher device and op id, so every device picks the same.
func (o Op) Compare(p Op) int {
	if o.Del != p.Del {
		if o.Del {
			return -1
		}
		return 1
	}
	return cmp.Or(o.HLC.Compare(p.HLC), cmp.Compare(o.Dev, p.Dev), cmp.Compare(o.ID, p.ID))
}

// Clone returns a copy that shares no memory with o.
func (o Op) Clone() Op {
	o.Parents = slices.Clone(o.Parents)
	o.Body = bytes.Clone(o.Body)
	o.Blobs = slices.Clone(o.Blobs)
	return o
}
