//go:build unix

package benchmarks

import (
	"syscall"
	"time"
)

// spent is the processor time of this process so far: a busy machine does not
// lengthen it as it does the time on the clock.
func spent() time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
