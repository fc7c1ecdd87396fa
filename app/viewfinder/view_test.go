package viewfinder

import (
	"context"
	"image"
	"testing"

	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/labels/camera"
)

// window is a Host that notes what it is asked.
type window struct {
	app.Host // nil: the rest is not asked for

	went   []routes.Route
	shown  card.Card
	hidden bool
}

func (w *window) Go(to routes.Route)                   { w.went = append(w.went, to) }
func (w *window) Back() bool                           { return true }
func (w *window) ShowCard(c card.Card, _ func(string)) { w.shown, w.hidden = c, false }
func (w *window) HideCard()                            { w.shown, w.hidden = card.Card{}, true }

// The page offers the cameras when there are several, remembers which one was taken,
// shows the card of what is seen, and Enter goes there.
func TestPage(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Theme{})
	b := sessiontest.Open(t, demo.Unpacked)
	devices := []camera.Device{{Path: "/dev/video0", Name: "Lid"}, {Path: "/dev/video2", Name: "Stand"}}
	cameras := map[string]*cameraReel{}
	for i, name := range []string{"A-12", "A-30"} {
		cameras[devices[i].Path] = &cameraReel{reel{pictures: []image.Image{printed(t, string(b.Place(name).Tag))}}}
	}
	host := &window{}
	page := func() *Page {
		return New(b.Session, host, routes.Route{}, Options{
			GoTo:    func(r session.Reading) routes.Route { return routes.Route{About: r.Place.Name} },
			Open:    func(_ context.Context, where string) (camera.Source, error) { return cameras[where], nil },
			Devices: func() ([]camera.Device, error) { return devices, nil },
		})
	}
	steps := func() {
		for range 12 {
			b.Step()
		}
	}
	p := page()
	if !p.cameras.Hidden {
		t.Error("cameras are offered before they are known")
	}
	steps()
	if p.cameras.Hidden || p.choice.Chosen() != 0 || host.shown.Designation != "AN3-5A" {
		t.Fatalf("the first camera: choice hidden %v, card of %q", p.cameras.Hidden, host.shown.Designation)
	}
	p.choice.Choose(1)
	steps()
	if p.choice.Chosen() != 1 || host.shown.Designation != "NAS1149F0363P" {
		t.Errorf("the second camera: %d chosen, card of %q", p.choice.Chosen(), host.shown.Designation)
	}
	if p.HandleKey("Enter"); len(host.went) != 1 || host.went[0].About != "A-30" {
		t.Errorf("Enter went to %v, want A-30", host.went)
	}
	p.Leave()
	p = page()
	steps()
	if p.choice == nil || p.choice.Chosen() != 1 {
		t.Error("the camera that was taken is not remembered")
	}
	p.Leave()
	b.Drain()
}

// A code that was chosen by the arrows stays chosen while it is listed, whatever else comes into
// the picture: Enter goes there.
func TestChosenByKeys(t *testing.T) {
	r := newRig(t)
	both, other := printed(t, r.tag("A-12"), r.tag("A-30")), printed(t, r.tag("A-07"))
	r.cameras[""] = &cameraReel{reel{pictures: []image.Image{both, other}, once: true}}
	picked := ""
	r.m.show = func(s State) {
		if picked == "" && len(s.Rows) == 2 {
			picked = r.m.readings[1].Code.Text
			if !r.m.Key("Down") || r.m.Key("Enter") {
				t.Error("the down arrow does not move the choice, or another key does")
			}
		}
	}
	r.m.Start("")
	r.Drain()
	if text, _ := r.m.chosenText(); text != picked || picked == "" || len(r.m.readings) != 3 {
		t.Errorf("of %d codes %q is chosen, want %q still", len(r.m.readings), text, picked)
	}
	r.m.Choose(0)
	if r.m.Key("Up") {
		t.Error("up from the first one does not lead elsewhere")
	}
}
