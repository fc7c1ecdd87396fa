package packinglist_test

import (
	"syscall"
	"testing"
	"time"
)

// processorTime is what this process has taken of the processor so far.
func processorTime(t testing.TB) time.Duration {
	t.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		t.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
