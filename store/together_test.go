package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func TestTogether(t *testing.T) {
	bolt := store.Item{Designation: "AN3-5A", Unit: measure.Each}
	bad := store.Item{Designation: ""}
	for _, row := range []struct {
		name    string
		do      func(*store.Shop) error
		entries int // in the journal, and told to listeners
		fails   bool
	}{
		{"all of them", func(s *store.Shop) error {
			if _, err := s.PutItem(bolt); err != nil {
				return err
			}
			p, _, err := s.AddPlace(store.Place{Kind: store.Bin, Name: "B-1"})
			if err != nil {
				return err
			}
			_, err = s.Count(store.StockKey{Item: bolt.Designation, Place: p.ID}, measure.Pieces(12))
			return err
		}, 3, false},
		{"none after an error", func(s *store.Shop) error {
			if _, err := s.PutItem(bolt); err != nil {
				return err
			}
			_, err := s.PutItem(bad)
			return err
		}, 0, true},
		{"none after an error that was passed over", func(s *store.Shop) error {
			_, _ = s.PutItem(bad)
			_, _ = s.PutItem(bolt)
			return nil
		}, 0, true},
		{"nothing", func(*store.Shop) error { return nil }, 0, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := storetest.Open(t, store.Options{})
			told := 0
			s.Listen(func(store.Entry) { told++ })
			if err := s.Together(row.do); (err != nil) != row.fails {
				t.Errorf("error %v, want one: %v", err, row.fails)
			}
			entries, err := s.Entries(0, 10)
			if err != nil || len(entries) != row.entries || told != row.entries {
				t.Errorf("%d entries, %d told, %v; want %d", len(entries), told, err, row.entries)
			}
		})
	}
}
