package desktop

import (
	"context"
	"strings"
	"testing"

	"stowright/app/bell"
	"stowright/app/building"
	"stowright/app/demo"
	"stowright/app/routes"
)

// On a walk a drawer that is shown to the camera is taken as one that is scanned: the right
// one is in hand on the walk, a wrong one is said by words, a mark and a sound, and the
// camera goes on looking. Of several in one picture nothing is said.
func TestCameraOnAWalk(t *testing.T) {
	b := sit(t, demo.Unpacked)
	rung := 0
	b.Bell = bell.New(func(context.Context) error { rung++; return nil }, false, func(bool) {})
	walk := routes.Route{Screen: routes.Build, Part: building.PullPart, About: "SA-10"}
	begin := func() {
		b.d.Go(walk)
		b.Drain()
		b.press("Down") // another stop than the first is in hand
	}
	show := func(places ...string) {
		b.d.Go(routes.Route{Screen: routes.Camera, About: b.photo(places...)})
		b.Drain()
	}
	inHand := func() string { return b.d.Page().(*building.WalkPage).InHand() }
	begin()
	before, entries := inHand(), b.Journal()

	if show("A-31"); b.d.Route().Screen != routes.Camera || rung != 1 || !strings.HasPrefix(b.d.Said(), "Wrong drawer: NAS1149F0332P; yours is") {
		t.Errorf("a wrong drawer: on %q, rung %d times, said %q", b.d.Route().Screen, rung, b.d.Said())
	}
	if words := b.texts(); !strings.Contains(words, "wrong drawer") {
		t.Errorf("no mark says so: %s", words)
	}
	if b.press("Esc", "Esc"); inHand() != before {
		t.Errorf("back from the camera %s is in hand, before it %s", inHand(), before)
	}
	if show("A-30"); b.d.Route() != walk || inHand() != "A-30" || rung != 1 || !strings.HasPrefix(b.d.Said(), "A-30: the right drawer") {
		t.Errorf("the right drawer: on %+v, in hand %s, rung %d times, said %q", b.d.Route(), inHand(), rung, b.d.Said())
	}

	begin()
	if show("A-31", "A-30"); b.d.Route().Screen != routes.Camera || rung != 1 || b.d.Said() != "" || b.d.Card().Place != "Garage, Cabinet A, drawer A-30" {
		t.Errorf("of two: on %q, rung %d times, said %q, card of %q", b.d.Route().Screen, rung, b.d.Said(), b.d.Card().Place)
	}
	if b.press("Enter"); b.d.Route() != walk || inHand() != "A-30" {
		t.Errorf("Enter leads to %+v, in hand %s", b.d.Route(), inHand())
	}
	if b.Journal() != entries {
		t.Error("looking changed the shop")
	}
	b.d.Go(routes.Route{Screen: routes.Today})
	if show("A-31"); rung != 1 || b.d.Said() != "" {
		t.Errorf("without a walk: rung %d times, said %q", rung, b.d.Said())
	}
}
