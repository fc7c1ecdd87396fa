package session_test

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// open is a session on the demo shop at a scene.
func open(t testing.TB, scene demo.Scene) *session.Session {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	shop := storetest.Open(t, store.Options{Clock: clock.Now})
	if err := demo.Fill(shop, clock, scene); err != nil {
		t.Fatalf("Fill: %v", err)
	}
	s, err := session.Open(context.Background(), shop, session.Inline(), nil)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	return s
}

func place(t testing.TB, s *session.Session, name string) store.Place {
	t.Helper()
	places, err := s.PlacesMatching(name)
	if err != nil {
		t.Fatal(err)
	}
	if name == "Cabinet A" || name == "Garage" { // the pattern names what is in them
		p, err := s.Shop.Place(places[0].Parent)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if len(places) != 1 {
		t.Fatalf("%d places are called %s", len(places), name)
	}
	return places[0]
}

func TestFind(t *testing.T) {
	s := open(t, demo.Unpacked)
	for _, tc := range []struct{ name, query, item, total, path string }{
		{"three characters of a number", "n3-5", "AN3-5A", "28 ea", "Garage, Cabinet A, A-12"},
		{"as one types", "an3 5", "AN3-5A", "28 ea", "Garage, Cabinet A, A-12"},
		{"an old number", "AN960-10", "NAS1149F0363P", "150 ea", "Garage, Cabinet A, A-30"},
		{"words", "castle", "AN310-3", "4 ea", "Garage, Cabinet A, A-19"},
		{"a dimension", "3/16 grip AN3", "", "", ""},
		{"a typing error", "MS21024-3", "MS21042-3", "20 ea", "Garage, Cabinet A, A-22"},
		{"a kit part", "OQ-40-020-L", "OQ-40-020-L", "1 ea", "Garage, Shelf, S4"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			found, _, err := s.Find(tc.query, 5)
			if err != nil {
				t.Fatal(err)
			}
			if tc.item == "" {
				return
			}
			if len(found) == 0 {
				t.Fatalf("Find(%q) found nothing", tc.query)
			}
			f := found[0]
			if f.Item != tc.item || f.Stock.Total.String() != tc.total || store.PathText(f.Stock.Heaps[0].Path) != tc.path {
				t.Errorf("Find(%q): got %s, %s in %s; want %s, %s in %s", tc.query, f.Item, f.Stock.Total, store.PathText(f.Stock.Heaps[0].Path), tc.item, tc.total, tc.path)
			}
		})
	}
}

func TestFindFollowsChanges(t *testing.T) {
	s := open(t, demo.Unpacked)
	cabinet := place(t, s, "Cabinet A")
	hangar, _, err := s.Shop.AddPlace(store.Place{Kind: store.Room, Name: "Hangar"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Shop.MovePlace(cabinet.ID, hangar.ID); err != nil {
		t.Fatal(err)
	}
	where := func(query string) string {
		t.Helper()
		found, _, err := s.Find(query, 1)
		if err != nil || len(found) == 0 || found[0].Item == "" {
			t.Fatalf("Find(%q): %v, %v", query, found, err)
		}
		return store.PathText(found[0].Stock.Heaps[0].Path)
	}
	if got := where("hangar an470ad4-7"); got != "Hangar, Cabinet A, A-07" {
		t.Errorf("after the move: %s", got)
	}
	if _, err := s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := where("garage an470ad4-7"); got != "Garage, Cabinet A, A-07" {
		t.Errorf("after undo: %s", got)
	}
}

func TestItemCard(t *testing.T) {
	s := open(t, demo.Unpacked)
	c, err := s.ItemCard("NAS1149F0363P")
	if err != nil {
		t.Fatal(err)
	}
	if c.Quantity != "150" || c.Place != "Garage, Cabinet A, drawer A-30" || c.Known != "counted 14 Mar by Builder" {
		t.Errorf("card: %q %q %q", c.Quantity, c.Place, c.Known)
	}
	lit := c.Cabinet.Drawers[c.Cabinet.Lit()]
	if lit.Name != "A-30" || !lit.LookAlike {
		t.Errorf("lit drawer: %+v, want A-30 with the mark of a look-alike", lit)
	}
	if len(c.Beware) == 0 || c.Beware[0].Lead != "Not NAS1149F0332P" {
		t.Errorf("beware: %+v", c.Beware)
	}
	want := []string{"plans may say AN960-10: Osterhollow cover letter, 10 March 2026", "needed by SA-10 Fin (12)"}
	if d := cmp.Diff(want, c.Notes[:min(2, len(c.Notes))]); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
	if c.Piece == nil || len(c.Piece.Paths) == 0 {
		t.Error("the washer is not drawn")
	}
}

func TestSuggestPlaceKeepsLookAlikesApart(t *testing.T) {
	s := open(t, demo.Unpacking)
	got, found, err := s.SuggestPlace("AN3-6A", "H103")
	if err != nil || !found {
		t.Fatalf("SuggestPlace: %v, %v", found, err)
	}
	near, err := s.Cabinet(got.Place.Parent)
	if err != nil {
		t.Fatal(err)
	}
	var an35 card.Drawer
	for _, d := range near.Drawers {
		if d.Designation == "AN3-5A" {
			an35 = d
		}
	}
	p, err := s.Shop.Place(an35.ID)
	if err != nil {
		t.Fatal(err)
	}
	rows, columns := got.Place.Row-p.Row, got.Place.Column-p.Column
	if rows*rows <= 1 && columns*columns <= 1 {
		t.Errorf("AN3-6A would lie in %s, beside AN3-5A in %s", got.Place.Name, p.Name)
	}
}

func TestLabelNamesNoRoom(t *testing.T) {
	s := open(t, demo.Unpacked)
	l, err := s.Label(place(t, s, "A-07"))
	if err != nil {
		t.Fatal(err)
	}
	if l.Name != "AN470AD4-7" || l.Place != "A-07" || l.PlacePath != "Cabinet A" || l.Piece == nil {
		t.Errorf("label: %+v", l)
	}
	if l.Beware.Name == "" {
		t.Error("the label of A-07 does not name its look-alike")
	}
}

func TestCountIsShown(t *testing.T) {
	s := open(t, demo.Unpacked)
	drawer := place(t, s, "A-30")
	s.Shop.SetHand("Partner")
	if _, err := s.Shop.Count(store.StockKey{Item: "NAS1149F0363P", Place: drawer.ID}, measure.Pieces(148)); err != nil {
		t.Fatal(err)
	}
	c, err := s.PlaceCard(drawer.ID)
	if err != nil {
		t.Fatal(err)
	}
	if c.Quantity != "148" || c.Known != "counted 18 Mar by Partner" {
		t.Errorf("card after the count: %q, %q", c.Quantity, c.Known)
	}
}
