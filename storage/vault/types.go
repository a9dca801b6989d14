package vault

import (
	"encoding/json"
	"fmt"
	"io"
	"time"

	"torchside/storage"
)

// ShopID names a shop: 128 random bits as 32 lower-case hexadecimal digits.
type ShopID string

// DeviceID names a device, in the same form. It is no secret, and not the Dev
// of an op, which a device gives itself.
type DeviceID string

// SecretHash is the SHA-256 of a token or of a pairing code.
type SecretHash [32]byte

// Shop is one workshop whose devices share their data.
type Shop struct {
	ID      ShopID
	Name    string
	Created time.Time
}

// Checkpoint is a place in the log of a shop. The zero Checkpoint is the start
// of any log. One with Seq 0 and a Store is the start of that vault's.
type Checkpoint struct {
	Store string `json:"store"` // the vault's ID
	Seq   uint64 `json:"seq"`   // number of the last op before the place
	Chain string `json:"chain"` // its chain value as 64 hexadecimal digits, "" at 0, and the tag of the last trim, see Line
}

// Limits is how much one Pull returns at most.
type Limits struct {
	Ops   int // count
	Bytes int // sum of the ops' JSON; one larger op is returned all the same
}

// Page is one answer to a Pull.
type Page struct {
	Ops  []json.RawMessage // each as storage.Op.MarshalJSON wrote it, not decoded again
	Next Checkpoint        // behind the last of them: the since of the next Pull
	More bool              // there are ops behind Next
}

// Decode reads the ops of the page. storage.ErrCorrupt: one is not an op.
func (p Page) Decode() ([]storage.Op, error) {
	ops := make([]storage.Op, len(p.Ops))
	for i, raw := range p.Ops {
		if err := ops[i].UnmarshalJSON(raw); err != nil {
			return nil, fmt.Errorf("op %d of a page: %w", i, err)
		}
	}
	return ops, nil
}

// Status says what became of an op that was pushed.
type Status string

// Kinds of Status.
const (
	Stored   Status = "stored"   // it is new and has got a number
	Held     Status = "held"     // it was there already with the same content
	Dropped  Status = "dropped"  // it was there with the same content, was replaced, and its text was dropped as old
	Rejected Status = "rejected" // it was not stored, for the reason given
)

// Reasons of a rejected op.
const (
	ReasonInvalid  = "invalid"  // it breaks a rule of storage.Op
	ReasonMismatch = "mismatch" // its id is held with other content
)

// Ack answers for one op.
type Ack struct {
	Op     storage.ID
	Status Status
	Reason string // of a rejected op; "" otherwise
	Detail string // what is wrong with a rejected op, in words
	// At is the op's own place in the log; zero for a rejected one. A device
	// keeps the one with the highest Seq, beside what it has pulled: a vault
	// that does not Verify it has lost what it acknowledged.
	At Checkpoint
}

// Blob reads an attachment.
type Blob interface {
	io.ReadSeekCloser
}

// Device is a phone or tablet that may ask for the data of one shop.
type Device struct {
	ID      DeviceID
	Shop    ShopID
	Name    string
	Added   time.Time
	Seen    time.Time // zero until it was
	Revoked time.Time // zero while it may ask
}

// Code lets one device into a shop, once.
type Code struct {
	Hash    SecretHash
	Shop    ShopID
	Expires time.Time
}

// Attempts is what is remembered of failed attempts. The vault gives it no
// meaning.
type Attempts struct {
	Count int       // of failures
	Last  time.Time // when the last one was
	Until time.Time // refused until then; zero: not refused
}

// AuditEntry is one thing worth knowing later about who did what. It holds no
// secret.
type AuditEntry struct {
	At     time.Time
	Shop   ShopID   // "" if it belongs to none
	Device DeviceID // "" if none was known
	Event  string   // short and fixed, as "device added"
	Detail string   // names and addresses that belong to it
}

// Stats is how much a vault holds.
type Stats struct {
	Shops     []ShopStats // in the order of Shops
	FileBytes int64       // size of the database file; 0 without one
}

// ShopStats is how much one shop holds.
type ShopStats struct {
	Shop      Shop
	Records   int        // deleted ones included
	Last      Checkpoint // of the newest op; Last.Seq is how many there are
	Blobs     int        // attachments held in full
	BlobBytes int64      // their sizes together
	Wanted    int        // attachments named and not held
	Devices   int        // that may ask
	Keep      int        // days for which replaced versions are kept; 0 for ever
	Dropped   int        // ops whose text was dropped
	Gone      int        // attachments let go of with them
}

// Limits of what a vault remembers, and how exactly.
const (
	MaxName     = 80               // bytes of a name
	MaxKey      = 80               // bytes of a key of Attempts
	MaxCodes    = 32               // open codes of one shop
	MaxAttempts = 4096             // keys
	MaxAudit    = 10_000           // entries of all shops together
	MaxStrange  = 1_000            // of these, entries that belong to no shop
	MaxDetail   = 400              // bytes of an Event or Detail; the rest is cut off
	TouchEvery  = 10 * time.Minute // between two notes of TouchDevice
)
