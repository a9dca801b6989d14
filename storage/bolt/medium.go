//go:build !js

package bolt

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"strings"
	"sync"
	"syscall"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"torchside/storage"
	"torchside/storage/vault"
)

// Vault is an open vault.
type Vault struct {
	id     string
	folder string
	path   string
	lock   *os.File // of the folder, held until Close

	gate  sync.RWMutex // read by whoever uses the database, written while that is opened anew
	db    *bbolt.DB
	file  *os.File    // what db reads and writes
	where os.FileInfo // of that file, to tell whether it is still in its place

	writing sync.Mutex                           // held from the start of a transaction that writes until its end is sorted out
	metas   []byte                               // the meta pages as the last transaction left them
	putBack func(f *os.File, metas []byte) error // writeMetas; tests let it fail

	syncFile func(*os.File) error // of attachments: its Sync; tests let it fail

	mu     sync.Mutex
	broken error  // why no call is answered any more
	undo   []byte // the meta pages before a commit of which nobody knows whether it counts; nil: there is none

	pieces   [16]sync.Mutex // one writer an attachment, by its first digit
	trimming sync.RWMutex   // held by a trim, read by a backup
}

var _ vault.Vault = (*Vault)(nil)

// errNothing ends a transaction that has nothing to write.
var errNothing = errors.New("nothing to write")

// take makes a database that was just opened the vault's.
func (v *Vault) take(db *bbolt.DB, file *os.File) (err error) {
	v.db, v.file, v.metas = db, file, make([]byte, 2*db.Info().PageSize)
	if v.where, err = file.Stat(); err == nil {
		v.metas, err = v.readMetas()
	}
	return err
}

// readMetas reads the two pages at the beginning of the file that say what counts.
func (v *Vault) readMetas() ([]byte, error) {
	pages := make([]byte, len(v.metas))
	_, err := v.file.ReadAt(pages, 0)
	return pages, err
}

// view runs f in a transaction that reads.
func (v *Vault) view(ctx context.Context, f func(*bbolt.Tx) error) error {
	if err := v.ready(ctx); err != nil {
		return err
	}
	v.gate.RLock()
	defer v.gate.RUnlock()
	return v.closed(guard(v.path, func() error { return v.db.View(f) }))
}

// update runs f in a transaction that writes, which is on the disk when it
// returns nil. When f returns errNothing, nothing is written and that is fine.
func (v *Vault) update(ctx context.Context, f func(*bbolt.Tx) error) error {
	if err := v.ready(ctx); err != nil {
		return err
	}
	v.gate.RLock()
	defer v.gate.RUnlock()
	v.writing.Lock()
	defer v.writing.Unlock()
	if err := v.ready(ctx); err != nil { // the writer before may have failed
		return err
	}
	var own error // of f, not of the medium
	err := guard(v.path, func() error {
		return v.db.Update(func(tx *bbolt.Tx) error {
			if own = v.untouched(); own == nil {
				own = f(tx)
			}
			if own == nil {
				own = ctx.Err()
			}
			return own
		})
	})
	switch {
	case errors.Is(err, errNothing):
		return nil
	case own != nil:
		return v.closed(err)
	case err != nil:
		return v.fail(err)
	}
	return v.committed()
}

// untouched tells whether the file is as the last transaction left it. Another
// program that writes into it, as one that copies a backup over it, makes all
// the library remembers of it wrong.
func (v *Vault) untouched() error {
	now, err := v.readMetas()
	if err == nil && bytes.Equal(now, v.metas) {
		return nil
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	v.broken = fmt.Errorf("%w: the vault %s was changed by another program while it was in use: see what \"torchside check\" says, then start torchside again", storage.ErrLost, v.path)
	return v.broken
}

// committed remembers what a transaction left, and makes sure that it is where
// the next start looks for it: else it must not be acknowledged.
func (v *Vault) committed() (err error) {
	if v.metas, err = v.readMetas(); err != nil {
		return v.fail(err)
	}
	return v.inPlace()
}

// inPlace returns ErrLost if the file was moved, deleted or replaced.
func (v *Vault) inPlace() error {
	there, err := os.Stat(v.path)
	if err == nil && os.SameFile(there, v.where) {
		return nil
	}
	if err == nil {
		err = errors.New("another file is there")
	}
	return fmt.Errorf("%w: the vault %s was moved or replaced while it was in use (%w): put it back, or start torchside again", storage.ErrLost, v.path, err)
}

// fail sorts out a commit that did not work. When the disk was full before the
// meta page was touched, it does not count and all is as before. When the meta
// page was touched nobody knows what a power cut would leave, so the page is
// put back before anything else is answered: see settle. After any other fault
// it is unknown what is on the disk, and the system may have dropped what it
// could not write: then only opening the vault again tells.
func (v *Vault) fail(err error) error {
	err = v.closed(full(err))
	if errors.Is(err, storage.ErrClosed) {
		return err
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	if errors.Is(err, storage.ErrFull) {
		now, read := v.readMetas()
		if read == nil && !bytes.Equal(now, v.metas) {
			v.undo = bytes.Clone(v.metas)
		}
		if read == nil {
			return err
		}
	}
	if !errors.Is(err, storage.ErrCorrupt) {
		err = fmt.Errorf("%w: the vault %s could not be written (%w): start torchside again", storage.ErrLost, v.path, err)
	}
	v.broken = err
	return err
}

// settle takes back a commit that is in doubt: the meta pages become what they
// were, on the disk, and the database is opened anew. While there is no room
// even for that, or calls are running that began before, the answer is ErrFull.
func (v *Vault) settle() error {
	if !v.gate.TryLock() {
		return fmt.Errorf("%w: a change that did not fit is being taken back", storage.ErrFull)
	}
	defer v.gate.Unlock()
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.undo == nil || v.broken != nil {
		return v.broken
	}
	err := full(v.putBack(v.file, v.undo))
	if errors.Is(err, storage.ErrFull) {
		return fmt.Errorf("a change that did not fit cannot be taken back yet: %w", err)
	}
	if err == nil {
		v.undo = nil
		err = v.reopen()
	}
	if err != nil {
		v.broken = fmt.Errorf("%w: the vault %s could not be opened again (%w): start torchside again", storage.ErrLost, v.path, err)
	}
	return v.broken
}

// reopen opens the database anew: what the library remembers is that of the
// commit that was taken back.
func (v *Vault) reopen() error {
	if err := v.db.Close(); err != nil {
		return err
	}
	db, file, err := openDB(v.path, lockWait)
	if err != nil {
		return err
	}
	return v.take(db, file)
}

// writeMetas puts meta pages back.
func writeMetas(f *os.File, metas []byte) error {
	if _, err := f.WriteAt(metas, 0); err != nil {
		return err
	}
	return f.Sync()
}

// ready tells whether calls can be answered, and first takes back a commit in doubt.
func (v *Vault) ready(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	v.mu.Lock()
	broken, doubt := v.broken, v.undo != nil
	v.mu.Unlock()
	if broken != nil {
		return broken
	}
	if doubt {
		if err := v.settle(); err != nil {
			return err
		}
	}
	return v.inPlace()
}

// closed gives the library's error the contract's name.
func (v *Vault) closed(err error) error {
	if errors.Is(err, berrors.ErrDatabaseNotOpen) {
		return storage.ErrClosed
	}
	return err
}

// guard runs f and turns what the library does with damaged pages, which is to
// panic or to read outside the file, into a DamageError.
func guard(path string, f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = damage(path, fmt.Sprint(r))
		}
	}()
	return f()
}

// full names the errors of a full disk. The library passes some of them on as
// text alone. A file as large as the file system allows is no different.
func full(err error) error {
	if err == nil || errors.Is(err, storage.ErrFull) {
		return err
	}
	for _, no := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, no) || strings.Contains(err.Error(), no.Error()) {
			return fmt.Errorf("%w: %w", storage.ErrFull, err)
		}
	}
	return err
}

// Close implements vault.Vault.
func (v *Vault) Close() error {
	v.gate.Lock()
	defer v.gate.Unlock()
	v.mu.Lock()
	v.broken = storage.ErrClosed
	v.mu.Unlock()
	err := v.db.Close()
	if closed := v.lock.Close(); err == nil && !errors.Is(closed, fs.ErrClosed) { // by a Close before
		err = closed
	}
	if err != nil && !errors.Is(err, fs.ErrClosed) {
		return fmt.Errorf("the vault %s: %w", v.path, err)
	}
	return nil
}
