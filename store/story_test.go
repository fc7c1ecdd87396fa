package store_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/assets/demo"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/packinglist"
	"stowright/store/storetest"
)

// tailKit is a shop with the packing list of the demo kit brought in.
func tailKit(t *testing.T) world {
	t.Helper()
	w := world{t: t, clock: storetest.NewClock(t, "2026-03-14"), place: map[string]string{}}
	w.Shop = storetest.Open(t, store.Options{Clock: w.clock.Now})
	book, err := packinglist.Open(demo.PackingListCSV, demo.PackingList(demo.PackingListCSV))
	w.must(err)
	list, problems := book.Read(packinglist.Choices{}).List()
	if len(problems) > 0 {
		t.Fatalf("reading the list: %v", problems)
	}
	ship := store.NewShipment{Order: demo.Order, Supplier: demo.Supplier, File: list.File, Fingerprint: list.Fingerprint()}
	status := map[packinglist.Status]store.ListStatus{packinglist.Shipped: store.Shipped, packinglist.BackOrdered: store.BackOrdered, packinglist.NotArrived: store.NotShipped}
	for _, l := range list.Lines {
		ship.Lines = append(ship.Lines, store.NewLine{
			Number: l.Number, Crate: l.Crate, Group: l.Group, Designation: l.Designation, Title: l.Description, Listed: l.Listed, Status: status[l.Status], Lot: l.Lot,
		})
	}
	made, _, err := w.Import(ship)
	w.must(err)
	w.ship = made.ID
	return w
}

func (w world) arrive(crates ...string) {
	w.t.Helper()
	for _, d := range demo.Deliveries() {
		if d.Crate == crates[0] {
			_, err := w.Arrive(w.ship, store.Delivery{Crates: crates, Arrived: store.DateOf(d.Arrived), DamageDays: &d.DamageDays, ShortageDays: &d.ShortageDays})
			w.must(err)
		}
	}
}

// checkOff enters the finding of the first day of every line in the crates.
func (w world) checkOff(crates map[string]bool) {
	w.t.Helper()
	for _, f := range demo.Findings() {
		l, err := w.Line(w.ship, store.LineID(f.Line))
		w.must(err)
		if !crates[l.Crate] || l.Status == store.BackOrdered {
			continue
		}
		q := func(s string) measure.Quantity {
			if s == "" {
				s = "0"
			}
			v, err := measure.ParseQuantity(s, l.Listed.Unit)
			w.must(err)
			return v
		}
		finding := store.Finding{Found: q(f.Found), Damaged: q(f.Damaged), Lot: f.Lot, Note: f.Note, Counted: true}
		switch {
		case f.WrongRevision != "":
			finding.Came = &store.Came{Designation: f.WrongRevision, Quantity: q(f.AsFoundQuantity), Revision: true}
		case f.AsFound != "":
			finding.Came = &store.Came{Designation: f.AsFound, Quantity: q(f.AsFoundQuantity)}
		}
		w.receive(f.Line, finding)
	}
}

func (w world) clocks(today string) []string {
	w.t.Helper()
	w.clock.Set(w.t, today)
	clocks, err := w.Clocks()
	w.must(err)
	var lines []string
	for _, c := range clocks {
		lines = append(lines, fmt.Sprintf("%v %s %s", c.Crates, c.Due, c))
	}
	return lines
}

// Story 1: each delivery has two claim clocks, from its own papers.
func TestStoryClocks(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	for _, row := range []struct {
		today string
		third bool
		want  []string
	}{
		{"2026-03-14", false, []string{"[C1 C2] 19 March 2026 Damage claim: 5 days left", "[C1 C2] 13 April 2026 Shortages: 30 days left"}},
		{"2026-03-18", false, []string{"[C1 C2] 19 March 2026 Damage claim: 1 day left", "[C1 C2] 13 April 2026 Shortages: 26 days left"}},
		{"2026-04-02", true, []string{
			"[C3] 7 April 2026 Damage claim: 5 days left", "[C1 C2] 13 April 2026 Shortages: 11 days left",
			"[C3] 2 May 2026 Shortages: 30 days left", "[C1 C2] 19 March 2026 Damage claim: 14 days past",
		}},
	} {
		if row.third {
			w.clock.Set(t, row.today)
			w.arrive("C3")
		}
		if d := cmp.Diff(row.want, w.clocks(row.today)); d != "" {
			t.Errorf("on %s (-want +got):\n%s", row.today, d)
		}
	}
}

// dayOne are the totals of story 2 after the first day.
func dayOne() map[store.State]int {
	return map[store.State]int{
		store.AllHere: 45, store.Short: 5, store.Over: 2, store.DamagedState: 2, store.WrongRevision: 1, store.BackOrder: 1, store.NotArrived: 4,
	}
}

// Story 2: the first day's findings, the eighth rib found, undone and redone; and
// of story 7 the totals when all of C3 and the doublers have come.
func TestStoryCheckOff(t *testing.T) {
	t.Parallel()
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	totals := func(step string, want map[store.State]int) {
		t.Helper()
		got, err := w.Totals(w.ship)
		w.must(err)
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", step, d)
		}
	}
	describe := func(number int, want string) {
		t.Helper()
		l, err := w.Line(w.ship, store.LineID(number))
		w.must(err)
		if got := l.Describe(true); got != want {
			t.Errorf("line %d is %q, want %q", number, got, want)
		}
	}
	totals("day one", dayOne())
	for number, want := range map[int]string{
		5: "1 damaged", 6: "+1 over", 7: "1 short", 12: "wrong revision", 17: "1 short", 19: "back-ordered", 24: "1 damaged",
		28: "4 in short", 39: "+4 over", 40: "4 short", 42: "4 short", 1: "all here",
	} {
		describe(number, want)
	}
	rib := dayOne()
	rib[store.AllHere], rib[store.Short] = 46, 4
	w.receive(17, found(8))
	totals("the eighth rib", rib)
	w.must(second(w.Undo()))
	totals("undone", dayOne())
	w.must(second(w.Redo()))
	totals("redone", rib)

	w.clock.Set(t, "2026-04-02")
	w.arrive("C3")
	w.checkOff(map[string]bool{"C3": true})
	for _, number := range []int{57, 58, 59, 60} {
		l, err := w.Line(w.ship, store.LineID(number))
		w.must(err)
		w.receive(number, store.Finding{Found: l.Listed, Counted: true})
	}
	w.receive(19, found(2))
	totals("all of C3", map[store.State]int{store.AllHere: 51, store.Short: 4, store.Over: 2, store.DamagedState: 2, store.WrongRevision: 1})
}

// Story 3: left and right never net off.
func TestStoryHands(t *testing.T) {
	t.Parallel()
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	for _, row := range []struct {
		number      int
		designation string
		state       store.State
		difference  int64
	}{{6, "OQ-10-031-L", store.Over, 1}, {7, "OQ-10-031-R", store.Short, -1}, {12, "OQ-20-040-B", store.WrongRevision, -1}} {
		l, err := w.Line(w.ship, store.LineID(row.number))
		w.must(err)
		if l.Designation != row.designation || l.State(true) != row.state || l.Difference() != measure.Pieces(row.difference) {
			t.Errorf("line %d: %s is %s by %s, want %s %s by %d", row.number, l.Designation, l.State(true), l.Difference(), row.designation, row.state, row.difference)
		}
	}
	for item, want := range map[string]string{"OQ-10-031-L": "4 ea", "OQ-10-031-R": "2 ea"} {
		h, err := w.Holdings(item)
		w.must(err)
		if len(h) != 1 || h[0].Amount.String() != want {
			t.Errorf("%s: %v, want %s", item, h, want)
		}
	}
	// What came in place of line 42 is stock of its own number, and never of the listed one.
	h, err := w.Holdings("AN3-11")
	w.must(err)
	came, err := w.Holdings("AN3-11A")
	w.must(err)
	if len(h) != 0 || len(came) != 1 || came[0].Condition != store.SetApart || came[0].Amount.String() != "4 ea" {
		t.Errorf("AN3-11: %v; AN3-11A: %v", h, came)
	}
}

// Of story 6: what is left when what SA-10 needs is pulled.
func TestStoryPull(t *testing.T) {
	t.Parallel()
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"})))
	heap := func(item string) store.StockKey {
		t.Helper()
		h, err := w.Holdings(item)
		w.must(err)
		return h[0].StockKey
	}
	w.must(second(w.Weigh(heap("AN426AD3-3.5"), rivets(1680, 1668, 1692))))
	for _, row := range []struct {
		item string
		n    int64
		left string
	}{
		{"NAS1149F0363P", 12, "138 ea"},
		{"AN3-5A", 6, "22 ea"},
		{"AN426AD3-3.5", 212, "about 1,468 ea (1,456 to 1,480)"},
		{"AN365-1032A", 6, "64 ea"},
	} {
		k := heap(row.item)
		w.must(second(w.Pull("SA-10", store.Transfer{StockKey: k, Quantity: measure.Pieces(row.n)})))
		heaps, err := w.Contents(k.Place)
		w.must(err)
		for _, h := range heaps {
			if h.StockKey == k && h.Amount.String() != row.left {
				t.Errorf("%s: %s left, want %s", row.item, h.Amount, row.left)
			}
		}
	}
	// What is by the pound cannot be pulled by the piece until it is counted or weighed.
	_, err := w.Pull("SA-10", store.Transfer{StockKey: heap("AN470AD4-5"), Quantity: measure.Pieces(46)})
	wantRefusal(t, err, store.Conflict, "AN470AD4-5 is kept by lb, and this says ea: give it in lb.")
}
