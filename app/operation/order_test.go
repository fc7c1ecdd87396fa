package operation_test

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// What is typed of suppliers and supplies is read once; empty leaves, and none takes back.
func TestSupply(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"no name", operation.PutSupplier{}, "", "The name of the supplier is empty"},
		{"minimum without a currency", operation.PutSupplier{Name: "Bolt shop", Minimum: "20"}, "", `“20” says no currency`},
		{"minimum", operation.PutSupplier{Name: "Bolt shop", Minimum: "20 usd", Note: "by mail"}, "supplier Bolt shop described", ""},
		{"no part number", operation.PutSupply{Pack: "10"}, "", "Say which part number"},
		{"half a pack", operation.PutSupply{Item: "AN3-5A", Pack: "2.5"}, "", `"2.5" is no size of a pack`},
		{"a pack of none", operation.PutSupply{Item: "AN3-5A", Pack: "0"}, "", `"0" is no size of a pack`},
		{"half a spare", operation.PutSupply{Item: "AN3-5A", Spare: "2.5"}, "", "is no rule for spares"},
		{"twice a share", operation.PutSupply{Item: "AN3-5A", Spare: "10 % or 5 %"}, "", "says one thing twice"},
		{"in the currency that all have", operation.PutSupply{Item: "AN3-5A", Price: ".45"}, "AN3-5A: 0.45 USD each", ""},
		{
			"all of it",
			operation.PutSupply{Item: "an3-5a", Supplier: "bolt SHOP", Pack: "10", Least: "20", Spare: "learned or 10% or 2", Keep: "12"},
			"AN3-5A: from Bolt shop, packs of 10, at least 20 ea, 0.45 USD each, spare learned or 10 % or 2, never below 12 ea", "",
		},
		{"one thing alone", operation.PutSupply{Item: "AN3-5A", Pack: "25"}, "packs of 25, at least 20 ea, 0.45 USD each, spare learned or 10 % or 2, never below 12 ea", ""},
		{"taken back", operation.PutSupply{Item: "AN3-5A", Pack: "none", Least: "None", Price: "none", Spare: "none", Keep: "none", Supplier: "none"}, "AN3-5A: nothing is said of how it is bought", ""},
		{"of what only plans ask for", operation.PutSupply{Item: "SEAL-B2", Least: "1"}, "at least 1 qt", ""},
	})
	if item, err := b.Shop.Item("AN3-5A"); err != nil || !item.Minimum.IsZero() {
		t.Errorf("the minimum is %s, %v", item.Minimum, err)
	}
}

// Orders are named as people write them, and what is not on the list is not ordered.
func TestOrders(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"of nobody", operation.MarkOrdered{Supplier: "Bolt shop"}, "", "Nothing is to be ordered there"},
		{"what is not on it", operation.MarkOrdered{All: true, Items: []string{"AN3-7A"}}, "", "AN3-7A is not on the order list"},
		{"on no day", operation.MarkOrdered{All: true, On: "soon"}, "", "soon"},
		{"one item of it", operation.MarkOrdered{All: true, Items: []string{"an3-11"}, Promised: "2026-04-01"}, "O-1 ordered: 1 line", ""},
		{"it is on it no more", operation.MarkOrdered{All: true, Items: []string{"AN3-11"}}, "", "AN3-11 is not on the order list"},
		{"promised by its number", operation.PromiseOrder{Order: "o1", Day: "3 April 2026"}, "O-1: AN3-11 promised for 3 April 2026", ""},
		{"promised for nothing", operation.PromiseOrder{Order: "O-1", Day: ""}, "", "is not a date"},
		{"the only line of its number", operation.MatchOrder{Line: 42, Orders: []string{"O-1"}}, "line 42, AN3-11: it is O-1 line 1", ""},
		{"no order", operation.MatchOrder{Line: 42, Orders: []string{"none"}}, "line 42, AN3-11: not of an order", ""},
		{"another number", operation.MatchOrder{Line: 41, Orders: []string{"O-1"}}, "", "O-1 has no line of AN3-7A"},
		{"no such line", operation.CancelOrder{Order: "O-1 line 2", Reason: "x"}, "", "O-1 has no line 2"},
		{"canceled", operation.CancelOrder{Order: "O-1/1", Reason: "sold out"}, "O-1: AN3-11 canceled, sold out", ""},
	})
	_, _, err := b.Shop.Order(store.NewOrder{Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(1)}, {Item: "AN3-5A", Quantity: measure.Pieces(2)}}})
	if err != nil {
		t.Fatal(err)
	}
	check(t, b, operation.MatchOrder{Line: 39, Orders: []string{"O-2"}}, "", "O-2 has more than one line of AN3-5A")
}
