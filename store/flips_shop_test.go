package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"stowright/store/measure"
	"stowright/store/phototest"
)

// largeShop is the bytes of a shop in which every table that grows has branches: the demo
// shop of an older layout, brought up to this one, and more of everything. It is made once,
// and not to be changed.
func largeShop(t *testing.T) []byte {
	t.Helper()
	large.once.Do(func() { large.file = makeLargeShop(t) })
	if large.file == nil {
		t.Fatal("the large shop could not be made")
	}
	return large.file
}

var large struct {
	once sync.Once
	file []byte
}

func makeLargeShop(t *testing.T) []byte {
	t.Helper()
	path := unpackKept(t, "format4.stow")
	s, err := Open(path, fixedOptions())
	if err != nil {
		t.Fatal(err)
	}
	var drawers []Place
	err = s.Together(func(g *Shop) error {
		for _, name := range []string{"X", "Y"} {
			cabinet, _, err := g.AddCabinet(CabinetSpec{Name: "Cabinet " + name, Prefix: name, Rows: 10, Columns: 10})
			if err != nil {
				return err
			}
			list, err := g.Children(cabinet.ID)
			if err != nil {
				return err
			}
			drawers = append(drawers, list...)
		}
		for i := range 600 {
			if _, err := g.Count(StockKey{Item: fmt.Sprintf("WL-%03d-%s", i%150, strings.Repeat("L", i%7)), Place: drawers[i%len(drawers)].ID}, measure.Pieces(int64(i+1))); err != nil {
				return err
			}
		}
		list := NewShipment{File: "long.csv", Fingerprint: "long"}
		for i := range 200 {
			list.Lines = append(list.Lines, NewLine{Number: i + 1, Crate: fmt.Sprintf("C%d", i/50), Group: fmt.Sprintf("G%d", i/5), Designation: fmt.Sprintf("WL-%03d-", i), Listed: measure.Pieces(4), Status: Shipped})
		}
		if _, _, err := g.Import(list); err != nil {
			return err
		}
		for i := range 40 {
			if _, _, err := g.AddPhoto(OfPlace(drawers[i].ID), "", phototest.JPEG(24, 16, uint64(i))); err != nil {
				return err
			}
		}
		for range 200 { // each of a pair marks an entry as undone
			if _, err := g.Count(StockKey{Item: "WL-001-L", Place: drawers[3].ID}, measure.Pieces(5)); err != nil {
				return err
			}
			if _, err := g.Undo(); err != nil {
				return err
			}
		}
		return nil
	})
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// fixedOptions open a shop in which the same verbs give the same entries.
func fixedOptions() Options {
	return Options{BeforeUpgrade: noCopy, Clock: func() time.Time { return time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC) }, Random: rand.NewChaCha8([32]byte{1})}
}
