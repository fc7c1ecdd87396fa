package desktop

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/gallery"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/labels/camera"
	"stowright/store"
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

// QuestionStates are the questions of the screens, on the same shop.
func QuestionStates(s *session.Session) ([]gallery.State, error) {
	ships, err := session.Answer(s, func(r *session.Reader) ([]store.Shipment, error) { return r.Shop.Shipments() })
	if err != nil || len(ships) == 0 {
		return nil, err
	}
	return []gallery.State{
		stateOf(s, Shot{"ask-help", routes.Route{Screen: routes.Unpack}}, "F1"),
		stateOf(s, Shot{"ask-more", routes.Route{Screen: routes.Unpack}}, "M"),
		stateOf(s, Shot{"ask-some", routes.Route{Screen: routes.Unpack}}, "S"),
		stateOf(s, Shot{"ask-sent", routes.Route{Screen: routes.Unpack, Part: "claim", About: ships[0].ID}}, "M"),
		stateOf(s, Shot{"ask-cabinet", routes.Route{Screen: routes.Places}}, "K"),
		stateOf(s, Shot{"ask-stock", routes.Route{Screen: routes.Labels}}, "K"),
		stateOf(s, Shot{"ask-copies", routes.Route{Screen: routes.Labels}}, "C"),
		stateOf(s, Shot{"ask-price", routes.Route{Screen: routes.Order}}, "P"),
	}, nil
}

// EmptyStates are the screens of the rail, and a packing list that cannot be read, on a shop that
// has nothing yet.
func EmptyStates(s *session.Session) []gallery.State {
	var all []gallery.State
	for _, e := range railEntries() {
		all = append(all, stateOf(s, Shot{"none-" + e.Name, routes.Route{Screen: e.Name}}))
	}
	return append(all, stateOf(s, Shot{"none-such-list", routes.Route{Screen: routes.Unpack, Part: "list", About: "/no/such/list.csv"}}))
}

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
		states = append(states, stateOf(s, shot))
	}
	return states
}

// stateOf is a shot as a state of a gallery, after some keys: a question that the last one asks is
// drawn over the window.
func stateOf(s *session.Session, shot Shot, keys ...string) gallery.State {
	return gallery.State{
		Name: shot.Name, Width: gallery.Width, Height: gallery.Height,
		Make: func() fyne.CanvasObject {
			d := New(s, Options{Open: withoutCamera})
			d.status()
			d.Go(shot.Route)
			if len(keys) > 0 { // what stands at the right is hidden before it has its place
				d.Object().Resize(Size)
			}
			for _, key := range keys {
				d.Press(key)
			}
			if asked := d.Asked(); asked != nil {
				return container.NewStack(d.Object(), asked)
			}
			return d.Object()
		},
	}
}
