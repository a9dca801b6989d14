package vault

import (
	"errors"
	"fmt"

	"torchside/storage"
)

// Errors of a vault, wrapped with what failed; test with errors.Is.
var (
	ErrNoShop    = errors.New("no such shop")
	ErrNoDevice  = errors.New("no such device")
	ErrRevoked   = errors.New("this device was put out of the shop")
	ErrNoCode    = errors.New("no such pairing code is open")
	ErrNoBlob    = errors.New("no such attachment is held")
	ErrNotWanted = errors.New("no change of the shop names this attachment")
	ErrHash      = errors.New("the attachment has another content than its name says")
)

// Ways in which a checkpoint is not one of a log.
const (
	OtherStore = "store" // it is of another vault
	Ahead      = "ahead" // its number was not given out: the vault was put back
	OtherChain = "chain" // its number was given to something else: put back, and written on
	BeforeTrim = "trim"  // it is of before a trim, and of before what that dropped
)

// MismatchError says that a checkpoint is not one of this log: the vault was
// replaced, or an older state of it was put back.
type MismatchError struct {
	Why   string     // one of OtherStore, Ahead, OtherChain and BeforeTrim
	Given Checkpoint // what was asked about
	Store string     // ID of this vault
	Last  uint64     // newest number of the log
}

// Error says what differs and what follows.
func (e *MismatchError) Error() string {
	switch e.Why {
	case OtherStore:
		return fmt.Sprintf("this vault is %s, not %s: start from nothing and send everything", e.Store, e.Given.Store)
	case Ahead:
		return fmt.Sprintf("this vault has %d changes, not %d, so an older state of it was put back: start from nothing and send everything", e.Last, e.Given.Seq)
	}
	if e.Why == BeforeTrim {
		return fmt.Sprintf("old versions behind change %d were dropped since: start from nothing and send everything", e.Given.Seq)
	}
	return fmt.Sprintf("change %d of this vault is another than it was, so an older state of it was put back: start from nothing and send everything", e.Given.Seq)
}

// GoneError says that an attachment was let go of with the last version that
// named it. It is ErrNoBlob and ErrNotWanted.
type GoneError struct {
	Hash storage.Hash
	Tag  string // of the log as it is now, see Line
}

// Error says why it is gone.
func (e *GoneError) Error() string {
	return fmt.Sprintf("attachment %s: only versions named it that were older than this shop keeps: it is gone for good", e.Hash)
}

// Is makes errors.Is tell that it is neither held nor wanted.
func (e *GoneError) Is(target error) bool { return target == ErrNoBlob || target == ErrNotWanted }

// OffsetError says that a piece of an attachment does not follow what is held.
type OffsetError struct {
	Have     int64 // bytes held
	Complete bool  // and that is all of it
}

// Error says what is held.
func (e *OffsetError) Error() string {
	if e.Complete {
		return fmt.Sprintf("all %d bytes of the attachment are held", e.Have)
	}
	return fmt.Sprintf("%d bytes of the attachment are held: continue there", e.Have)
}
