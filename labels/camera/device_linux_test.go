package camera

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/blackjack/webcam"

	"stowright/labels/scan"
)

func TestDevicesNone(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "video0"), []byte("no camera"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := devicesIn(dir); !errors.Is(err, ErrNoCamera) {
		t.Errorf("devicesIn: %v, %v, want ErrNoCamera", got, err)
	}
}

func TestOpenDeviceRefuses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "video9")
	if _, err := OpenDevice(path); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("OpenDevice(%q): %v, want an error that names it", path, err)
	}
}

func TestChooseFormat(t *testing.T) {
	for _, row := range []struct {
		name    string
		formats map[webcam.PixelFormat]string
		want    webcam.PixelFormat
		ok      bool
	}{
		{"both", map[webcam.PixelFormat]string{formatYUYV: "", formatMJPEG: ""}, formatMJPEG, true},
		{"raw", map[webcam.PixelFormat]string{formatYUYV: "", 1: ""}, formatYUYV, true},
		{"unknown", map[webcam.PixelFormat]string{1: ""}, 0, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got, ok := chooseFormat(row.formats); got != row.want || ok != row.ok {
				t.Errorf("chooseFormat(%v) = %#x, %v, want %#x, %v", row.formats, got, ok, row.want, row.ok)
			}
		})
	}
}

func TestChooseSize(t *testing.T) {
	fixed := func(w, h uint32) webcam.FrameSize {
		return webcam.FrameSize{MinWidth: w, MaxWidth: w, MinHeight: h, MaxHeight: h}
	}
	for _, row := range []struct {
		name  string
		sizes []webcam.FrameSize
		w, h  uint32
	}{
		{"none listed", nil, 1280, 720},
		{"the one wanted", []webcam.FrameSize{fixed(640, 480), fixed(1280, 720), fixed(1920, 1080)}, 1280, 720},
		{"only small ones", []webcam.FrameSize{fixed(320, 240), fixed(640, 480), fixed(640, 360)}, 640, 480},
		{"only large ones", []webcam.FrameSize{fixed(2592, 1944), fixed(1600, 1200)}, 1600, 1200},
		{"a range", []webcam.FrameSize{{MinWidth: 48, MaxWidth: 1920, StepWidth: 16, MinHeight: 32, MaxHeight: 1080, StepHeight: 32}}, 1280, 704},
		{"a range below", []webcam.FrameSize{{MinWidth: 48, MaxWidth: 800, StepWidth: 1, MinHeight: 32, MaxHeight: 600, StepHeight: 1}}, 800, 600},
		{"nonsense", []webcam.FrameSize{{}}, 1280, 720},
	} {
		t.Run(row.name, func(t *testing.T) {
			if w, h := chooseSize(row.sizes); w != row.w || h != row.h {
				t.Errorf("chooseSize: %d x %d, want %d x %d", w, h, row.w, row.h)
			}
		})
	}
}

// While one picture was worked on, others came: the newest is the next.
func TestDeviceSourceNewest(t *testing.T) {
	cam := &fakeCapture{frames: [][]byte{jpegOf(t, 30), jpegOf(t, 60), nil, jpegOf(t, 90)}}
	s := &deviceSource{path: "cam", cam: cam, format: formatMJPEG}
	wantShade(t, s, 60)
	wantShade(t, s, 90)
	if cam.released != 3 {
		t.Errorf("%d frames given back, want all 3", cam.released)
	}
}

// fakeCapture sends its frames in order; a nil frame is a second of silence.
type fakeCapture struct {
	frames   [][]byte
	released int
	stopped  int
}

var errGone = errors.New("gone")

func (f *fakeCapture) WaitForFrame(uint32) error {
	if len(f.frames) == 0 {
		return errGone
	}
	if f.frames[0] == nil {
		f.frames = f.frames[1:]
		return &webcam.Timeout{}
	}
	return nil
}

func (f *fakeCapture) GetFrame() ([]byte, uint32, error) {
	frame := f.frames[0]
	f.frames = f.frames[1:]
	return frame, 0, nil
}

func (f *fakeCapture) ReleaseFrame(uint32) error { f.released++; return nil }
func (f *fakeCapture) StopStreaming() error      { f.stopped++; return nil }
func (f *fakeCapture) Close() error              { return nil }

func TestDeviceSource(t *testing.T) {
	cam := &fakeCapture{frames: [][]byte{nil, jpegOf(t, 30), nil, nil, withoutTables(jpegOf(t, 60)), nil, []byte("bad")}}
	s := &deviceSource{path: "/dev/video0", cam: cam, format: formatMJPEG}
	wantShade(t, s, 30)
	wantShade(t, s, 60)
	if _, err := s.Next(over()); !errors.Is(err, context.Canceled) {
		t.Errorf("Next with an ended context: %v, want context.Canceled", err)
	}
	var damaged *scan.PictureError
	if _, err := s.Next(t.Context()); !errors.As(err, &damaged) || !strings.Contains(err.Error(), "/dev/video0") {
		t.Errorf("Next on a bad frame: %v, want a PictureError that names the camera", err)
	}
	if _, err := s.Next(t.Context()); !errors.Is(err, errGone) {
		t.Errorf("Next on a camera that is gone: %v, want %v", err, errGone)
	}
	if cam.released != 3 {
		t.Errorf("%d frames given back, want 3", cam.released)
	}
	for range 2 {
		if err := s.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	}
	if _, err := s.Next(t.Context()); !errors.Is(err, io.EOF) || cam.stopped != 1 {
		t.Errorf("Next after Close: %v, stopped %d times, want io.EOF and once", err, cam.stopped)
	}
}

func TestDeviceSourceFormats(t *testing.T) {
	for _, row := range []struct {
		name   string
		format webcam.PixelFormat
		frame  []byte
		ok     bool
	}{
		{"YUYV", formatYUYV, bytes.Repeat([]byte{50, 128}, 256), true},
		{"grey", formatGrey, bytes.Repeat([]byte{50}, 256), true},
		{"grey, too few bytes", formatGrey, bytes.Repeat([]byte{50}, 255), false},
		{"another", 1, bytes.Repeat([]byte{50}, 256), false},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &deviceSource{path: "cam", cam: &fakeCapture{frames: [][]byte{row.frame}}, format: row.format, w: 16, h: 16}
			if !row.ok {
				if _, err := s.Next(t.Context()); err == nil {
					t.Error("Next: no error")
				}
				return
			}
			wantShade(t, s, 50)
		})
	}
}

func TestDeviceSourceSilent(t *testing.T) {
	s := &deviceSource{path: "cam", cam: &fakeCapture{frames: make([][]byte, 20)}, format: formatMJPEG}
	if _, err := s.Next(t.Context()); err == nil || !strings.Contains(err.Error(), "no picture for 10s") {
		t.Errorf("Next on a silent camera: %v, want it to say so", err)
	}
}
