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

// The codes of pixel formats are four letters, the first in the lowest byte.
// Source: the kernel's videodev2.h, v4l2_fourcc and the values that v4l2-ctl prints.
func TestFormatCodes(t *testing.T) {
	for _, row := range []struct {
		name      string
		got, want webcam.PixelFormat
	}{{"MJPG", formatMJPEG, 0x47504a4d}, {"YUYV", formatYUYV, 0x56595559}, {"GREY", formatGrey, 0x59455247}} {
		if row.got != row.want {
			t.Errorf("%s is %#x, want %#x", row.name, row.got, row.want)
		}
	}
}

// A length of a range with steps: the wanted one, or the nearest below it that the
// camera can do.
func TestStepped(t *testing.T) {
	for _, row := range []struct{ want, low, high, step, got uint32 }{
		{1280, 0, 4000, 1, 1280},
		{1280, 1280, 1280, 0, 1280}, // a single size
		{1280, 1281, 4000, 1, 1281}, // all are larger
		{1280, 1280, 4000, 16, 1280},
		{1280, 0, 1280, 7, 1274}, // 182 steps of 7
		{1280, 4, 1280, 7, 1278}, // counted from the lower end
		{1280, 0, 1279, 1, 1279},
		{1280, 0, 1000, 300, 900},
		{1280, 100, 1000, 2000, 100},
		{1280, 0, 4000, 0, 1280}, // no step is said
	} {
		if got := stepped(row.want, row.low, row.high, row.step); got != row.got {
			t.Errorf("stepped(%d, %d to %d by %d) = %d, want %d", row.want, row.low, row.high, row.step, got, row.got)
		}
	}
}

// Of two sizes that are as far from the wanted one, the first listed is taken.
func TestChooseSizeTies(t *testing.T) {
	fixed := func(w, h uint32) webcam.FrameSize {
		return webcam.FrameSize{MinWidth: w, MaxWidth: w, MinHeight: h, MaxHeight: h}
	}
	half, twice := fixed(askWidth/2, askHeight/2), fixed(askWidth*2, askHeight*2)
	for _, sizes := range [][]webcam.FrameSize{{half, twice}, {twice, half}} {
		if w, h := chooseSize(sizes); w != sizes[0].MinWidth || h != sizes[0].MinHeight {
			t.Errorf("of %d and %d pixels wide, %d is chosen; want the first", sizes[0].MinWidth, sizes[1].MinWidth, w)
		}
	}
	for _, sizes := range [][]webcam.FrameSize{{fixed(0, 720)}, {fixed(1280, 0)}} {
		if w, h := chooseSize(sizes); w != askWidth || h != askHeight {
			t.Errorf("a size without width or height gives %d x %d", w, h)
		}
	}
}

// failingCapture is a camera that breaks at one step.
type failingCapture struct {
	fakeCapture
	step    string
	waits   []uint32 // how long each wait was allowed to take
	silence bool
}

func (f *failingCapture) WaitForFrame(seconds uint32) error {
	f.waits = append(f.waits, seconds)
	if f.silence {
		return &webcam.Timeout{}
	}
	return f.fakeCapture.WaitForFrame(seconds)
}

func (f *failingCapture) GetFrame() ([]byte, uint32, error) {
	if f.step == "get" {
		return nil, 0, errGone
	}
	return f.fakeCapture.GetFrame()
}

func (f *failingCapture) ReleaseFrame(i uint32) error {
	if f.step == "release" {
		return errGone
	}
	return f.fakeCapture.ReleaseFrame(i)
}

func (f *failingCapture) StopStreaming() error {
	if f.step == "stop" {
		return errGone
	}
	return nil
}

func (f *failingCapture) Close() error {
	f.stopped++
	if f.step == "close" {
		return errGone
	}
	return nil
}

// A camera that breaks while a frame is taken is said to be gone, with its name.
func TestDeviceSourceBreaks(t *testing.T) {
	for _, step := range []string{"get", "release"} {
		t.Run(step, func(t *testing.T) {
			cam := &failingCapture{step: step}
			cam.frames = [][]byte{jpegOf(t, 30)}
			s := &deviceSource{path: "/dev/video7", cam: cam, format: formatMJPEG}
			_, err := s.Next(t.Context())
			if !errors.Is(err, errGone) || !strings.HasPrefix(err.Error(), `camera "/dev/video7": is gone: `) {
				t.Errorf("Next: %v, want that the camera is gone", err)
			}
		})
	}
}

// Closing stops the camera and lets its file go, even where stopping fails, and says
// what failed.
func TestDeviceSourceCloseFails(t *testing.T) {
	for step, want := range map[string]error{"stop": errGone, "close": errGone, "": nil} {
		cam := &failingCapture{step: step}
		s := &deviceSource{path: "cam", cam: cam, format: formatMJPEG}
		if err := s.Close(); !errors.Is(err, want) {
			t.Errorf("Close of a camera that fails at %q: %v, want %v", step, err, want)
		}
		if cam.stopped != 1 {
			t.Errorf("failing at %q, its file was closed %d times, want once", step, cam.stopped)
		}
		if err := s.Close(); err != nil || cam.stopped != 1 {
			t.Errorf("a second Close: %v, closed %d times", err, cam.stopped)
		}
	}
}

// A silent camera is waited for second by second, ten of them, and asked no more.
func TestDeviceSourceSilence(t *testing.T) {
	cam := &failingCapture{silence: true}
	s := &deviceSource{path: "cam", cam: cam, format: formatMJPEG}
	_, err := s.Next(t.Context())
	if want := `camera "cam": no picture for 10s; unplug it and connect it again`; err == nil || err.Error() != want {
		t.Errorf("Next: %v, want %q", err, want)
	}
	if len(cam.waits) != 10 {
		t.Errorf("%d waits, want 10", len(cam.waits))
	}
	for i, seconds := range cam.waits {
		if seconds != 1 {
			t.Errorf("wait %d is of %d seconds, want 1, so that the end of the context is seen", i, seconds)
		}
	}
}

// No more frames are taken for one picture than the camera holds ready: otherwise one
// that is faster than we are would never be answered.
func TestDeviceSourceTakesFew(t *testing.T) {
	cam := &fakeCapture{}
	for range 5 {
		cam.frames = append(cam.frames, jpegOf(t, 30))
	}
	s := &deviceSource{path: "cam", cam: cam, format: formatMJPEG}
	wantShade(t, s, 30)
	if cam.released != buffers {
		t.Errorf("%d frames were taken for one picture, want %d", cam.released, buffers)
	}
	if !Live(s) {
		t.Error("a camera is not live")
	}
}
