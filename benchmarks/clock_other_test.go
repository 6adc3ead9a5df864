//go:build !unix

package benchmarks

import "time"

var began = time.Now()

// spent is the time since the start, where processor time is not to be had.
func spent() time.Duration { return time.Since(began) }
