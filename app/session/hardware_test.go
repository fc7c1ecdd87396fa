package session_test

import (
	"slices"
	"strings"
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
	if got, want := title(), hardware.BuildersOwn+": Bolt, 7/16-20, grip 7/16 ("+hardware.BuildersOwn+")"; got != want {
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

// beyond are rows that our tables do not reach.
func beyond() []hardware.OwnRow {
	row := func(dash string, eighths int64) hardware.OwnRow {
		return hardware.OwnRow{Designation: "AN7-" + dash, Source: "printed sheet", Figures: []hardware.OwnFigure{
			{Name: hardware.Grip, Length: measure.Inches(eighths*4+30, 32)}, {Name: hardware.LengthField, Length: measure.Inches(eighths*4+51, 32)},
		}}
	}
	return []hardware.OwnRow{row("70", 40), row("71", 41)}
}

// A number that only the builder's own figures hold is one everywhere: how it is
// spelled, found, drawn, titled, marked beside its look-alike, and labelled.
func TestOwnNumbersReachEverything(t *testing.T) {
	s := open(t, demo.Furnished)
	put := func(item, drawer string) {
		t.Helper()
		if _, err := s.Shop.Count(store.StockKey{Item: s.Canonical(item), Place: place(t, s, drawer).ID}, measure.Pieces(3)); err != nil {
			t.Fatal(err)
		}
	}
	if s.Canonical("an7 70a") == "AN7-70A" || s.NoSuchNumber("AN7-70A") == "" {
		t.Fatal("our tables hold AN7-70A: the test needs another number")
	}
	if _, err := s.Shop.PutFigures(beyond()); err != nil {
		t.Fatal(err)
	}
	put("an7 70a", "A-02")
	put("an7 71a", "A-03")
	if got := s.NoSuchNumber("AN7-70A"); got != "" {
		t.Errorf("doubted: %s", got)
	}
	const title = "Bolt, 7/16-20, grip 5-15/16 (" + hardware.BuildersOwn + ")"
	if found, _, err := s.Find("5-15/16 grip", 5); err != nil || len(found) == 0 || found[0].Item != "AN7-70A" || found[0].Title != title {
		t.Errorf("Find by the grip: %+v, %v", found, err)
	}
	picture, err := s.Cabinet(place(t, s, "Cabinet A").ID)
	if err != nil || !picture.Drawers[1].LookAlike || !picture.Drawers[2].LookAlike {
		t.Errorf("the drawers are not marked as look-alikes: %+v, %v", picture.Drawers[1:3], err)
	}
	if pair, ok := session.NearestPair(s.Catalog(), picture); !ok || pair.A.Designation != "AN7-70A" {
		t.Errorf("the nearest pair: %+v", pair)
	}
	label, err := s.Label(place(t, s, "A-02"))
	if err != nil || label.Name != "AN7-70A" || label.Title != title || label.Beware.Name != "AN7-71A" || label.Piece == nil {
		t.Errorf("the label: %+v, %v", label, err)
	}
	c, err := s.PieceCard("AN7-70A")
	if err != nil || !strings.HasSuffix(c.Title, "("+hardware.BuildersOwn+")") || len(c.Beware) == 0 {
		t.Errorf("the card: %+v, %v", c, err)
	}
	if where, _, err := s.SuggestPlace("AN7-72A", ""); err != nil || where.Place.Name == "A-01" {
		t.Errorf("a neighbour would lie in %s, %v", where.Place.Name, err)
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
