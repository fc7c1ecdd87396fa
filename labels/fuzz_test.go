package labels

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
)

// hostile are texts that were chosen to break a layout.
var hostile = []string{
	"", " ", "\x00", "\xff\xfe", "A", strings.Repeat("W", 5000), strings.Repeat("a b ", 900), strings.Repeat("-", 80),
	"AN470AD4-7" + strings.Repeat("-1", 60), "\u202eAN3\u202c", "e\u0301\u0301\u0301\u0301", "ẾẾẾ", "螺栓 M5", "🛩🛩🛩",
	"line\nline\r\nline", "(\\)) Tj ET", "\ufeff", "ＡＮ３",
}

// TestHostileTexts puts each hostile text into every field of a label on every
// stock: no panic, nothing outside the cell, and a PDF that can be written.
func TestHostileTexts(t *testing.T) {
	for _, stock := range Stocks() {
		t.Run(stock.Name, func(t *testing.T) {
			var list []Label
			for _, s := range hostile {
				list = append(
					list,
					Label{Tag: "SP7K3M9QXD", Name: s, Title: s, Place: s, PlacePath: s, Beware: Beware{s, s}, Piece: bolt(), Lines: []string{s, s}, Due: s, Later: s},
					Label{Name: s, Place: s},
					Label{Name: "AN3-5A", Place: "A-12", Title: s, Beware: Beware{"AN3-6A", s}},
				)
			}
			doc := mustLayout(t, list, stock.Name, Options{})
			checkInside(t, doc)
			if _, err := Picture(doc.Pages[0], 2); err != nil {
				t.Error(err)
			}
			if err := PDF(&bytes.Buffer{}, doc, PDFOptions{Made: made}); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestHostileDrawings gives drawings that no piece has.
func TestHostileDrawings(t *testing.T) {
	line := func(a, b Point) *Drawing { return &Drawing{Strokes: []Path{{Points: []Point{a, b}, Pen: 0.2}}} }
	cases := []struct {
		name  string
		piece *Drawing
		drawn bool
		note  string
	}{
		{"no strokes", &Drawing{}, false, ""},
		{"no points", &Drawing{Strokes: []Path{{}}}, false, "the drawing of the piece has no size and is left out"},
		{"a point", line(Point{}, Point{}), false, "the drawing of the piece has no size and is left out"},
		{"not a number", line(Point{}, Point{math.NaN(), 1}), false, "the drawing of the piece has no size and is left out"},
		{"infinite", line(Point{}, Point{math.Inf(1), 1}), false, "the drawing of the piece has no size and is left out"},
		{"far from the origin", line(Point{-5000, 9000}, Point{-4990, 9000}), true, ""},
		{"a spar", line(Point{}, Point{2400, 60}), true, "the piece does not fit at true size and is drawn at 1:80"},
		{"a mast", line(Point{}, Point{0, 90000}), false, "there is no room for the drawing of the piece"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := mustLayout(t, []Label{{Tag: "SP7K3M9QXD", Name: "AN3-5A", Piece: c.piece}}, "letter-3x10", Options{})
			checkInside(t, doc)
			drawn, note := false, ""
			for _, it := range doc.Pages[0].Cells[0].Items {
				if _, ok := it.(Path); ok {
					drawn = true
				}
			}
			for _, n := range doc.Notes {
				note += n.Text
			}
			if drawn != c.drawn || note != c.note {
				t.Errorf("drawn %t, note %q, want %t, %q", drawn, note, c.drawn, c.note)
			}
		})
	}
}

// FuzzLayout lays one label out on stock of any size.
func FuzzLayout(f *testing.F) {
	for i, s := range hostile {
		f.Add("AN3-5A", s, "A-12", s, uint16(667), uint16(254), uint8(8|64|i))
		f.Add(s, "Bolt", s, "longer", uint16(100+50*i), uint16(60+40*i), uint8(i))
	}
	f.Fuzz(func(t *testing.T, name, title, place, beware string, tenthsW, tenthsH uint16, flags uint8) {
		w, h := float64(tenthsW%3000)/10, float64(tenthsH%3000)/10
		stock := Stock{
			Name: "fuzz", Words: "fuzz", PageW: w, PageH: h, Cols: 1, Rows: 1, CellW: w, CellH: h,
			Edge: float64(flags & 3), Dot: rollDot, Tape: flags&4 != 0,
		}
		label := Label{Name: name, Title: title, Place: place, Beware: Beware{name, beware}, Lines: []string{title, beware}, Due: beware, Later: title}
		if flags&8 != 0 {
			label.Tag = "SP7K3M9QXD"
		}
		if flags&16 != 0 {
			label.Piece = bolt()
		}
		doc, err := Layout([]Label{label}, stock, Options{CutMarks: flags&32 != 0})
		if err != nil {
			var labelErr *LabelError
			if stock.Check() == nil && !errors.As(err, &labelErr) {
				t.Errorf("layout on %.1f x %.1f: %v, want a *LabelError", w, h, err)
			}
			return
		}
		checkInside(t, doc)
		if flags&64 == 0 {
			return // a PDF takes most of the time
		}
		if err := PDF(&bytes.Buffer{}, doc, PDFOptions{Made: made}); err != nil {
			t.Error(err)
		}
	})
}
