package labels

import (
	"image"
	"math"
	"strings"
	"testing"
)

// block is a rectangle that wide and high, drawn with a fine pen.
func block(w, h float64) NamedDrawing {
	return NamedDrawing{Drawing{[]Path{{Points: []Point{{5, 5}, {5 + w, 5}, {5 + w, 5 + h}, {5, 5 + h}}, Closed: true, Pen: 0.2}}}, "side"}
}

// The piece and both bars are measured on the page at 600 dots an inch.
func TestTrueSize(t *testing.T) {
	const wide, high = 16.66875, 9.525 // 21/32 by 3/8 in
	doc, err := TrueSize{Name: "AN3-5A", Title: "Bolt", Views: []NamedDrawing{block(wide, high)}, Notes: []string{"Source: a sheet"}}.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	perMM := 600 / inch
	img := rasterized(t, doc, 600, 150)
	var piece Rect
	var bars []Rect
	for _, it := range doc.Pages[0].Items {
		p, ok := it.(Path)
		switch {
		case ok && p.Closed:
			piece = boundsOf(p.Points)
		case ok && p.Points[0].Y == p.Points[1].Y:
			bars = append(bars, boundsOf(p.Points))
		}
	}
	if len(bars) != 2 || math.Abs(bars[0].W-25.4) > 1e-9 || math.Abs(bars[1].W-25) > 1e-9 || math.Abs(piece.W-wide) > 1e-9 {
		t.Fatalf("bars %v, piece %v", bars, piece)
	}
	// across is where ink begins and ends on the page along a line.
	across := func(at Rect, y float64) float64 {
		first, last := math.Inf(1), 0.0
		for i := int((at.X - 1) * perMM); i < int((at.Right()+1)*perMM); i++ {
			if p := image.Pt(i, int(y*perMM)); img.GrayAt(p.X, p.Y).Y < 128 {
				first, last = math.Min(first, float64(i)/perMM), math.Max(last, float64(i+1)/perMM)
			}
		}
		return last - first - rulerPen
	}
	for _, row := range []struct {
		name string
		at   Rect
		y    float64
		want float64
	}{{"1 in", bars[0], bars[0].Y - 1, 25.4}, {"25 mm", bars[1], bars[1].Y - 1, 25}, {"the piece", piece, piece.Y + piece.H/2, wide}} {
		if got := across(row.at, row.y); math.Abs(got-row.want) > 0.06 {
			t.Errorf("%s is %.3f mm on paper, want %.3f", row.name, got, row.want)
		}
	}
}

func TestTrueSizeText(t *testing.T) {
	doc, err := TrueSize{Name: "AN3-5A", Title: "Bolt, steel", Views: []NamedDrawing{block(10, 10)}, Notes: []string{"Source: NASM3-20"}}.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	text := tool(t, "pdftotext", "-layout", pdfFile(t, doc), "-")
	for _, want := range []string{"AN3-5A", "Bolt, steel", "1 in", "25 mm", "side", "Source: NASM3-20", Caution} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if _, err := (TrueSize{Name: "AN3-200", Views: []NamedDrawing{block(300, 10)}}).Layout(Stocks()[0]); err == nil || !strings.Contains(err.Error(), "does not fit a page") {
		t.Errorf("a piece longer than the page: %v", err)
	}
}
