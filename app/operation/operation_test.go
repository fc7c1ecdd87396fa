package operation_test

import (
	"context"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/app/wording"
	"stowright/store"
)

// check does an operation and holds what it says against what it should: the words of the
// entry, or a part of the sentence that refuses it. What is refused leaves no entry.
func check(t *testing.T, b *sessiontest.Bench, o operation.Operation, words, refuse string) operation.Result {
	t.Helper()
	before := b.Journal()
	r, err := o.Do(context.Background(), b.Session)
	b.Drain()
	got := wording.Error(err)
	switch {
	case refuse != "":
		if !strings.Contains(got, refuse) || b.Journal() != before {
			t.Errorf("%#v: got %q (%q), want it refused with %q and no entry", o, r.Words(), got, refuse)
		}
	case err != nil || !strings.Contains(r.Words(), words) || r.Entry.Seq == 0:
		t.Errorf("%#v: got %q, %q, want %q", o, r.Words(), got, words)
	}
	return r
}

// row is an operation with what it says, or why it is refused.
type row struct {
	name          string
	do            operation.Operation
	words, refuse string
}

// each does each operation on the same shop, one after the other.
func each(t *testing.T, b *sessiontest.Bench, rows []row) {
	t.Helper()
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) { check(t, b, r.do, r.words, r.refuse) })
	}
}

func item(designation string) operation.Heap { return operation.Heap{Item: designation} }

func TestStock(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	a12 := b.Place("A-12")
	key := operation.Heap{Key: store.StockKey{Item: "AN3-5A", Place: a12.ID}}
	nowhere := operation.Heap{Key: store.StockKey{Item: "AN3-5A", Place: b.Place("A-04").ID}}
	each(t, b, []row{
		{"count by number", operation.Count{Heap: item(" an3-5a "), Counted: " 27 "}, "counted AN3-5A in A-12: 27 ea", ""},
		{"count by key", operation.Count{Heap: key, Counted: "28"}, "counted AN3-5A in A-12: 28 ea", ""},
		{"count nothing typed", operation.Count{Heap: key, Counted: " "}, "", "Type how many there are."},
		{"count words", operation.Count{Heap: key, Counted: "many"}, "", `"many" is not an amount: type a number such as 12.`},
		{"count half a bolt", operation.Count{Heap: key, Counted: "1.5"}, "", "1.5 is not a whole number of pieces"},
		{"count pounds in words", operation.Count{Heap: item("AN470AD4-4"), Counted: "some"}, "", `"some" is not an amount in pounds`},
		{"count by tag of the place", operation.Count{Heap: operation.Heap{Item: "AN3-5A", From: string(a12.Tag)}, Counted: "28"}, "in A-12: 28 ea", ""},
		{"count where none was", operation.Count{Heap: operation.Heap{Item: "AN3-5A", From: "A-04"}, Counted: "3"}, "counted AN3-5A in A-04: 3 ea", ""},
		{"two heaps now", operation.Count{Heap: item("AN3-5A"), Counted: "3"}, "", "AN3-5A is in 2 heaps: say which"},
		{"undo", operation.Undo{}, "counted AN3-5A in A-04", ""},
		{"count of an unknown item", operation.Count{Heap: operation.Heap{Item: "AN3-8", From: "A-04"}, Counted: "3"}, "", "AN3-8"},

		{"move some", operation.Move{Heap: key, Amount: "8", To: "a-04"}, "AN3-5A: 8 ea moved to A-04", ""},
		{"move it back whole", operation.Move{Heap: nowhere, To: a12.ID}, "AN3-5A: 8 ea moved to A-12", ""},
		{"move what is not there", operation.Move{Heap: nowhere, To: a12.ID}, "", "There is no AN3-5A there"},
		{"move nothing", operation.Move{Heap: key, Amount: "0", To: "A-04"}, "", `"0" moves nothing`},
		{"move all, in words", operation.Move{Heap: key, Amount: "all", To: "A-04"}, "", "is not an amount"},
		{"move nowhere", operation.Move{Heap: key, To: ""}, "", "No place of this shop is called"},
		{"move too many", operation.Move{Heap: key, Amount: "29", To: "A-04"}, "", "28 ea"},
		{"stow what is in no bag", operation.Stow{Heap: item("AN3-5A"), To: "A-04"}, "", "There is no AN3-5A there"},

		{"put more in", operation.PutIn{Item: "an3-5a", Amount: "2", Place: a12.ID, Meeting: store.PourLots}, "AN3-5A: 2 ea put in A-12, poured together to 30 ea", ""},
		{"put more in without an answer", operation.PutIn{Item: "an3-5a", Amount: "2", Place: a12.ID}, "", "poured together or kept apart"},
		{"put in what the shop does not know", operation.PutIn{Item: "Zip ties", Amount: "100", Place: "A-04"}, "Zip ties: 100 ea put in A-04", ""},
		{"put in none", operation.PutIn{Item: "AN3-5A", Amount: "0", Place: "A-04"}, "", "Type how many go in"},
		{"put in words", operation.PutIn{Item: "AN3-5A", Amount: "a few", Place: "A-04"}, "", "Type how many go in"},
		{"put in half a bolt", operation.PutIn{Item: "AN3-5A", Amount: ".5", Place: "A-04"}, "", "not a whole number of pieces"},
		{"put into nothing", operation.PutIn{Item: "AN3-5A", Amount: "1", Place: "Attic"}, "", `"Attic"`},

		{"scrap", operation.Scrap{Heap: key, Amount: "2", Reason: "bent"}, "AN3-5A: 2 ea scrapped, bent", ""},
		{"scrap how many", operation.Scrap{Heap: key, Reason: "bent"}, "", "Type how many"},
		{"scrap for no reason", operation.Scrap{Heap: key, Amount: "1"}, "", "reason"},
		{"redo nothing", operation.Redo{}, "", "There is nothing to redo"},
	})
}

func TestPlaces(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	made := check(t, b, operation.AddPlace{Kind: store.Room, Name: "Hangar"}, "room Hangar made", "")
	if made.Place.ID == "" || made.Place.Tag == "" {
		t.Errorf("the room was made as %+v, want it with its id and its tag", made.Place)
	}
	garage := b.Place("Garage")
	each(t, b, []row{
		{"a kind of its own", operation.AddPlace{Kind: "castle", Name: "Keep"}, "", "castle"},
		{"in nothing", operation.AddPlace{Kind: store.Shelf, Name: "S9", In: "Attic"}, "", `"Attic"`},
		{"cabinet", operation.AddCabinet{Name: "Cabinet B", Prefix: "B", Rows: " 2 ", Columns: "3", In: garage.ID}, "Cabinet B made with 6 drawers", ""},
		{"cabinet of words", operation.AddCabinet{Name: "Cabinet C", Prefix: "C", Rows: "two", Columns: "3"}, "", `The number of rows is a whole number such as 5, not "two".`},
		{"cabinet of half a column", operation.AddCabinet{Name: "Cabinet C", Prefix: "C", Rows: "2", Columns: "1.5"}, "", "The number of columns"},
		{"move into the room", operation.MovePlace{Place: "Cabinet B", To: string(made.Place.Tag)}, "Cabinet B", ""},
		{"move by itself", operation.MovePlace{Place: "Hangar, Cabinet B"}, "Cabinet B", ""},
		{"move into itself", operation.MovePlace{Place: "Cabinet B", To: "B-01"}, "", "Cabinet B"},
		{"rename", operation.RenamePlace{Place: "B-06", Name: "B-06 odds"}, "B-06 odds", ""},
		{"rename to nothing", operation.RenamePlace{Place: "B-05", Name: " "}, "", "name"},
		{"retire", operation.RetirePlace{Place: "b-06 odds"}, "B-06 odds", ""},
		{"retire it again", operation.RetirePlace{Place: "B-06 odds"}, "", "No place of this shop is called"},
		{"retire what is not empty", operation.RetirePlace{Place: "A-12"}, "", "A-12"},
	})
}
