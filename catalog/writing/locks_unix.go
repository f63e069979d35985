//go:build unix && !aix && !solaris

package writing

import (
	"errors"
	"os"
	"syscall"
)

// removesOpen says that an open file can be removed: the lock is held until it is.
const removesOpen = true

func flock(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) }

// lock takes the lock of a file or folder; false if somebody has it. It is given
// back when the file is closed or the program ends, however it does. Where the
// disk knows no locks there is none, and nothing is ever abandoned.
func lock(f *os.File) bool { return !errors.Is(flock(f), syscall.EWOULDBLOCK) }

// abandoned tells whether nobody works on a file; then nobody else will.
func abandoned(f *os.File) bool { return flock(f) == nil }
