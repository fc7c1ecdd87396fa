//go:build !linux && !darwin && !windows

package volume

// kindOf knows nothing of places here.
func kindOf(string) Kind { return Own }
