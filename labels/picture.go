package labels

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// maxPixels bounds a picture: an A4 sheet at 600 dots an inch is 35 million.
const maxPixels = 64_000_000

// Picture draws a page at so many pixels to the millimetre, black on white, from
// the same display list as the PDF.
func Picture(p Page, perMM float64) (*image.RGBA, error) {
	w, h := math.Ceil(p.W*perMM-1e-6), math.Ceil(p.H*perMM-1e-6)
	if !(w >= 1 && h >= 1 && w*h <= maxPixels) {
		return nil, fmt.Errorf("a picture of %.0f x %.0f pixels is not between one pixel and %d million", w, h, maxPixels/1_000_000)
	}
	set, err := newSetter()
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, int(w), int(h)))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	b := &brush{img: img, perMM: perMM, set: set}
	for _, items := range p.layers() {
		for _, it := range items {
			b.item(it)
		}
	}
	return img, nil
}

// brush fills outlines given in millimetres into a picture.
type brush struct {
	img    *image.RGBA
	perMM  float64
	set    *setter
	raster vector.Rasterizer
	origin Point // top left of the raster on the page, pixels
}

// begin sizes the raster to a rectangle of the page. It reports false for one that is
// outside the page, or so large that the raster's numbers would overflow; no layout
// makes such a one.
func (b *brush) begin(r Rect) bool {
	size := b.img.Bounds().Size()
	w, h := float64(size.X)/b.perMM, float64(size.Y)/b.perMM
	if !r.Inside(Rect{-w, -h, 3 * w, 3 * h}) {
		return false
	}
	edge := func(v float64) int { return int(v * b.perMM) }
	box := image.Rect(edge(r.X)-1, edge(r.Y)-1, edge(r.Right())+2, edge(r.Bottom())+2).Intersect(b.img.Bounds())
	if box.Empty() {
		return false
	}
	b.origin = Point{float64(box.Min.X), float64(box.Min.Y)}
	b.raster.Reset(box.Dx(), box.Dy())
	return true
}

// end paints what was outlined since begin.
func (b *brush) end(ink Ink) {
	grey := uint8(ink.grey())
	size := b.raster.Size()
	at := image.Pt(int(b.origin.X), int(b.origin.Y))
	b.raster.Draw(b.img, image.Rectangle{at, at.Add(size)}, image.NewUniform(color.RGBA{grey, grey, grey, 255}), image.Point{})
}

func (b *brush) pixel(p Point) (x, y float32) {
	return float32(p.X*b.perMM - b.origin.X), float32(p.Y*b.perMM - b.origin.Y)
}

func (b *brush) polygon(points ...Point) {
	for i, p := range points {
		x, y := b.pixel(p)
		if i == 0 {
			b.raster.MoveTo(x, y)
		} else {
			b.raster.LineTo(x, y)
		}
	}
	b.raster.ClosePath()
}

func (b *brush) rect(r Rect) {
	b.polygon(Point{r.X, r.Y}, Point{r.Right(), r.Y}, Point{r.Right(), r.Bottom()}, Point{r.X, r.Bottom()})
}

func (b *brush) item(it Item) {
	if !b.begin(it.Bounds()) {
		return
	}
	switch it := it.(type) {
	case Image:
		b.photograph(it)
	case Fill:
		b.rect(it.Rect)
		b.end(it.Ink)
	case Code:
		for _, r := range it.Rects() {
			b.rect(r)
		}
		b.end(Black)
	case Box:
		b.box(it)
		b.end(it.Ink)
	case Path:
		b.path(it)
	case Text:
		b.text(it)
		b.end(it.Ink)
	}
}

// box outlines a rounded rectangle and, the other way round, the hole in it.
// photograph draws a photograph; one that cannot be read is left white, as the file for
// the printer is refused then.
func (b *brush) photograph(i Image) {
	file, err := i.file()
	if err != nil {
		return
	}
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		return
	}
	at := image.Rect(int(i.X*b.perMM), int(i.Y*b.perMM), int(i.Right()*b.perMM), int(i.Bottom()*b.perMM))
	xdraw.ApproxBiLinear.Scale(b.img, at, img, img.Bounds(), draw.Src, nil)
}

func (b *brush) box(box Box) {
	half := box.Pen / 2
	for _, side := range []float64{half, -half} {
		r := Rect{box.X - side, box.Y - side, box.W + 2*side, box.H + 2*side}
		ring := roundedRing(r, max(0, box.Radius+side))
		if side < 0 {
			for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
				ring[i], ring[j] = ring[j], ring[i]
			}
		}
		b.polygon(ring...)
	}
}

// roundedRing is the edge of a rectangle with rounded corners, clockwise.
func roundedRing(r Rect, radius float64) []Point {
	const steps = 8 // to a quarter circle
	radius = min(radius, r.W/2, r.H/2)
	centres := []Point{
		{r.Right() - radius, r.Y + radius},
		{r.Right() - radius, r.Bottom() - radius},
		{r.X + radius, r.Bottom() - radius},
		{r.X + radius, r.Y + radius},
	}
	var ring []Point
	for quarter, c := range centres {
		for i := range steps + 1 {
			sin, cos := math.Sincos((float64(quarter) - 1 + float64(i)/steps) * math.Pi / 2)
			ring = append(ring, Point{c.X + radius*cos, c.Y + radius*sin})
		}
	}
	return ring
}

func (b *brush) path(p Path) {
	if p.Filled {
		b.polygon(p.Points...)
		b.end(p.Ink)
		return
	}
	for _, s := range p.segments() {
		b.stroke(s[0], s[1], p.Pen)
	}
	b.end(p.Ink)
}

// stroke outlines a line, extended by half a pen at both ends. All strokes have the same
// winding, so that overlaps do not cancel out.
func (b *brush) stroke(from, to Point, pen float64) {
	dx, dy := to.X-from.X, to.Y-from.Y
	length := math.Hypot(dx, dy)
	if length == 0 {
		dx, length = 1, 1
	}
	dx, dy = dx/length*pen/2, dy/length*pen/2
	b.polygon(
		Point{from.X - dx + dy, from.Y - dy - dx}, Point{to.X + dx + dy, to.Y + dy - dx},
		Point{to.X + dx - dy, to.Y + dy + dx}, Point{from.X - dx - dy, from.Y - dy + dx},
	)
}

// text outlines the glyphs of a line.
func (b *brush) text(t Text) {
	face := b.set.faces[t.Face]
	if face == nil {
		return
	}
	units := fixed.I(int(face.font.UnitsPerEm()))
	scale := t.Size / float64(units)
	x := t.X
	for _, r := range t.Text {
		a, _ := b.set.advance(t.Face, r)
		glyph, err := face.font.GlyphIndex(&b.set.buffer, r)
		if err != nil {
			continue
		}
		segments, err := face.font.LoadGlyph(&b.set.buffer, glyph, units, nil)
		if err != nil {
			continue
		}
		b.glyph(segments, func(p fixed.Point26_6) (float32, float32) {
			return b.pixel(Point{x + float64(p.X)*scale, t.Y + float64(p.Y)*scale})
		})
		x += a * t.Size
	}
}

func (b *brush) glyph(segments sfnt.Segments, at func(fixed.Point26_6) (float32, float32)) {
	for _, s := range segments {
		x0, y0 := at(s.Args[0])
		x1, y1 := at(s.Args[1])
		x2, y2 := at(s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			b.raster.ClosePath()
			b.raster.MoveTo(x0, y0)
		case sfnt.SegmentOpLineTo:
			b.raster.LineTo(x0, y0)
		case sfnt.SegmentOpQuadTo:
			b.raster.QuadTo(x0, y0, x1, y1)
		case sfnt.SegmentOpCubeTo:
			b.raster.CubeTo(x0, y0, x1, y1, x2, y2)
		}
	}
	b.raster.ClosePath()
}

// CodePictures draws the codes of a page, each with its quiet zone and whatever lies over it,
// as a printer of so many dots to the millimetre prints it.
func CodePictures(p Page, perMM float64) ([]CodePicture, error) {
	var pictures []CodePicture
	for _, cell := range p.Cells {
		for _, it := range cell.Items {
			code, ok := it.(Code)
			if !ok {
				continue
			}
			q := code.Quiet()
			var over []Item // the rest of the label does not matter, and takes its time
			for _, other := range cell.Items {
				if b := other.Bounds(); b.X < q.Right() && q.X < b.Right() && b.Y < q.Bottom() && q.Y < b.Bottom() {
					over = append(over, other)
				}
			}
			whole, err := Picture(Page{W: cell.W, H: cell.H, Items: Correction{Right: cell.X, Down: cell.Y}.move(over)}, perMM)
			if err != nil {
				return nil, err
			}
			at := func(mm, from float64) int { return int(math.Round((mm - from) * perMM)) }
			part := image.Rect(at(q.X, cell.X), at(q.Y, cell.Y), at(q.Right(), cell.X), at(q.Bottom(), cell.Y))
			img := whole.SubImage(part)
			pictures = append(pictures, CodePicture{Label: cell.Label, Text: code.Text, Image: img})
		}
	}
	return pictures, nil
}

// CodePicture is the code of a label, and what it should say.
type CodePicture struct {
	Label int // index of the label in the labels given
	Text  string
	Image image.Image
}
