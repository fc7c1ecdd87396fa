package camera

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"github.com/blackjack/webcam"
)

// The supported pixel formats, as V4L2 four-character codes.
// Source: the V4L2 specification, v4l2_fourcc.
const (
	formatMJPEG = 'M' | 'J'<<8 | 'P'<<16 | 'G'<<24
	formatYUYV  = 'Y' | 'U'<<8 | 'Y'<<16 | 'V'<<24
	formatGrey  = 'G' | 'R'<<8 | 'E'<<16 | 'Y'<<24
)

// The frame size requested from a camera: enough for a wall of drawers, and quick to read.
const (
	askWidth  = 1280
	askHeight = 720
)

// maxDevices bounds how many device files are tried.
const maxDevices = 64

// Devices are the cameras of this computer, in the order of their paths, or
// ErrNoCamera.
func Devices() ([]Device, error) { return devicesIn("/dev") }

func devicesIn(dir string) ([]Device, error) {
	paths, err := filepath.Glob(filepath.Join(dir, "video*"))
	if err != nil {
		return nil, fmt.Errorf("looking for cameras: %w", err)
	}
	slices.Sort(paths)
	var devices []Device
	for _, path := range paths[:min(len(paths), maxDevices)] {
		if device, ok := probe(path); ok {
			devices = append(devices, device)
		}
	}
	if len(devices) == 0 {
		return nil, ErrNoCamera
	}
	return devices, nil
}

// probe reports whether a device file is a camera with a supported pixel format.
func probe(path string) (Device, bool) {
	cam, err := webcam.Open(path)
	if err != nil {
		return Device{}, false
	}
	defer cam.Close()
	if _, ok := chooseFormat(cam.GetSupportedFormats()); !ok {
		return Device{}, false
	}
	name, err := cam.GetName()
	if err != nil || name == "" {
		name = filepath.Base(path)
	}
	return Device{Path: path, Name: name}, true
}

// chooseFormat prefers motion JPEG, because raw frames of this size are slow over USB 2.
func chooseFormat(formats map[webcam.PixelFormat]string) (webcam.PixelFormat, bool) {
	for _, format := range []webcam.PixelFormat{formatMJPEG, formatYUYV, formatGrey} {
		if _, ok := formats[format]; ok {
			return format, true
		}
	}
	return 0, false
}

// chooseSize returns the listed size that is nearest to the requested one, or the
// requested one where none is listed. A driver lists single sizes, or ranges with steps.
// Source: the V4L2 specification, VIDIOC_ENUM_FRAMESIZES.
func chooseSize(sizes []webcam.FrameSize) (w, h uint32) {
	w, h = askWidth, askHeight
	least := math.Inf(1)
	for _, size := range sizes {
		sw := stepped(askWidth, size.MinWidth, size.MaxWidth, size.StepWidth)
		sh := stepped(askHeight, size.MinHeight, size.MaxHeight, size.StepHeight)
		// A size twice as large is as far away as one half as large.
		off := math.Abs(math.Log(float64(sw)/askWidth)) + math.Abs(math.Log(float64(sh)/askHeight))
		if sw > 0 && sh > 0 && off < least {
			w, h, least = sw, sh, off
		}
	}
	return w, h
}

// stepped is the length of a range that is nearest below, or at its lower end.
func stepped(want, low, high, step uint32) uint32 {
	switch {
	case want <= low:
		return low
	case want > high:
		want = high
	}
	if step > 1 {
		want -= (want - low) % step
	}
	return want
}

// capture is what is used of a camera; tests have their own.
type capture interface {
	WaitForFrame(seconds uint32) error
	GetFrame() ([]byte, uint32, error)
	ReleaseFrame(index uint32) error
	StopStreaming() error
	Close() error
}

// deviceSource is an open camera with one frame format and size.
type deviceSource struct {
	path   string
	cam    capture
	format webcam.PixelFormat
	w, h   int
	frame  []byte

	mu     sync.Mutex
	closed bool
}

var _ Source = (*deviceSource)(nil)

// Live reports true: successive pictures show nearly the same view.
func (d *deviceSource) Live() bool { return true }

// OpenDevice starts a camera of this computer.
func OpenDevice(path string) (Source, error) {
	cam, err := webcam.Open(path)
	if err != nil {
		return nil, fmt.Errorf("camera %q: cannot be opened; another program may be using it: %w", path, err)
	}
	source, err := startDevice(path, cam)
	if err != nil {
		cam.Close()
		return nil, err
	}
	return source, nil
}

func startDevice(path string, cam *webcam.Webcam) (*deviceSource, error) {
	format, ok := chooseFormat(cam.GetSupportedFormats())
	if !ok {
		return nil, fmt.Errorf("camera %q: sends neither motion JPEG nor raw frames (YUYV, grey); try another camera", path)
	}
	// The library returns the requested size, not the one that the driver chose
	// instead (VIDIOC_S_FMT may change it). So only a listed size is requested.
	w, h := chooseSize(cam.GetSupportedFrameSizes(format))
	format, w, h, err := cam.SetImageFormat(format, w, h)
	if err != nil {
		return nil, fmt.Errorf("camera %q: does not accept a picture size: %w", path, err)
	}
	if err := cam.SetBufferCount(buffers); err != nil {
		return nil, fmt.Errorf("camera %q: cannot allocate buffers for frames: %w", path, err)
	}
	if err := cam.StartStreaming(); err != nil {
		return nil, fmt.Errorf("camera %q: does not start; another program may be using it: %w", path, err)
	}
	return &deviceSource{path: path, cam: cam, format: format, w: int(w), h: int(h)}, nil
}

// buffers is how many frames a camera may hold ready: few, so that none is stale.
const buffers = 2

// silentTime is how long a camera may send nothing.
const silentTime = 10 * time.Second

// Next waits for the newest frame. It checks ctx once a second.
func (d *deviceSource) Next(ctx context.Context) (image.Image, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	var timeout *webcam.Timeout
	for waited := time.Duration(0); waited < silentTime; waited += time.Second {
		if d.closed {
			return nil, io.EOF
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		err := d.cam.WaitForFrame(1)
		if errors.As(err, &timeout) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("camera %q: is gone: %w", d.path, err)
		}
		if err := d.take(); err != nil {
			return nil, err
		}
		return d.decode()
	}
	return nil, fmt.Errorf("camera %q: no picture for %v; unplug it and connect it again", d.path, silentTime)
}

// take copies the newest frame. Frames that waited before it are discarded: they are as
// old as the processing of the last picture took.
func (d *deviceSource) take() error {
	for range buffers {
		if err := d.takeOne(); err != nil {
			return err
		}
		if d.cam.WaitForFrame(0) != nil {
			break // none is ready; any other error is returned by the next wait
		}
	}
	return nil
}

// takeOne copies a frame and returns its buffer to the camera at once.
func (d *deviceSource) takeOne() error {
	frame, index, err := d.cam.GetFrame()
	if err != nil {
		return fmt.Errorf("camera %q: is gone: %w", d.path, err)
	}
	d.frame = append(d.frame[:0], frame...)
	if err := d.cam.ReleaseFrame(index); err != nil {
		return fmt.Errorf("camera %q: is gone: %w", d.path, err)
	}
	return nil
}

func (d *deviceSource) decode() (picture image.Image, err error) {
	switch d.format {
	case formatMJPEG:
		picture, err = decodeJPEG(d.frame)
	case formatYUYV:
		picture, err = decodeYUYV(d.frame, d.w, d.h)
	case formatGrey:
		picture, err = decodeGrey(d.frame, d.w, d.h)
	default:
		err = fmt.Errorf("changed to a pixel format that is not supported")
	}
	if err != nil {
		return nil, fmt.Errorf("camera %q: %w", d.path, err)
	}
	return picture, nil
}

// Close stops the camera.
func (d *deviceSource) Close() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.closed {
		return nil
	}
	d.closed = true
	return errors.Join(d.cam.StopStreaming(), d.cam.Close())
}
