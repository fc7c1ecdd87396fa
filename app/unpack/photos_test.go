package unpack

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/store"
	"stowright/store/phototest"
)

func (b *bench) photograph(of store.Subject) {
	b.t.Helper()
	if _, _, err := b.s.Shop.AddPhoto(of, "", phototest.JPEG(40, 30, 1)); err != nil {
		b.t.Fatal(err)
	}
	b.m.Changed()
	b.queue.Drain()
}

// P leads to the photographs of the line in hand, F3 to those of its crate; both are
// shown where the line stands, and named in the claim.
func TestPhotographsOfLineAndCrate(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	ship := b.m.data.ship
	crate := ship.Crates[0]
	for i, row := range b.m.State().Bags {
		if row.ID == "C1/SK10" {
			b.m.ChooseBag(i)
			b.queue.Drain()
		}
	}
	b.m.ChooseLine(4)
	b.queue.Drain()
	for key, of := range map[string]store.Subject{"P": store.OfLine(ship.ID, 5), "F3": store.OfPlace(crate.Place)} {
		if to, ok := b.m.Part(key); !ok || to != (routes.Route{Screen: routes.Photos, About: photos.About(of)}) {
			t.Errorf("%s leads to %+v, %v; want the photographs of %+v", key, to, ok, of)
		}
	}
	side := b.m.State().Side
	if side.Crate != "Photograph crate C1" || len(side.Photos) != 1 || side.Photos[0].Name != "P-1" {
		t.Errorf("at first: %q, %+v", side.Crate, side.Photos)
	}
	b.photograph(store.OfLine(ship.ID, 5))
	b.photograph(store.OfPlace(crate.Place))
	s := b.m.State()
	if s.Side.Crate != "1 photograph of crate C1" || len(s.Side.Photos) != 2 {
		t.Errorf("afterwards: %q, %d of the line", s.Side.Crate, len(s.Side.Photos))
	}
	if got := s.Lines[s.Line].Cells[1].Sub; !strings.HasSuffix(got, "· 2 photographs") {
		t.Errorf("the row says %q", got)
	}
	c := b.m.data.claim()
	for _, want := range []string{"shortages by 13 April 2026; 1 photograph: P-4.", "      2 photographs: P-1, P-3\n"} {
		if !strings.Contains(c.Text(), want) {
			t.Errorf("the claim does not say %q:\n%s", want, c.Text())
		}
	}
	var names []string
	for _, p := range c.Photos() {
		names = append(names, p.Name())
	}
	if got := strings.Join(names, " "); got != "P-4 P-1 P-3 P-2" {
		t.Errorf("the claim has %s", got)
	}
	// Of all lines together there is no one crate.
	b.m.ChooseBag(0)
	b.queue.Drain()
	if to, ok := b.m.Part("F3"); ok || b.m.State().Side.Crate != "" {
		t.Errorf("of all crates F3 leads to %+v, %q", to, b.m.State().Side.Crate)
	}
}

// What was just found damaged is photographed although the next line is in hand
// already, and the button says so.
func TestPhotographOfWhatWasJustChecked(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	ship := b.m.data.ship.ID
	leads := func() string {
		to, _ := b.m.Part("P")
		return to.About
	}
	b.keys("D", "Enter", "Enter") // one damaged, and no words about it
	s := b.m.State()
	if s.Current.Number != 41 || s.Before == nil || s.Before.Lead != "AN3-6A goes on the claim as 1 damaged." || s.Shoot != "Photograph AN3-6A" {
		t.Errorf("line %d in hand, before %+v, %q", s.Current.Number, s.Before, s.Shoot)
	}
	if want := photos.About(store.OfLine(ship, 40)); leads() != want {
		t.Errorf("P leads to %q, want %q", leads(), want)
	}
	b.photograph(store.OfLine(ship, 40))
	if s := b.m.State(); s.Before != nil || s.Shoot != "Photograph" || leads() != photos.About(store.OfLine(ship, 41)) {
		t.Errorf("once it is photographed: before %+v, %q leads to %q", s.Before, s.Shoot, leads())
	}
}
