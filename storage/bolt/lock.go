//go:build !js

package bolt

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// lockFile is what a process holds locked while it has the vault of a folder,
// or replaces it. The library locks the database as well, but a restore puts
// another file in its place: who had waited for the old one would then write
// into what is kept aside. This file is never replaced, and never removed.
const lockFile = "vault.lock"

// lockPause is the time between two tries.
const lockPause = 20 * time.Millisecond

// errLocked: another process holds the lock.
var errLocked = errors.New("locked by another process")

// lock takes the lock of a folder, waiting for it up to lockWait. Closing the
// file gives it back, and so does the end of the process, however it ends.
// ErrInUse: it is held; do says what the reader can do.
func lock(folder, do string) (*os.File, error) {
	path := filepath.Join(folder, lockFile)
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the lock of the vault cannot be opened: %w", full(err))
	}
	for end := time.Now().Add(lockWait); ; time.Sleep(lockPause) {
		err := tryLock(f)
		if err == nil {
			return f, nil
		}
		if !errors.Is(err, errLocked) {
			return nil, errors.Join(fmt.Errorf("the vault in %s cannot be locked: %w", folder, err), f.Close())
		}
		if time.Now().After(end) {
			return nil, errors.Join(fmt.Errorf("%w: %s: %s", ErrInUse, filepath.Join(folder, vaultFile), do), f.Close())
		}
	}
}
