//go:build unix

package cutting

import "syscall"

// processorSeconds is how long this process has had the processor.
func processorSeconds() float64 {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		return 0
	}
	return float64(used.Utime.Nano()+used.Stime.Nano()) / 1e9
}
