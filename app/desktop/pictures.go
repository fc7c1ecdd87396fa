package desktop

import (
	"context"

	"fyne.io/fyne/v2"

	"stowright/app/gallery"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/labels/camera"
)

// Size is the size that the window opens in, and that every screen must fit.
var Size = fyne.NewSize(gallery.Width, gallery.Height)

// Shot is one picture of the window on a page.
type Shot struct {
	Name  string // of the file
	Route routes.Route
}

// Shots are the pictures of the screens on a demo shop.
func Shots(s *session.Session) ([]Shot, error) { return shotsOf(s, entries()) }

// RailShots are one picture of each screen of the rail.
func RailShots(s *session.Session) ([]Shot, error) {
	var first []Shot
	for _, e := range railEntries() {
		shots, err := shotsOf(s, []entry{e})
		if err != nil {
			return nil, err
		}
		first = append(first, shots[0])
	}
	return first, nil
}

func shotsOf(s *session.Session, entries []entry) ([]Shot, error) {
	var all []Shot
	for _, e := range entries {
		shots, err := e.shots(s)
		if err != nil {
			return nil, err
		}
		for _, shot := range shots {
			shot.Route.Screen = e.Name
			all = append(all, shot)
		}
	}
	return all, nil
}

// withoutCamera opens nothing, so that a picture of the camera page is the same on
// every computer.
func withoutCamera(context.Context, string) (camera.Source, error) { return nil, camera.ErrNoCamera }

// States are the shots as states of a gallery, on a session whose loop is inline.
func States(s *session.Session, shots []Shot) []gallery.State {
	states := make([]gallery.State, 0, len(shots))
	for _, shot := range shots {
		states = append(states, gallery.State{
			Name: shot.Name, Width: gallery.Width, Height: gallery.Height,
			Make: func() fyne.CanvasObject {
				d := New(s, Options{Open: withoutCamera})
				d.status()
				d.Go(shot.Route)
				return d.Object()
			},
		})
	}
	return states
}
