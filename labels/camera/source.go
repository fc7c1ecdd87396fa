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

// Source gives one picture after another. Only one goroutine calls it.
type Source interface {
	// Next waits for a picture newer than the last one; pictures that nobody
	// asked for in time are dropped. The picture is the caller's to keep. It
	// returns ctx's error when ctx ends, and io.EOF when no more will come. A
	// picture that came damaged is a scan.PictureError: others may come after it.
	Next(ctx context.Context) (image.Image, error)
	// Close ends the source and what runs for it. It may be called again.
	Close() error
}

// Live says that the pictures of a source follow one another closely, as those of a
// camera do, so that what is in one is about where it was in the one before.
func Live(s Source) bool {
	live, ok := s.(interface{ Live() bool })
	return ok && live.Live()
}

// ErrNoCamera means that this computer has no camera that can be used.
var ErrNoCamera = errors.New("no camera found: connect one, or name a folder of pictures or the address of a stream")

// ErrNoPictures means that a folder holds none.
var ErrNoPictures = errors.New("holds no PNG, JPEG or GIF picture")

// playRate is how long Open shows each picture of a folder.
const playRate = 500 * time.Millisecond

// watchRate is how often Open looks for new pictures in a folder that had none.
const watchRate = time.Second

// Open opens what a person named: the address of a stream (http:// or
// https://), a camera (/dev/video0), a folder of pictures, or, when where is
// empty, the first camera of this computer. A folder that holds no picture yet is
// watched for those that arrive, from a phone for one.
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
	Name string // what the camera calls itself
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
