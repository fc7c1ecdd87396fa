//go:build !linux

package camera

import "fmt"

// Devices returns ErrNoCamera: cameras of this computer are supported on Linux only.
func Devices() ([]Device, error) { return nil, ErrNoCamera }

// OpenDevice returns an error: cameras of this computer are supported on Linux only.
func OpenDevice(path string) (Source, error) {
	return nil, fmt.Errorf("camera %q: cameras are supported on Linux only; name a folder of pictures or the address of a stream", path)
}
