package store_test

import (
	"errors"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

func asStoreError(err error, e **store.Error) bool { return errors.As(err, e) }

// second drops the first result, so that a verb can stand in a row of a table.
func second[T any](_ T, err error) error { return err }

func third[T, U any](_ T, _ U, err error) error { return err }

// Every refusal is a whole sentence of its own kind, and changes nothing.
func TestRefusals(t *testing.T) {
	t.Parallel()
	pounds := measure.Quantity{Micro: 300_000, Unit: measure.Pound}
	nowhere := "01ARZ3NDEKTSV4RRFFQ69G5FAV"
	for _, row := range []struct {
		name     string
		do       func(w world) error
		kind     store.Kind
		sentence string
		before   func(w world)
	}{
		{
			"receive a line that is not there", func(w world) error { return second(w.Receive(w.ship, 99, found(1))) }, store.NotFound,
			"The packing list has no line 99: see its lines.", nil,
		},
		{
			"receive from a crate that has not come", func(w world) error { return second(w.Receive(w.ship, 6, found(1))) }, store.Conflict,
			"Crate C3 has not arrived: enter its day of arrival first.", nil,
		},
		{
			"receive in another unit", func(w world) error { return second(w.Receive(w.ship, 1, store.Finding{Found: pounds})) }, store.Invalid,
			"Line 1 is listed by ea: give what was found in ea too.", nil,
		},
		{"receive more damaged than found", func(w world) error {
			return second(w.Receive(w.ship, 1, store.Finding{Found: measure.Pieces(2), Damaged: measure.Pieces(3)}))
		}, store.Invalid, "Of line 1, 2 ea were found: that many at most can be damaged.", nil},
		{
			"receive less than nothing", func(w world) error { return second(w.Receive(w.ship, 1, found(-1))) }, store.Invalid,
			"Of line 1, -1 ea were found: that many at most can be damaged.", nil,
		},
		{"receive the same number in its place", func(w world) error {
			return second(w.Receive(w.ship, 1, store.Finding{Came: &store.Came{Designation: " AN3-5A ", Quantity: measure.Pieces(1)}}))
		}, store.Invalid, "Say how many of which other number came in place of AN3-5A: as it is marked.", nil},
		{"receive bytes that are not text", func(w world) error {
			return second(w.Receive(w.ship, 1, store.Finding{Found: measure.Pieces(1), Lot: "Q\xff"}))
		}, store.Invalid, "The lot contains bytes that are not text: type it again.", nil},
		{"receive fewer than have left the bag", func(w world) error {
			return second(w.Receive(w.ship, 1, found(19)))
		}, store.Conflict, "Some AN3-5A of line 1 have left their bag already: count them where they are, or move them back first.", func(w world) { w.must(second(w.Stow(w.to("AN3-5A", "H103", 20, "A-01")))) }},
		{
			"extra without a finding", func(w world) error {
				return second(w.ReceiveAll([]store.Line{{Shipment: w.ship, Designation: "AN3-11A"}}))
			}, store.Invalid,
			"Say how many AN3-11A were found: count them.", nil,
		},
		{"extra of nothing", func(w world) error {
			return second(w.ReceiveAll([]store.Line{{Shipment: w.ship, Crate: "C1", Place: w.place["H103"], Designation: "AN3-11A", Finding: &store.Finding{Found: measure.Pieces(0)}}}))
		}, store.Invalid, "Say how many AN3-11A were found: count them.", nil},
		{"extra in a list that is not there", func(w world) error {
			f := found(1)
			return second(w.ReceiveAll([]store.Line{{Shipment: nowhere, Crate: "C1", Place: w.place["H103"], Designation: "AN3-11A", Finding: &f}}))
		}, store.NotFound, "That packing list is not in this shop: bring it in first.", nil},
		{"extra in no bag", func(w world) error {
			f := found(1)
			return second(w.ReceiveAll([]store.Line{{Shipment: w.ship, Crate: "C1", Designation: "AN3-11A", Finding: &f}}))
		}, store.Invalid, "Say where AN3-11A was found: in which crate or bag.", nil},
		{"stow nothing at all", func(w world) error { return second(w.Stow()) }, store.Invalid, "Nothing is chosen: say what is to be moved.", nil},
		{
			"stow more than is there", func(w world) error { return second(w.Stow(w.to("AN3-5A", "H103", 25, "A-01"))) }, store.Conflict,
			"There is 24 ea of AN3-5A there, and 25 ea cannot be taken: count it, or take less.", nil,
		},
		{
			"stow less than nothing", func(w world) error { return second(w.Stow(w.to("AN3-5A", "H103", -1, "A-01"))) }, store.Conflict,
			"You cannot take less than zero of AN3-5A: type how many.", nil,
		},
		{
			"stow what is not there", func(w world) error { return second(w.Stow(w.to("AN3-5A", "A-02", 1, "A-01"))) }, store.Conflict,
			"There is no AN3-5A there: look where it is, or count it there first.", nil,
		},
		{
			"stow all of what is not there", func(w world) error { return second(w.Stow(w.to("AN3-5A", "A-02", 0, "A-01"))) }, store.Conflict,
			"There is no AN3-5A there: look where it is, or count it there first.", nil,
		},
		{"stow by another unit", func(w world) error {
			t := w.to("AN3-5A", "H103", 1, "A-01")
			t.Quantity = pounds
			return second(w.Stow(t))
		}, store.Conflict, "AN3-5A is kept by ea, and this says lb: give it in ea.", nil},
		{
			"stow where it is", func(w world) error { return second(w.Stow(w.to("AN3-5A", "H103", 1, "H103"))) }, store.Invalid,
			"AN3-5A is in H103 already: choose another place.", nil,
		},
		{"stow in no place of the shop", func(w world) error {
			return second(w.Stow(store.Transfer{StockKey: w.in("AN3-5A", "H103"), To: nowhere}))
		}, store.NotFound, "That place is not in this shop: choose another one.", nil},
		{"stow in a retired place", func(w world) error {
			return second(w.Stow(w.to("AN3-5A", "H103", 1, "S1")))
		}, store.NotFound, "S1 is out of use: choose another place.", func(w world) { w.must(second(w.RetirePlace(w.place["S1"]))) }},
		{
			"pull for no sub-assembly", func(w world) error { return second(w.Pull("SA-99", w.to("AN3-5A", "H103", 1, "H103"))) }, store.NotFound,
			"There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled.", nil,
		},
		{"pull damaged pieces", func(w world) error {
			bad := w.to("AN3-6A", "H103", 1, "H103")
			bad.Condition = store.Damaged
			return second(w.Pull("SA-10", bad))
		}, store.Conflict, "AN3-6A there is damaged: it is not pulled for building.", func(w world) { w.receive(2, store.Finding{Found: measure.Pieces(16), Damaged: measure.Pieces(1)}) }},
		{
			"count less than nothing", func(w world) error { return second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(-1))) }, store.Invalid,
			"AN3-5A cannot be less than zero: type what is there.", nil,
		},
		{
			"count by another unit", func(w world) error { return second(w.Count(w.in("AN3-5A", "A-01"), pounds)) }, store.Conflict,
			"AN3-5A is kept by ea here, and this says lb: nothing is converted, so give it in ea.", nil,
		},
		{
			"count by no unit", func(w world) error { return second(w.Count(w.in("NEW-1", "A-01"), measure.Quantity{Micro: 1})) }, store.Invalid,
			"NEW-1 has no unit: say whether it is counted in ea, ft, lb or the like.", nil,
		},
		{
			"count in no place", func(w world) error {
				return second(w.Count(store.StockKey{Item: "AN3-5A", Place: nowhere}, measure.Pieces(1)))
			}, store.NotFound,
			"That place is not in this shop: choose another one.", nil,
		},
		{"count a condition that is none", func(w world) error {
			k := w.in("AN3-5A", "A-01")
			k.Condition = "rusty\x00"
			return second(w.Count(k, measure.Pieces(1)))
		}, store.Invalid, "“rusty\uFFFD” is not a condition of stock: it is good, damaged, set apart or removed.", nil},
		{"weigh to no range", func(w world) error {
			return second(w.Weigh(w.in("AN3-5A", "H103"), store.Amount{Quantity: measure.Pieces(10), Low: measure.Pieces(11), High: measure.Pieces(12)}))
		}, store.Invalid, "about 10 ea (11 to 12) is not a range: weigh AN3-5A again.", nil},
		{"weigh one of two heaps to another unit", func(w world) error {
			return second(w.Weigh(w.in("AN3-5A", "H103"), store.Exact(pounds)))
		}, store.Conflict, "AN3-5A is kept by ea and is in several heaps: bring them together before they are given in lb.", func(w world) { w.must(second(w.Stow(w.to("AN3-5A", "H103", 4, "A-01")))) }},
		{
			"arrive with no crate", func(w world) error {
				return second(w.Arrive(w.ship, store.Delivery{Arrived: store.Date{Year: 2026, Month: 4, Day: 2}}))
			}, store.Invalid,
			"The delivery is not complete: say which crates arrived, and on which day.", nil,
		},
		{"arrive on a day that is none", func(w world) error {
			return second(w.Arrive(w.ship, store.Delivery{Crates: []string{"C3"}, Arrived: store.Date{Year: 2026, Month: 2, Day: 30}}))
		}, store.Invalid, "The delivery is not complete: say which crates arrived, and on which day.", nil},
		{
			"arrive twice", func(w world) error { return second(w.Arrive(w.ship, arrival("C1", 0, 0))) }, store.Conflict,
			"C1 has arrived already: undo that entry to correct its day.", nil,
		},
		{"arrive twice at once", func(w world) error {
			d := arrival("C3", 0, 0)
			d.Crates = []string{"C3", "C3"}
			return second(w.Arrive(w.ship, d))
		}, store.Invalid, "C3 is named twice: name each crate once.", nil},
		{
			"arrive with a crate of another list", func(w world) error { return second(w.Arrive(w.ship, arrival("C9", 0, 0))) }, store.NotFound,
			"The packing list list.csv has no crate C9: see how the list spells it.", nil,
		},
		{
			"arrive with a date for days", func(w world) error { return second(w.Arrive(w.ship, arrival("C3", 20260402, 0))) }, store.Invalid,
			"The days to claim must be 0 to 3650, not 20260402: type days, not a date.", nil,
		},
		{
			"arrive of no list", func(w world) error { return second(w.Arrive(nowhere, arrival("C3", 0, 0))) }, store.NotFound,
			"That packing list is not in this shop: bring it in first.", nil,
		},
		{
			"a crate made by hand", func(w world) error { return third(w.AddPlace(store.Place{Kind: store.Crate, Name: "C9"})) }, store.Invalid,
			"A crate is not made by hand: it comes with a packing list or a sub-assembly.", nil,
		},
		{
			"a place of no kind", func(w world) error { return third(w.AddPlace(store.Place{Kind: "hole", Name: "C9"})) }, store.Invalid,
			"There is no kind of place called “hole”: it is a room, a rack, a shelf, a cabinet, a drawer, a bin or a tub.", nil,
		},
		{
			"a place without a name", func(w world) error { return third(w.AddPlace(store.Place{Kind: store.Room, Name: " "})) }, store.Invalid,
			"The name of the place is empty: type it.", nil,
		},
		{"a place of a name that is there", func(w world) error {
			return third(w.AddPlace(store.Place{Parent: w.place["Garage"], Kind: store.Shelf, Name: " s1"}))
		}, store.Conflict, "There is already a place S1 there: give this one another name.", nil},
		{"a shelf in a crate", func(w world) error {
			return third(w.AddPlace(store.Place{Parent: w.place["C1"], Kind: store.Shelf, Name: "S9"}))
		}, store.Invalid, "C1 is a crate, which cannot contain that: choose a place of the shop.", nil},
		{"a cabinet of no drawers", func(w world) error {
			return third(w.AddCabinet(store.CabinetSpec{Name: "B", Prefix: "B", Rows: 0, Columns: 8}))
		}, store.Invalid, "A cabinet has 1 to 40 rows and columns, and not 0 x 8: make two of it, or correct the figures.", nil},
		{
			"a cabinet into its drawer", func(w world) error { return second(w.MovePlace(w.place["Cabinet A"], w.place["A-01"])) }, store.Invalid,
			"Cabinet A cannot be moved into itself: choose a place outside it.", nil,
		},
		{
			"a place into itself", func(w world) error { return second(w.MovePlace(w.place["S1"], w.place["S1"])) }, store.Invalid,
			"S1 cannot be moved into itself: choose a place outside it.", nil,
		},
		{
			"a place to where it is", func(w world) error { return second(w.MovePlace(w.place["A-01"], w.place["Cabinet A"])) }, store.Invalid,
			"A-01 is in Cabinet A already: choose another place.", nil,
		},
		{
			"a room to the top, where it is", func(w world) error { return second(w.MovePlace(w.place["Garage"], "")) }, store.Invalid,
			"Garage is at the top already: choose another place.", nil,
		},
		{
			"a place to no place", func(w world) error { return second(w.MovePlace(w.place["S1"], nowhere)) }, store.NotFound,
			"That place is not in this shop: choose another one.", nil,
		},
		{
			"a name that is taken", func(w world) error { return second(w.RenamePlace(w.place["A-01"], "A-02")) }, store.Conflict,
			"There is already a place A-02 there: give this one another name.", nil,
		},
		{
			"a sub-assembly by another name", func(w world) error { return second(w.RenamePlace(w.place["SA-10"], "Fin")) }, store.Invalid,
			"SA-10 is a sub-assembly, whose place has its code: change the name of the sub-assembly instead.", nil,
		},
		{"retire a drawer that is not empty", func(w world) error {
			return second(w.RetirePlace(w.place["Cabinet A"]))
		}, store.Conflict, "A-01 still holds AN3-5A: move that first.", func(w world) { w.must(second(w.Stow(w.to("AN3-5A", "H103", 4, "A-01")))) }},
		{
			"retire a sub-assembly", func(w world) error { return second(w.RetirePlace(w.place["SA-10"])) }, store.Invalid,
			"SA-10 is a sub-assembly, whose place stays: move it where it is not in the way.", nil,
		},
		{"retire twice", func(w world) error {
			return second(w.RetirePlace(w.place["S1"]))
		}, store.NotFound, "S1 is out of use: choose another place.", func(w world) { w.must(second(w.RetirePlace(w.place["S1"]))) }},
		{
			"an item of another unit", func(w world) error { return second(w.PutItem(store.Item{Designation: "AN3-5A", Unit: measure.Pound})) }, store.Conflict,
			"AN3-5A is kept by ea here: its unit cannot change while there is stock of it.", nil,
		},
		{
			"an item of no unit", func(w world) error { return second(w.PutItem(store.Item{Designation: "AN3-5A"})) }, store.Invalid,
			"AN3-5A has no unit: say whether it is counted in ea, ft, lb or the like.", nil,
		},
		{"a minimum in another unit", func(w world) error {
			return second(w.PutItem(store.Item{Designation: "AN3-5A", Unit: measure.Each, Minimum: pounds}))
		}, store.Invalid, "AN3-5A is counted in ea: give its minimum in ea too.", nil},
		{"a number that is its own successor", func(w world) error {
			return second(w.PutEquivalent(store.Equivalent{Old: "AN960-10", New: "AN960-10", Source: "letter"}))
		}, store.Invalid, "AN960-10 is the old and the new number: give two different ones.", nil},
		{
			"a new number by hearsay", func(w world) error {
				return second(w.PutEquivalent(store.Equivalent{Old: "AN960-10", New: "NAS1149F0363P"}))
			}, store.Invalid,
			"The source of the new number is empty: type it.", nil,
		},
		{"a need of nothing", func(w world) error {
			return second(w.PutSubAssembly(store.SubAssembly{Code: "SA-20"}, store.Requirement{Item: "AN3-5A"}))
		}, store.Invalid, "SA-20 needs a quantity above zero of AN3-5A: correct the list.", nil},
		{
			"a name with a control character", func(w world) error { return second(w.PutItem(store.Item{Designation: "A\x00B", Unit: measure.Each})) }, store.Invalid,
			"A part number contains a control character: type it again.", nil,
		},
		{"a name that is too long", func(w world) error {
			return second(w.PutItem(store.Item{Designation: strings.Repeat("é", 201), Unit: measure.Each}))
		}, store.Invalid, "A part number is longer than 200 characters: shorten it.", nil},
		{
			"look up no item", func(w world) error { return second(w.Item("AN3-8A")) }, store.NotFound,
			"There is no item “AN3-8A” in this shop: look for it by another name.", nil,
		},
		{
			"look up no line", func(w world) error { return second(w.Line(w.ship, 99)) }, store.NotFound,
			"There is no packing list line 99 in this shop: look for it by another name.", nil,
		},
		{
			"look up no place", func(w world) error { return second(w.Place(nowhere)) }, store.NotFound,
			"There is no such place in this shop: look for it by another name.", nil,
		},
		{
			"look up no entry", func(w world) error { return second(w.Entry(99)) }, store.NotFound,
			"The journal has no entry 99: it may be of another shop.", nil,
		},
		{"more than can be kept", func(w world) error {
			return second(w.Move(store.Transfer{StockKey: w.in("AN3-5A", "A-01"), To: w.place["H103"]}))
		}, store.Invalid, "That is more than can be kept: correct the figure.", func(w world) {
			w.must(second(w.Move(w.to("AN3-5A", "H103", 4, "A-01"))))
			w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Of(measure.MaxQuantity, measure.Each))))
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.receive(1, found(24))
			if row.before != nil {
				row.before(w)
			}
			entries, stock := newestSeq(w), w.stock()
			err := row.do(w)
			wantRefusal(t, err, row.kind, row.sentence)
			if got := newestSeq(w); got != entries {
				t.Errorf("a refusal wrote entry %d", got)
			}
			w.wantStock(stock...)
		})
	}
}

func newestSeq(w world) uint64 {
	w.t.Helper()
	entries, err := w.Entries(0, 1)
	w.must(err)
	return entries[0].Seq
}

// arrival is a delivery of a crate on 2 April 2026 with its days to claim.
func arrival(crate string, damage, shortage int) store.Delivery {
	return store.Delivery{Crates: []string{crate}, Arrived: store.Date{Year: 2026, Month: 4, Day: 2}, DamageDays: days(damage), ShortageDays: days(shortage)}
}
