//go:build unix

package bolt

import (
	"errors"
	"os"
	"syscall"
)

// tryLock locks a file, or returns errLocked at once.
func tryLock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errLocked
	}
	return err
}
