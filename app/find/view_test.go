package find

import (
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

func TestPage(t *testing.T) {
	b, h := sessiontest.Open(t, demo.Unpacked), apptest.NewWindow(t)
	p := New(b.Session, h, routes.Route{Screen: routes.Find, About: "an3-5a"})
	b.Drain()
	if h.Query != "an3-5a" || h.Card.Designation != "AN3-5A" || len(h.Card.Actions) != 6 {
		t.Fatalf("opened: command %q, card of %q with %d actions", h.Query, h.Card.Designation, len(h.Card.Actions))
	}
	if got := p.Seeks(); got != "AN3-5A" {
		t.Errorf("the camera looks for %q", got)
	}
	drawer := b.Place("A-12").ID
	for _, row := range []struct {
		act  string
		want routes.Route
	}{{"label", routes.Route{Screen: routes.Labels, About: drawer}}, {"lots", routes.Route{Screen: routes.Alerts, Part: "lots", About: "AN3-5A"}}, {"open", routes.Route{Screen: routes.Places, About: drawer}}, {"show", routes.Route{Screen: routes.Camera, Part: "AN3-5A"}}} {
		h.Query = "an3-5a"
		h.Act(row.act)
		if h.Query != "" {
			t.Errorf("after %q the command bar has %q, which filters nothing there", row.act, h.Query)
		}
		if h.Route != row.want {
			t.Errorf("action %q goes to %+v, want %+v", row.act, h.Route, row.want)
		}
	}
	h.Act("count")
	if h.Dialog == nil {
		t.Error("action count asks nothing")
	}

	p.Query("an3")
	b.Drain()
	if got := p.Seeks(); got != "" {
		t.Errorf("of several answers of which none was chosen the camera looks for %q", got)
	}
	p.take(true)
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	b.Drain()
	if row, _ := p.list.Chosen(); h.Card.Designation != row.ID || row.ID == "" {
		t.Errorf("one row further: card of %q, row of %q", h.Card.Designation, row.ID)
	}
	if got := p.Seeks(); got != h.Card.Designation {
		t.Errorf("with the row of %q in hand the camera looks for %q", h.Card.Designation, got)
	}
	saved := p.Saved()
	again := New(b.Session, h, routes.Route{Screen: routes.Find})
	again.Restore(saved)
	b.Drain()
	if h.Query != "an3" || again.model.State().Heading == "In the shop" {
		t.Errorf("on the way back: command %q, heading %q", h.Query, again.model.State().Heading)
	}

	p.Query("cabinet a")
	b.Drain()
	if h.Card.Designation != "Cabinet A" || h.Card.Actions[0].ID != openID {
		t.Errorf("a place: card of %q with %+v", h.Card.Designation, h.Card.Actions)
	}
	p.Query("xyz-9")
	b.Drain()
	if !h.Card.Empty() || !p.list.Hidden {
		t.Errorf("nothing found: card of %q, list hidden %v", h.Card.Designation, p.list.Hidden)
	}
	h.Route = routes.Route{}
	p.open()
	p.act("open")
	if h.Route != (routes.Route{}) {
		t.Errorf("with nothing chosen the page goes to %+v", h.Route)
	}
}
