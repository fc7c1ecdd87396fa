package today

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/store"
	"stowright/store/storetest"
)

// shop is a demo shop with a session whose work waits in a queue.
type shop struct {
	*store.Shop
	s     *session.Session
	queue *loop.Queue
	clock *demo.Clock
}

func inline() loop.Loop {
	call := func(f func()) { f() }
	return loop.Loop{Run: call, Post: call, After: func(time.Duration, func()) {}}
}

// open opens a shop; fill may be nil for an empty one.
func open(t *testing.T, fill func(*store.Shop, *demo.Clock) error) *shop {
	t.Helper()
	b := &shop{queue: &loop.Queue{}, clock: demo.NewClock(demo.Today, true)}
	b.Shop = storetest.Open(t, store.Options{Clock: b.clock.Now})
	if fill != nil {
		if err := fill(b.Shop, b.clock); err != nil {
			t.Fatal(err)
		}
	}
	s, err := session.Open(context.Background(), b.Shop, inline(), nil)
	if err != nil {
		t.Fatal(err)
	}
	s.Loop = b.queue.Loop()
	b.s = s
	return b
}

func scene(s demo.Scene) func(*store.Shop, *demo.Clock) error {
	return func(shop *store.Shop, clock *demo.Clock) error { return demo.Fill(shop, clock, s) }
}

func (b *shop) window(route routes.Route) *app.Frame {
	var f *app.Frame
	f = app.NewFrame(app.Options{
		Screens: gallery.Rail(), Loop: b.queue.Loop(),
		Pages: func(r routes.Route) (app.Page, error) { return New(b.s, f, r), nil },
	})
	f.SetFooter(app.Footer{Shop: "Type Q", Last: "Builder: stow 12 AN3-4A", CanUndo: true})
	f.SetClaim("Damage claim: 1 day left", notice.Stop)
	f.SetHand("Builder")
	f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
	f.Go(route)
	b.queue.Drain()
	return f
}

// Pictures of the whole window; no text may be cut off in any mode. With
// STOWRIGHT_PICTURES set to a folder they are written there.
func TestPictures(t *testing.T) {
	var states []gallery.State
	for _, s := range []struct {
		name string
		fill func(*store.Shop, *demo.Clock) error
	}{
		{"today-new", nil},
		{"today-furnished", scene(demo.Furnished)},
		{"today-arrived", scene(demo.Arrived)},
		{"today-unpacking", scene(demo.Unpacking)},
		{"today-unpacked", scene(demo.Unpacked)},
		{"today-due", fleet},
		{"today-due-first", listless},
	} {
		b := open(t, s.fill)
		states = append(states, gallery.State{Name: s.name, Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
			return b.window(routes.Route{Screen: routes.Today}).Object()
		}})
	}
	apptest.Pictured(t, os.Getenv("STOWRIGHT_PICTURES"), states...)
}

// A new shop says what to do first, with one key.
func TestFirstRun(t *testing.T) {
	look.Theme{}.Apply()
	b := open(t, nil)
	f := b.window(routes.Route{Screen: routes.Today})
	p := f.Page().(*Page)
	if s := p.model.State(); !s.First || s.Places {
		t.Errorf("a new shop: %+v", s)
	}
	if !look.PressKey(f.Object(), "I") || f.Route() != (routes.Route{Screen: routes.Unpack, Part: "list"}) {
		t.Errorf("I leads to %+v", f.Route())
	}
	if p.HandleKey("Enter") {
		t.Error("Enter is taken with nothing to open")
	}
}

// What is due stands over what to do first: an aircraft that flies has no packing list.
func TestDueOnTheFirstRun(t *testing.T) {
	look.Theme{}.Apply()
	b := open(t, listless)
	f := b.window(routes.Route{Screen: routes.Today})
	p := f.Page().(*Page)
	if s := p.model.State(); !s.First || len(s.Sections) != 1 || s.Chosen != 0 {
		t.Fatalf("without a packing list: %+v", s)
	}
	if !p.lists[0].Visible() || p.lists[0].RowsInSight() != 1 {
		t.Errorf("the due row is seen: %v, %d rows", p.lists[0].Visible(), p.lists[0].RowsInSight())
	}
	if !look.PressKey(f.Object(), "I") {
		t.Error("I is gone")
	}
	f.Go(routes.Route{Screen: routes.Today})
	b.queue.Drain()
	if p := f.Page().(*Page); !p.HandleKey("Enter") || f.Route() != dueRoute {
		t.Errorf("Enter leads to %+v", f.Route())
	}
}

// The side says first where something was done, where its sentence says that.
func TestPlaced(t *testing.T) {
	for _, row := range []struct {
		text  string
		names []string
		want  string
	}{
		{"MS24665-132: 4 ea stowed in A-23", []string{"H104", "A-23"}, "A-23 · MS24665-132: 4 ea stowed"},
		{"counted AN3-5A in A-12: 27 ea", []string{"A-12"}, "A-12 · counted AN3-5A: 27 ea"},
		{"counted AN3-5A in A-123: 27 ea", []string{"A-12"}, "counted AN3-5A in A-123: 27 ea"},
		{"room Hangar made", []string{"Hangar"}, "room Hangar made"},
		{"AN3-5A bought", nil, "AN3-5A bought"},
	} {
		if got := placed(row.text, row.names); got != row.want {
			t.Errorf("%q of %q: %q, want %q", row.text, row.names, got, row.want)
		}
	}
}

// So do the entries of a shop that was unpacked: each was put somewhere.
func TestEntriesLeadWithThePlace(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	m, _ := b.model()
	if got := m.State().Entries[0].Cells[0].Text; got != "A-23 · MS24665-132: 4 ea stowed" {
		t.Errorf("the newest is %q", got)
	}
}

// A tap goes where the row leads.
func TestTapOpens(t *testing.T) {
	look.Theme{}.Apply()
	b := open(t, scene(demo.Unpacking))
	f := b.window(routes.Route{Screen: routes.Today})
	p := f.Page().(*Page)
	p.lists[2].OnTapped(0, table.Row{})
	if got := f.Route(); got != (routes.Route{Screen: routes.Build, About: "SA-30"}) {
		t.Errorf("the first need leads to %+v", got)
	}
}

func TestLower(t *testing.T) {
	for _, row := range []struct {
		name    string
		heights []float32
		room    float32
		want    []float32
	}{
		{"all fit", []float32{100, 50, 200}, 400, []float32{100, 50, 200}},
		{"the longest gives", []float32{100, 50, 200}, 300, []float32{100, 50, 150}},
		{"two give alike", []float32{100, 50, 200}, 210, []float32{80, 50, 80}},
		{"down to the least", []float32{100, 50, 200}, 10, []float32{70, 50, 70}},
		{"none", nil, 10, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := append([]float32(nil), row.heights...)
			lower(got, row.room, 70)
			if fmt.Sprint(got) != fmt.Sprint(row.want) {
				t.Errorf("%v in %v: got %v, want %v", row.heights, row.room, got, row.want)
			}
		})
	}
}
