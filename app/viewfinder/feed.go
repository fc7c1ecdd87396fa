package viewfinder

import (
	"context"
	"errors"
	"image"
	"io"
	"path/filepath"
	"slices"
	"time"

	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels/camera"
	"stowright/labels/scan"
)

// feed is a source that is being read, one picture at a time: the next picture is
// requested when the previous one has been shown, so that none queue up.
type feed struct {
	request loop.Request // it is read while that is current
	where   string
	source  camera.Source
	live    bool // successive pictures show nearly the same view
	damaged int  // damaged pictures in a row
	eye     session.Eye
	steady  steady // of a live source
}

// seen is a picture that was read.
type seen struct {
	picture  *image.RGBA
	readings []session.Reading
	hint     hint // of what is looked for
}

// openFeed opens the source in the background. Of several cameras it opens the preferred
// one, if that is connected.
func (m *Model) openFeed(f *feed) {
	prefer := m.prefer
	m.session.Loop.Run(func() {
		where, found := f.where, found{camera: -1}
		if where == "" {
			found.cameras, _ = m.devices() // without a camera, opening returns the error
			found.camera = max(0, slices.IndexFunc(found.cameras, func(d camera.Device) bool { return d.Path == prefer }))
			if len(found.cameras) > 0 {
				where = found.cameras[found.camera].Path
			}
		}
		source, err := m.open(f.request.Context(), where)
		m.session.Loop.Post(func() { m.opened(f, found, source, err) })
	})
}

// found are the cameras of this computer and the index of the one that is opened.
type found struct {
	cameras []camera.Device
	camera  int
}

func (m *Model) opened(f *feed, found found, source camera.Source, err error) {
	if err != nil {
		m.ended(f, err)
		return
	}
	f.source, f.eye = source, scan.New()
	f.live = camera.Live(source)
	if f.live {
		f.eye = scan.NewFollower()
	}
	if f.request.Current() {
		m.state.Problem, m.state.Help = m.unsought, false
		m.state.Heading, m.state.Note = m.heading()
		if _, ok := source.(*camera.Watch); ok {
			m.state.Note = "the folder is empty: pictures that arrive in it are read"
		}
		m.show(m.state)
		if f.live {
			m.memory.patience = keptPictures
		}
		if len(found.cameras) > 1 {
			m.state.Cameras, m.state.Camera = found.cameras, found.camera
		}
	}
	m.next(f)
}

// next reads a picture in the background, and closes the source after the last one.
func (m *Model) next(f *feed) {
	m.session.Loop.Run(func() {
		s, err := m.look(f)
		var damaged *scan.PictureError
		if errors.As(err, &damaged) && f.damaged < mostDamaged {
			f.damaged++
			m.session.Loop.Post(func() { m.missed(f, err) })
			return
		}
		if err != nil {
			err = errors.Join(err, f.source.Close())
		}
		m.session.Loop.Post(func() {
			if err != nil {
				m.ended(f, err)
				return
			}
			f.damaged = 0
			m.saw(f.request, s)
			m.next(f)
		})
	})
}

func (m *Model) look(f *feed) (seen, error) {
	if err := f.request.Context().Err(); err != nil {
		return seen{}, err
	}
	picture, err := f.source.Next(f.request.Context())
	if err != nil {
		return seen{}, err
	}
	readings, err := m.session.ReadPicture(f.request.Context(), f.eye, picture)
	if err != nil {
		return seen{}, err
	}
	outlined := readings
	if f.live {
		outlined = f.steady.take(picture, readings)
	}
	var h hint
	if sought := m.sought.Load(); sought != nil && len(*sought) > 0 {
		h = hintOf(*sought, outlined, picture.Bounds())
	}
	return seen{outline(picture, outlined, h), readings, h}, nil
}

// mostDamaged is how many damaged pictures in a row are skipped: a camera may lose parts
// of some, and a folder may contain a file that is not a picture.
const mostDamaged = 10

// missed skips a damaged picture. For a camera, whose next picture comes at once, no
// problem is shown.
func (m *Model) missed(f *feed, err error) {
	if f.request.Current() && !f.live {
		m.state.Problem = wording.Error(err)
		m.show(m.state)
	}
	m.next(f)
}

// againAfter is the interval at which a camera that was disconnected is tried again.
const againAfter = 2 * time.Second

// ended shows why a source ended. The end of a single picture is not a problem. A camera
// that was disconnected, or a phone that went to sleep, is tried again until it is back
// or the page is closed.
func (m *Model) ended(f *feed, err error) {
	if !f.request.Current() {
		return
	}
	canceled := errors.Is(err, context.Canceled)
	if f.live && !canceled {
		m.state.Heading, m.state.Note = "The camera is gone", "connect it, or wake the phone: it is tried again every two seconds"
		if !errors.Is(err, io.EOF) && !errors.Is(err, camera.ErrNoCamera) {
			m.state.Problem = wording.Error(err)
		}
		m.show(m.state)
		m.session.Loop.After(againAfter, func() {
			if f.request.Current() {
				m.openFeed(f)
			}
		})
		return
	}
	m.state.Running = false
	switch {
	case canceled, errors.Is(err, io.EOF):
		if len(m.readings) == 0 {
			m.state.Heading, m.state.Note = "No code in the picture", "take it closer, or with more light on the label"
		}
	case errors.Is(err, camera.ErrNoCamera):
		m.state.Help = true
		m.state.Heading, m.state.Note = "No camera here", "this computer has none that can be used"
	default:
		m.state.Help = m.state.Picture == nil
		m.state.Heading, m.state.Note = "No picture", ""
		m.state.Problem = wording.Error(err)
	}
	m.show(m.state)
}

// Prefer sets the path of the camera to use when there are several.
func (m *Model) Prefer(path string) { m.prefer = path }

// CameraNames are the names that the cameras report, with the device added where two
// have the same name.
func (s *State) CameraNames() []string {
	names := make([]string, len(s.Cameras))
	for i, c := range s.Cameras {
		names[i] = c.Name
		if slices.ContainsFunc(s.Cameras, func(d camera.Device) bool { return d != c && d.Name == c.Name }) {
			names[i] += " (" + filepath.Base(c.Path) + ")"
		}
	}
	return names
}

// TakeCamera switches to another of the cameras and returns its path; ok reports whether
// there is such another.
func (m *Model) TakeCamera(index int) (path string, ok bool) {
	if index < 0 || index >= len(m.state.Cameras) || index == m.state.Camera {
		return "", false
	}
	m.prefer = m.state.Cameras[index].Path
	m.Start("")
	return m.prefer, true
}
