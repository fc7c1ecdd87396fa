package store

import (
	"testing"

	"stowright/store/build"
	"stowright/store/measure"
)

// What was fitted of an item goes to the lines that ask for it, in their order.
func TestFittedIsSharedOverLines(t *testing.T) {
	sub := SubAssembly{Code: "SA-1"}
	listed := []Requirement{
		{Number: 1, Item: "AN3-5A", Needed: measure.Pieces(4)}, {Number: 2, Item: "AN3-7A", Needed: measure.Pieces(1)}, {Number: 3, Item: "AN3-5A", Needed: measure.Pieces(3)},
	}
	for _, row := range []struct {
		fitted      []int64
		first, last int64
	}{
		{[]int64{3}, 3, 0},
		{[]int64{6}, 4, 2},
		{[]int64{3, 2}, 4, 1},
		{[]int64{9}, 4, 5}, // more than is called stays on the last line
	} {
		var all []Fitted
		for _, n := range row.fitted {
			all = append(all, Fitted{SubAssembly: "SA-1", Item: "AN3-5A", Amount: Exact(measure.Pieces(n))})
		}
		all = append(all, Fitted{SubAssembly: "SA-2", Item: "AN3-5A", Amount: Exact(measure.Pieces(50))})
		got := subAssemblyRead(sub, listed, all)
		first, last := fittedOf(&got.Requirements[0]), fittedOf(&got.Requirements[2])
		if first != measure.Pieces(row.first).Micro || last != measure.Pieces(row.last).Micro || len(got.Requirements[1].Fitted) > 0 {
			t.Errorf("%v fitted: %d and %d, want %d and %d", row.fitted, first, last, row.first, row.last)
		}
	}
}

// Rooms and what stands in them count in their order, and a drawer knows its row.
func TestWalkingOrder(t *testing.T) {
	places := inWalkingOrder([]Place{
		{ID: "g", Kind: Room, Name: "Garage"},
		{ID: "h", Kind: Room, Name: "Hangar"},
		{ID: "a", Parent: "g", Kind: Cabinet, Name: "Cabinet A"},
		{ID: "a9", Parent: "a", Kind: Drawer, Name: "A-09", Row: 2, Column: 1},
		{ID: "s", Parent: "g", Kind: Rack, Name: "Shelf"},
		{ID: "s1", Parent: "s", Kind: Shelf, Name: "S1"},
		{ID: "s2", Parent: "s", Kind: Shelf, Name: "S2"},
		{ID: "b", Parent: "h", Kind: Cabinet, Name: "Cabinet B"},
	})
	want := map[string]build.Place{
		"a9": {ID: "a9", Name: "A-09", Row: 2, Column: 1},
		"s1": {ID: "s1", Name: "S1", Furniture: 1, Row: 1},
		"s2": {ID: "s2", Name: "S2", Furniture: 1, Row: 2},
		"b":  {ID: "b", Name: "Cabinet B", Room: 1},
	}
	for _, p := range places {
		if w, ok := want[p.ID]; ok && p != w {
			t.Errorf("%s is %+v, want %+v", p.ID, p, w)
		}
	}
}
