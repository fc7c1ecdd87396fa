package session_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/drawing"
	"stowright/app/loop"
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
		{"a dimension as people write it", "10-32 1/4 grip", "AN3-5A", "28 ea", "Garage, Cabinet A, A-12"},
		{"a decimal", ".063 washer", "NAS1149F0363P", "150 ea", "Garage, Cabinet A, A-30"},
		{"a nominal diameter", "3/16 bolt 1/4 grip", "AN3-5A", "28 ea", "Garage, Cabinet A, A-12"},
		{"a typing error", "MS21024-3", "MS21042-3", "20 ea", "Garage, Cabinet A, A-22"},
		{"a kit part", "OQ-40-020-L", "OQ-40-020-L", "1 ea", "Garage, Shelf, S4"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			found, _, err := s.Find(tc.query, 5)
			if err != nil {
				t.Fatal(err)
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
	var an35 drawing.Drawer
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
	// An empty drawer is seen to be a drawer: its name has the label to itself.
	empty, err := s.Label(place(t, s, "A-02"))
	if err != nil || empty.Name != "A-02" || empty.Title != "" || empty.Place != "" || empty.PlacePath != "Cabinet A" {
		t.Errorf("label of an empty drawer: %+v, %v", empty, err)
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

// A cabinet says of every drawer what lies in it and how much, and what lies too
// close together.
func TestCabinet(t *testing.T) {
	s := open(t, demo.Unpacked)
	picture, err := s.Cabinet(place(t, s, "Cabinet A").ID)
	if err != nil {
		t.Fatal(err)
	}
	if picture.Rows != 5 || picture.Cols != 8 {
		t.Fatalf("%d x %d drawers, want 5 x 8", picture.Rows, picture.Cols)
	}
	for _, row := range []struct {
		at   int
		want drawing.Drawer
	}{
		{0, drawing.Drawer{Name: "A-01", Designation: "AN426AD3-3", Count: "0.1 lb", LookAlike: true}},
		{1, drawing.Drawer{Name: "A-02", Empty: true}},
		{11, drawing.Drawer{Name: "A-12", Designation: "AN3-5A", Count: "28 ea"}},
		{22, drawing.Drawer{Name: "A-23", Designation: "MS24665-132", Count: "16 ea"}}, // two lines of the list together
	} {
		got := picture.Drawers[row.at]
		got.ID, got.Level = "", 0
		if d := cmp.Diff(row.want, got); d != "" {
			t.Errorf("drawer %d (-want +got):\n%s", row.at+1, d)
		}
	}
	grams := func(tenths int64) measure.Quantity {
		return measure.Quantity{Micro: tenths * 100_000, Unit: measure.Gram}
	}
	weighed := measure.Weighing{Step: grams(1), Tare: grams(243), Gross: grams(1604), Sample: measure.Sample{Pieces: 100, Net: grams(81), Step: grams(1)}}
	if _, err := s.Shop.WeighSample(store.StockKey{Item: "AN470AD4-8", Place: place(t, s, "A-02").ID}, weighed); err != nil {
		t.Fatal(err)
	}
	if picture, err = s.Cabinet(place(t, s, "Cabinet A").ID); err != nil || picture.Drawers[1].Count != "about 1,680 ea" {
		t.Errorf("a weighed count: %q, %v", picture.Drawers[1].Count, err)
	}
}

func TestPlaceCard(t *testing.T) {
	s := open(t, demo.Unpacked)
	for _, row := range []struct {
		name, place string
		designation string
		title       string
		tallies     int
		lit         string
	}{
		{"one thing in it", "A-12", "AN3-5A", "Bolt, steel", 0, "A-12"},
		{"nothing in it", "A-02", "A-02", "Drawer, empty", 0, "A-02"},
		{"several things", "S1", "S1", "Shelf, 7 kinds of things", 7, "S1"},
		{"drawers in it", "Cabinet A", "Cabinet A", "Cabinet with 40 drawers", 0, ""},
		{"a crate", "C1", "C1", "Crate", 0, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := place(t, s, row.place)
			c, err := s.PlaceCard(p.ID)
			if err != nil {
				t.Fatal(err)
			}
			lit := ""
			if c.Cabinet != nil && c.Cabinet.Lit() >= 0 {
				lit = c.Cabinet.Drawers[c.Cabinet.Lit()].Name
			}
			if p.Kind == store.Cabinet && (c.Cabinet == nil || len(c.Cabinet.Drawers) != 40) {
				t.Errorf("card of %s: its drawers are not drawn", row.place)
			}
			if c.Designation != row.designation || !strings.HasPrefix(c.Title, row.title) || len(c.Tallies) != row.tallies || lit != row.lit {
				t.Errorf("card of %s: %q, %q, %d tallies, %q lit; want %+v", row.place, c.Designation, c.Title, len(c.Tallies), lit, row)
			}
		})
	}
	if _, err := s.PlaceCard("no such place"); store.KindOf(err) != store.NotFound {
		t.Errorf("a place that is not there: %v, want not found", err)
	}
}

func TestPlacesMatching(t *testing.T) {
	s := open(t, demo.Unpacked)
	for _, row := range []struct {
		pattern string
		n       int
		first   string
	}{
		{"cabinet a", 40, "A-01"}, {"A-0*", 9, ""}, {" a-12 ", 1, "A-12"}, {"S?", 6, ""}, {"", 46, ""}, {"B-*", 0, ""}, {"C1", 1, "C1"},
	} {
		got, err := s.PlacesMatching(row.pattern)
		if err != nil || len(got) != row.n || (row.first != "" && got[0].Name != row.first) {
			t.Errorf("PlacesMatching(%q): %d places, %v; want %d", row.pattern, len(got), err, row.n)
		}
	}
	if _, err := s.PlacesMatching("["); store.KindOf(err) != store.Invalid {
		t.Errorf("a broken pattern: %v, want invalid", err)
	}
}

// A sizing card has what lies in each drawer, with the drawer, drawn where its figures are
// known.
func TestSizingCard(t *testing.T) {
	s := open(t, demo.Unpacked)
	card, err := s.SizingCard("Cabinet A", []store.Place{place(t, s, "A-02"), place(t, s, "A-12"), place(t, s, "A-07")})
	if err != nil || card.Title != "Cabinet A" || len(card.Pieces) != 2 {
		t.Fatalf("%+v, %v", card, err)
	}
	for i, want := range []string{"AN3-5A in A-12", "AN470AD4-7 in A-07"} {
		if p := card.Pieces[i]; p.Name+" in "+p.Place != want || p.Piece == nil {
			t.Errorf("piece %d is %s in %s, drawn %v; want %s", i, p.Name, p.Place, p.Piece != nil, want)
		}
	}
}

// A crate's label says which of how many it is and by when to claim; one that has
// not come says so.
func TestCrateLabel(t *testing.T) {
	s := open(t, demo.Unpacked)
	for _, row := range []struct{ crate, title, lines, due, later string }{
		{"C1", "Crate 1 of 3", "order OK-20731|came 14 March 2026", "damage by 19 March", "shortages by 13 April"},
		{"C3", "Crate 3 of 3", "order OK-20731|not arrived yet", "", ""},
	} {
		l, err := s.Label(place(t, s, row.crate))
		if err != nil {
			t.Fatal(err)
		}
		if l.Name != row.crate || l.Title != row.title || strings.Join(l.Lines, "|") != row.lines || l.Due != row.due || l.Later != row.later {
			t.Errorf("label of %s: %+v, want %+v", row.crate, l, row)
		}
	}
}

// What is retired or undone leaves the index and the tags that a camera looks for.
func TestRetiredPlaceIsNotFound(t *testing.T) {
	s := open(t, demo.Unpacked)
	drawer := place(t, s, "A-02")
	find := func() int {
		found, _, err := s.Find("a-02", 5)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, f := range found {
			if f.Place == drawer.ID {
				n++
			}
		}
		return n
	}
	if find() != 1 {
		t.Fatal("the drawer is not found to begin with")
	}
	if _, err := s.Shop.RetirePlace(drawer.ID); err != nil {
		t.Fatal(err)
	}
	if find() != 0 {
		t.Error("a retired drawer is found")
	}
	if _, err := s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	if find() != 1 {
		t.Error("after undo the drawer is not found")
	}
}

// Listeners are called on the window's loop, once the index knows the entry.
func TestListen(t *testing.T) {
	s := open(t, demo.Unpacked)
	var queue loop.Queue
	s.Loop = queue.Loop()
	told := 0
	s.Listen(func(e store.Entry) {
		if found, _, err := s.Find("hangar", 1); err != nil || len(found) != 1 {
			t.Errorf("told of %q before the index knows it: %v, %v", e.Text, found, err)
		}
		told++
	})
	if _, _, err := s.Shop.AddPlace(store.Place{Kind: store.Room, Name: "Hangar"}); err != nil {
		t.Fatal(err)
	}
	if told != 0 {
		t.Error("a listener is called off the window's loop")
	}
	queue.Drain()
	if told != 1 {
		t.Errorf("told %d times, want once", told)
	}
}
