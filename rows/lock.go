//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package rows

import (
	"errors"
	"os"
	"syscall"
)

// lock locks a file for this process until it is closed or the process ends. On a file
// system without locks it does nothing.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return ErrInUse
	}
	return nil
}
