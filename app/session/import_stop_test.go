package session_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/measure"
	"stowright/store/progress"
)

// An import that is stopped while its safe copy is made changes nothing and leaves nothing,
// and can be done again.
func TestImportIsStopped(t *testing.T) {
	dir := t.TempDir()
	shop, err := store.Open(filepath.Join(dir, "shop.stow"), store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	if _, _, err := shop.AddPlace(store.Place{Kind: store.Room, Name: "Garage"}); err != nil {
		t.Fatal(err)
	}
	keeper := copies.NewKeeper(shop, "")
	ctx, stop := context.WithCancel(t.Context())
	told := false
	watching := progress.With(ctx, func(what string, _ float64) {
		told = what == "copying"
		stop() // as Ctrl+C does
	})
	list := store.NewShipment{File: "list.csv", Fingerprint: "1", Lines: []store.NewLine{{
		Number: 1, Crate: "C1", Designation: "AN3-5A", Title: "Bolt", Listed: measure.Pieces(4), Status: store.Shipped,
	}}}
	_, fresh, err := session.BringIn(watching, shop, keeper, list)
	if !errors.Is(err, context.Canceled) || fresh || !told {
		t.Errorf("got %v, fresh %v, told %v; want that it was stopped while copying", err, fresh, told)
	}
	if left, err := os.ReadDir(keeper.Folder()); err != nil || len(left) != 0 {
		t.Errorf("left: %v, %v", left, err)
	}
	if ships, err := shop.Shipments(); err != nil || len(ships) != 0 {
		t.Errorf("brought in: %v, %v", ships, err)
	}
	if _, fresh, err := session.BringIn(t.Context(), shop, keeper, list); err != nil || !fresh {
		t.Errorf("again: %v, fresh %v", err, fresh)
	}
}
