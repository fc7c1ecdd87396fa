package look

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"golang.org/x/image/vector"

	"stowright/app/notice"
)

// pen draws smooth lines and areas on a raster. Fyne has no path object, and a
// rivet head, a hatched thread or a dashed front is many objects without one.
// Coordinates and widths are points; the pen scales them to pixels.
type pen struct {
	img   *image.RGBA
	scale float64 // pixels per point
	size  fyne.Size
}

// newDrawing is a raster that draws through a pen each time it is refreshed.
func newDrawing(draw func(p *pen)) *canvas.Raster {
	var r *canvas.Raster
	r = canvas.NewRaster(func(w, h int) image.Image {
		p := &pen{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: 1, size: r.Size()}
		if p.size.Width > 0 {
			p.scale = float64(w) / float64(p.size.Width)
		}
		draw(p)
		return p.img
	})
	return r
}

// xy is a point on the drawing.
type xy struct{ x, y float64 }

// fill fills a polygon.
func (p *pen) fill(points []xy, c color.Color) {
	if len(points) < 3 {
		return
	}
	z := p.rasterizer()
	p.trace(z, points)
	p.paint(z, c)
}

// stroke draws a line through the points with round joins.
func (p *pen) stroke(points []xy, closed bool, width float64, c color.Color) {
	z := p.rasterizer()
	p.addStroke(z, points, closed, width)
	p.paint(z, c)
}

// addStroke adds a line to what is painted together. Painting costs the whole
// picture each time, so many lines of one colour go in one.
func (p *pen) addStroke(z *vector.Rasterizer, points []xy, closed bool, width float64) {
	n := len(points)
	for i := range points {
		if i+1 < n {
			p.segment(z, points[i], points[i+1], width)
		} else if closed && n > 2 {
			p.segment(z, points[i], points[0], width)
		}
		if closed || (i > 0 && i+1 < n) {
			p.trace(z, disc(points[i], width/2))
		}
	}
}

// dashed draws a line through the points in dashes of on points with gaps of off.
func (p *pen) dashed(points []xy, width, on, off float64, c color.Color) {
	z := p.rasterizer()
	left, drawing := on, true
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		for length := math.Hypot(b.x-a.x, b.y-a.y); length > 0; {
			step := min(left, length)
			q := xy{a.x + (b.x-a.x)*step/length, a.y + (b.y-a.y)*step/length}
			if drawing {
				p.segment(z, a, q, width)
			}
			a, length, left = q, length-step, left-step
			if left <= 0 {
				if drawing = !drawing; drawing {
					left = on
				} else {
					left = off
				}
			}
		}
	}
	p.paint(z, c)
}

func (p *pen) rasterizer() *vector.Rasterizer {
	return vector.NewRasterizer(p.img.Bounds().Dx(), p.img.Bounds().Dy())
}

// segment adds one straight stroke. All strokes wind the same way round, so that
// overlapping ones add up instead of cancelling out.
func (p *pen) segment(z *vector.Rasterizer, a, b xy, width float64) {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return
	}
	nx, ny := -(b.y-a.y)/length*width/2, (b.x-a.x)/length*width/2
	p.trace(z, []xy{{a.x + nx, a.y + ny}, {a.x - nx, a.y - ny}, {b.x - nx, b.y - ny}, {b.x + nx, b.y + ny}})
}

func (p *pen) trace(z *vector.Rasterizer, points []xy) {
	for i, q := range points {
		x, y := float32(q.x*p.scale), float32(q.y*p.scale)
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
}

func (p *pen) paint(z *vector.Rasterizer, c color.Color) {
	z.Draw(p.img, p.img.Bounds(), image.NewUniform(c), image.Point{})
}

// disc is a circle as a polygon, winding the same way as segment.
func disc(centre xy, radius float64) []xy {
	const corners = 16
	out := make([]xy, corners)
	for i := range out {
		angle := 2 * math.Pi * float64(i) / corners
		out[i] = xy{centre.x + radius*math.Cos(angle), centre.y + radius*math.Sin(angle)}
	}
	return out
}

// roundedBox is the outline of a box with round corners, closed on its first point.
func roundedBox(x, y, w, h, r float64) []xy {
	var out []xy
	for corner, centre := range []xy{{x + w - r, y + h - r}, {x + r, y + h - r}, {x + r, y + r}, {x + w - r, y + r}} {
		for i := 0; i <= 4; i++ {
			angle := math.Pi / 2 * (float64(corner) + float64(i)/4)
			out = append(out, xy{centre.x + r*math.Cos(angle), centre.y + r*math.Sin(angle)})
		}
	}
	return append(out, out[0])
}

// toneShape draws the shape of a tone: tick, ring, triangle, or a square on its
// corner with a bar, so that states differ without colour.
func (p *pen) toneShape(t notice.Tone, ink, ground color.Color) {
	s := float64(p.size.Width)
	at := func(x, y float64) xy { return xy{x * s, y * s} }
	switch t {
	case notice.OK:
		p.stroke([]xy{at(0.10, 0.55), at(0.38, 0.83), at(0.92, 0.18)}, false, s*0.17, ink)
	case notice.Warn:
		p.fill([]xy{at(0.50, 0.04), at(1.00, 0.94), at(0.00, 0.94)}, ink)
		p.stroke([]xy{at(0.50, 0.36), at(0.50, 0.62)}, false, s*0.13, ground)
		p.fill(disc(at(0.50, 0.77), s*0.075), ground)
	case notice.Stop:
		p.fill([]xy{at(0.50, 0), at(1, 0.5), at(0.5, 1), at(0, 0.5)}, ink)
		p.stroke([]xy{at(0.28, 0.5), at(0.72, 0.5)}, false, s*0.15, ground)
	default:
		p.stroke(disc(at(0.5, 0.5), s*0.36), true, s*0.13, ink)
	}
}
