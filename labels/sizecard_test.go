package labels

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stowright/assets/fonts"
)

// Each piece of a cabinet is drawn at its real size with its name and place under it, rows do
// not run into each other and go over to the next page, and what is not drawn is named.
func TestSizingCard(t *testing.T) {
	card := SizingCard{Title: "Cabinet A"}
	for i := range 60 {
		d := block(4+float64(i), 3+float64(i%9)).Drawing
		card.Pieces = append(card.Pieces, SizedPiece{Name: fmt.Sprintf("AN3-%dA", i), Place: fmt.Sprintf("A-%02d", i), Piece: &d})
	}
	spar := block(900, 20).Drawing
	card.Pieces = append(card.Pieces, SizedPiece{Name: "OQ-20-001", Place: "R1", Piece: &spar}, SizedPiece{Name: "SEAL-B2", Place: "S4"})
	roll, err := StockNamed("crate-100x62")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := card.Layout(roll); err == nil || !strings.Contains(err.Error(), "choose a sheet") {
		t.Errorf("on a roll: %v", err)
	}
	doc, err := card.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	var pieces []Rect
	var words []string
	for _, page := range doc.Pages {
		var onPage []mark
		k := &inker{set: testSetter(t), glyphs: map[fonts.Face]map[rune]Rect{}}
		for _, m := range k.marks(t, Cell{Items: page.Items}) {
			if m.what != "the piece" {
				onPage = append(onPage, m)
			}
		}
		for _, it := range page.Items {
			if p, ok := it.(Path); ok && p.Closed {
				b := boundsOf(p.Points)
				pieces = append(pieces, b)
				onPage = append(onPage, mark{what: fmt.Sprintf("piece %d", len(pieces)), ink: b})
			}
			if text, ok := it.(Text); ok {
				words = append(words, text.Text)
			}
		}
		for i, a := range onPage {
			for _, b := range onPage[:i] {
				if touch(a.ink, b.ink) {
					t.Errorf("%q and %q overlap: %+v, %+v", b.what, a.what, b.ink, a.ink)
				}
			}
		}
	}
	if len(pieces) != 60 || len(doc.Pages) < 2 {
		t.Fatalf("%d pieces on %d pages, want 60 on several", len(pieces), len(doc.Pages))
	}
	for i, b := range pieces {
		if math.Abs(b.W-4-float64(i)) > 1e-9 || math.Abs(b.H-3-float64(i%9)) > 1e-9 {
			t.Errorf("piece %d is drawn %.3f x %.3f mm", i, b.W, b.H)
		}
	}
	all := strings.Join(words, "|")
	for _, want := range []string{"Cabinet A", "AN3-59A", "A-59", "1 in", "25 mm", "no source gives the figures: SEAL-B2", "larger than the page: OQ-20-001", Caution} {
		if !strings.Contains(all, want) {
			t.Errorf("the card does not say %q", want)
		}
	}
	if len(doc.Notes) != 1 || !strings.HasPrefix(doc.Notes[0].Text, "2 of 62 pieces") {
		t.Errorf("notes %v", doc.Notes)
	}
}
