package session_test

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store/build"
	"stowright/store/measure"
)

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
