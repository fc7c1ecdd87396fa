package session_test

import (
	"testing"

	"stowright/app/demo"
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
