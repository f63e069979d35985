//go:build !unix

package refresh

import "time"

var began = time.Now()

// cpuTime is the time that has passed, where the system does not tell what of it was
// this process's.
func cpuTime() time.Duration { return time.Since(began) }
