package session_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// standing is how all sub-assemblies stand, what frees them and what is to be bought, by the
// session's own board.
func standing(t *testing.T, s *session.Session) string {
	t.Helper()
	var words []string
	err := s.Read(func(r *session.Reader) error {
		cheapest, err := r.Cheapest()
		if err != nil {
			return err
		}
		for _, u := range cheapest.Unblocks {
			words = append(words, u.Sentence)
		}
		ordering, err := r.Ordering()
		if err != nil {
			return err
		}
		for _, supplier := range ordering.List.Suppliers {
			for _, l := range supplier.Lines {
				words = append(words, fmt.Sprintf("buy %s %s %s, have %s", l.Buy, l.Item, ordering.Titles[l.Item], l.Have))
			}
		}
		return r.Board(func(b *build.Board) error {
			for _, x := range b.Statuses() {
				words = append(words, x.Code+" "+string(x.State)+": "+x.Sentence)
				for _, n := range x.Needs {
					words = append(words, fmt.Sprintf("  %s pulled %s free %s of %s, fitted %s", n.Item, n.Pulled, n.Free, n.Here, n.Fitted))
				}
			}
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(words, "\n")
}

// What the session keeps of the board is what a new one says, whatever is done to the shop.
func TestBoardFollows(t *testing.T) {
	bench := sessiontest.Open(t, demo.Unpacked)
	shop := bench.Shop
	if _, err := shop.PutSubAssembly(store.SubAssembly{Code: "SA-90", Name: "Fairing"}, store.Requirement{Called: "OQ-77-001", Needed: measure.Pieces(2)}); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(11, 1))
	for step := range 150 {
		did := "nothing"
		heaps, err := shop.Stock()
		if err != nil {
			t.Fatal(err)
		}
		subs, err := shop.SubAssemblies()
		if err != nil {
			t.Fatal(err)
		}
		h, sub := heaps[random.IntN(len(heaps))], subs[random.IntN(len(subs))]
		if step%3 > 0 { // of what somebody asks for
			called, err := shop.Requirements(sub.Code)
			if err != nil {
				t.Fatal(err)
			}
			need := called[random.IntN(len(called))]
			if of := slices.DeleteFunc(heaps, func(h store.Holding) bool { return h.Item != need.Item }); len(of) > 0 {
				h = of[random.IntN(len(of))]
			}
		}
		one := store.Transfer{StockKey: h.StockKey, Quantity: measure.Of(1, h.Amount.Unit)}
		switch random.IntN(8) {
		case 0:
			did = "pull"
			_, _ = shop.Pull(sub.Code, one) // refused or not: the board follows what is there
		case 1:
			did = "fit"
			_, _ = shop.Fit(sub.Code, store.Fitting{Transfer: one})
		case 2:
			did = "count"
			_, _ = shop.Count(h.StockKey, measure.Of(random.Int64N(30), h.Amount.Unit))
		case 3:
			did = "undo"
			_, _ = shop.Undo()
		case 4:
			did = "receive"
			ships, err := shop.Shipments()
			if err != nil {
				t.Fatal(err)
			}
			_, _ = shop.Receive(ships[0].ID, 42, store.Finding{Found: measure.Pieces(random.Int64N(5)), Counted: true, Looked: true})
		case 5:
			did = "change of needs"
			if _, err := shop.PutSubAssembly(sub, store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(1 + random.Int64N(9))}); err != nil {
				t.Fatal(err)
			}
		case 6:
			did = "another title" // of what is to be bought
			if _, err := shop.PutItem(store.Item{Designation: "OQ-77-001", Unit: measure.Each, Title: fmt.Sprintf("Title %d", step)}); err != nil {
				t.Fatal(err)
			}
		case 7:
			did = "the facts of its lot"
			if number, ok := store.LotNumber(h.Lot); ok {
				if _, err := shop.DescribeLot(number, store.LotFacts{Perishable: true}); err != nil {
					t.Fatal(err)
				}
			}
		}
		if d := cmp.Diff(standing(t, sessiontest.On(t, shop).Session), standing(t, bench.Session)); d != "" {
			t.Fatalf("after %s of %s for %s (-new board +kept):\n%s", did, h.Item, sub.Code, d)
		}
	}
}

// A wrong drawer is told from the right one, by what lies in it and by where the right one is.
func TestScannedDrawer(t *testing.T) {
	bench := sessiontest.Open(t, demo.Unpacked)
	err := bench.Read(func(r *session.Reader) error {
		list, err := r.PullList("SA-10")
		if err != nil {
			return err
		}
		for _, row := range []struct{ stop, scanned, want string }{
			{"A-30", "A-31", "wrong drawer: F0332P thin; yours is one to the left"},
			{"A-30", "A-30", ""},
			{"A-30", "A-32", "wrong drawer: empty; yours is two to the left"},
			{"A-17", "A-33", "wrong drawer: AN364-1032A thin for shear; yours is two up"},
			{"A-17", "S1", "A-17"},
		} {
			place, err := r.PlaceNamed(row.scanned)
			if err != nil {
				return err
			}
			for _, stop := range list.Stops {
				if stop.Place.Name != row.stop {
					continue
				}
				if got, err := r.Scanned(stop, place); err != nil || row.want == "" && got != "" || !strings.Contains(got, row.want) {
					t.Errorf("%s scanned for %s: %q, %v, want %q", row.scanned, row.stop, got, err, row.want)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A card says what of an item is kept for whom, also while the board is asked.
func TestReserved(t *testing.T) {
	bench := sessiontest.Open(t, demo.Unpacked)
	if err := demo.Extend(bench.Shop); err != nil {
		t.Fatal(err)
	}
	err := bench.Read(func(r *session.Reader) error {
		return r.Board(func(*build.Board) error {
			for item, want := range map[string]string{"AN3-5A": "6 kept for SA-10, 20 for SA-21, 2 for SA-41; 0 free", "AN3-6A": "", "AN310-3": "4 kept for SA-40; 0 free"} {
				c, err := r.ItemCard(item)
				if err != nil {
					return err
				}
				if got := strings.Join(c.Notes, "\n"); want != "" && !strings.Contains(got, want) || want == "" && strings.Contains(got, "kept") {
					t.Errorf("%s: %q, want %q", item, got, want)
				}
			}
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The stranger is refused by what is called in its place, though nothing asks for it.
func TestMayPullStranger(t *testing.T) {
	bench := sessiontest.Open(t, demo.Unpacked)
	bolts, err := bench.HeapNamed("AN3-6A", session.Which{})
	if err != nil {
		t.Fatal(err)
	}
	booking := build.Booking{Code: "SA-10", Item: "AN3-6A", Place: bolts.Place, Lot: bolts.Lot, Quantity: measure.Pieces(6)}
	for range 2 { // the second time it is kept
		err = bench.Read(func(r *session.Reader) error {
			refusal, err := r.MayPull(booking)
			if err == nil && (refusal == nil || refusal.Kind != build.Stranger || refusal.Sentence != "not called here; it calls AN3-5A in A-12") {
				t.Errorf("AN3-6A for SA-10: %+v", refusal)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
