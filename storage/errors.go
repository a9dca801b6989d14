package storage

import "errors"

// Errors every adapter uses, wrapped with the operation that failed; test with
// errors.Is. None of them leaves a half-written transaction behind.
var (
	// ErrNotFound: no op of this record is held. A deleted record is found.
	ErrNotFound = errors.New("no such record")
	// ErrInvalid: the op or query breaks a rule stated at its type. Nothing of
	// the call was stored; repeating it cannot help.
	ErrInvalid = errors.New("not a valid change")
	// ErrOpMismatch: an op with this id but other content is already held.
	// The held one stays. See MismatchError for which ops.
	ErrOpMismatch = errors.New("another change with the same id is already held")
)

// Errors of the medium.
var (
	// ErrFull: the device or the browser's share of it is full. What was
	// saved before is safe. The user must free space or export.
	ErrFull = errors.New("storage is full")
	// ErrClosed: the store was closed, by Close or because another tab
	// upgrades the database. Only opening a new store helps.
	ErrClosed = errors.New("storage is closed")
	// ErrLost: the connection broke and reopening it did not help. Whether
	// the last write happened is unknown. Writing it again loses nothing; at
	// worst the same content is there twice.
	ErrLost = errors.New("connection to storage was lost")
	// ErrBlocked: another tab or window holds an older version of the
	// database open. Closing it and opening again helps.
	ErrBlocked = errors.New("storage is held by another tab or window with an older version of the app")
	// ErrUnavailable: the host offers no lasting storage here, as in some
	// private windows. Nothing can be saved.
	ErrUnavailable = errors.New("storage is not available here")
)

// Errors of stored or imported data.
var (
	// ErrCorrupt: stored or imported data cannot be read as what it claims to
	// be. It is left as it is.
	ErrCorrupt = errors.New("stored data is damaged")
	// ErrNewer: the database, file or record was written by a newer build.
	// It is left as it is; updating the app helps.
	ErrNewer = errors.New("written by a newer version of the app")
)

// MismatchError lists the ops refused as ErrOpMismatch, sorted, each once.
type MismatchError struct {
	Ops []ID // ids held already with other content
}

// Error names the first op refused.
func (e *MismatchError) Error() string {
	if len(e.Ops) == 0 {
		return ErrOpMismatch.Error()
	}
	return ErrOpMismatch.Error() + ": " + string(e.Ops[0])
}

// Is makes errors.Is(err, ErrOpMismatch) true.
func (e *MismatchError) Is(target error) bool { return target == ErrOpMismatch }
