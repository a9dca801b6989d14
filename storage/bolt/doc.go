//go:build !js

// Package bolt keeps a vault in files: one bbolt database, vault.bolt, and the
// attachments beside it, each a file named by its content. Attachments are not
// in the database because files are faster and a database shrinks only by [Compact].
//
//	FOLDER/vault.lock               empty; locked by the process that has the vault
//	FOLDER/vault.bolt               everything but attachments
//	FOLDER/vault.bolt.compact.part  what a compaction that was cut short left; the next Open deletes it
//	FOLDER/blobs/SHOP/ab/cd/HASH    attachments held in full
//	FOLDER/blobs/SHOP/partial/HASH  attachments still arriving
//	FOLDER/damaged/SHOP/HASH        what a repair found of damaged ones
//
// # What holds after a power cut
//
// Each call that writes is one transaction, which is synced to the disk before
// the call returns. The database is never changed in place: a transaction cut
// short leaves the one before it. An attachment is synced and checked before it
// is moved to its name, and noted in the database after that, so what is noted
// is there; a file that is there and not noted is taken in when it is next
// asked for.
//
// # What holds on a full disk
//
// A transaction that finds no room for its pages does not count. One that finds
// none for the page that makes it count may count after a power cut or not: that
// page is put back before any other call is answered, and until there is room
// for that every call returns storage.ErrFull.
//
// # What others do to the file
//
// Nothing is acknowledged once the file was moved, replaced or written into by
// another program: it would be in no vault with the next start.
//
// # Damage
//
// Nothing is read without being compared with what vouches for it: an op with
// the chain of the log, an attachment with its name. Damage is an error that is
// storage.ErrCorrupt and says what to do. [Check] looks at everything at once.
//
// # In the database
//
// Bucket meta names the store and its schema. Bucket shops has one bucket a
// shop, see layout.go. Devices, tokens, codes, attempts and the audit log are
// buckets of their own, their values JSON.
package bolt
