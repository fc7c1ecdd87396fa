package operation_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"stowright/app/operation"
	"stowright/app/region"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// exampleShop is a shop in a folder of its own, in which a crate with one bag of bolts
// has arrived. Close closes it and takes the folder away.
func exampleShop() (s *session.Session, closed func()) {
	folder, err := os.MkdirTemp("", "stowright")
	must(err)
	shop, err := store.Open(filepath.Join(folder, "shop.stow"), store.Options{Create: true})
	must(err)
	s, err = session.Open(context.Background(), shop, session.Inline(), nil)
	must(err)
	ship, _, err := shop.Import(store.NewShipment{Order: "OK-1", File: "list.csv", Fingerprint: "f", Lines: []store.NewLine{
		{Number: 1, Crate: "C1", Group: "H103", Designation: "AN3-5A", Title: "Bolt", Listed: measure.Pieces(24), Status: store.Shipped},
	}})
	must(err)
	_, err = shop.Arrive(ship.ID, store.Delivery{Crates: []string{"C1"}, Arrived: shop.Today()})
	must(err)
	_, err = shop.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"}, store.Requirement{Item: "AN3-5A", Needed: measure.Pieces(6)})
	must(err)
	return s, func() {
		must(s.Close())
		must(os.RemoveAll(folder))
	}
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// show does operations and prints what each says.
func show(s *session.Session, operations ...operation.Operation) {
	for _, o := range operations {
		r, err := o.Do(context.Background(), s)
		if err != nil {
			fmt.Println("refused:", err)
			continue
		}
		fmt.Println(r.Words())
	}
}

// A bag is checked off, stowed in a new cabinet, and six of its bolts go into the fin.
func Example() {
	s, closed := exampleShop()
	defer closed()
	show(s,
		operation.AddPlace{Kind: store.Room, Name: "Garage"},
		operation.AddCabinet{Name: "Cabinet A", Prefix: "A", Rows: "5", Columns: "8", In: "garage"},
		operation.Receive{Line: 1, Found: "28"},
		operation.StowLine{Line: 1, To: "A-12"},
		operation.Take{Heap: operation.Heap{Item: "an3-5a"}, Amount: "6", For: "SA-10"},
		operation.Fit{Heap: operation.Heap{Item: "AN3-5A"}, For: "SA-10"},
	)
	// Output:
	// room Garage made
	// Cabinet A made with 40 drawers
	// line 1, AN3-5A: found 28 ea
	// AN3-5A: 28 ea stowed in A-12
	// AN3-5A: 6 ea pulled for SA-10 Fin
	// AN3-5A: 6 ea fitted in SA-10 Fin
}

// What can be read in two ways is asked for, and what makes no sense changes nothing.
func ExampleMove() {
	s, closed := exampleShop()
	defer closed()
	bolts := operation.Heap{Item: "AN3-5A"}
	show(s,
		operation.AddPlace{Kind: store.Shelf, Name: "S1"},
		operation.AddPlace{Kind: store.Shelf, Name: "S2"},
		operation.Receive{Line: 1},
		operation.Stow{Heap: bolts, To: "S1"},
		operation.Move{Heap: bolts, Amount: "8", To: "S2"},
		operation.Move{Heap: bolts, Amount: "4", To: "S1"},
		operation.Move{Heap: operation.Heap{Item: "AN3-5A", From: "S2"}, Amount: "1.5", To: "S1"},
		operation.Move{Heap: operation.Heap{Item: "AN3-5A", From: "S2"}, To: "S1"},
	)
	// Output:
	// shelf S1 made
	// shelf S2 made
	// line 1, AN3-5A: found 24 ea
	// AN3-5A: 24 ea stowed in S1
	// AN3-5A: 8 ea moved to S2
	// refused: AN3-5A is in 2 heaps: say which, by place or lot; the first is 16 ea in S1.
	// refused: 1.5 is not a whole number of pieces: count them again.
	// AN3-5A: 8 ea moved to S1
}

// Readings of a scale are kept as typed; what is not typed yet is distinguished from what is wrong.
func ExampleReadings() {
	r := operation.Readings{Unit: measure.Gram, Step: "0.1", Tare: "24.3", Pieces: "100", Net: "8.1"}
	_, err := r.Weighing(region.Region{})
	fmt.Println(err)
	r.Gross = "160.4"
	m, err := r.Weighing(region.Region{})
	must(err)
	n, err := m.Count()
	must(err)
	fmt.Println(store.AmountWeighed(n))
	// Output:
	// Type what the scale shows: the full container, and a sample of counted pieces.
	// about 1,680 ea (1,668 to 1,692)
}

// A bag that turns out to be mixed is one entry, and one Undo.
func ExampleSplit() {
	s, closed := exampleShop()
	defer closed()
	show(s,
		operation.Split{Line: 1, Left: "20", Parts: []operation.SplitPart{{Part: "AN3-6A", Amount: "4"}}},
		operation.Undo{},
		operation.Redo{},
	)
	// Output:
	// line 1, AN3-5A: found 20 ea; line 2, AN3-6A: found 4 ea
	// line 1, AN3-5A: found 20 ea; line 2, AN3-6A: found 4 ea
	// line 1, AN3-5A: found 20 ea; line 2, AN3-6A: found 4 ea
}
