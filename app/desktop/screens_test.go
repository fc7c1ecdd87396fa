package desktop

import (
	"slices"
	"testing"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/assets/icons"
)

// Every screen has all its parts: words, a way there, a page with a title, pictures.
func TestEveryScreenIsComplete(t *testing.T) {
	b := sitAt(t, sessiontest.Open(t, demo.Unpacking))
	rail := len(railEntries())
	used := map[string]string{} // a name, a key or a picture, and whose it is
	once := func(what, name, whose string) {
		if other, taken := used[what+name]; taken {
			t.Errorf("%s: the %s %q is that of %s too", whose, what, name, other)
		}
		used[what+name] = whose
	}
	for i, e := range entries() {
		t.Run(e.Name, func(t *testing.T) {
			once("name", e.Name, e.Title)
			if e.Title == "" || e.Help == "" || e.page == nil || e.shots == nil {
				t.Fatalf("a part is missing: %+v", e.Screen)
			}
			if last := e.Help[len(e.Help)-1]; last != '.' {
				t.Errorf("help %q is no sentence", e.Help)
			}
			if onRail := e.Icon != ""; onRail != (i < rail) {
				t.Errorf("icon %q: on the rail is %v, want %v", e.Icon, onRail, i < rail)
			}
			if e.Icon != "" && icons.SVG(e.Icon) == nil {
				t.Errorf("there is no icon %q", e.Icon)
			}
			b.d.Go(routes.Route{Screen: e.Name})
			b.Drain()
			titled, ok := b.d.Page().(app.Titled)
			if b.d.Page() == nil || b.d.Page().Object() == nil || !ok || titled.Title() == "" {
				t.Errorf("its page: got %T, want one with an object and a title", b.d.Page())
			}
			if e.Key != "" {
				once("key", e.Key, e.Title)
				b.d.Go(routes.Route{Screen: routes.Labels})
				b.press(e.Key)
				if got := b.d.Route().Screen; got != e.Name {
					t.Errorf("%s leads to %q, want %q", e.Key, got, e.Name)
				}
			}
			shots, err := e.shots(b.Session)
			if err != nil || len(shots) == 0 {
				t.Errorf("pictures: got %d and %v, want one at least", len(shots), err)
			}
			for _, s := range shots {
				once("picture", s.Name, e.Title)
			}
		})
	}
}

// The names that routes use. One that is changed here breaks the links between screens.
func TestRoutesByName(t *testing.T) {
	b := sitAt(t, sessiontest.Open(t, demo.Unpacking))
	var names []string
	for _, e := range entries() {
		names = append(names, e.Name)
	}
	want := []string{"today", "unpack", "find", "places", "labels", "build", "order", "handbook", "alerts", "camera", "aircraft", "copies", "photographs"}
	if !slices.Equal(names, want) {
		t.Errorf("names: got %q, want %q", names, want)
	}
	if page, err := b.d.page(routes.Route{Screen: "garden"}); err == nil {
		t.Errorf("a screen that does not exist: got %T, want an error", page)
	}
}

// The pictures of the gallery: all of them, each on its screen, and the first of each
// screen of the rail for the demo.
func TestShots(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacking)
	shots, err := Shots(b.Session)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range shots {
		if s.Route.Screen == "" {
			t.Errorf("%s: its route has no screen", s.Name)
		}
		names = append(names, s.Name)
	}
	want := []string{"today", "unpack", "find", "places", "labels", "build", "pull", "bench", "joint", "list", "changes", "change", "order", "owed", "handbook", "measure", "bolt", "rivet", "tables", "torque", "figures", "alerts", "alert", "dates", "lots", "camera", "aircraft", "components", "due", "positions", "copies", "photographs"}
	if !slices.Equal(names, want) {
		t.Errorf("pictures: got %q, want %q", names, want)
	}
	first, err := RailShots(b.Session)
	if err != nil || len(first) != 9 || first[8].Name != "alerts" {
		t.Errorf("of the rail: got %+v and %v, want nine, the last one of the alerts", first, err)
	}
	if _, err := Shots(sessiontest.Empty(t).Session); err == nil {
		t.Error("a shop without the drawer to draw: got no error")
	}
}

// The host that a page is given is bound to its visit.
func TestHostOfAPageThatWasLeft(t *testing.T) {
	look.Theme{}.Apply()
	s := sessiontest.Open(t, demo.Unpacked)
	d := New(s.Session, Options{Open: noCamera})
	old := &visit{Desktop: d, visit: d.visits.Start()}
	var host app.Host = old
	host.ShowCard(card.Card{Designation: "AN3-5A"}, nil)
	if got := d.Card().Designation; got != "AN3-5A" {
		t.Errorf("while it is shown: card of %q, want AN3-5A", got)
	}
	d.visits.Start()
	host.ShowCard(card.Card{Designation: "AN4-6A"}, nil)
	host.HideCard()
	host.SetCommand("typed")
	if got := d.Card().Designation; got != "AN3-5A" {
		t.Errorf("after it was left: card of %q, want AN3-5A still", got)
	}
}
