package store_test

import (
	"fmt"
	"os"
	"path/filepath"

	"stowright/store"
	"stowright/store/measure"
)

// A bag of bolts is received, stowed, and found again by its tag.
func Example() {
	folder, err := os.MkdirTemp("", "stowright")
	check(err)
	defer os.RemoveAll(folder)
	shop, err := store.Open(filepath.Join(folder, "shop.stow"), store.Options{Create: true})
	check(err)
	defer shop.Close()

	_, _, err = shop.AddCabinet(store.CabinetSpec{Name: "Cabinet A", Prefix: "A", Rows: 5, Columns: 8})
	check(err)
	ship, _, err := shop.Import(store.NewShipment{File: "list.csv", Fingerprint: "f", Lines: []store.NewLine{
		{Number: 1, Crate: "C1", Group: "H103", Designation: "AN3-5A", Listed: measure.Pieces(24), Status: store.Shipped},
	}})
	check(err)
	_, err = shop.Arrive(ship.ID, store.Delivery{Crates: []string{"C1"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 14}})
	check(err)
	_, err = shop.Receive(ship.ID, 1, store.Finding{Found: measure.Pieces(28), Counted: true})
	check(err)

	line, err := shop.Line(ship.ID, 1)
	check(err)
	fmt.Println(line.Describe(true))

	places, err := shop.Places()
	check(err)
	drawer := places[7]
	entry, err := shop.Stow(store.Transfer{StockKey: store.StockKey{Item: "AN3-5A", Place: line.Place}, To: drawer.ID})
	check(err)
	fmt.Println(entry.Text)

	r, err := shop.Resolve(string(drawer.Tag))
	check(err)
	fmt.Println(r.Sentence(), r.Contents[0].Item, r.Contents[0].Amount)
	// Output:
	// +4 over
	// AN3-5A: 28 ea stowed in A-07
	// Cabinet A, A-07 AN3-5A 28 ea
}

func check(err error) {
	if err != nil {
		panic(err)
	}
}
