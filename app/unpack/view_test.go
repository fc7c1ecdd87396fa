package unpack

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/notice"
	"stowright/app/routes"
	demofiles "stowright/assets/demo"
)

// scene is a state of the screen for pictures: a shop, and keys pressed in it.
type scene struct {
	name  string
	about func(b *bench) routes.Route
	scene demo.Scene
	keys  []string
	line  int
}

func scenes() []scene {
	root := func(*bench) routes.Route { return routes.Route{} }
	return []scene{
		{name: "unpack-bag", about: root, scene: demo.Unpacking},
		{name: "unpack-stow", about: root, scene: demo.Unpacking, keys: []string{"S", `"12"`, "Enter"}},
		{name: "unpack-split", about: root, scene: demo.Unpacking, keys: []string{"X", "Enter", `"an3"`}},
		{name: "unpack-some", about: root, scene: demo.Unpacking, keys: []string{"1"}},
		{name: "unpack-first", about: root, scene: demo.Furnished},
		{name: "unpack-list", about: file(demofiles.PackingListXLSX), scene: demo.Furnished},
		{name: "unpack-list-empty", about: func(*bench) routes.Route { return routes.Route{Part: ListPart} }, scene: demo.Furnished},
		{name: "unpack-list-bad", about: badFile, scene: demo.Furnished},
		{name: "unpack-list-unsure", about: sampleFile("quantities-to-ask.csv"), scene: demo.Furnished},
		{name: "unpack-list-sheets", about: sampleFile("sheet-per-crate.xlsx"), scene: demo.Furnished, keys: []string{"L"}},
		{name: "unpack-arrival", about: shipment(ArrivalPart), scene: demo.Unpacking},
		{name: "unpack-claim", about: shipment(ClaimPart), scene: demo.Unpacked},
		{name: "unpack-all", about: root, scene: demo.Unpacked, line: 17},
	}
}

// file is the route of a demo file, written out.
func file(name string) func(*bench) routes.Route {
	return func(b *bench) routes.Route {
		path := filepath.Join(b.t.TempDir(), name)
		if err := os.WriteFile(path, demofiles.PackingList(name), 0o600); err != nil {
			b.t.Fatal(err)
		}
		return routes.Route{Part: ListPart, About: path}
	}
}

// sampleFile is the route of a sample packing list.
func sampleFile(name string) func(*bench) routes.Route {
	return func(*bench) routes.Route {
		return routes.Route{Part: ListPart, About: filepath.Join("..", "..", "testdata", "packinglists", "shapes", name)}
	}
}

// badFile is the route of a list with three bad rows.
func badFile(b *bench) routes.Route {
	path := filepath.Join(b.t.TempDir(), "list.csv")
	text := strings.NewReplacer("1,ea,S", "one,ea,S", "AN3-4A", "", "OQ-20-015,Rudder stiffener,14,ea", "OQ-20-015,Rudder stiffener,14,boxes").Replace(string(demofiles.PackingList(demofiles.PackingListCSV)))
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		b.t.Fatal(err)
	}
	return routes.Route{Part: ListPart, About: path}
}

func shipment(part string) func(*bench) routes.Route {
	return func(b *bench) routes.Route { return routes.Route{Part: part, About: b.m.data.ship.ID} }
}

// window opens the screen in the window's frame, on a shop of its own, with the keys
// of the scene pressed.
func (s scene) window(t *testing.T) (*bench, *app.Frame) {
	b := newBench(t, s.scene)
	route := s.about(b)
	route.Screen = routes.Unpack
	var f *app.Frame
	f = app.NewFrame(app.Options{
		Screens: gallery.Rail(), Loop: b.queue.Loop(),
		Pages: func(r routes.Route) (app.Page, error) { return New(b.s, f, r), nil },
	})
	f.SetFooter(app.Footer{Shop: "Type Q", Last: "Builder: line 39, AN3-5A: found 28 ea", CanUndo: true})
	f.SetClaim("Damage claim: 1 day left", notice.Warn)
	f.SetHand("Builder")
	f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
	f.Go(route)
	b.queue.Drain()
	p := f.Page().(*Page)
	switch v := p.shown.(type) {
	case *checkView:
		b.m = v.model
		if s.line != 0 {
			b.to(s.line)
		}
	case *arrivalView:
		v.model.SetDay("2 April 2026")
		v.model.SetDamage(Days{Text: "5"})
		v.model.SetShortage(Days{Text: "30"})
	}
	for _, k := range s.keys {
		if k[0] == '"' {
			b.m.Type(k[1 : len(k)-1])
			continue
		}
		p.HandleKey(k)
		b.queue.Drain()
	}
	return b, f
}

// Pictures of the whole window; no text may be cut off in any mode. With
// STOWRIGHT_PICTURES set to a folder they are written there.
func TestPictures(t *testing.T) {
	var states []gallery.State
	for _, s := range scenes() {
		states = append(states, gallery.State{Name: s.name, Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
			_, f := s.window(t)
			return f.Object()
		}})
	}
	apptest.Pictured(t, os.Getenv("STOWRIGHT_PICTURES"), states...)
}
