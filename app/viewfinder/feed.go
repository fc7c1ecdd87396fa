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

// feed is a source that is read, one picture at a time: the next one is asked for
// when the one before has been shown, so that nothing piles up.
type feed struct {
	request loop.Request // it is read while that is current
	where   string
	source  camera.Source
	live    bool // its pictures follow one another closely
	damaged int  // pictures one after another
	eye     session.Eye
	steady  steady // of a live source
}

// seen is a picture that was read.
type seen struct {
	picture  *image.RGBA
	readings []session.Reading
}

// openFeed opens the source in the background. Of several cameras it takes the one
// preferred, if that is there.
func (m *Model) openFeed(f *feed) {
	prefer := m.prefer
	m.session.Loop.Run(func() {
		where, found := f.where, found{camera: -1}
		if where == "" {
			found.cameras, _ = m.devices() // that there is none is what opening it says
			found.camera = max(0, slices.IndexFunc(found.cameras, func(d camera.Device) bool { return d.Path == prefer }))
			if len(found.cameras) > 0 {
				where = found.cameras[found.camera].Path
			}
		}
		source, err := m.open(f.request.Context(), where)
		m.session.Loop.Post(func() { m.opened(f, found, source, err) })
	})
}

// found are the cameras of this computer, and which is opened.
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
		m.state.Problem, m.state.Help = "", false
		m.state.Heading, m.state.Note = heading(m.readings)
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
	lit := readings
	if f.live {
		lit = f.steady.take(picture, readings)
	}
	return seen{outline(picture, lit), readings}, nil
}

// mostDamaged is how many pictures one after another may come damaged: a camera drops
// parts of some, a folder may hold a file that is none.
const mostDamaged = 10

// missed passes over a damaged picture. Of a camera, whose next one comes at once,
// that is not worth a word.
func (m *Model) missed(f *feed, err error) {
	if f.request.Current() && !f.live {
		m.state.Problem = wording.Error(err)
		m.show(m.state)
	}
	m.next(f)
}

// againAfter is how long a camera that is gone is left alone before it is tried again.
const againAfter = 2 * time.Second

// ended says why a source ended. One picture that was read is no problem. A camera
// that was there, and is not any more, is tried again until it is back or the page
// is left: somebody pulled its cable, or the phone fell asleep.
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

// Prefer names the camera to look through when there are several, by its path.
func (m *Model) Prefer(path string) { m.prefer = path }

// CameraNames are what the cameras call themselves, told apart where two of a kind are
// connected.
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

// TakeCamera looks through another of the cameras, and gives its path.
func (m *Model) TakeCamera(index int) (path string, ok bool) {
	if index < 0 || index >= len(m.state.Cameras) || index == m.state.Camera {
		return "", false
	}
	m.prefer = m.state.Cameras[index].Path
	m.Start("")
	return m.prefer, true
}
