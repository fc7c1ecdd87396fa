package session_test

import (
	"slices"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// Own figures are used wherever the tables are, from the entry on and until it is undone.
func TestOwnFiguresAreUsed(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	if _, err := shop.PutItem(store.Item{Designation: "AN7-10A", Unit: measure.Each}); err != nil {
		t.Fatal(err)
	}
	s, err := session.Open(t.Context(), shop, session.Inline(), nil)
	if err != nil {
		t.Fatal(err)
	}
	title := func() string {
		t.Helper()
		stock, err := s.Stock("AN7-10A")
		if err != nil {
			t.Fatal(err)
		}
		return stock.Piece.Mark() + ": " + stock.Title
	}
	found := func() bool { return len(s.Index.Search("7/16 grip 7/16", 5).Hits) > 0 }
	before := title()
	row := hardware.OwnRow{Designation: "AN7-10", Source: "printed sheet", Figures: []hardware.OwnFigure{{Name: hardware.Grip, Length: measure.Inches(7, 16)}}}
	if _, err := shop.PutFigures([]hardware.OwnRow{row}); err != nil {
		t.Fatal(err)
	}
	if got, want := title(), hardware.BuildersOwn+": Bolt, 7/16-20, grip 7/16"; got != want {
		t.Errorf("with own figures: got %q, want %q", got, want)
	}
	if !found() {
		t.Error("the index does not know the own figures")
	}
	if _, err := shop.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := title(); got != before {
		t.Errorf("after undo: got %q, want %q", got, before)
	}
}

func TestAtHand(t *testing.T) {
	s := open(t, demo.Unpacked)
	have, err := session.AtHand(s.Shop)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(have, "AN3-5A") || slices.Contains(have, "AN3-11A") || !slices.IsSorted(have) || len(slices.Compact(slices.Clone(have))) != len(have) {
		t.Errorf("at hand: %q, want each once, AN3-5A among them, and not AN3-11A, which is set apart", have)
	}
}
