package labels

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"stowright/assets/fonts"
)

// inker measures what is inked of a text, glyph by glyph.
type inker struct {
	set    *setter
	glyphs map[fonts.Face]map[rune]Rect // in parts of the em, from the origin
}

func (k *inker) glyph(t testing.TB, f fonts.Face, r rune) Rect {
	if box, ok := k.glyphs[f][r]; ok {
		return box
	}
	font := k.set.faces[f].font
	units := fixed.I(int(font.UnitsPerEm()))
	glyph, err := font.GlyphIndex(&k.set.buffer, r)
	if err != nil {
		t.Fatal(err)
	}
	segments, err := font.LoadGlyph(&k.set.buffer, glyph, units, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, em := segments.Bounds(), float64(units)
	box := Rect{float64(b.Min.X) / em, float64(b.Min.Y) / em, float64(b.Max.X-b.Min.X) / em, float64(b.Max.Y-b.Min.Y) / em}
	// Round letters go a little over the flat ones, above and below.
	const over = 0.02
	top, bottom := box.Y, box.Bottom()
	if top < -capHeight && top > -capHeight-over {
		top = -capHeight
	}
	if bottom > 0 && bottom < over {
		bottom = 0
	}
	box.Y, box.H = top, bottom-top
	if k.glyphs[f] == nil {
		k.glyphs[f] = map[rune]Rect{}
	}
	k.glyphs[f][r] = box
	return box
}

// of is the ink of a line of text; without size for spaces alone.
func (k *inker) of(t testing.TB, text Text) Rect {
	var points []Point
	x := text.X
	for _, r := range text.Text {
		if b := k.glyph(t, text.Face, r); b.W > 0 {
			points = append(points, Point{x + b.X*text.Size, text.Y + b.Y*text.Size}, Point{x + b.Right()*text.Size, text.Y + b.Bottom()*text.Size})
		}
		a, _ := k.set.advance(text.Face, r)
		x += a * text.Size
	}
	return boundsOf(points)
}

// mark is a thing on a label that nothing else may touch.
type mark struct {
	what string
	ink  Rect
	box  bool // an outline that one text stands in
}

// marks are the things on a label: its texts, the box of the place, the piece, the code with
// its quiet zone.
func (k *inker) marks(t testing.TB, cell Cell) []mark {
	var list []mark
	var piece []Point
	for _, it := range cell.Items {
		switch it := it.(type) {
		case Text:
			if ink := k.of(t, it); ink.W > 0 {
				list = append(list, mark{what: it.Text, ink: ink})
			}
		case Box:
			list = append(list, mark{what: "the box", ink: it.Bounds(), box: true})
		case Code:
			list = append(list, mark{what: "the code", ink: it.Quiet()})
		case Path:
			b := it.Bounds()
			piece = append(piece, Point{b.X, b.Y}, Point{b.Right(), b.Bottom()})
		}
	}
	if len(piece) > 0 {
		list = append(list, mark{what: "the piece", ink: boundsOf(piece)})
	}
	return list
}

// touch reports whether two rectangles have more than a line in common.
func touch(a, b Rect) bool {
	const near = 0.02
	return a.X < b.Right()-near && b.X < a.Right()-near && a.Y < b.Bottom()-near && b.Y < a.Bottom()-near
}

// checkApart fails for things on a label that overlap each other or leave the label.
func (k *inker) checkApart(t interface {
	Errorf(format string, args ...any)
}, tb testing.TB, stock Stock, doc Document,
) {
	for _, page := range doc.Pages {
		for _, cell := range page.Cells {
			list := k.marks(tb, cell)
			for i, a := range list {
				if !a.ink.Inside(cell.Rect) {
					t.Errorf("%s: %q leaves the label: %+v of %+v", stock.Name, a.what, a.ink, cell.Rect)
				}
				for _, b := range list[:i] {
					if touch(a.ink, b.ink) && !(b.box && a.ink.Inside(b.ink)) && !(a.box && b.ink.Inside(a.ink)) {
						t.Errorf("%s: %q and %q overlap: %+v, %+v", stock.Name, b.what, a.what, b.ink, a.ink)
					}
				}
			}
		}
	}
}

// hardTexts are texts of every kind that a label may be given: long, in words, right to
// left, with accents and tails, and with signs outside the typefaces.
func hardTexts(t *testing.T) []string {
	names := longestDesignations(t, 200)
	return append([]string{
		names[0], names[100], names[199], "AN3-5A", "A-12", "SHELF-S4", "OQ-10-031-L", "Tank sealant two-part, gray", "Übergrößenträger für Ågren, ÅÇĢy",
		"Bolt, 10-32, grip 1/4, no pin hole", "next drawer; that one is 3/16 shorter", "בורג פלדה", "برغي من الفولاذ", "螺栓 M5", "🛩 tail kit", "e\u0301\u0301\u0301j",
		strings.Repeat("very ", 12) + "long", strings.Repeat("W", 60), strings.Repeat("gjpqy", 12), "(j) [j] {j} |", "",
	}, hostile...)
}

// Labels of which something once touched something else.
func TestFoundOverlaps(t *testing.T) {
	const words, long = "Übergrößenträger für Ågren, ÅÇĢy", "NAS1149C0332R"
	very := strings.Repeat("very ", 12) + "long"
	list := []Label{
		{Name: strings.Repeat("-", 80), Title: long, Place: long, Beware: Beware{long, long}, Due: words, Later: long},
		{Tag: "SP7K3M9QXD", Name: long, Title: long, Place: long, Beware: Beware{words, long}, Due: long, Later: long},
		{Name: long, Place: long, Beware: Beware{very, long}},
		{Tag: "SP7K3M9QXD", Name: strings.Repeat("W", 60), Place: long, Beware: Beware{long, ""}},
		{Name: long, Place: "e\u0301\u0301\u0301"},
	}
	k := &inker{set: testSetter(t), glyphs: map[fonts.Face]map[rune]Rect{}}
	for _, stock := range Stocks() {
		k.checkApart(t, t, stock, mustLayout(t, list, stock.Name, Options{}))
	}
}

// Nothing on a label touches anything else, on any stock, whatever the label says.
func TestNothingOverlaps(t *testing.T) {
	texts := hardTexts(t)
	k := &inker{set: testSetter(t), glyphs: map[fonts.Face]map[rune]Rect{}}
	block := func(w, h float64) *Drawing {
		return &Drawing{Strokes: []Path{{Points: []Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, Closed: true, Pen: 0.2}}}
	}
	pieces := []*Drawing{nil, bolt(), block(2, 2), block(600, 20), block(3, 90)}
	stocks := Stocks()
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.SampledFrom(texts)
		list := []Label{{
			Tag: rapid.SampledFrom([]string{"", "SP7K3M9QXD"}).Draw(rt, "tag"), Name: text.Draw(rt, "name"), Title: text.Draw(rt, "title"),
			Place: text.Draw(rt, "place"), PlacePath: text.Draw(rt, "path"), Beware: Beware{text.Draw(rt, "other"), text.Draw(rt, "why")},
			Piece: rapid.SampledFrom(pieces).Draw(rt, "piece"), Lines: slices.Clone(rapid.SliceOfN(text, 0, 4).Draw(rt, "lines")),
			Due: text.Draw(rt, "due"), Later: text.Draw(rt, "later"),
		}}
		every := 1
		if testing.Short() {
			every = 5
		}
		for n := rapid.IntRange(0, every-1).Draw(rt, "first stock"); n < len(stocks); n += every {
			stock := stocks[n]
			if rt.Failed() {
				return // one is enough, and its texts are made short
			}
			doc, err := Layout(list, stock, Options{})
			if err != nil {
				rt.Fatalf("%s: %v", stock.Name, err)
			}
			k.checkApart(rt, t, stock, doc)
		}
	})
}
