package unpack

import (
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/gallery"
)

// nowhere is a window that only remembers.
type nowhere struct {
	side  fyne.CanvasObject
	said  string
	route card.Route
}

func (n *nowhere) Go(to card.Route)             { n.route = to }
func (n *nowhere) ShowSide(o fyne.CanvasObject) { n.side = o }
func (n *nowhere) HideCard()                    { n.side = nil }
func (n *nowhere) Say(c card.Notice)            { n.said = c.Lead + " " + c.Text }

// scene is a state of the screen for pictures: a shop, and keys pressed in it.
type scene struct {
	name  string
	about func(b *bench) card.Route
	scene demo.Scene
	keys  []string
	line  int
}

func scenes() []scene {
	root := func(*bench) card.Route { return card.Route{} }
	return []scene{
		{name: "unpack-bag", about: root, scene: demo.Unpacking},
		{name: "unpack-stow", about: root, scene: demo.Unpacking, keys: []string{"S", `"12"`, "Enter"}},
		{name: "unpack-split", about: root, scene: demo.Unpacking, keys: []string{"X", "Enter", `"an3"`}},
		{name: "unpack-some", about: root, scene: demo.Unpacking, keys: []string{"1"}},
		{name: "unpack-all", about: root, scene: demo.Unpacked, line: 17},
	}
}

// page makes the page of a scene; each one has a window and a queue of its own.
func (s scene) page(t *testing.T) (*bench, *Page, *nowhere) {
	b := newBench(t, s.scene)
	host := &nowhere{}
	p := New(b.s, host, s.about(b))
	b.queue.Drain()
	if c, ok := p.shown.(*checkView); ok {
		b.m = c.model
		if s.line != 0 {
			b.to(s.line)
		}
	}
	for _, k := range s.keys {
		if k[0] == '"' {
			b.m.Type(k[1 : len(k)-1])
			continue
		}
		p.HandleKey(k)
		b.queue.Drain()
	}
	return b, p, host
}

// Pictures of the whole window; no text may be cut off in any mode. With
// STOWRIGHT_PICTURES set to a folder they are written there.
func TestPictures(t *testing.T) {
	test.NewTempApp(t)
	var states []gallery.State
	for _, s := range scenes() {
		framed := gallery.Framed{Screen: card.Unpack}
		var host *nowhere
		framed.Page = func() fyne.CanvasObject {
			var p *Page
			_, p, host = s.page(t)
			return p.Object()
		}
		framed.Side = func() fyne.CanvasObject { return host.side }
		states = append(states, framed.State(s.name))
	}
	for _, s := range states {
		for _, m := range gallery.Modes() {
			t.Run(s.Name+"/"+m.Name, func(t *testing.T) {
				for _, text := range gallery.Clipped(s, m, test.WidgetRenderer) {
					t.Error(text)
				}
			})
		}
	}
	if dir := os.Getenv("STOWRIGHT_PICTURES"); dir != "" {
		if _, err := gallery.Write(dir, states); err != nil {
			t.Fatal(err)
		}
	}
}
