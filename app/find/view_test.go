package find

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// host is the window as the page sees it: it keeps what it is given.
type host struct {
	app.Host // nil: the rest is not asked for

	route   routes.Route
	card    card.Card
	act     func(string)
	command string
	dialog  *look.Dialog
}

func (h *host) Go(to routes.Route)                        { h.route = to }
func (h *host) ShowCard(c card.Card, act func(id string)) { h.card, h.act = c, act }
func (h *host) HideCard()                                 { h.card, h.act = card.Card{}, nil }
func (h *host) SetCommand(text string)                    { h.command = text }
func (h *host) Ask(d *look.Dialog, _ fyne.Focusable)      { h.dialog = d }
func (h *host) Say(notice.Notice)                         {}

func TestPage(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.Theme{Mode: look.Light})
	b, h := sessiontest.Open(t, demo.Unpacked), &host{}
	p := New(b.Session, h, routes.Route{Screen: routes.Find, About: "an3-5a"})
	b.Drain()
	if h.command != "an3-5a" || h.card.Designation != "AN3-5A" || len(h.card.Actions) != 4 {
		t.Fatalf("opened: command %q, card of %q with %d actions", h.command, h.card.Designation, len(h.card.Actions))
	}
	drawer := b.Place("A-12").ID
	for _, row := range []struct {
		act  string
		want routes.Route
	}{{"label", routes.Route{Screen: routes.Labels, About: drawer}}, {"open", routes.Route{Screen: routes.Places, About: drawer}}} {
		h.act(row.act)
		if h.route != row.want {
			t.Errorf("action %q goes to %+v, want %+v", row.act, h.route, row.want)
		}
	}
	h.act("count")
	if h.dialog == nil {
		t.Error("action count asks nothing")
	}

	p.Query("an3")
	b.Drain()
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	b.Drain()
	if row, _ := p.list.Chosen(); h.card.Designation != row.ID || row.ID == "" {
		t.Errorf("one row further: card of %q, row of %q", h.card.Designation, row.ID)
	}
	saved := p.Saved()
	again := New(b.Session, h, routes.Route{Screen: routes.Find})
	again.Restore(saved)
	b.Drain()
	if h.command != "an3" || again.model.State().Heading == "In the shop" {
		t.Errorf("on the way back: command %q, heading %q", h.command, again.model.State().Heading)
	}

	p.Query("cabinet a")
	b.Drain()
	if h.card.Designation != "Cabinet A" || h.card.Actions[0].ID != openID {
		t.Errorf("a place: card of %q with %+v", h.card.Designation, h.card.Actions)
	}
	p.Query("xyz-9")
	b.Drain()
	if !h.card.Empty() || !p.list.Hidden {
		t.Errorf("nothing found: card of %q, list hidden %v", h.card.Designation, p.list.Hidden)
	}
	h.route = routes.Route{}
	p.open()
	p.act("open")
	if h.route != (routes.Route{}) {
		t.Errorf("with nothing chosen the page goes to %+v", h.route)
	}
}
