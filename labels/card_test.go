package labels

import (
	"slices"
	"strings"
	"testing"

	"stowright/assets/fonts"
)

// texts are the texts of the first label of a document.
func texts(doc Document) (list []Text) {
	for _, it := range doc.Pages[0].Cells[0].Items {
		if t, ok := it.(Text); ok {
			list = append(list, t)
		}
	}
	return list
}

// TestDue sets the dates of a crate: one line where it fits, else two, and the
// first date always bold.
func TestDue(t *testing.T) {
	cases := []struct {
		name, stock, due, later string
		want                    []string // in alphabetical order
	}{
		{"crate label", "crate-100x62", "damage by 19 March", "shortages by 13 April", []string{"damage by 19 March", "shortages by 13 April"}},
		{"low label", "letter-2x10", "damage by 19 March", "shortages by 13 April", []string{" · shortages by 13 April", "damage by 19 March"}},
		{"smallest card", "a4-5x13", "damage by 19 March", "shortages by 13 April", []string{"damage by 19 March", "shortages by 13 April"}},
		{"damage alone", "letter-3x10", "damage by 19 March", "", []string{"damage by 19 March"}},
		{"shortages alone", "letter-3x10", "", "shortages by 13 April", []string{"shortages by 13 April"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := mustLayout(t, []Label{{Tag: "SC4T0W8HNE", Name: "C2", Due: c.due, Later: c.later}}, c.stock, Options{})
			var got []string
			for _, text := range texts(doc) {
				if !strings.Contains(text.Text, " by ") {
					continue
				}
				got = append(got, text.Text)
				if bold := strings.HasPrefix(text.Text, "damage"); bold != (text.Face == fonts.TextBold) {
					t.Errorf("%q is set in %s", text.Text, text.Face)
				}
			}
			if slices.Sort(got); !slices.Equal(got, c.want) || len(doc.Notes) > 0 {
				t.Errorf("%q, notes %v, want %q", got, doc.Notes, c.want)
			}
		})
	}
}

// TestPieceMakesRoomForLines: a fact is worth more than the scale of a drawing.
func TestPieceMakesRoomForLines(t *testing.T) {
	label := samples()[0]
	for lines, want := range map[int]string{0: "1:1", 1: "1:1", 3: "1:2"} {
		label.Lines = slices.Repeat([]string{"plans: AN3-5"}, lines)
		doc := mustLayout(t, []Label{label}, "letter-3x10", Options{})
		got, kept := "", 0
		for _, text := range texts(doc) {
			if strings.HasPrefix(text.Text, "1:") {
				got = text.Text
			}
			if text.Text == "plans: AN3-5" {
				kept++
			}
		}
		if got != want || kept != lines {
			t.Errorf("%d lines: %d are kept beside a piece at %s, want all beside %s", lines, kept, got, want)
		}
	}
}

// TestEdgeOfThePaper keeps labels that touch the edge of the paper out of the
// border that the printer leaves white.
func TestEdgeOfThePaper(t *testing.T) {
	doc := mustLayout(t, repeat(samples(), 30), "a4-3x10", Options{})
	s := doc.Stock
	printable := Rect{s.Edge, s.Edge, s.PageW - 2*s.Edge, s.PageH - 2*s.Edge}
	for _, cell := range doc.Pages[0].Cells {
		for _, it := range cell.Items {
			b := it.Bounds()
			if text, ok := it.(Text); ok {
				b = Rect{text.X, text.Y - capHeight*text.Size, text.Width, capHeight * text.Size}
			}
			if !b.Inside(printable) {
				t.Errorf("label %d: %#v is outside the printable %+v", cell.Label, it, printable)
			}
		}
	}
}

// TestTapeIsCutToLength gives each label of a tape the length that it needs.
func TestTapeIsCutToLength(t *testing.T) {
	cases := []struct {
		name     string
		label    Label
		min, max float64
	}{
		{"short", Label{Tag: "SC4T0W8HNE", Name: "C2"}, shortestTape, 32},
		{"usual", samples()[0], 40, 70},
		{"long", Label{Tag: "SC4T0W8HNE", Name: strings.Repeat("LONG", 20)}, 90, 90},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			page := mustLayout(t, []Label{c.label}, "tape-12", Options{}).Pages[0]
			if page.W < c.min || page.W > c.max || page.H != 12 || page.Cells[0].W != page.W {
				t.Errorf("tape is %.1f x %.1f mm with a label of %.1f, want %.1f to %.1f x 12", page.W, page.H, page.Cells[0].W, c.min, c.max)
			}
		})
	}
}
