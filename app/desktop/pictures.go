package desktop

import (
	"errors"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/gallery"
	"stowright/app/handbook"
	"stowright/app/photos"
	"stowright/app/session"
)

// Size is the size that the window opens in, and that every screen must fit.
var Size = fyne.NewSize(gallery.Width, gallery.Height)

// Shot is one picture of the window: a page, with what was typed.
type Shot struct {
	Name  string // of the file
	Route card.Route
}

// Shots are the pictures of the screens on a demo shop, one of each screen of the
// rail first.
func Shots(s *session.Session) ([]Shot, error) {
	drawers, err := s.PlacesMatching("A-07")
	if err != nil || len(drawers) == 0 {
		return nil, errors.Join(err, errors.New("the shop has no drawer A-07 to draw"))
	}
	taken, err := s.Shop.AllPhotos()
	if err != nil || len(taken) == 0 {
		return nil, errors.Join(err, errors.New("the shop has no photograph to draw"))
	}
	return []Shot{
		{"today", card.Route{Screen: card.Today}},
		{"unpack", card.Route{Screen: card.Unpack}},
		{"find", card.Route{Screen: card.Find, About: "an3 5"}},
		{"places", card.Route{Screen: card.Places, About: drawers[0].ID}},
		{"labels", card.Route{Screen: card.Labels}},
		{"handbook", card.Route{Screen: card.Handbook, About: "an3 5a"}},
		{"measure", card.Route{Screen: card.Handbook, Part: handbook.MeasurePart, About: ".190"}},
		{"bolt", card.Route{Screen: card.Handbook, Part: handbook.BoltPart, About: "spar .125, rib 3/16"}},
		{"rivet", card.Route{Screen: card.Handbook, Part: handbook.RivetPart, About: ".032, .040"}},
		{"tables", card.Route{Screen: card.Handbook, Part: handbook.TablesPart}},
		{"torque", card.Route{Screen: card.Handbook, Part: handbook.TorquePart}},
		{"photographs", card.Route{Screen: card.Photographs, About: photos.About(taken[0].Of)}},
		{"figures", card.Route{Screen: card.Handbook, Part: handbook.OwnPart}},
	}, nil
}

// States are the shots as states of a gallery, on a session whose loop is inline.
func States(s *session.Session, shots []Shot) []gallery.State {
	states := make([]gallery.State, 0, len(shots))
	for _, shot := range shots {
		states = append(states, gallery.State{
			Name: shot.Name, Width: gallery.Width, Height: gallery.Height,
			Make: func() fyne.CanvasObject {
				d := New(s, Options{})
				d.status()
				d.Go(shot.Route)
				return d.Object()
			},
		})
	}
	return states
}
