package viewfinder

import (
	"image"
	"slices"
	"strings"
	"testing"

	"stowright/labels/camera"
)

// A camera whose cable is pulled is said to be gone, in one sentence, and tried again
// until it is back; the list stays. When the page is left it is not tried any more.
func TestCameraGone(t *testing.T) {
	r := newRig(t)
	label := printed(t, r.tag("A-12"))
	r.cameras[""] = &cameraReel{reel{pictures: []image.Image{label}, once: true}}
	r.m.Start("")
	r.Drain()
	s := r.m.State()
	if s.Heading != "The camera is gone" || s.Help || len(s.Rows) != 1 || !s.Running {
		t.Fatalf("after its last picture: %q, help %v, %d rows, running %v", s.Heading, s.Help, len(s.Rows), s.Running)
	}
	if !r.cameras[""].closed {
		t.Error("it is not closed")
	}
	delete(r.cameras, "")
	r.Elapse()
	if s := r.m.State(); s.Heading != "The camera is gone" || s.Help || !s.Running {
		t.Fatalf("while it is away: %q, help %v, running %v", s.Heading, s.Help, s.Running)
	}
	back := &cameraReel{reel{pictures: []image.Image{label}, once: true}}
	r.cameras[""] = back
	var said []string
	r.m.show = func(s State) { said = append(said, s.Heading) }
	r.Elapse()
	if !slices.Contains(said, "1 tag") || r.m.State().Seen != 2 || r.m.State().Problem != "" {
		t.Errorf("when it is back it says %q, %d pictures, problem %q", said, r.m.State().Seen, r.m.State().Problem)
	}
	r.m.Stop()
	back.next = 0
	if r.Elapse(); back.next != 0 || r.m.State().Running {
		t.Errorf("left: %d pictures are taken, running %v", back.next, r.m.State().Running)
	}
}

// A damaged picture is passed over: of a folder it is said which one it was, of a
// camera nothing. Where all are damaged the source is given up.
func TestDamagedPictures(t *testing.T) {
	r := newRig(t)
	label := printed(t, r.tag("A-12"))
	r.reels["folder"] = &reel{pictures: []image.Image{label, label, label}, once: true, damaged: 1}
	r.m.Start("folder")
	r.Drain()
	if s := r.m.State(); s.Seen != 3 || s.Problem == "" || s.Heading != "1 tag" {
		t.Errorf("of a folder: %d pictures, problem %q, %q", s.Seen, s.Problem, s.Heading)
	}
	r.watch(t, []image.Image{label, label, label}, func(i int, s State) {
		if s.Problem != "" {
			t.Errorf("picture %d of a camera: %q", i, s.Problem)
		}
	})
}

// With several cameras the one that was chosen before is looked through, and another
// one when it is chosen; without it the first one.
func TestSeveralCameras(t *testing.T) {
	r := newRig(t)
	r.devices = []camera.Device{{Path: "/dev/video0", Name: "Lid"}, {Path: "/dev/video2", Name: "Stand"}, {Path: "/dev/video4", Name: "Stand"}}
	for i, name := range []string{"A-12", "A-30", "A-04"} {
		r.cameras[r.devices[i].Path] = &cameraReel{reel{pictures: []image.Image{printed(t, r.tag(name))}}}
	}
	look := func(want string, camera int) {
		t.Helper()
		for range 12 {
			r.Step()
		}
		s := r.m.State()
		if s.Camera != camera || len(s.Rows) != 1 || s.Rows[0].Cells[0].Text != want {
			t.Errorf("camera %d shows %d rows %+v, want camera %d and %s", s.Camera, len(s.Rows), s.Rows, camera, want)
		}
	}
	r.m.Prefer("/dev/video2")
	r.m.Start("")
	look("A-30", 1)
	if got, want := r.m.state.CameraNames(), []string{"Lid", "Stand (video2)", "Stand (video4)"}; !slices.Equal(got, want) {
		t.Errorf("they are called %q, want %q", got, want)
	}
	if path, ok := r.m.TakeCamera(2); !ok || path != "/dev/video4" {
		t.Errorf("the third one: %q, %v", path, ok)
	}
	look("A-04", 2)
	for _, index := range []int{2, 3, -1} {
		if _, ok := r.m.TakeCamera(index); ok {
			t.Errorf("camera %d is taken: it is not there, or looked through already", index)
		}
	}
	r.m.Prefer("/dev/video9")
	r.m.Start("")
	look("A-12", 0)
	r.m.Stop()
	r.Drain()
}

// An empty folder is watched, and the page says so.
func TestEmptyFolder(t *testing.T) {
	r := newRig(t)
	r.m.open = OpenSource
	r.m.Start(t.TempDir())
	r.Step()
	r.Step()
	if s := r.m.State(); !strings.Contains(s.Note, "pictures that arrive in it are read") || s.Problem != "" || !s.Running {
		t.Errorf("%q, problem %q, running %v", s.Note, s.Problem, s.Running)
	}
	r.m.Stop()
	r.Drain()
}
