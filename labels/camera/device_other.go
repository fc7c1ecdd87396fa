//go:build !linux

package camera

import "fmt"

// Devices are the cameras of this computer. Only Linux is supported so far, so
// it is always ErrNoCamera.
func Devices() ([]Device, error) { return nil, ErrNoCamera }

// OpenDevice says that cameras of this computer cannot be used.
func OpenDevice(path string) (Source, error) {
	return nil, fmt.Errorf("camera %q: cameras work on Linux only so far; name a folder of pictures or the address of a stream", path)
}
