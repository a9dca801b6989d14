package wire

import (
	"encoding/json"

	"torchside/storage"
)

// Version is the protocol's number, as it stands in the path.
const Version = 1

// Prefix begins the path of every call.
const Prefix = "/api/v1"

// Limits of one exchange, each way. A single op always fits: its body is at
// most storage.MaxBody before its text is escaped.
const (
	MaxOps     = 200       // ops
	MaxBytes   = 256 << 10 // bytes of ops as JSON, before compression
	MaxPiece   = 256 << 10 // bytes of an attachment
	MaxWants   = 200       // names of attachments
	MaxRequest = 1 << 20   // bytes of a whole message: one op whose every byte is escaped, and more
)

// SyncRequest is what a device sends.
type SyncRequest struct {
	Dev       storage.ID         `json:"dev"`                 // the device, for its owner to read
	Since     storage.Checkpoint `json:"since"`               // what it has taken over; zero at first
	Ops       []storage.Op       `json:"ops,omitempty"`       // what waits there to be sent
	WantAfter storage.Hash       `json:"wantAfter,omitempty"` // Want from names above this one
}

// SyncReply is what the vault answers.
type SyncReply struct {
	Store    string             `json:"store"`              // the vault's id
	Now      int64              `json:"now"`                // the vault's clock, ms since 1970 UTC
	Mismatch bool               `json:"mismatch,omitempty"` // Since is not of this vault as it is now
	Acks     []Ack              `json:"acks,omitempty"`     // one for each op sent, in order
	Ops      []json.RawMessage  `json:"ops,omitempty"`      // what the device does not have, each as Op.MarshalJSON wrote it
	Next     storage.Checkpoint `json:"next"`               // to store with Ops; not set after Mismatch
	More     bool               `json:"more,omitempty"`     // ask again at once
	Want     []storage.Hash     `json:"want,omitempty"`     // attachments the vault's ops name and it lacks, ascending
	WantMore bool               `json:"wantMore,omitempty"` // there are more above the last of Want
}

// Ack tells what became of an op that was sent.
type Ack struct {
	Op     storage.ID `json:"op"` // "" if not even that could be read
	Status Status     `json:"status"`
	// Dropped, beside Held: the vault keeps only that it was there, as it was
	// replaced and is older than the shop keeps versions. A device on which it
	// looks like the newest forgets it.
	Dropped bool   `json:"dropped,omitempty"`
	Reason  string `json:"reason,omitempty"` // of a rejection, for a person to read
}

// Status is what became of an op.
type Status string

// What can become of an op. Stored and Held are durable.
const (
	Stored   Status = "stored"   // new to the vault
	Held     Status = "held"     // there before, with the same content
	Rejected Status = "rejected" // not taken; Reason says why
)

// BlobState is how much of an attachment the vault has.
type BlobState struct {
	Have     int64 `json:"have"`     // bytes, from the start: the next piece goes there
	Complete bool  `json:"complete"` // all of it, and its hash was right
}

// Piece is part of an attachment.
type Piece struct {
	Data []byte // from the offset asked for
	Size int64  // of the whole attachment
}
