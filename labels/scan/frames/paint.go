package frames

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
)

// canvas is a picture being made: 0 is ink, 1 is paper, what lies between is
// the room; values above 1 are glare.
type canvas struct {
	w, h int
	v    []float32
}

// newRoom is a background: a slope, a few boxes and some grain.
func newRoom(r *rand.Rand, w, h int) *canvas {
	c := &canvas{w, h, make([]float32, w*h)}
	base, dx, dy := between(r, 0.2, 0.7), between(r, -0.15, 0.15), between(r, -0.15, 0.15)
	for i := range c.v {
		x, y := float64(i%w)/float64(w), float64(i/w)/float64(h)
		c.v[i] = float32(base + dx*x + dy*y + 0.02*(r.Float64()-0.5))
	}
	for range r.IntN(12) {
		x, y := r.IntN(w), r.IntN(h)
		c.box(x, y, x+20+r.IntN(w/4), y+10+r.IntN(h/4), float32(between(r, 0.1, 0.95)))
	}
	return c
}

func (c *canvas) box(x0, y0, x1, y1 int, value float32) {
	for y := max(0, y0); y < min(c.h, y1); y++ {
		for x := max(0, x0); x < min(c.w, x1); x++ {
			c.v[y*c.w+x] = value
		}
	}
}

// raysPerSide is how many rays a pixel averages along each side.
const raysPerSide = 4

// lay projects a label onto the canvas.
func (c *canvas) lay(t *texture, m homography) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range 4 {
		x, y := m.at(t.box[(i&1)*2], t.box[(i>>1)*2+1])
		x0, y0, x1, y1 = math.Min(x0, x), math.Min(y0, y), math.Max(x1, x), math.Max(y1, y)
	}
	back := m.inverse()
	for y := max(0, int(y0)); y <= min(c.h-1, int(y1)); y++ {
		for x := max(0, int(x0)); x <= min(c.w-1, int(x1)); x++ {
			at := &c.v[y*c.w+x]
			sum := 0.0
			for i := range raysPerSide * raysPerSide {
				u, v := back.at(float64(x)+(float64(i%raysPerSide)+0.5)/raysPerSide, float64(y)+(float64(i/raysPerSide)+0.5)/raysPerSide)
				if ink, ok := t.ink(u, v); ok {
					sum += 1 - ink
				} else {
					sum += float64(*at)
				}
			}
			*at = float32(sum / (raysPerSide * raysPerSide))
		}
	}
}

// develop applies the effects and gives the picture.
func (c *canvas) develop(r *rand.Rand, e effects) *image.Gray {
	c.blur(e.defocus)
	c.move(e.motion, e.motionDir)
	out := image.NewGray(image.Rect(0, 0, c.w, c.h))
	sin, cos := math.Sincos(e.slopeDir)
	for i, v := range c.v {
		x, y := float64(i%c.w)+0.5, float64(i/c.w)+0.5
		light := 1 + e.slope*(cos*(x/float64(c.w)-0.5)+sin*(y/float64(c.h)-0.5))
		value := (e.black + (e.white-e.black)*float64(v)) * light
		if e.glare > 0 {
			d := math.Hypot(x-e.glareAt[0], y-e.glareAt[1]) / e.glare
			value += 260 * math.Exp(-d*d)
		}
		if e.noise > 0 {
			value += e.noise * r.NormFloat64()
		}
		out.Pix[i] = uint8(math.Max(0, math.Min(255, math.Round(value))))
	}
	return throughJPEG(out, e.jpeg)
}

func throughJPEG(m *image.Gray, quality int) *image.Gray {
	if quality == 0 {
		return m
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, m, &jpeg.Options{Quality: quality}); err != nil {
		return m
	}
	back, err := jpeg.Decode(&file)
	if err != nil {
		return m
	}
	if grey, ok := back.(*image.Gray); ok {
		return grey
	}
	out := image.NewGray(m.Rect)
	draw.Draw(out, out.Rect, back, image.Point{}, draw.Src)
	return out
}

// blur is a Gaussian of a standard deviation in pixels.
func (c *canvas) blur(sigma float64) {
	if sigma < 0.05 {
		return
	}
	n := int(math.Ceil(3 * sigma))
	kernel, sum := make([]float32, n+1), float32(0)
	for i := range kernel {
		kernel[i] = float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
		sum += kernel[i]
		if i > 0 {
			sum += kernel[i]
		}
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	c.along(kernel, 1, c.w, c.h, c.w)
	c.along(kernel, c.w, c.h, c.w, 1)
}

// along filters lines of n values that lie step apart, of which there are
// lines, each pitch from the next.
func (c *canvas) along(kernel []float32, step, n, lines, pitch int) {
	line := make([]float32, n)
	for l := range lines {
		for i := range line {
			line[i] = c.v[l*pitch+i*step]
		}
		for i := range line {
			sum := kernel[0] * line[i]
			for k := 1; k < len(kernel); k++ {
				sum += kernel[k] * (line[max(0, i-k)] + line[min(n-1, i+k)])
			}
			c.v[l*pitch+i*step] = sum
		}
	}
}

// move averages along a line of a length in pixels.
func (c *canvas) move(length, direction float64) {
	if length < 0.3 {
		return
	}
	steps := int(math.Ceil(length)) * 2
	sin, cos := math.Sincos(direction)
	out := make([]float32, len(c.v))
	for s := range steps {
		t := ((float64(s)+0.5)/float64(steps) - 0.5) * length
		dx, dy := cos*t, sin*t
		ix, iy := int(math.Floor(dx)), int(math.Floor(dy))
		fx, fy := float32(dx-float64(ix)), float32(dy-float64(iy))
		for y := range c.h {
			r0 := min(max(y+iy, 0), c.h-1) * c.w
			r1 := min(max(y+iy+1, 0), c.h-1) * c.w
			for x := range c.w {
				x0, x1 := min(max(x+ix, 0), c.w-1), min(max(x+ix+1, 0), c.w-1)
				top := c.v[r0+x0]*(1-fx) + c.v[r0+x1]*fx
				low := c.v[r1+x0]*(1-fx) + c.v[r1+x1]*fx
				out[y*c.w+x] += (top*(1-fy) + low*fy) / float32(steps)
			}
		}
	}
	copy(c.v, out)
}
