package build

import (
	"math/big"
	"slices"
	"strings"
	"testing"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// The newest retest in force decides on a lot, of two of one day the one that was noted last;
// one that is still to come, was withdrawn, or is another kind of decision does not.
func TestNewestRetest(t *testing.T) {
	march := func(d int) measure.Date { return day(2026, 3, d) }
	first, second, third := Decision{ID: "D-1", Kind: Retest, From: march(1)}, Decision{ID: "D-2", Kind: Retest, From: march(10)}, Decision{ID: "D-3", Kind: Retest, From: march(10)}
	withdrawn := Decision{ID: "D-4", Kind: Retest, From: march(12), Withdrawn: march(13)}
	other := Decision{ID: "D-5", Kind: AnyOrigin, From: march(14)}
	for _, row := range []struct {
		name string
		day  int
		all  []Decision
		want string
	}{
		{"none", 20, nil, ""},
		{"the newer one", 20, []Decision{first, second}, "D-2"},
		{"the newer one, noted first", 20, []Decision{second, first}, "D-2"},
		{"of one day the later one", 20, []Decision{second, third}, "D-3"},
		{"not yet", 9, []Decision{first, second}, "D-1"},
		{"on its day", 10, []Decision{first, second}, "D-2"},
		{"withdrawn", 20, []Decision{first, withdrawn}, "D-1"},
		{"before it was withdrawn", 12, []Decision{first, withdrawn}, "D-4"},
		{"another kind", 20, []Decision{first, other}, "D-1"},
	} {
		book, got := decisionBook{lot: map[string][]*Decision{}}, ""
		for i := range row.all {
			book.lot["L-1"] = append(book.lot["L-1"], &row.all[i])
		}
		if d := book.retest("L-1", march(row.day)); d != nil {
			got = d.ID
		}
		if got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
		if d := book.retest("", march(row.day)); d != nil {
			t.Errorf("%s: %s is of no lot", row.name, d.ID)
		}
	}
}

// What nobody noted is told from a piece that is somewhere, or is not.
func TestUnnoted(t *testing.T) {
	for kind, want := range map[OpenKind]bool{
		NotFitted: false, NotBack: false, LeftInTray: false, NotFound: false, NoPhoto: true, NoTorque: true, NoSecondLook: true,
	} {
		if got := (Open{Kind: kind}).Unnoted(); got != want {
			t.Errorf("%s: %v, want %v", kind, got, want)
		}
	}
}

// A drawer that is near is pointed at, up to three away; any other is named.
func TestDirection(t *testing.T) {
	place := func(row, column int) Place {
		return Place{Name: "yours", Room: 1, Furniture: 2, Row: row, Column: column}
	}
	for _, row := range []struct {
		rows, columns int // from the one that was scanned to the right one
		want          string
	}{
		{0, 1, "one to the right"},
		{0, -1, "one to the left"},
		{3, 0, "three down"},
		{-3, 0, "three up"},
		{-2, -3, "two up and three to the left"},
		{1, 2, "one down and two to the right"},
		{4, 0, "yours"},
		{0, -4, "yours"},
		{0, 0, "yours"},
	} {
		if got := direction(place(5, 5), place(5+row.rows, 5+row.columns)); got != row.want {
			t.Errorf("%d down and %d to the right: %q, want %q", row.rows, row.columns, got, row.want)
		}
	}
	elsewhere := place(5, 6)
	elsewhere.Furniture = 3
	if got := direction(place(5, 5), elsewhere); got != "yours" {
		t.Errorf("in another cabinet: %q", got)
	}
}

// Of an estimate that may be less than nothing, nothing is surely here.
func TestSums(t *testing.T) {
	estimate := Heap{Amount: measure.Amount{Quantity: measure.Pieces(3), Low: measure.Pieces(-2), High: measure.Pieces(8)}}
	counted := Heap{Amount: measure.Exact(measure.Pieces(5))}
	shelf := []candidate{{left: &left{&estimate, 0, 1, 2}}, {left: &left{&counted, 4, 4, 4}}}
	million := measure.Pieces(1).Micro
	shelf[1].low, shelf[1].mid, shelf[1].high = 4*million, 4*million, 4*million
	here, free := sums(shelf, measure.Each)
	if want := (measure.Amount{Quantity: measure.Pieces(8), Low: measure.Pieces(5), High: measure.Pieces(13)}); here != want {
		t.Errorf("here are %+v, want %+v", here, want)
	}
	if free.Low != measure.Pieces(4) || free.Micro != 4*million+1 || free.High.Micro != 4*million+2 {
		t.Errorf("free are %+v", free)
	}
}

// The sentence of a sub-assembly has four of what blocks it, and says where there is more;
// what may be there after all is not among them.
func TestMostStops(t *testing.T) {
	b := NewBoard(&Reading{})
	for _, row := range []struct {
		blockers, want string
	}{
		{"a b c d", "not ready: a | b | c | d"},
		{"a b c d e", "not ready: a | b | c | d | and more"},
		{"a ? b ? c d", "not ready: a | b | c | d"},
		{"? ? ? ? a", "not ready: a"},
		{"a b c d ?", "not ready: a | b | c | d"},
	} {
		s := &Status{State: Blocked}
		for _, name := range strings.Fields(row.blockers) {
			s.Blockers = append(s.Blockers, &Blocker{Sentence: name, CannotTell: name == "?"})
		}
		if got := b.sentence(s, &SubAssembly{}); got != row.want {
			t.Errorf("%s: %q, want %q", row.blockers, got, row.want)
		}
	}
}

// A piece makes the difference whose weight, with its bounds, meets that of the difference.
func TestSinglePiece(t *testing.T) {
	pieces := []piece{{"light", rat(1), rat(2)}, {"touches below", rat(3), rat(5)}, {"within", rat(6), rat(6)}, {"touches above", rat(8), rat(9)}, {"heavy", rat(10), rat(11)}}
	var a Audit
	a.single(pieces, big.NewRat(5, 1), big.NewRat(8, 1))
	if want := []string{"touches below", "within", "touches above"}; !slices.Equal(a.Single, want) {
		t.Errorf("%v, want %v", a.Single, want)
	}
}

// What goes straight from storage into the aircraft is held by nobody where it is called by
// any quantity, or not at all; what is no sub-assembly takes nothing.
func TestMayTakeHeld(t *testing.T) {
	b := NewBoard(weighedDemo(t))
	if got := b.MayTakeHeld(booking("SA-99", "AN3-5A", "A-12", 1)); got == nil {
		t.Error("a sub-assembly that there is not takes a bolt")
	}
	if got := b.MayTakeHeld(booking("SA-10", "OQ-99-999", "A-12", 1)); got != nil {
		t.Errorf("what is not called: %s", got.Sentence)
	}
	if got := b.MayTakeHeld(booking("SA-10", "AN3-5A", "A-12", 6)); got != nil {
		t.Errorf("what the first in the order calls: %s", got.Sentence)
	}
}

// Screws and plate nuts are as many, one by one.
func TestScrewsAndPlateNuts(t *testing.T) {
	for _, row := range []struct{ list, want string }{
		{"12 MS27039-0806, 12 MS21051-08", ""},
		{"12 MS27039-0806, 11 MS21051-08", "12 bolts and screws and 11 nuts and plate nuts of 8-32: is the list whole?"},
		{"12 MS27039-0806, 13 MS21051-08", "12 bolts and screws and 13 nuts and plate nuts of 8-32: is the list whole?"},
		{"1 MS27039-0806, 2 MS21051-08", "1 bolts and screws and 2 nuts and plate nuts of 8-32: is the list whole?"},
	} {
		var got []string
		for _, d := range Doubts(hardware.Standard(), listOf(t, row.list)) {
			got = append(got, d.Sentence)
		}
		if strings.Join(got, "; ") != row.want {
			t.Errorf("%s: %q, want %q", row.list, got, row.want)
		}
	}
}
