package store_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// twoLots is the shop of story 14 of the acceptance stories up to 27 April: SA-10 is
// fitted, 22 bolts of order OK-20731 lie in A-12, and ten of order F-1 come.
func twoLots(t *testing.T) (w world, kit, later string) {
	t.Helper()
	w = newWorld(t)
	w.receive(1, found(28))
	w.must(second(w.Stow(w.to("AN3-5A", "H103", 0, "A-01"))))
	w.must(second(w.Pull("SA-10", w.to("AN3-5A", "A-01", 6, "SA-10"))))
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "SA-10", 6, "A-01")))))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-21", Name: "Rudder hinges"})))
	w.clock.Set(t, "2026-04-27")
	list, _, err := w.Import(store.NewShipment{Order: "F-1", File: "f-1.csv", Fingerprint: "f-1", Lines: []store.NewLine{
		{Number: 1, Crate: "F1", Designation: "AN3-5A", Listed: measure.Pieces(10), Status: store.Shipped},
	}})
	w.must(err)
	w.must(second(w.Arrive(list.ID, store.Delivery{Crates: []string{"F1"}, Arrived: w.Today()})))
	w.must(second(w.Receive(list.ID, 1, found(10))))
	w.learnPlaces()
	lots, err := w.Lots("AN3-5A")
	w.must(err)
	if len(lots) != 2 || lots[0].Words() != "order OK-20731, line 1" || lots[1].Words() != "order F-1, line 1" || lots[1].Date.String() != "27 April 2026" {
		t.Fatalf("lots %+v", lots)
	}
	return w, lots[0].Name(), lots[1].Name()
}

// where is where the pieces of a lot of AN3-5A are, in words.
func (w world) where(lot string) []string {
	w.t.Helper()
	all, err := w.Whereabouts("AN3-5A", lot)
	w.must(err)
	name := map[string]string{}
	for n, id := range w.place {
		name[id] = n
	}
	lines := []string{all.Together.String() + " together"}
	for _, at := range all.At {
		lines = append(lines, fmt.Sprintf("%s of the %s in %s", at.Bounds, at.All.Number(), name[at.Place]+at.SubAssembly+at.Gone))
	}
	slices.Sort(lines)
	return lines
}

func (w world) wantWhere(lot string, want ...string) {
	w.t.Helper()
	slices.Sort(want)
	if d := cmp.Diff(want, w.where(lot)); d != "" {
		w.t.Errorf("where %s is (-want +got):\n%s", lot, d)
	}
}

// Story 14, two lots in a drawer, with its figures. A-01 stands for for A-13.
func TestTwoLotsPouredTogether(t *testing.T) {
	w, kit, later := twoLots(t)
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	before := newestSeq(w)
	err := second(w.Stow(stow))
	wantRefusal(t, err, store.Conflict, "A-01 has another lot of AN3-5A, 22 ea of L-1 (order OK-20731, line 1), and this is L-2 (order F-1, line 1): "+
		"say whether they are poured together or kept apart.")
	if !errors.Is(err, store.ErrLotsMeet) || newestSeq(w) != before {
		t.Errorf("%v, which is no question that can be answered, or was written", err)
	}
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	w.must(second(w.Pull("SA-21", w.to("AN3-5A", "A-01", 20, "SA-21"))))
	w.learnPlaces()
	w.must(second(w.Fit("SA-21", fitting(store.Transfer{StockKey: w.in("AN3-5A", "SA-21")}))))
	w.wantWhere(later, "10 together", "0 to 10 of the 12 in A-01", "0 to 10 of the 20 in SA-21")
	w.wantWhere(kit, "28 together", "2 to 12 of the 12 in A-01", "10 to 20 of the 20 in SA-21", "6 of the 6 in SA-10")
	w.undoAll(before)
	w.wantWhere(kit, "28 together", "22 of the 22 in A-01", "6 of the 6 in SA-10")
}

func TestTwoLotsKeptApart(t *testing.T) {
	w, kit, later := twoLots(t)
	w.must(second(w.Stow(w.to("AN3-5A", "F1", 0, "A-02"))))
	w.must(second(w.Pull("SA-21", w.to("AN3-5A", "A-01", 20, "SA-21"))))
	w.learnPlaces()
	w.must(second(w.Fit("SA-21", fitting(store.Transfer{StockKey: w.in("AN3-5A", "SA-21")}))))
	w.wantWhere(later, "10 together", "10 of the 10 in A-02")
	w.wantWhere(kit, "28 together", "2 of the 2 in A-01", "20 of the 20 in SA-21", "6 of the 6 in SA-10")
	move := w.to("AN3-5A", "A-02", 0, "A-01")
	move.Meeting = store.LotsApart
	w.must(second(w.Move(move)))
	w.wantWhere(later, "10 together", "10 of the 10 in A-01")
	err := second(w.Scrap(store.Transfer{StockKey: w.in("AN3-5A", "A-01"), Quantity: measure.Pieces(1)}, "bent"))
	wantRefusal(t, err, store.Invalid, "That may be any of 2 lots of AN3-5A, L-1 (order OK-20731, line 1) and L-2 (order F-1, line 1): say which.")
	gone := w.heap("AN3-5A", later, "A-01")
	w.must(second(w.Scrap(store.Transfer{StockKey: gone, Quantity: measure.Pieces(1)}, "bent")))
	w.wantWhere(later, "10 together", "9 of the 9 in A-01", "1 of the 1 in scrapped")
}

// A mix may be poured on, and what counts found missing of it may be of any lot in it.
func TestMixesOfMixes(t *testing.T) {
	w, kit, later := twoLots(t)
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	w.must(second(w.PutIn(w.in("AN3-5A", "A-01"), store.Exact(measure.Pieces(3)), store.PourLots)))
	lots, err := w.Lots("AN3-5A")
	w.must(err)
	if last := lots[len(lots)-1]; len(lots) != 5 || last.Words() != "L-5, poured together" || last.Came != store.Exact(measure.Pieces(35)) {
		t.Fatalf("lots %+v", lots)
	}
	w.wantWhere(later, "10 together", "10 of the 35 in A-01")
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(33))))
	w.wantWhere(later, "10 together", "8 to 10 of the 33 in A-01")
	w.wantWhere(kit, "28 together", "20 to 22 of the 33 in A-01", "6 of the 6 in SA-10")
	w.wantWhere("L-4", "3 together", "1 to 3 of the 33 in A-01")
}
