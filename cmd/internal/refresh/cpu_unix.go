//go:build unix

package refresh

import (
	"syscall"
	"time"
)

// cpuTime is what this process has taken of processors.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
