package session_test

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
)

// BenchmarkItemCard is what a person waits for after each key in Find.
func BenchmarkItemCard(b *testing.B) {
	s := open(b, demo.Unpacked)
	for b.Loop() {
		if _, err := s.ItemCard("AN470AD4-7"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	s := open(b, demo.Unpacked)
	for b.Loop() {
		if _, _, err := s.Find("an4", 200); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlaceCard and BenchmarkCabinet are what a person waits for in Places.
func BenchmarkPlaceCard(b *testing.B) {
	s := open(b, demo.Unpacked)
	id := place(b, s, "S1").ID
	for b.Loop() {
		if _, err := s.PlaceCard(id); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCabinet(b *testing.B) {
	s := open(b, demo.Unpacked)
	id := place(b, s, "Cabinet A").ID
	for b.Loop() {
		c, err := s.Cabinet(id)
		if err != nil {
			b.Fatal(err)
		}
		session.NearestPair(s.Catalog(), c)
	}
}

// BenchmarkInShop is what Find shows before anything is typed.
func BenchmarkInShop(b *testing.B) {
	s := open(b, demo.Unpacked)
	for b.Loop() {
		if _, _, err := s.InShop(200); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLabels is a cabinet's labels before they are laid out.
func BenchmarkLabels(b *testing.B) {
	s := open(b, demo.Unpacked)
	drawers, err := s.PlacesMatching("Cabinet A")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := s.Labels(drawers); err != nil {
			b.Fatal(err)
		}
	}
}
