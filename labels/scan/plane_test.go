package scan

import (
	"image"
	"image/color"
	"math"
	"slices"
	"testing"
)

// Brightness by ITU-R BT.601, worked out by hand: 0.299 R + 0.587 G + 0.114 B.
func TestLuma(t *testing.T) {
	for _, row := range []struct {
		r, g, b uint32
		want    float64
	}{{0, 0, 0, 0}, {255, 255, 255, 255}, {255, 0, 0, 76.2}, {0, 255, 0, 149.7}, {0, 0, 255, 29.1}, {200, 100, 50, 124.2}} {
		if got := float64(luma(row.r, row.g, row.b)); math.Abs(got-row.want) > 0.9 {
			t.Errorf("luma(%d, %d, %d) = %.0f, want %.1f", row.r, row.g, row.b, got, row.want)
		}
	}
	if redWeight+greenWeight+blueWeight != 256 {
		t.Errorf("the weights add up to %d, want 256", redWeight+greenWeight+blueWeight)
	}
}

// Transparency counts as white paper, in each kind of pixel alike.
func TestFillTransparent(t *testing.T) {
	for _, row := range []struct {
		colour color.NRGBA
		want   int
	}{
		{color.NRGBA{0, 0, 0, 255}, 0},
		{color.NRGBA{0, 0, 0, 0}, 255},
		{color.NRGBA{0, 0, 0, 128}, 127},
		{color.NRGBA{255, 255, 255, 40}, 255},
		{color.NRGBA{100, 100, 100, 255}, 100},
		{color.NRGBA{100, 100, 100, 51}, 224}, // a fifth of 100 and four fifths of white
		{color.NRGBA{255, 0, 0, 255}, 77},
	} {
		nrgba, rgba := image.NewNRGBA(image.Rect(0, 0, 2, 1)), image.NewRGBA(image.Rect(0, 0, 2, 1))
		for x := range 2 {
			nrgba.Set(x, 0, row.colour)
			rgba.Set(x, 0, row.colour)
		}
		for name, picture := range map[string]image.Image{"NRGBA": nrgba, "RGBA": rgba, "another": struct{ image.Image }{rgba}} {
			var p plane
			p.fill(picture)
			for x, got := range p.pix {
				if d := int(got) - row.want; d < -2 || d > 2 {
					t.Errorf("%s %v: pixel %d is %d, want %d", name, row.colour, x, got, row.want)
				}
			}
		}
	}
}

// A part of a larger picture is taken from where it lies, in every kind of picture.
func TestFillSubImage(t *testing.T) {
	whole := image.Rect(10, 20, 20, 28)
	part := image.Rect(13, 22, 17, 25)
	value := func(x, y int) byte { return byte(10*x + y) }
	grey, ycbcr := image.NewGray(whole), image.NewYCbCr(whole, image.YCbCrSubsampleRatio420)
	rgba, nrgba := image.NewRGBA(whole), image.NewNRGBA(whole)
	for y := whole.Min.Y; y < whole.Max.Y; y++ {
		for x := whole.Min.X; x < whole.Max.X; x++ {
			c := color.Gray{Y: value(x, y)}
			grey.Set(x, y, c)
			rgba.Set(x, y, c)
			nrgba.Set(x, y, c)
			ycbcr.Y[ycbcr.YOffset(x, y)] = c.Y
		}
	}
	for name, picture := range map[string]image.Image{
		"grey": grey.SubImage(part), "YCbCr": ycbcr.SubImage(part), "RGBA": rgba.SubImage(part), "NRGBA": nrgba.SubImage(part),
		"another": struct{ image.Image }{grey.SubImage(part)},
	} {
		var p plane
		p.fill(picture)
		if p.w != 4 || p.h != 3 {
			t.Errorf("%s: %d x %d pixels, want 4 x 3", name, p.w, p.h)
			continue
		}
		for i, got := range p.pix {
			if want := value(13+i%4, 22+i/4); got != want {
				t.Errorf("%s: pixel %d is %d, want %d", name, i, got, want)
			}
		}
	}
}

// A plane that was larger before keeps its memory, and one that grows gets more.
func TestResize(t *testing.T) {
	var p plane
	p.resize(10, 6)
	p.resize(3, 2)
	if p.w != 3 || p.h != 2 || len(p.pix) != 6 || cap(p.pix) < 60 {
		t.Errorf("%d x %d with %d of %d bytes, want 3 x 2 with 6 of 60", p.w, p.h, len(p.pix), cap(p.pix))
	}
	p.resize(20, 6)
	if len(p.pix) != 120 {
		t.Errorf("%d bytes, want 120", len(p.pix))
	}
}

// The mean of four pixels is rounded to the nearest.
func TestHalveRounds(t *testing.T) {
	for _, row := range []struct {
		four [4]byte
		want byte
	}{{[4]byte{0, 0, 0, 1}, 0}, {[4]byte{0, 0, 1, 1}, 1}, {[4]byte{255, 255, 255, 255}, 255}, {[4]byte{255, 255, 255, 253}, 255}, {[4]byte{10, 20, 30, 40}, 25}} {
		var half plane
		half.halve(&plane{w: 2, h: 2, pix: row.four[:]})
		if half.pix[0] != row.want {
			t.Errorf("the mean of %v is %d, want %d", row.four, half.pix[0], row.want)
		}
	}
}

// Levels are halved while a symbol of a pixel a module fits, and no more than seven times.
func TestPyramid(t *testing.T) {
	for _, row := range []struct {
		w, h, levels int
	}{
		{1, 1, 1},
		{45, 100, 1}, // its half would be 22 pixels, and a symbol with its ring is 23
		{46, 100, 2},
		{91, 92, 2},
		{92, 92, 3},
		{640, 480, 5},
		{4000, 3000, 8},
		{20000, 3000, 8},
	} {
		var p pyramid
		p.fill(image.NewGray(image.Rect(0, 0, row.w, row.h)))
		if p.n != row.levels || p.made != 1 {
			t.Errorf("%d x %d: %d levels, %d made; want %d, and the first", row.w, row.h, p.n, p.made, row.levels)
		}
		p.build(p.n - 1)
		if last := p.levels[p.n-1]; p.made != p.n || last.w != row.w>>(p.n-1) || last.h != row.h>>(p.n-1) {
			t.Errorf("%d x %d: the last level is %d x %d", row.w, row.h, last.w, last.h)
		}
	}
}

// The level on which a module is between 1.7 and 3.4 pixels is looked at.
func TestLevel(t *testing.T) {
	var p pyramid
	p.fill(image.NewGray(image.Rect(0, 0, 800, 800)))
	for _, row := range []struct{ module, scale float64 }{
		{1, 1}, {3.4, 1}, {3.41, 2}, {6.8, 2}, {6.81, 4}, {13.7, 8}, {1000, 32},
	} {
		v := p.level(row.module)
		if v.scale != row.scale || v.w != 800/int(row.scale) {
			t.Errorf("a module of %.2f pixels: scale %v on %d pixels, want %v", row.module, v.scale, v.w, row.scale)
		}
	}
}

// A coordinate is brought between the middles of the first and the last pixel.
func TestWithin(t *testing.T) {
	for _, row := range []struct{ x, want float64 }{
		{-1, 0}, {0, 0}, {0.25, 0.25}, {3.5, 3.5}, {4, 4 - 1e-6}, {99, 4 - 1e-6}, {math.NaN(), 0}, {math.Inf(1), 4 - 1e-6}, {math.Inf(-1), 0},
	} {
		if got := within(row.x, 5); got != row.want {
			t.Errorf("within(%v, 5) = %v, want %v", row.x, got, row.want)
		}
	}
}

// The weights of four pixels around a place add up to one, and their centre is the place.
func TestTaps(t *testing.T) {
	const n = 10
	for at := 1.5; at <= 8.5; at += 0.125 {
		first, weights := taps(at, n)
		sum, centre := float32(0), 0.0
		for i, w := range weights {
			sum += w
			centre += float64(w) * (float64(first+i) + 0.5)
		}
		if first < 0 || first > n-4 || math.Abs(float64(sum)-1) > 1e-6 {
			t.Errorf("at %v: from pixel %d, weights %v", at, first, weights)
		}
		if at >= 2 && at <= 8 && math.Abs(centre-at) > 1e-6 {
			t.Errorf("at %v: the weights' centre is %v", at, centre)
		}
	}
	for _, at := range []float64{-5, 0, 10, 99} {
		first, weights := taps(at, n)
		sum := weights[0] + weights[1] + weights[2] + weights[3]
		if first < 0 || first > n-4 || math.Abs(float64(sum)-1) > 1e-6 {
			t.Errorf("outside, at %v: from pixel %d, weights %v", at, first, weights)
		}
	}
}

// Columns and rows are read through a place, three pixels wide, and on beyond the edge
// of the picture as at the edge.
func TestColumnAndRow(t *testing.T) {
	var p plane
	p.fill(painted(8, 8, func(x, y int) byte { return byte(10*x + 3*y) }))
	line := make([]float32, 7)
	if y := p.column(line, Point{4.5, 3.7}, 3); y != 3.5 {
		t.Errorf("the middle of the column is at %v, want 3.5", y)
	}
	for i, got := range line {
		if want := float32(40 + 3*i); math.Abs(float64(got-want)) > 0.01 {
			t.Errorf("column value %d is %v, want %v", i, got, want)
		}
	}
	if x := p.row(line, Point{1.2, 4.5}, 3); x != 1.5 {
		t.Errorf("the middle of the row is at %v, want 1.5", x)
	}
	for i, got := range line {
		if want := float32(10*max(i-2, 0) + 12); math.Abs(float64(got-want)) > 0.01 {
			t.Errorf("row value %d is %v, want %v", i, got, want)
		}
	}
}

// A block's contrast is that of its pixels and of those that touch it right and below.
func TestContrast(t *testing.T) {
	var p plane
	p.fill(painted(8, 8, func(x, y int) byte {
		switch {
		case x == 4 && y == 1: // right of the first block of four
			return 150
		case x == 1 && y == 4: // below it
			return 50
		case x == 5 && y == 5: // neither
			return 255
		}
		return 100
	}))
	for _, row := range []struct {
		x, y, side int
		want       byte
	}{{0, 0, 4, 100}, {0, 0, 3, 0}, {4, 4, 4, 155}, {4, 0, 4, 50}, {6, 6, 4, 0}, {0, 0, 8, 205}} {
		if got := p.contrast(row.x, row.y, row.side); got != row.want {
			t.Errorf("block of %d at %d, %d: contrast %d, want %d", row.side, row.x, row.y, got, row.want)
		}
	}
}

// A part is cut out as it is, and is a copy.
func TestCut(t *testing.T) {
	var p plane
	p.fill(painted(6, 5, func(x, y int) byte { return byte(10*y + x) }))
	part := p.cut(image.Rect(2, 1, 5, 3))
	if want := []byte{12, 13, 14, 22, 23, 24}; part.w != 3 || part.h != 2 || !slices.Equal(part.pix, want) {
		t.Errorf("%d x %d: %v, want 3 x 2: %v", part.w, part.h, part.pix, want)
	}
	part.pix[0] = 99
	if p.pix[1*6+2] != 12 {
		t.Error("the picture itself was changed")
	}
}
