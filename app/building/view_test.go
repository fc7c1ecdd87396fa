package building

import (
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store/output"
)

// window is the whole window on a page of the screen.
func window(b *sessiontest.Bench, route routes.Route) *app.Frame {
	route.Screen = routes.Build
	var f *app.Frame
	f = app.NewFrame(app.Options{
		Screens: gallery.Rail(), Loop: b.Queue.Loop(),
		Pages: func(r routes.Route) (app.Page, error) { return New(b.Session, f, r), nil },
	})
	f.SetFooter(app.Footer{Shop: "Type Q", Last: "Partner: weighed AN470AD4-5 in A-21", CanUndo: true})
	f.SetHand("Builder")
	f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
	f.Go(route)
	b.Drain()
	return f
}

// pictured draws states in every mode: no text may be cut off. With STOWRIGHT_PICTURES set
// to a folder they are written there.
func pictured(t *testing.T, states ...gallery.State) {
	t.Helper()
	for _, s := range states {
		t.Run(s.Name, func(t *testing.T) {
			for _, m := range gallery.Modes() {
				for _, text := range gallery.Unreadable(s, m, test.WidgetRenderer) {
					t.Errorf("%s: %s", m.Name, text)
				}
			}
			if dir := os.Getenv("STOWRIGHT_PICTURES"); dir != "" {
				if _, err := gallery.Write(dir, []gallery.State{s}, output.Options{Replace: true}); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

func state(name string, b *sessiontest.Bench, route routes.Route) gallery.State {
	return gallery.State{Name: name, Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		return window(b, route).Object()
	}}
}

func TestPictures(t *testing.T) {
	pictured(t,
		state("build-empty", sessiontest.Empty(t), routes.Route{}),
		state("build-to-weigh", extended(t, false), routes.Route{About: "SA-10"}),
		state("build-blocked", extended(t, true), routes.Route{About: "SA-41"}),
	)
}

// The keys that the side shows lead to the walk.
func TestWalkKeys(t *testing.T) {
	look.Theme{}.Apply()
	b := extended(t, true)
	f := window(b, routes.Route{About: "SA-21"})
	p := f.Page().(*Page)
	p.side.pull.Tapped(nil)
	if got, want := f.Route(), (routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-21"}); got != want {
		t.Errorf("P leads to %+v", got)
	}
	p.side.all.Tapped(nil)
	if got, want := f.Route(), (routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-10,SA-20,SA-21"}); got != want {
		t.Errorf("A leads to %+v", got)
	}
}

// In the larger size of a window of 1280 by 800 the buttons stand in one line, and tiles
// and list scroll by themselves, not the page around them.
func TestBoardInTheLargerSize(t *testing.T) {
	look.Theme{Shop: true}.Apply()
	p := window(extended(t, true), routes.Route{About: "SA-10"}).Page().(*Page)
	if line := p.buttons.Objects[0].Size().Height; p.buttons.Size().Height > line+1 {
		t.Errorf("the buttons are %v high, and one of them %v", p.buttons.Size().Height, line)
	}
	if needs, has := p.content.MinSize().Height, p.content.Size().Height; needs >= has {
		t.Errorf("the page needs all of %v, and scrolls", needs)
	}
}

// In the larger size of a window of 1280 by 800 the stop in hand is in sight with its place,
// its number and the look-alike to beware of, whatever else is said; only the list scrolls.
func TestWalkInTheLargerSize(t *testing.T) {
	look.Theme{Shop: true}.Apply()
	f := window(extended(t, true), routes.Route{Part: PullPart, About: "SA-10,SA-21,SA-30,SA-41"})
	p := f.Page().(*WalkPage)
	at := func(o fyne.CanvasObject) (top, bottom float32) {
		top = fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y
		return top, top + o.Size().Height
	}
	for _, row := range []struct{ name, problem string }{{"as it begins", ""}, {"with something refused", "12 of them are looked for: count A-03 first, and then take what is there."}} {
		t.Run(row.name, func(t *testing.T) {
			s := p.model.State()
			s.Problem = row.problem
			p.Render(s)
			p.content.Resize(p.content.Size())
			if needs, has := p.content.MinSize().Height, p.content.Size().Height; needs >= has {
				t.Errorf("the page needs all of %v, and scrolls", needs)
			}
			_, foot := at(p.content)
			for name, o := range map[string]fyne.CanvasObject{"number": p.hand.number, "item and place": p.hand.words, "look-alike": p.hand.beware, "what takes it": p.hand.take} {
				if top, bottom := at(o); !o.Visible() || bottom > foot || o.Size().Height < 1 {
					t.Errorf("the %s is seen: %v, from %v to %v of %v", name, o.Visible(), top, bottom, foot)
				}
			}
			if chosen, _ := p.list.Chosen(); row.problem == "" && p.list.Size().Height < look.Px(34+58) || chosen.Cells[1].Text != s.Hand.Place {
				t.Errorf("the list is %v high, on %v", p.list.Size().Height, chosen.Cells)
			}
			if got := p.hand.words.Text(); got != "AN426AD3-3.5 out of A-03" || !strings.Contains(p.hand.beware.Text(), "AN426AD3-4.5") {
				t.Errorf("it reads %q, %q", got, p.hand.beware.Text())
			}
		})
	}
	if !p.shorter.Visible() || p.short.Visible() {
		t.Error("what is not on the walk takes the room")
	}
}
