package build

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

// An estimate gives its sure part first and its range after that, and is never below zero.
func TestTakingFromAnEstimate(t *testing.T) {
	for _, row := range []struct {
		name           string
		low, mid, high int64
		sure, perhaps  int64 // asked for
		gotSure, gotIf int64
		left           [3]int64
	}{
		{"less than is sure", 95, 100, 105, 60, 0, 60, 0, [3]int64{35, 40, 45}},
		{"all that is sure", 95, 100, 105, 95, 0, 95, 0, [3]int64{0, 5, 10}},
		{"more than is sure", 95, 100, 105, 99, 4, 95, 4, [3]int64{0, 1, 6}},
		{"more than there is", 95, 100, 105, 200, 105, 95, 10, [3]int64{0, 0, 0}},
		{"of what was counted", 12, 12, 12, 20, 8, 12, 0, [3]int64{0, 0, 0}},
		{"perhaps leaves what is sure", 10, 12, 14, 0, 3, 0, 3, [3]int64{10, 10, 11}},
	} {
		l := left{low: row.low, mid: row.mid, high: row.high}
		if got := l.take(row.sure); got != row.gotSure {
			t.Errorf("%s: %d are taken, want %d", row.name, got, row.gotSure)
		}
		if got := l.perhaps(row.perhaps); got != row.gotIf {
			t.Errorf("%s: perhaps %d, want %d", row.name, got, row.gotIf)
		}
		if got := [3]int64{l.low, l.mid, l.high}; got != row.left {
			t.Errorf("%s: left are %v, want %v", row.name, got, row.left)
		}
	}
}

// A heap that a count took below nothing holds nothing.
func TestNothingIsPromisedOfLessThanNothing(t *testing.T) {
	r := &Reading{
		Today: march18, SubAssemblies: []SubAssembly{sub("SA-1", "", 1, need{"AN3-5A", "", 2})},
		Stock: map[string][]Heap{"AN3-5A": {
			{Place: "A-12", Amount: measure.Amount{Quantity: measure.Pieces(1), Low: measure.Pieces(-2), High: measure.Pieces(4)}},
		}},
	}
	n := needOf(t, NewBoard(r), "SA-1", "AN3-5A")
	if n.Met || len(n.Promised) > 0 || n.Free.Low.Sign() != 0 || n.Free.High != measure.Pieces(4) {
		t.Errorf("of -2 to 4: %+v", n)
	}
}

// In which order heaps are used: what others can do without, then the earliest expiry,
// then as they stand.
func TestOrderOfUse(t *testing.T) {
	soon, later := day(2026, 4, 1), day(2026, 9, 1)
	for _, row := range []struct {
		name string
		a, b candidate
		want int
	}{
		{"alike", candidate{}, candidate{}, 0},
		{"kept for the other aircraft", candidate{kept: true}, candidate{}, 1},
		{"the other way round", candidate{}, candidate{kept: true}, -1},
		{"both kept", candidate{kept: true}, candidate{kept: true}, 0},
		{"kept goes before dates", candidate{kept: true, verdict: verdict{expires: soon}}, candidate{verdict: verdict{expires: later}}, 1},
		{"a date before none", candidate{verdict: verdict{expires: soon}}, candidate{}, -1},
		{"none after a date", candidate{}, candidate{verdict: verdict{expires: soon}}, 1},
		{"the earlier date", candidate{verdict: verdict{expires: soon}}, candidate{verdict: verdict{expires: later}}, -1},
		{"the later date", candidate{verdict: verdict{expires: later}}, candidate{verdict: verdict{expires: soon}}, 1},
		{"the same date", candidate{verdict: verdict{expires: soon}}, candidate{verdict: verdict{expires: soon}}, 0},
	} {
		if got := order(row.a, row.b); got < 0 != (row.want < 0) || got > 0 != (row.want > 0) {
			t.Errorf("%s: %d, want %d", row.name, got, row.want)
		}
	}
}

// What lies in the tray counts once, up to what is wanted, and its doubt stays a doubt.
func TestPulledIsCountedOnce(t *testing.T) {
	for _, row := range []struct {
		name string
		tray []Heap
		need int64
		want string // low, figure and high
		open int64
	}{
		{"part", []Heap{{Amount: pieces(4)}}, 6, "4 4 4", 2},
		{"just enough", []Heap{{Amount: pieces(6)}}, 6, "6 6 6", 0},
		{"too many", []Heap{{Amount: pieces(9)}}, 6, "6 6 6", 0},
		{"two lots", []Heap{{Lot: "L-1", Amount: pieces(2)}, {Lot: "L-2", Amount: pieces(3)}}, 6, "5 5 5", 1},
		{"an estimate", []Heap{{Amount: measure.Amount{Quantity: measure.Pieces(5), Low: measure.Pieces(4), High: measure.Pieces(7)}}}, 6, "4 4 6", 2},
		{"damaged", []Heap{{Condition: Damaged, Amount: pieces(6)}}, 6, "0 0 0", 6},
	} {
		for i := range row.tray {
			row.tray[i].Tray, row.tray[i].Place = "SA-1", "tray"
		}
		r := &Reading{Today: march18, SubAssemblies: []SubAssembly{sub("SA-1", "", 1, need{"AN3-5A", "", row.need})}, Stock: map[string][]Heap{"AN3-5A": row.tray}}
		n := needOf(t, NewBoard(r), "SA-1", "AN3-5A")
		got := strings.Join([]string{n.Pulled.Low.Number(), n.Pulled.Number(), n.Pulled.High.Number()}, " ")
		if got != row.want || n.Open != measure.Pieces(row.open) {
			t.Errorf("%s: pulled %s, open %s; want %s and %d", row.name, got, n.Open, row.want, row.open)
		}
	}
}

// What was fitted for a requirement counts by its item, by the number that the plans
// call and by what a decision once let in, and by nothing else.
func TestFittedCounts(t *testing.T) {
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{sub("SA-1", "", 1, need{washer, "AN960-10", 12})}}
	r.SubAssemblies[0].Requirements[0].ID = "R-1"
	r.Decisions = []Decision{{ID: "D-1", Kind: OtherItem, Requirement: "R-1", Item: thinWasher, From: day(2026, 3, 1), Withdrawn: day(2026, 3, 2)}}
	for _, row := range []struct {
		name string
		fit  Fit
		want int64
	}{
		{"its item", Fit{Item: washer, Amount: pieces(5)}, 5},
		{"the called number", Fit{Item: "AN960-10", Amount: pieces(5)}, 5},
		{"by a decision withdrawn since", Fit{Item: thinWasher, Amount: pieces(5)}, 5},
		{"another item", Fit{Item: "AN960-416", Amount: pieces(5)}, 0},
		{"another unit", Fit{Item: washer, Amount: hundredths(5, measure.Pound)}, 0},
	} {
		r.SubAssemblies[0].Requirements[0].Fitted = []Fit{row.fit}
		if n := needOf(t, NewBoard(r), "SA-1", washer); n.Fitted != pieces(row.want) || n.Open != measure.Pieces(12-row.want) {
			t.Errorf("%s: fitted %s, open %s; want %d", row.name, n.Fitted, n.Open, row.want)
		}
	}
}

// Where many hold what is missing, the nearest four are named and the rest summed up.
func TestManyHolders(t *testing.T) {
	r := &Reading{Today: march18, Stock: map[string][]Heap{"AN3-5A": {heap("A-12", 21)}}}
	for i, n := range []int64{1, 2, 3, 4, 5, 6, 7} {
		r.SubAssemblies = append(r.SubAssemblies, sub("SA-"+string(rune('1'+i)), "", 1, need{"AN3-5A", "", n}))
	}
	b := NewBoard(r)
	want := "not ready: AN3-5A: need 7, free 0; 21 here, 1 for SA-1, 2 for SA-2, 3 for SA-3, 4 for SA-4, 11 for 2 others"
	if got := sentence(t, b, "SA-7"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if n := needOf(t, b, "SA-7", "AN3-5A"); len(n.Held) != 6 {
		t.Errorf("%d hold it, want 6", len(n.Held))
	}
}
