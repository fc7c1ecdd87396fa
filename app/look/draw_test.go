package look

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/table"
	"stowright/labels"
)

// onPaper is a pen on a clear picture of that many pixels, two to the point.
func onPaper(w, h int) *pen {
	return &pen{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: 2, size: fyne.NewSize(float32(w)/2, float32(h)/2)}
}

// covered is the area that was drawn on, in points, by how dark each pixel is.
func covered(p *pen) float64 {
	var sum float64
	for i := 3; i < len(p.img.Pix); i += 4 {
		sum += float64(p.img.Pix[i]) / 255
	}
	return sum / p.scale / p.scale
}

// Areas and lines cover what geometry says, whichever way they wind or cross.
func TestPenCovers(t *testing.T) {
	square := []xy{{10, 10}, {30, 10}, {30, 30}, {10, 30}}
	back := []xy{{10, 10}, {10, 30}, {30, 30}, {30, 10}}
	for _, row := range []struct {
		name string
		draw func(p *pen)
		want float64
	}{
		{"area", func(p *pen) { p.fill(square, color.Black) }, 400},
		{"area the other way round", func(p *pen) { p.fill(back, color.Black) }, 400},
		{"two points are no area", func(p *pen) { p.fill(square[:2], color.Black) }, 0},
		{"line", func(p *pen) { p.stroke([]xy{{10, 20}, {40, 20}}, false, 2, color.Black) }, 60},
		{"line backwards", func(p *pen) { p.stroke([]xy{{40, 20}, {10, 20}}, false, 2, color.Black) }, 60},
		{"line of no length", func(p *pen) { p.stroke([]xy{{10, 20}, {10, 20}}, false, 2, color.Black) }, 0},
		{"crossing lines count once", func(p *pen) {
			z := p.rasterizer()
			p.addStroke(z, []xy{{10, 20}, {40, 20}}, false, 2)
			p.addStroke(z, []xy{{25, 40}, {25, 5}}, false, 2)
			p.paint(z, color.Black)
		}, 60 + 70 - 4},
		{"edge of a square", func(p *pen) { p.stroke(square, true, 2, color.Black) }, 4*40 - (4-math.Pi)*1},
		{"disc", func(p *pen) { p.fill(disc(xy{25, 25}, 10), color.Black) }, math.Pi * 100 * 0.974}, // 16 corners
		{"half of a dashed line", func(p *pen) { p.dashed([]xy{{5, 20}, {45, 20}}, 2, 4, 4, color.Black) }, 40},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := onPaper(100, 100)
			row.draw(p)
			if got := covered(p); math.Abs(got-row.want) > 0.8 {
				t.Errorf("covered: got %.2f square points, want %.2f", got, row.want)
			}
		})
	}
}

// The shapes of the tones differ without colour: each pair by a good part.
func TestToneShapesDiffer(t *testing.T) {
	start(t, Theme{})
	tones := []notice.Tone{notice.Quiet, notice.OK, notice.Warn, notice.Stop}
	shape := func(tone notice.Tone) *pen {
		p := onPaper(40, 40)
		p.toneShape(tone, color.Black, color.Transparent)
		return p
	}
	for i, a := range tones {
		for _, b := range tones[i+1:] {
			x, y := shape(a), shape(b)
			differ := 0
			for j := 3; j < len(x.img.Pix); j += 4 {
				if (x.img.Pix[j] > 127) != (y.img.Pix[j] > 127) {
					differ++
				}
			}
			if differ < 200 {
				t.Errorf("%v and %v differ in %d of 1600 pixels, want 200 or more", a, b, differ)
			}
		}
	}
}

func twoDimensions() drawing.Piece {
	return drawing.Piece{
		Paths: []drawing.Path{{Points: []drawing.Point{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 5}, {X: 0, Y: 5}}, Closed: true}},
		Dimensions: []drawing.Dimension{
			{A: drawing.Point{X: 0, Y: 5}, B: drawing.Point{X: 20, Y: 5}, Offset: 2, Text: "length"},
			{A: drawing.Point{X: 0, Y: 5}, B: drawing.Point{X: 6, Y: 5}, Offset: 1, Text: "grip"},
			{A: drawing.Point{X: 20, Y: 0}, B: drawing.Point{X: 20, Y: 5}, Offset: 1, Text: "thick"},
			{A: drawing.Point{X: 0, Y: 0}, B: drawing.Point{X: 20, Y: 0}, Offset: -1, Text: "above"},
		},
	}
}

// Dimension lines keep outside the piece, the one with the larger offset further
// out, and everything stays in the picture.
func TestPieceDimensions(t *testing.T) {
	start(t, Theme{})
	w := NewPieceView(twoDimensions())
	size := fyne.NewSize(300, w.HeightFor(300))
	w.Resize(size)
	j := w.project(size)
	lines := w.dimensions(j)
	top, bottom := j.at(drawing.Point{}), j.at(drawing.Point{X: 20, Y: 5})
	length, grip, thick, above := lines[0], lines[1], lines[2], lines[3]
	if !(length.a.y > grip.a.y && grip.a.y > bottom.y) {
		t.Errorf("below: piece ends at %.1f, grip at %.1f, length at %.1f; want them in this order", bottom.y, grip.a.y, length.a.y)
	}
	if above.a.y >= top.y || thick.a.x <= bottom.x {
		t.Errorf("above at %.1f (piece from %.1f), right at %.1f (piece to %.1f): want outside", above.a.y, top.y, thick.a.x, bottom.x)
	}
	for i, text := range test.WidgetRenderer(w).Objects()[1:] {
		at, s := text.Position(), text.Size()
		if at.X < 0 || at.Y < -1 || at.X+s.Width > size.Width+1 || at.Y+s.Height > size.Height+1 {
			t.Errorf("text %d at %v, %v: outside %v", i, at, s, size)
		}
	}
}

func TestPieceAtTrueSize(t *testing.T) {
	start(t, Theme{Shop: true})
	w := NewPieceView(twoDimensions())
	w.SetTrueSize(4)
	size := fyne.NewSize(400, w.HeightFor(400))
	j := w.project(size)
	if got := j.at(drawing.Point{X: 20}).x - j.at(drawing.Point{}).x; math.Abs(got-80) > 1e-6 {
		t.Errorf("20 mm at 4 points a millimetre: got %.3f points, want 80", got)
	}
	NewPieceView(drawing.Piece{}).Resize(fyne.NewSize(100, 100)) // nothing to draw, and no fault
}

func samplePage(t *testing.T) (labels.Page, labels.Stock) {
	t.Helper()
	stock := labels.Stocks()[0]
	doc, err := labels.Layout([]labels.Label{{Tag: "SP7K3M9QXD", Name: "AN3-5A", Place: "A-12"}}, stock, labels.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return doc.Pages[0], stock
}

// The code on screen is the code on paper: every module dark or light as the page
// says, at any size of the picture.
func TestSheetShowsTheCodeAsItPrints(t *testing.T) {
	start(t, Theme{Mode: Dark})
	page, _ := samplePage(t)
	s := NewSheetView(page)
	const scale = 6 // points a millimetre
	size := fyne.NewSize(float32(page.W*scale)+2, float32(page.H*scale)+2)
	s.Resize(size)
	p := &pen{img: image.NewRGBA(image.Rect(0, 0, int(size.Width), int(size.Height))), scale: 1, size: size}
	s.draw(p)
	x0, y0, mm := s.paper(size)
	seen := 0
	for _, item := range page.Cells[0].Items {
		code, ok := item.(labels.Code)
		if !ok {
			continue
		}
		dark := make(map[[2]int]bool)
		for _, r := range code.Runs {
			for i := range int(r.Len) {
				dark[[2]int{int(r.Row), int(r.Col) + i}] = true
			}
		}
		for row := range code.Size {
			for col := range code.Size {
				x := x0 + (code.X+(float64(col)+0.5)*code.Module)*mm
				y := y0 + (code.Y+(float64(row)+0.5)*code.Module)*mm
				got := p.img.RGBAAt(int(x), int(y)).R < 128
				if want := dark[[2]int{row, col}]; got != want {
					t.Errorf("module %d,%d: got dark %v, want %v", row, col, got, want)
				}
				seen++
			}
		}
	}
	if seen != 21*21 {
		t.Errorf("modules seen: got %d, want one code of 21 x 21", seen)
	}
}

// A letter on screen stands where it prints: its ink lies within the bounds that
// the page gives its text.
func TestSheetTextKeepsItsBounds(t *testing.T) {
	start(t, Theme{})
	text := labels.Text{X: 5, Y: 12, Size: 8, Width: 40, Face: 4, Text: "AN3-5A"}
	page := labels.Page{W: 60, H: 20, Items: []labels.Item{text}}
	s := NewSheetView(page)
	p := &pen{img: image.NewRGBA(image.Rect(0, 0, 602, 202)), scale: 1, size: fyne.NewSize(602, 202)}
	s.draw(p)
	b := text.Bounds()
	x0, y0, mm := s.paper(p.size)
	ink := 0
	for y := range 202 {
		for x := range 602 {
			if p.img.RGBAAt(x, y).R > 64 || x < 2 || x > 599 || y < 2 || y > 199 {
				continue
			}
			ink++
			mx, my := (float64(x)-x0)/mm, (float64(y)-y0)/mm
			if mx < b.X-0.2 || mx > b.Right()+0.2 || my < b.Y || my > b.Bottom() {
				t.Fatalf("ink at %.1f, %.1f mm: outside %+v", mx, my, b)
			}
		}
	}
	if ink < 500 {
		t.Errorf("dark pixels: got %d, want the letters", ink)
	}
}

func TestSheetTap(t *testing.T) {
	start(t, Theme{})
	page, _ := samplePage(t)
	s := NewSheetView(page)
	var x, y float64
	taps := 0
	s.OnTapped = func(a, b float64) { x, y, taps = a, b, taps+1 }
	s.Resize(fyne.NewSize(float32(page.W)*2+2, float32(page.H)*2+2))
	test.TapAt(s, fyne.NewPos(1+2*50, 1+2*30))
	if math.Abs(x-50) > 0.01 || math.Abs(y-30) > 0.01 {
		t.Errorf("tap: got %.2f, %.2f mm, want 50, 30", x, y)
	}
	s.Resize(fyne.NewSize(2000, 400)) // paper in the middle, room beside it
	test.TapAt(s, fyne.NewPos(5, 200))
	if taps != 1 {
		t.Errorf("tap beside the paper: told %d times, want 1 still", taps)
	}
}

// Three widgets as markup, since their structure is what a change would break.
func TestMarkup(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		name string
		make func() fyne.CanvasObject
	}{
		{"button", func() fyne.CanvasObject { return NewPrimary("Take out", "T", nil) }},
		{"mark", func() fyne.CanvasObject { return NewStateMark(notice.Mark{Word: "4 short", Tone: notice.Stop}) }},
		{"row", func() fyne.CanvasObject {
			l := NewRowList(table.Column{Title: "part", Kind: table.Names}, table.Column{Title: "state", Kind: table.States, Width: 120})
			l.SetRows([]table.Row{{ID: "1", Cells: []table.Cell{table.Name("AN3-5A", "Bolt"), table.State("all here", notice.OK)}}})
			return l
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := row.make()
			w := test.NewTempWindow(t, o)
			w.Resize(fyne.NewSize(320, 100))
			test.AssertRendersToMarkup(t, row.name+".xml", w.Canvas())
		})
	}
}
