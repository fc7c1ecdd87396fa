package camera

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"os"
	"strings"
	"time"
)

// Source is where pictures come from. It must not be used by several goroutines at once.
type Source interface {
	// Next waits for a picture newer than the last one; pictures that arrive between
	// two calls are dropped. The caller owns the picture. Next returns ctx's error
	// when ctx ends, and io.EOF when there are no more pictures. A damaged picture is a
	// scan.PictureError: Next may be called again.
	Next(ctx context.Context) (image.Image, error)
	// Close stops the source and its goroutines. It may be called more than once.
	Close() error
}

// Live reports whether successive pictures of a source show nearly the same view, as
// those of a camera do, so that tags can be tracked from one to the next.
func Live(s Source) bool {
	live, ok := s.(interface{ Live() bool })
	return ok && live.Live()
}

// ErrNoCamera means that no usable camera was found on this computer.
var ErrNoCamera = errors.New("no camera found: connect one, or name a folder of pictures or the address of a stream")

// ErrNoPictures means that a folder contains no pictures.
var ErrNoPictures = errors.New("contains no PNG, JPEG or GIF picture")

// playRate is how long each picture of a folder is shown.
const playRate = 500 * time.Millisecond

// watchRate is the polling interval for a folder that contained no pictures.
const watchRate = time.Second

// Open opens what the user named: the address of a stream (http:// or https://), a
// camera (/dev/video0), a folder of pictures, or, when where is empty, the first camera
// of this computer. A folder without pictures is watched for new ones, for example
// from a phone.
func Open(ctx context.Context, where string) (Source, error) {
	switch {
	case where == "":
		devices, err := Devices()
		if err != nil {
			return nil, err
		}
		return OpenDevice(devices[0].Path)
	case strings.HasPrefix(where, "http://"), strings.HasPrefix(where, "https://"):
		return OpenStream(ctx, where)
	}
	info, err := os.Stat(where)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("camera %q: there is no such camera or folder", where)
	case err != nil:
		return nil, fmt.Errorf("camera %q: %w", where, err)
	case info.IsDir():
		folder, err := OpenFolder(where, playRate)
		if errors.Is(err, ErrNoPictures) {
			return OpenWatch(where, watchRate)
		}
		if err != nil {
			return nil, err
		}
		return folder, nil
	case info.Mode()&fs.ModeCharDevice != 0:
		return OpenDevice(where)
	}
	return nil, fmt.Errorf("camera %q: is a file; name a folder of pictures, a camera or the address of a stream", where)
}

// Device is a camera of this computer.
type Device struct {
	Path string // what OpenDevice takes, such as /dev/video0
	Name string // the name that the driver reports
}

// wait waits for d or for the end of ctx.
func wait(ctx context.Context, d time.Duration) error {
	if d <= 0 {
		return ctx.Err()
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}
