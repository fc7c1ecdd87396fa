package album

import (
	"context"
	"errors"
	"io"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/photos"
	"stowright/app/wording"
	"stowright/labels/camera"
)

// Look lets a camera look: the first one for nothing.
func (m *Model) Look(where string) {
	m.Stop()
	request := m.camera.Start()
	m.state.Live, m.state.Picture, m.state.Said, m.state.Problem = true, nil, "", ""
	m.show(m.state)
	m.session.Loop.Run(func() {
		source, err := m.open(request.Context(), where)
		m.session.Loop.Post(func() {
			if err != nil {
				m.ended(request, err)
				return
			}
			m.next(request, source)
		})
	})
}

// next waits for a picture in the background, and closes the source after the last
// one. The next is asked for when the one before has been shown: nothing piles up.
func (m *Model) next(request loop.Request, source camera.Source) {
	m.session.Loop.Run(func() {
		picture, err := source.Next(request.Context())
		if err != nil {
			err = errors.Join(err, source.Close())
		}
		m.session.Loop.Post(func() {
			if err != nil {
				m.ended(request, err)
				return
			}
			if request.Current() {
				m.state.Picture = picture
				m.show(m.state)
			}
			m.next(request, source)
		})
	})
}

// ended says why the camera stopped.
func (m *Model) ended(request loop.Request, err error) {
	if !request.Current() {
		return
	}
	m.Stop()
	switch {
	case errors.Is(err, context.Canceled):
	case errors.Is(err, io.EOF):
		m.state.Problem = "The camera gives no more pictures: see that it is still on, then start it again."
	case errors.Is(err, camera.ErrNoCamera):
		m.state.Problem = "This computer has no camera that can be used: take the photograph with a phone, and name its file below or drop it here."
	default:
		m.state.Problem = wording.Error(err)
	}
	m.show(m.state)
}

// Take keeps what the camera sees. It goes on looking, for the next one.
func (m *Model) Take() {
	picture := m.state.Picture
	if !m.state.Live || picture == nil {
		return
	}
	m.keep(func() (operation.AddPhotos, error) {
		data, err := photos.Prepare(picture)
		return operation.AddPhotos{Pictures: [][]byte{data}}, err
	})
}

// Stop ends the camera.
func (m *Model) Stop() {
	m.camera.Drop()
	m.state.Live, m.state.Picture = false, nil
}

// Done ends the camera and shows the photographs.
func (m *Model) Done() {
	m.Stop()
	m.show(m.state)
}
