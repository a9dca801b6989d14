package vault

import (
	"context"
	"time"

	"torchside/storage"
)

// Vault keeps the data of the shops of one server. Its methods may be called
// from any number of goroutines at once. Slices given to a vault are not kept
// or changed; those returned belong to the caller. Times come back as Wall gives
// them.
//
// Besides the errors named at each method, every method may return ctx.Err(),
// storage.ErrClosed after Close, storage.ErrFull when the disk is full,
// storage.ErrLost when something else has changed what is kept, or it could not
// be written, and storage.ErrCorrupt for kept data that cannot be read. Every
// method that takes a shop returns ErrNoShop when there is none with that id.
type Vault interface {
	Log
	Blobs
	Access
	History

	// ID is random and made with the vault: a device that meets another id
	// knows that this is not the vault it met before.
	ID() string

	// Shops returns all shops in the order they were made.
	Shops(ctx context.Context) ([]Shop, error)
	// CreateShop makes an empty shop. storage.ErrInvalid: the name is none by
	// CheckName, or another shop has it.
	CreateShop(ctx context.Context, name string, now time.Time) (Shop, error)
	// RenameShop gives a shop another name, by the rules of CreateShop.
	RenameShop(ctx context.Context, shop ShopID, name string) error

	// Stats counts what is kept. It is quick enough to be asked each second.
	Stats(ctx context.Context) (Stats, error)

	// Close waits for running calls and ends the use of the vault. Closing
	// twice is allowed.
	Close() error
}

// Log is the part of a vault that exchanges ops.
type Log interface {
	// Push stores ops of one shop in one transaction: each new one gets the
	// next number of the shop's log and moves the heads of its record. It
	// answers for each op in the order given, and one that is rejected does
	// not keep the others out. Order does not matter, not even a child before
	// its parent, and repetition does no harm. Unknown kinds and schemas are
	// kept as they are, and no op is refused for its time.
	Push(ctx context.Context, shop ShopID, ops []storage.Op) ([]Ack, error)

	// Pull returns the ops of the log behind since, in its order, up to the
	// limits but at least one if there is any, without those that were dropped.
	// MismatchError: since is not a
	// checkpoint of this log. storage.ErrInvalid: a limit below 1.
	Pull(ctx context.Context, shop ShopID, since Checkpoint, limit Limits) (Page, error)

	// Verify returns a MismatchError unless c is a checkpoint of this log. The
	// zero Checkpoint always is.
	Verify(ctx context.Context, shop ShopID, c Checkpoint) error
}

// Blobs is the part of a vault that keeps attachments. They arrive in pieces
// after the ops that name them, and each shop has its own.
type Blobs interface {
	// Want returns up to limit attachments that ops of the shop name and that
	// are not held in full, by ascending name. storage.ErrInvalid: a limit
	// below 1.
	Want(ctx context.Context, shop ShopID, limit int) ([]storage.Hash, error)

	// BlobOffset tells how many bytes of an attachment are held, and whether
	// that is all of it. Nothing held is 0, false and no error.
	// storage.ErrInvalid: h is not the name of an attachment. GoneError, here
	// and below: it was let go of by a Trim, and no op has named it since.
	BlobOffset(ctx context.Context, shop ShopID, h storage.Hash) (have int64, complete bool, err error)

	// WriteBlob adds a piece at an offset, which must be where the bytes held
	// end; a piece at 0 begins anew. With last set the content is checked and
	// the attachment is then held, synced to the disk, and seen by OpenBlob;
	// pieces before the last may be lost in a power cut.
	//
	// OffsetError: more or less is held than offset, or all of it; ask again.
	// ErrHash: the content has another hash; what was held of it is thrown
	// away. ErrNotWanted: no op of the shop names it. storage.ErrInvalid: no
	// name of an attachment, or more than storage.MaxBlob.
	WriteBlob(ctx context.Context, shop ShopID, h storage.Hash, offset int64, data []byte, last bool) error

	// OpenBlob returns an attachment held in full, for the caller to close, and
	// its size in bytes. ErrNoBlob: it is not held in full.
	OpenBlob(ctx context.Context, shop ShopID, h storage.Hash) (Blob, int64, error)
}

// Access is the part of a vault that knows who may ask. Secrets are given to
// it as hashes only.
type Access interface {
	// AddDevice lets a device into a shop. storage.ErrInvalid: the name is none
	// by CheckName, or another device has this token.
	AddDevice(ctx context.Context, shop ShopID, name string, token SecretHash, now time.Time) (Device, error)
	// DeviceByToken returns the device with a token, whatever its shop.
	// ErrNoDevice: there is none. ErrRevoked: it was put out; the device is
	// returned too.
	DeviceByToken(ctx context.Context, token SecretHash) (Device, error)
	// Devices returns the devices of a shop in the order they were added,
	// revoked ones too.
	Devices(ctx context.Context, shop ShopID) ([]Device, error)
	// RenameDevice gives a device another name. ErrNoDevice: not in this shop.
	// storage.ErrInvalid: the name is none by CheckName.
	RenameDevice(ctx context.Context, shop ShopID, id DeviceID, name string) error
	// RevokeDevice puts a device out for good; its data stays. Doing it again
	// does no harm. ErrNoDevice: not in this shop.
	RevokeDevice(ctx context.Context, shop ShopID, id DeviceID, now time.Time) error
	// TouchDevice notes when a device was last seen. The note is written at
	// most once each TouchEvery. ErrNoDevice: not in this shop.
	TouchDevice(ctx context.Context, shop ShopID, id DeviceID, now time.Time) error

	// AddCode keeps a pairing code until it expires. Expired codes are thrown
	// away on the way. storage.ErrInvalid: the code is there already, or
	// MaxCodes of the shop are open.
	AddCode(ctx context.Context, c Code, now time.Time) error
	// Join uses up a code and adds the device it lets in, in one transaction.
	// ErrNoCode: there is no such code, it was used, or it has expired at now.
	// storage.ErrInvalid: as AddDevice; the code can then still be used.
	Join(ctx context.Context, code SecretHash, name string, token SecretHash, now time.Time) (Device, error)

	// Attempts changes, in one transaction, what is remembered of failed
	// attempts under a key, and returns what change made of it. The zero
	// Attempts, which is what an unknown key has, is not kept. change must not
	// call the vault. storage.ErrInvalid: a key of none or more than MaxKey
	// bytes. The keys changed longest ago are forgotten above MaxAttempts.
	Attempts(ctx context.Context, key string, change func(Attempts) Attempts) (Attempts, error)

	// Audit adds an entry. Above MaxAudit the oldest entries are thrown away,
	// and of those that belong to no shop above MaxStrange: a stranger who tries
	// codes must not be able to wash out what the shops did.
	Audit(ctx context.Context, e AuditEntry) error
	// AuditLog returns the newest entries of a shop, newest first, up to limit.
	// The empty shop asks for those that belong to none. storage.ErrInvalid: a
	// limit below 1.
	AuditLog(ctx context.Context, shop ShopID, limit int) ([]AuditEntry, error)
}
