//go:build !linux

package packinglist_test

import (
	"testing"
	"time"
)

var started = time.Now()

// processorTime is the time that has passed, where that of the processor is not known.
func processorTime(testing.TB) time.Duration { return time.Since(started) }
