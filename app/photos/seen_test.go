package photos

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"stowright/store"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// album is a shop with a shelf and that many photographs of it.
func album(t *testing.T, n int) (*store.Shop, []store.Photo) {
	t.Helper()
	shop := storetest.Open(t, store.Options{})
	place, _, err := shop.AddPlace(store.Place{Kind: store.Shelf, Name: "S1"})
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		if _, _, err := shop.AddPhoto(store.OfPlace(place.ID), "side", phototest.JPEG(400, 100+i, uint64(i))); err != nil {
			t.Fatal(err)
		}
	}
	list, err := shop.Photos(store.OfPlace(place.ID))
	if err != nil {
		t.Fatal(err)
	}
	return shop, list
}

// Small pictures are remembered, as many as a few screens show and no more.
func TestSmall(t *testing.T) {
	shop, list := album(t, mostSmall+3)
	s := NewSeen(shop)
	first, err := s.Small(list[0].Number)
	if err != nil || first.Bounds().Dx() != smallSide || first.Bounds().Dy() != smallSide/4 {
		t.Fatalf("the first is %v, %v", first.Bounds(), err)
	}
	if again, err := s.Small(list[0].Number); again != first || err != nil {
		t.Errorf("it is read anew, %v", err)
	}
	for _, p := range list {
		if _, err := s.Small(p.Number); err != nil {
			t.Fatal(err)
		}
	}
	if len(s.small) != mostSmall || len(s.order) != mostSmall || s.small[list[0].Number] != nil {
		t.Errorf("%d are remembered, %d in order", len(s.small), len(s.order))
	}
	if large, err := s.Large(list[2].Number); err != nil || large.Bounds().Dy() != 102 {
		t.Errorf("the third, large: %v, %v", large, err)
	}
}

// The newest are shown; one whose picture is damaged says so and hides no other.
func TestCards(t *testing.T) {
	shop, list := album(t, 3)
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(shop.File())
	if err != nil {
		t.Fatal(err)
	}
	third := phototest.JPEG(400, 102, 2)
	file[bytes.Index(file, third[500:900])+7] ^= 1
	path := filepath.Join(t.TempDir(), "damaged.stow")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	damaged, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer damaged.Close()
	cards := NewSeen(damaged).Cards(list, 2)
	if len(cards) != 2 || cards[0].Name != "P-2" || cards[0].Picture == nil || cards[0].Caption != "side" || cards[0].When != "14 Mar 2026, Builder" {
		t.Errorf("cards %+v", cards)
	}
	if cards[1].Picture != nil || cards[1].Caption != "its picture cannot be read" {
		t.Errorf("the damaged one is %+v", cards[1])
	}
}

// What a route says of a subject leads back to it.
func TestAbout(t *testing.T) {
	for _, of := range []store.Subject{store.OfItem("AN3-5 A"), store.OfPlace("01K"), store.OfLine("01K", 28), store.OfPosition(store.PositionOf("Q", "Tail / left")), store.OfPosition(store.PositionOf("", "Tail"))} {
		if got, ok := SubjectOf(About(of)); !ok || got != of {
			t.Errorf("%q leads to %+v, %v", About(of), got, ok)
		}
	}
	for _, about := range []string{"", "item", "item ", "place", "line", "line 01K", "line 01K x", "shop 1", "position", "position Q\t"} {
		if of, ok := SubjectOf(about); ok {
			t.Errorf("%q leads to %+v", about, of)
		}
	}
}
