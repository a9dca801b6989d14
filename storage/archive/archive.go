// Package archive reads and writes everything a store holds as one file, to
// move it to another address or device and to keep as a backup.
//
// The file is a zip that a person can read:
//
//	README.txt      what is in it, for people
//	ops.jsonl       every op as one JSON object a line, by ascending id
//	blobs/<hash>    every attachment, named by the SHA-256 of its content
//	manifest.json   format, version, who wrote it when, counts, and the
//	                SHA-256 of ops.jsonl
//
// [Export] writes a store's file; [Write] writes ops that are at hand, for a
// store that cannot be read. Both write as they go: memory does not grow with
// the store. [Read] checks a whole file, to the last photo, before anything is
// done with it, and keeps none of it in memory; [Import] then reads it once
// more, page by page, and adds it to a store. Because ops never change and are
// never overwritten, importing is safe in any order and any number of times:
// what is there stays, what is new is added, and a record changed on both sides
// shows both versions.
//
// # Never half
//
// A file that is damaged anywhere adds nothing. A sound file for which there is
// no room is refused before anything is written, where the host tells its room.
// If the store fails in the middle all the same, what was added is whole records
// with their attachments (these go first), and importing again goes on from
// there.
//
// [Fingerprint] is one number for all a store holds: equal before and after a
// move, it shows that nothing was lost.
//
// Every version ever written stays readable; testdata/records holds one file
// of each. Version 1 had no attachments and no README.
package archive

import (
	"errors"
	"time"

	"torchside/storage"
)

// Format names the file in its manifest.
const Format = "torchside-archive"

// Version is the version this build writes, and the newest it reads.
const Version = 2

// Limits of a file that is read, far above any use (twenty thousand sheets are
// some sixty megabytes, two thousand photos a few gigabytes), so that a damaged
// or hostile file cannot keep a device busy for hours.
const (
	MaxFile     = 8 << 30 // bytes of the zip
	MaxText     = 1 << 30 // bytes of ops.jsonl when unpacked
	MaxEntries  = 100_000 // files in the zip
	maxManifest = 4 << 20 // bytes of manifest.json when unpacked
	maxLine     = 1 << 20 // bytes of one op: its body of 96 kB, escaped at worst, fits
)

// ErrForeign: the file is not one of ours. Files of ours that are damaged are
// storage.ErrCorrupt, those of a newer build storage.ErrNewer.
var ErrForeign = errors.New("this file is not a Torchside export")

// Names of the entries.
const (
	readmeName   = "README.txt"
	manifestName = "manifest.json"
	opsName      = "ops.jsonl"
	blobsFolder  = "blobs/"
)

// Manifest says what a file holds.
type Manifest struct {
	Format     string    `json:"format"`
	Version    int       `json:"version"`
	App        string    `json:"app"`         // version of the app that wrote it
	ExportedAt time.Time `json:"exported_at"` // by the clock of the device
	Ops        int       `json:"ops"`
	Records    int       `json:"records"` // distinct records, deleted ones included
	Bytes      int64     `json:"bytes"`   // of ops.jsonl
	SHA256     string    `json:"sha256"`  // of ops.jsonl, lower-case hex
	Blobs      int       `json:"blobs,omitempty"`
	BlobBytes  int64     `json:"blob_bytes,omitempty"`
	// Lost are attachments the device could not read any more when it wrote the file.
	Lost []storage.Hash `json:"lost,omitempty"`
}

// Progress is told how far a reading or an import is, in bytes of content.
type Progress func(done, total int64)

// tell calls p if there is one.
func (p Progress) tell(done, total int64) {
	if p != nil {
		p(done, total)
	}
}
