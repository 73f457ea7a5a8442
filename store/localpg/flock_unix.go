//go:build linux || darwin

package localpg

import (
	"errors"
	"os"
	"syscall"
)

// ErrLocked is in the chain where another process holds the lock.
var ErrLocked = errors.New("locked by another process")

// LockFile opens path, makes it where it is missing, and locks it; the lock
// ends with the process, whatever ended it, or when the file is closed. The
// caller must keep the file referenced: collecting it would drop the lock. With
// wait unset it fails with ErrLocked at once.
//
// The lock is on the file that path names on return: a holder may remove the
// file while others wait, and they then lock the new one.
func LockFile(path string, shared, wait bool) (*os.File, error) {
	how := syscall.LOCK_EX
	if shared {
		how = syscall.LOCK_SH
	}
	if !wait {
		how |= syscall.LOCK_NB
	}
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
		if err != nil {
			return nil, err
		}
		for {
			err = syscall.Flock(int(f.Fd()), how)
			if !errors.Is(err, syscall.EINTR) {
				break
			}
		}
		if err != nil {
			f.Close()
			if errors.Is(err, syscall.EWOULDBLOCK) {
				return nil, ErrLocked
			}
			return nil, err
		}
		mine, err := f.Stat()
		if err != nil {
			f.Close()
			return nil, err
		}
		if now, err := os.Stat(path); err == nil && os.SameFile(mine, now) {
			return f, nil
		}
		f.Close()
	}
}
