// Package archive reads and writes everything a store holds as one file, to
// move it to another address or device and to keep as a backup.
//
// The file is a zip with two entries that a person can read:
//
//	manifest.json   format, version, who wrote it when, counts, and the
//	                SHA-256 of the other entry
//	ops.jsonl       every op as one JSON object a line, by ascending id
//
// [Export] writes a store's file; [Write] writes ops that are at hand, for a
// store that cannot be read. [Read] checks a whole file before anything is
// done with it, and [Import] adds its ops to a store. Because ops never change
// and are never overwritten, importing is safe in any order and any number of
// times: what is there stays, what is new is added, and a record changed on
// both sides shows both versions.
//
// Every version ever written stays readable; testdata/records holds one file
// of each. Attachments are not part of version 1.
package archive

import (
	"errors"
	"time"

	"torchside/storage"
)

// Format names the file in its manifest.
const Format = "torchside-archive"

// Version is the version this build writes, and the newest it reads.
const Version = 1

// Limits of a file that is read, far above any use (a working life of sheets
// is some tens of megabytes), so that a damaged or hostile file cannot fill
// memory.
const (
	MaxFile     = 256 << 20 // bytes of the zip
	MaxText     = 256 << 20 // bytes of ops.jsonl when unpacked
	maxManifest = 64 << 10  // bytes of manifest.json when unpacked
)

// ErrForeign: the file is not one of ours. Files of ours that are damaged are
// storage.ErrCorrupt, those of a newer build storage.ErrNewer.
var ErrForeign = errors.New("this file is not a Torchside export")

// Names of the entries.
const (
	manifestName = "manifest.json"
	opsName      = "ops.jsonl"
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
}

// Archive is a file that was read and found sound.
type Archive struct {
	Manifest Manifest
	Ops      []storage.Op // by ascending id, each id once
}
