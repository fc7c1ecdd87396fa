package session_test

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// answers are what a session is asked, by the name of the method.
func answers(t *testing.T, s *session.Session) map[string]func(r *session.Reader) error {
	t.Helper()
	drawer, cabinet := place(t, s, "A-12"), place(t, s, "Cabinet A")
	ships, err := s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	second := func(_ any, err error) error { return err }
	third := func(_, _ any, err error) error { return err }
	if _, _, err := s.Shop.Alert(0, "Bolts", store.Issue{Item: "AN3-5A", Printed: []string{"none such"}}); err != nil {
		t.Fatal(err)
	}
	return map[string]func(r *session.Reader) error{
		"Offers": func(r *session.Reader) error { return second(r.Offers(ships[0].ID)) },
		"Alerted": func(r *session.Reader) error {
			return second(r.Alerted(store.Alert{Number: 1, Issues: []store.Issue{{Item: "AN3-5A"}}}))
		},
		"AlertedBy":    func(r *session.Reader) error { return second(r.AlertedBy(0, store.Issue{Item: "AN3-5A"})) },
		"SoughtItem":   func(r *session.Reader) error { return second(r.SoughtItem("AN3-5A")) },
		"SoughtPlaces": func(r *session.Reader) error { return second(r.SoughtPlaces([]string{drawer.ID})) },
		"Lengths":      func(r *session.Reader) error { _ = r.Lengths(); return nil },
		"Dated":        func(r *session.Reader) error { return second(r.Dated()) },
		"Lots":         func(r *session.Reader) error { return second(r.Lots("AN3-5A")) },
		"LotAtWords": func(r *session.Reader) error {
			where, err := r.Shop.LotsWhereabouts("AN3-5A")
			if err != nil {
				return err
			}
			return second(r.LotAtWords(where[0].Lot, where[0].At[0]))
		},
		"Cheapest":    func(r *session.Reader) error { return second(r.Cheapest()) },
		"Ordering":    func(r *session.Reader) error { return second(r.Ordering()) },
		"AllLines":    func(r *session.Reader) error { return second(r.AllLines(ships)) },
		"Around":      func(r *session.Reader) error { return second(r.Around(drawer.ID)) },
		"Beside":      func(r *session.Reader) error { return second(r.Beside("AN3-5A", drawer.ID)) },
		"Board":       func(r *session.Reader) error { return r.Board(func(*build.Board) error { return nil }) },
		"Cabinet":     func(r *session.Reader) error { return second(r.Cabinet(cabinet.ID)) },
		"Canonical":   func(r *session.Reader) error { r.Canonical("an3-5a"); return nil },
		"Catalog":     func(r *session.Reader) error { r.Catalog(); return nil },
		"Home":        func(r *session.Reader) error { return third(r.Home(store.StockKey{Item: "AN3-5A"})) },
		"Dues":        func(r *session.Reader) error { return second(r.Dues()) },
		"Doubts":      func(r *session.Reader) error { return second(r.Doubts("SA-10")) },
		"FindRevised": func(r *session.Reader) error { return third(r.FindRevised(store.NewShipment{Order: ships[0].Order})) },
		"Found":       func(r *session.Reader) error { return third(r.Found(s.Search("an3", 200))) },
		"HeapOf": func(r *session.Reader) error {
			line, err := r.Shop.Line(ships[0].ID, 1) // of a line that was stowed nothing lies in its bag
			if _, err := r.HeapOf(line); store.KindOf(err) != store.NotFound {
				return fmt.Errorf("got %v, want that none is there", err)
			}
			return err
		},
		"HeapNamed": func(r *session.Reader) error { return second(r.HeapNamed("AN3-5A", session.Which{From: "A-12"})) },
		"InShop":    func(r *session.Reader) error { return third(r.InShop(200)) },
		"ItemCard":  func(r *session.Reader) error { return second(r.ItemCard("AN3-5A")) },
		"Joints":    func(r *session.Reader) error { return second(r.Joints("SA-10")) },
		"JointWith": func(r *session.Reader) error { return second(r.JointWith("SA-10", "R-3")) },
		"Label":     func(r *session.Reader) error { return second(r.Label(drawer)) },
		"Labels":    func(r *session.Reader) error { return second(r.Labels([]store.Place{drawer, cabinet})) },
		"MayPull": func(r *session.Reader) error {
			return second(r.MayPull(build.Booking{Code: "SA-10", Item: "AN3-6A", Place: drawer.ID}))
		},
		"OnlyHeap":       func(r *session.Reader) error { return second(r.OnlyHeap(drawer.ID)) },
		"PieceCard":      func(r *session.Reader) error { return second(r.PieceCard("AN3-5A")) },
		"PlaceCard":      func(r *session.Reader) error { return second(r.PlaceCard(drawer.ID)) },
		"PlaceNamed":     func(r *session.Reader) error { return second(r.PlaceNamed("Cabinet A")) },
		"PlacesMatching": func(r *session.Reader) error { return second(r.PlacesMatching("A-*")) },
		"PullList":       func(r *session.Reader) error { return second(r.PullList("SA-10", "SA-20")) },
		"Scanned": func(r *session.Reader) error {
			return second(r.Scanned(build.Stop{Item: "AN3-5A", Place: build.Place{ID: "elsewhere"}}, drawer))
		},
		"SizingCard":   func(r *session.Reader) error { return second(r.SizingCard("Cabinet A", nil)) },
		"Stock":        func(r *session.Reader) error { return second(r.Stock("AN3-5A")) },
		"SuggestPlace": func(r *session.Reader) error { return third(r.SuggestPlace("AN3-7A", "")) },
	}
}

// Whatever a session is asked comes from one transaction, its caches filled or not, and
// reads no picture in it.
func TestAnAnswerIsOneTransaction(t *testing.T) {
	s := open(t, demo.Unpacked)
	if _, _, err := s.Shop.AddPhoto(store.OfItem("AN3-5A"), "the head", phototest.JPEG(8, 6, 1)); err != nil {
		t.Fatal(err)
	}
	asked := answers(t, s)
	var names, methods []string
	for m := range reflect.TypeFor[*session.Reader]().Methods() {
		methods = append(methods, m.Name)
	}
	for name, ask := range asked {
		names = append(names, name)
		for range 2 {
			before := s.Shop.Reads()
			if err := s.Read(ask); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if got := s.Shop.Reads() - before; got != 1 {
				t.Errorf("%s takes %d transactions, want 1", name, got)
			}
		}
	}
	slices.Sort(names)
	if d := cmp.Diff(methods, names); d != "" {
		t.Errorf("methods (-of Reader +here):\n%s", d)
	}
	c, err := s.ItemCard("AN3-5A")
	if err != nil || len(c.Photos) != 1 || c.Photos[0].Picture == nil {
		t.Errorf("the card has the photographs %+v, %v; want one with its picture", c.Photos, err)
	}
	before := s.Shop.Reads()
	found, _, err := s.Find("an3", 200)
	if got := s.Shop.Reads() - before; err != nil || len(found) < 10 || got != 1 {
		t.Errorf("Find: %d answers by %d transactions, %v", len(found), got, err)
	}
}

// meanwhile does something to the shop while a Read goes on.
func meanwhile(t *testing.T, do func() error) {
	t.Helper()
	done := make(chan error)
	go func() { done <- do() }()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
}

// What is kept of the shop, such as the lines of lists, is never of another state than
// that which is read, and what is read of an old state is not kept for the new one.
func TestReadKeepsNoOtherState(t *testing.T) {
	for _, warm := range []bool{false, true} {
		s := open(t, demo.Unpacking)
		ships, err := s.Shop.Shipments()
		if err != nil {
			t.Fatal(err)
		}
		id := ships[0].ID
		checked := func(lines []store.Line, err error) (n int) {
			t.Helper()
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range lines {
				if l.Finding != nil {
					n++
				}
			}
			return n
		}
		was := checked(s.Shop.Lines(id))
		if warm {
			checked(linesOf(s, ships[0]))
		}
		err = s.Read(func(r *session.Reader) error {
			meanwhile(t, func() error {
				lines, err := s.Shop.Lines(id)
				if err != nil {
					return err
				}
				open := slices.IndexFunc(lines, func(l store.Line) bool { return l.Finding == nil && l.Listed.Unit == measure.Each })
				_, err = s.Shop.Receive(id, lines[open].ID, store.Finding{Found: lines[open].Listed, Counted: true})
				return err
			})
			if got := checked(linesIn(r, ships[0])); got != was {
				t.Errorf("warm %v: in the Read %d lines are checked, want %d", warm, got, was)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := checked(linesOf(s, ships[0])); got != was+1 {
			t.Errorf("warm %v: after the Read %d lines are checked, want %d", warm, got, was+1)
		}
		if err := s.Read(func(r *session.Reader) error {
			meanwhile(t, func() error { // the new lines are kept now
				_, err := s.Shop.Undo()
				checked(linesOf(s, ships[0]))
				return err
			})
			if got := checked(linesIn(r, ships[0])); got != was+1 {
				t.Errorf("warm %v: undone meanwhile, and in the Read %d lines are checked, want %d", warm, got, was+1)
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		if got := checked(linesOf(s, ships[0])); got != was {
			t.Errorf("warm %v: undone, and %d lines are checked, want %d", warm, got, was)
		}
	}
}

// Own figures that come while an older state is read are known afterwards.
func TestCatalogOfAnOlderStateIsNotKept(t *testing.T) {
	s := open(t, demo.Unpacked)
	row := hardware.OwnRow{Designation: "AN7-10", Source: "printed sheet", Figures: []hardware.OwnFigure{
		{Name: hardware.Grip, Length: measure.Inches(7, 16)}, {Name: hardware.LengthField, Length: measure.Inches(35, 32)},
	}}
	own := func(c *hardware.Catalog) bool {
		return slices.ContainsFunc(c.Decode("AN7-10").Fields, func(f hardware.Field) bool { return f.Own })
	}
	if err := s.Read(func(r *session.Reader) error {
		meanwhile(t, func() error {
			_, err := s.Shop.PutFigures([]hardware.OwnRow{row})
			return err
		})
		r.Catalog()
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if !own(s.Catalog()) {
		t.Error("the figures that came meanwhile are not known")
	}
}
