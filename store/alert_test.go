package store_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// nuts is the shop of stories 10 and 18: 20 MS21042-3 of lot Q7714 came on 14 March, 14 lie
// in A-01, which stands for A-22, and 6 are fitted in SA-20.
func nuts(t *testing.T) (w world, lot uint64) {
	t.Helper()
	w = newWorld(t)
	w.receive(7, found(20))
	w.must(second(w.Stow(w.to("MS21042-3", "H104", 0, "A-01"))))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-20", Name: "Rudder"}, store.Requirement{Item: "MS21042-3", Called: "MS21042-3", Needed: measure.Pieces(6)})))
	w.learnPlaces()
	w.must(second(w.Pull("SA-20", w.to("MS21042-3", "A-01", 6, "SA-20"))))
	w.must(second(w.Fit("SA-20", fitting(w.to("MS21042-3", "SA-20", 6, "A-01")))))
	lots, err := w.Lots("MS21042-3")
	w.must(err)
	return w, lots[0].Number
}

func (w world) alert(number uint64, issue store.Issue) uint64 {
	w.t.Helper()
	a, _, err := w.Alert(number, "Nuts that crack", issue)
	w.must(err)
	return a.Number
}

// wantFound compares the lists of an alert: named, cannot tell, near, by lot and where.
func (w world) wantFound(number uint64, want ...string) {
	w.t.Helper()
	found, err := w.AlertFound(number)
	w.must(err)
	got := []string{}
	for _, list := range []struct {
		name string
		all  []store.Whereabouts
	}{{"named", found.Named}, {"cannot tell", found.CannotTell}, {"near", found.Near}} {
		for _, where := range list.all {
			for _, at := range where.At {
				got = append(got, list.name+": "+at.Bounds.String()+" "+at.SubAssembly+at.Gone+string(at.Condition))
			}
		}
	}
	for _, code := range found.Assembled {
		got = append(got, "not known: "+code)
	}
	if d := cmp.Diff(append([]string{}, want...), got); d != "" {
		w.t.Errorf("the alert comes to (-want +got):\n%s", d)
	}
}

// Story 10, the alert: a near miss sets nothing apart, and its correction does.
func TestAlertByLot(t *testing.T) {
	w, _ := nuts(t)
	a := w.alert(0, store.Issue{Item: "MS21042-3", Printed: []string{"Q7741"}})
	w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 14 ea")
	w.wantFound(a, "near: 14 ", "near: 6 SA-20")
	w.alert(a, store.Issue{Item: "MS21042-3", Printed: []string{"Q7714"}})
	w.wantStock("MS21042-3 lot Q7714 (quarantined (A-1)) in Garage, Cabinet A, A-01: 14 ea")
	w.wantFound(a, "named: 14 quarantined (A-1)", "named: 6 SA-20")
	k := w.in("MS21042-3", "A-01")
	k.Condition = store.Quarantined("A-1")
	wantRefusal(t, second(w.Pull("SA-20", store.Transfer{StockKey: k, Quantity: measure.Pieces(1)})), store.Conflict, "MS21042-3 there is quarantined (A-1): it is not pulled for building.")
	w.must(second(w.Undo()))
	w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 14 ea")
	w.must(second(w.Redo()))
	w.wantStock("MS21042-3 lot Q7714 (quarantined (A-1)) in Garage, Cabinet A, A-01: 14 ea")
}

// Story 18, window and correction, with its figures; and with the alert of story 10 in
// force too: two alerts are two locks.
func TestAlertByWindow(t *testing.T) {
	for _, both := range []bool{false, true} {
		w, lot := nuts(t)
		w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-40", Name: "Elevator", Assembled: &store.Assembled{By: "kit maker", Shipped: on(t, "2026-03-09")}})))
		first := w.alert(0, store.Issue{Item: "MS21042-3", From: on(t, "2026-03-01"), Until: on(t, "2026-03-31")})
		w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 14 ea")
		w.wantFound(first, "cannot tell: 14 ", "cannot tell: 6 SA-20", "not known: SA-40")
		w.must(second(w.DescribeLot(lot, store.LotFacts{Shipped: on(t, "2026-03-09")})))
		w.wantStock("MS21042-3 lot Q7714 (quarantined (A-1)) in Garage, Cabinet A, A-01: 14 ea")
		w.wantFound(first, "named: 14 quarantined (A-1)", "named: 6 SA-20", "not known: SA-40")
		set := store.Quarantined("A-1")
		if both {
			w.alert(0, store.Issue{Item: "MS21042-3", Printed: []string{"Q7714"}})
			set = store.Quarantined("A-1", "A-2")
		}
		k := w.in("MS21042-3", "A-01")
		k.Condition = set
		w.must(second(w.Scrap(store.Transfer{StockKey: k, Quantity: measure.Pieces(2)}, "recalled")))
		w.alert(first, store.Issue{Item: "MS21042-3", From: on(t, "2026-03-15"), Until: on(t, "2026-03-31")})
		w.wantFound(first, "not known: SA-40")
		if !both {
			w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 12 ea")
			continue
		}
		w.wantStock("MS21042-3 lot Q7714 (quarantined (A-2)) in Garage, Cabinet A, A-01: 12 ea")
		wantRefusal(t, second(w.AnswerAlert(2, "D-1", store.LotName(lot))), store.Conflict, "“D-1” is no decision that answers an alert: record it first, with who made it.")
		_, _, err := w.Decide(store.Decision{Kind: store.AlertAnswer, Who: "kit maker", Lots: []string{store.LotName(lot)}})
		w.must(err)
		w.must(second(w.AnswerAlert(2, "D-1", store.LotName(lot))))
		w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 12 ea")
		alerts, err := w.Alerts()
		w.must(err)
		if len(alerts) != 2 || len(alerts[0].Issues) != 2 || alerts[0].Issues[0].From != on(t, "2026-03-01") {
			t.Errorf("both issues are to be read still: %+v", alerts)
		}
	}
}

// What comes later of a lot that an alert names is set apart when it comes, and all that
// it is poured into.
func TestAlertOnWhatComesLater(t *testing.T) {
	w, _, later := twoLots(t)
	number, _ := store.LotNumber(later)
	w.must(second(w.DescribeLot(number, store.LotFacts{Maker: "Bolt works"})))
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	w.alert(0, store.Issue{Item: "AN3-5A", Maker: "bolt works"})
	w.wantStock("AN3-5A (quarantined (A-1)) in Garage, Cabinet A, A-01: 32 ea")
	w.must(second(w.PutIn(w.in("AN3-5A", "A-02"), store.Exact(measure.Pieces(3)), store.AskMeeting)))
	w.wantStock("AN3-5A (quarantined (A-1)) in Garage, Cabinet A, A-01: 32 ea", "AN3-5A in Garage, Cabinet A, A-02: 3 ea")
	w.wantFound(1, "named: 10 quarantined (A-1)", "cannot tell: 22 quarantined (A-1)", "cannot tell: 6 SA-10", "cannot tell: 3 ")
	lots, err := w.Lots("AN3-5A")
	w.must(err)
	w.must(second(w.DescribeLot(lots[len(lots)-1].Number, store.LotFacts{Maker: "Bolt works"})))
	w.wantStock("AN3-5A (quarantined (A-1)) in Garage, Cabinet A, A-01: 32 ea", "AN3-5A (quarantined (A-1)) in Garage, Cabinet A, A-02: 3 ea")
}

// What an older shop has under a printed lot is found and released like a lot of today.
func TestAlertInAnOlderShop(t *testing.T) {
	lines, err := os.ReadFile(filepath.Join("..", "testdata", "store", "format5.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "shop.stow")
	if err := exchange.Import(context.Background(), path, bytes.NewReader(lines)); err != nil {
		t.Fatal(err)
	}
	w := world{t: t, Shop: storetest.OpenFile(t, path, store.Options{})}
	a := w.alert(0, store.Issue{Item: "AN3-5A", Printed: []string{"Q1"}})
	w.wantFound(a, "named: 24 quarantined (A-1)", "named: 4 SA-10")
	w.alert(a, store.Issue{Item: "AN3-5A", Printed: []string{"Q7"}})
	w.wantFound(a, "near: 24 ", "near: 4 SA-10")
	w.alert(a, store.Issue{Item: "AN3-5A", From: on(t, "2026-03-01")})
	w.wantFound(a, "cannot tell: 24 ", "cannot tell: 4 SA-10")
	w.alert(a, store.Issue{Item: "AN3-5A"})
	_, _, err = w.Decide(store.Decision{Kind: store.AlertAnswer, Who: "kit maker"})
	w.must(err)
	wantRefusal(t, second(w.AnswerAlert(a, "D-1", "Q2")), store.NotFound, "There is no lot “Q2” of AN3-5A in this shop: give its number, such as L-17.")
	w.wantFound(a, "named: 24 quarantined (A-1)", "named: 4 SA-10")
	w.must(second(w.AnswerAlert(a, "D-1", "Q1")))
	w.wantFound(a)
	w.wantStock("AN3-5A lot Q1 in A-12: 24 ea")
	w.alert(0, store.Issue{Item: "AN525-10R8"}) // which the shop never had
	w.wantFound(2)
}
