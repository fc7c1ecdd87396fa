package unpack

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/store"
	"stowright/store/measure"
)

// parcel is a shop in which 10 and 5 AN3-5A were ordered, and a parcel of 10 has come.
func parcel(t *testing.T) *bench {
	t.Helper()
	b := newBench(t, demo.Unpacked)
	_, _, err := b.s.Shop.Order(
		store.NewOrder{Order: store.Order{Supplier: "Bolt shop"}, Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(10)}}},
		store.NewOrder{Order: store.Order{Supplier: "Bolt shop"}, Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(5)}}},
	)
	if err != nil {
		t.Fatal(err)
	}
	ship, _, err := b.s.Shop.Import(store.NewShipment{Order: "F-1", Supplier: "Bolt shop", File: "f.csv", Fingerprint: "f", Lines: []store.NewLine{
		{Number: 1, Crate: "parcel", Designation: "AN3-5A", Listed: measure.Pieces(10), Status: store.Shipped},
		{Number: 2, Crate: "parcel", Designation: "AN3-6A", Listed: measure.Pieces(10), Status: store.Shipped},
	}})
	if err != nil {
		t.Fatal(err)
	}
	b.do(operation.Arrive{List: "F-1", Crates: []string{"parcel"}})
	b.open(ship.ID)
	return b
}

func (b *bench) owed() (words string) {
	b.t.Helper()
	all, err := b.s.Shop.Owing()
	if err != nil {
		b.t.Fatal(err)
	}
	for _, w := range all {
		words += w.Ref().String() + ": " + w.Owed.Number() + "; "
	}
	return words
}

// What comes by the number of what was ordered is offered once it is counted, and cleared
// when a person says so; Undo takes that back alone.
func TestOrderedIsOffered(t *testing.T) {
	b := parcel(t)
	b.to(1)
	b.keys("A")
	p := b.m.State().Prompt
	if p == nil || p.Question != "Is this the AN3-5A that was ordered?" || b.option() != "O-1 line 1 is owed 10 ea" || len(p.Options) != 3 {
		t.Fatalf("counted, it asks %+v", p)
	}
	if got := b.owed(); got != "O-1 line 1: 10; O-2 line 1: 5; " {
		t.Errorf("before it is said: %s", got)
	}
	b.keys("Enter")
	if got := b.owed(); got != "O-1 line 1: 0; O-2 line 1: 5; " || b.m.State().Prompt != nil {
		t.Errorf("it is O-1's: %s", got)
	}
	b.do(operation.Undo{})
	if got := b.owed(); got != "O-1 line 1: 10; O-2 line 1: 5; " || b.word(1) != "all here" {
		t.Errorf("undone: %s, line 1 %s", got, b.word(1))
	}
	b.to(2)
	b.keys("A")
	if p := b.m.State().Prompt; p != nil {
		t.Errorf("what was not ordered asks %+v", p)
	}
}

// Said to be something else, it is not asked again, and what is owed stays owed. Nothing
// found is nothing that came.
func TestOrderedIsSomethingElse(t *testing.T) {
	b := parcel(t)
	b.to(1)
	b.keys("N")
	if p := b.m.State().Prompt; p != nil {
		t.Fatalf("none found, it asks %+v", p)
	}
	b.to(1)
	b.keys("A", `"else"`, "Enter")
	if got := b.owed(); got != "O-1 line 1: 10; O-2 line 1: 5; " {
		t.Errorf("something else: %s", got)
	}
	b.to(1)
	b.keys("A")
	if p := b.m.State().Prompt; p != nil {
		t.Errorf("it is asked again: %+v", p)
	}
}
