package frames

import (
	"fmt"
	"image"
	"math"
	"slices"
	"testing"
)

// flat is a canvas of one value.
func flat(w, h int, value float32) *canvas {
	c := &canvas{w, h, make([]float32, w*h)}
	for i := range c.v {
		c.v[i] = value
	}
	return c
}

// sum is all that is on a canvas.
func (c *canvas) sum() (sum float64) {
	for _, v := range c.v {
		sum += float64(v)
	}
	return sum
}

// straight is the homography of a label seen straight on: so many pixels a module, its
// first module at a place.
func straight(module, x, y float64) homography {
	return homography{module, 0, x, 0, module, y, 0, 0, 1}
}

// A box is painted where it lies, as far as there is a canvas.
func TestBox(t *testing.T) {
	for _, row := range []struct {
		name           string
		x0, y0, x1, y1 int
		want           int // pixels
	}{
		{"inside", 2, 3, 5, 7, 12},
		{"over the left and the top edge", -4, -4, 2, 3, 6},
		{"over the right and the bottom edge", 8, 6, 50, 50, 4},
		{"all", -9, -9, 99, 99, 80},
		{"beside", 20, 20, 30, 30, 0},
		{"inside out", 5, 5, 2, 2, 0},
	} {
		c := flat(10, 8, 0)
		c.box(row.x0, row.y0, row.x1, row.y1, 1)
		if got := c.sum(); got != float64(row.want) {
			t.Errorf("%s: %v pixels are painted, want %d", row.name, got, row.want)
		}
	}
	c := flat(10, 8, 0)
	c.box(2, 3, 5, 7, 1)
	for i, v := range c.v {
		x, y := i%10, i/10
		if in := x >= 2 && x < 5 && y >= 3 && y < 7; in != (v == 1) {
			t.Errorf("pixel %d, %d is %v", x, y, v)
		}
	}
}

// Blur by a standard deviation spreads a point as a normal distribution does, in both
// directions alike, and neither makes nor takes light.
func TestBlur(t *testing.T) {
	for _, sigma := range []float64{0.5, 1, 2.5} {
		c := flat(61, 61, 0)
		c.v[30*61+30] = 1
		c.blur(sigma)
		var xx, yy, xy float64
		for i, v := range c.v {
			dx, dy := float64(i%61-30), float64(i/61-30)
			xx, yy, xy = xx+float64(v)*dx*dx, yy+float64(v)*dy*dy, xy+float64(v)*dx*dy
		}
		if got := c.sum(); math.Abs(got-1) > 1e-4 {
			t.Errorf("sigma %v: %v of the light is left", sigma, got)
		}
		// Cut off at three standard deviations, a little of the spread is missing.
		if want := sigma * sigma; math.Abs(xx-want) > 0.05*want+0.03 || math.Abs(yy-want) > 0.05*want+0.03 || math.Abs(xy) > 1e-4 {
			t.Errorf("sigma %v: spread %.4f across, %.4f down, %.4f askew; want %.4f and none", sigma, xx, yy, xy, want)
		}
		peak := 1 / (2 * math.Pi * sigma * sigma)
		if got := float64(c.v[30*61+30]); sigma >= 1 && math.Abs(got-peak) > 0.02*peak {
			t.Errorf("sigma %v: the middle is %.5f, want %.5f", sigma, got, peak)
		}
	}
	c := flat(9, 9, 0)
	c.v[40] = 1
	c.blur(0.04)
	if c.v[40] != 1 {
		t.Errorf("hardly any blur leaves %v of a point, want all", c.v[40])
	}
	edge := flat(9, 9, 0.7)
	edge.blur(3)
	for i, v := range edge.v {
		if math.Abs(float64(v)-0.7) > 1e-5 {
			t.Fatalf("an even canvas is %v at pixel %d after blur", v, i)
		}
	}
}

// Motion spreads a point evenly along a line of its length, in its direction only.
func TestMove(t *testing.T) {
	for _, row := range []struct {
		length, direction float64
	}{{4, 0}, {4, math.Pi / 2}, {6, math.Pi / 4}, {2.5, 2}} {
		c := flat(41, 41, 0)
		c.v[20*41+20] = 1
		c.move(row.length, row.direction)
		sin, cos := math.Sincos(row.direction)
		var sum, along, across, middleX, middleY float64
		for i, v := range c.v {
			dx, dy := float64(i%41-20), float64(i/41-20)
			a, b := cos*dx+sin*dy, cos*dy-sin*dx
			sum, along, across = sum+float64(v), along+float64(v)*a*a, across+float64(v)*b*b
			middleX, middleY = middleX+float64(v)*dx, middleY+float64(v)*dy
		}
		if math.Abs(sum-1) > 1e-4 || math.Hypot(middleX, middleY) > 1e-3 {
			t.Errorf("%+v: %v of the light is left, with its middle at %.3f, %.3f", row, sum, middleX, middleY)
		}
		// A line of length l has the spread l*l/12; between pixels there is up to a quarter more.
		if want := row.length * row.length / 12; along < want-0.05 || along > want+0.3 || across > 0.3 {
			t.Errorf("%+v: spread %.3f along and %.3f across, want %.3f and hardly any", row, along, across, want)
		}
	}
	c := flat(9, 9, 0)
	c.v[40] = 1
	c.move(0.29, 1)
	if c.v[40] != 1 {
		t.Errorf("hardly any motion leaves %v of a point, want all", c.v[40])
	}
}

// What the camera makes of ink, paper and glare, without noise and compression.
func TestDevelop(t *testing.T) {
	for _, row := range []struct {
		name  string
		value float32
		e     effects
		at    image.Point
		want  uint8
	}{
		{"ink", 0, effects{black: 30, white: 200}, image.Pt(50, 50), 30},
		{"paper", 1, effects{black: 30, white: 200}, image.Pt(50, 50), 200},
		{"grey", 0.5, effects{black: 30, white: 200}, image.Pt(50, 50), 115},
		{"rounded", 0.5, effects{black: 30, white: 201}, image.Pt(50, 50), 116},
		{"brighter than white", 1, effects{white: 400}, image.Pt(50, 50), 255},
		{"darker than black", 1, effects{white: -9}, image.Pt(50, 50), 0},
		{"light from the right, in the middle", 1, effects{white: 200, slope: 0.5}, image.Pt(50, 20), 201},
		{"light from the right, at the right", 1, effects{white: 200, slope: 0.5}, image.Pt(99, 20), 250},
		{"light from the right, at the left", 1, effects{white: 200, slope: 0.5}, image.Pt(0, 20), 151},
		{"light from below, at the bottom", 1, effects{white: 200, slope: 0.5, slopeDir: math.Pi / 2}, image.Pt(20, 99), 250},
		{"in the middle of the glare", 0, effects{white: 200, glare: 10, glareAt: [2]float64{40.5, 30.5}}, image.Pt(40, 30), 255},
		{"a radius from it", 0, effects{white: 200, glare: 10, glareAt: [2]float64{40.5, 30.5}}, image.Pt(50, 30), 96},
		{"two radii from it", 0, effects{white: 200, glare: 10, glareAt: [2]float64{40.5, 30.5}}, image.Pt(40, 50), 5},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := flat(100, 100, row.value).develop(newRand(1, "develop"), row.e).GrayAt(row.at.X, row.at.Y).Y
			if d := int(got) - int(row.want); d < -1 || d > 1 {
				t.Errorf("pixel %v is %d, want %d", row.at, got, row.want)
			}
		})
	}
}

// Noise has the standard deviation that is asked for, and no bias.
func TestDevelopNoise(t *testing.T) {
	for _, sigma := range []float64{0, 5, 20} {
		picture := flat(200, 200, 0.5).develop(newRand(3, "noise"), effects{white: 256, noise: sigma})
		sum, square := 0.0, 0.0
		for _, v := range picture.Pix {
			sum, square = sum+float64(v)-128, square+(float64(v)-128)*(float64(v)-128)
		}
		n := float64(len(picture.Pix))
		if got := math.Sqrt(square / n); math.Abs(got-sigma) > 0.03*sigma+0.01 || math.Abs(sum/n) > 0.03*sigma+0.01 {
			t.Errorf("noise of %v: deviation %.2f, mean %.2f off", sigma, got, sum/n)
		}
	}
}

// A picture that is compressed hard differs more from itself than one that is not, and
// one that is not compressed is left alone.
func TestThroughJPEG(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 64, 64))
	for i := range m.Pix {
		m.Pix[i] = uint8((i*7919 ^ i>>3) & 255)
	}
	if throughJPEG(m, 0) != m {
		t.Error("without compression it is another picture")
	}
	off := func(quality int) (sum float64) {
		back := throughJPEG(m, quality)
		if back.Rect != m.Rect {
			t.Fatalf("quality %d: %v, want %v", quality, back.Rect, m.Rect)
		}
		for i := range m.Pix {
			sum += math.Abs(float64(m.Pix[i]) - float64(back.Pix[i]))
		}
		return sum
	}
	if good, poor, worst := off(95), off(40), off(5); !(good > 0 && good < poor && poor < worst) {
		t.Errorf("differences of %v, %v and %v at qualities 95, 40 and 5: want them to grow", good, poor, worst)
	}
}

// The room behind the labels is even but for slopes and boxes, about between ink and paper.
func TestNewRoom(t *testing.T) {
	for seed := range uint64(30) {
		room := newRoom(newRand(seed, "room"), 80, 60)
		if len(room.v) != 80*60 {
			t.Fatalf("%d pixels", len(room.v))
		}
		lo, hi := slices.Min(room.v), slices.Max(room.v)
		if lo < -0.11 || hi > 1.01 {
			t.Errorf("seed %d: from %v to %v, want between ink and paper", seed, lo, hi)
		}
	}
	a, b := newRoom(newRand(1, "room"), 80, 60), newRoom(newRand(2, "room"), 80, 60)
	if slices.Equal(a.v, b.v) {
		t.Error("two seeds make one room")
	}
}

// A label that is seen straight on is drawn to the module: dark where its symbol is, and
// the room where there is no paper.
func TestLay(t *testing.T) {
	const module, x0, y0 = 4, 30, 20
	label, err := newLabel(newRand(2, "label"), "SP7K3M9QXY")
	if err != nil {
		t.Fatal(err)
	}
	label.border = 0
	c := flat(200, 160, 0.4)
	c.lay(label, straight(module, x0, y0))
	for row := -5; row <= 25; row++ {
		for col := -5; col <= 25; col++ {
			want := float32(1)
			switch {
			case row >= 0 && row < 21 && col >= 0 && col < 21:
				if label.bits[row][col] {
					want = 0
				}
			case float64(col) < label.box[0] || float64(row) < label.box[1] || float64(col) >= label.box[2] || float64(row) >= label.box[3]:
				want = 0.4
			}
			if got := c.v[(y0+row*module+module/2)*200+x0+col*module+module/2]; math.Abs(float64(got-want)) > 1e-6 {
				t.Fatalf("module %d, %d is %v, want %v", row, col, got, want)
			}
		}
	}
	// Half a pixel aside, an edge between ink and paper is half as bright.
	c = flat(200, 160, 0.4)
	c.lay(label, straight(module, x0+0.5, y0))
	if got := c.v[(y0+2)*200+x0]; math.Abs(float64(got)-0.5) > 1e-6 {
		t.Errorf("a pixel half of ink and half of paper is %v, want 0.5", got)
	}
}

// A picture is laid like a label: its pixels lie where the homography says.
func TestLayPicture(t *testing.T) {
	picture := image.NewGray(image.Rect(0, 0, 3, 2))
	copy(picture.Pix, []uint8{0, 51, 102, 153, 204, 255})
	c := flat(40, 30, 0.4)
	c.layPicture(picture, straight(5, 10, 6))
	for i := range c.v {
		x, y := i%40, i/40
		want := 0.4
		if x >= 10 && x < 25 && y >= 6 && y < 16 {
			want = float64(picture.Pix[(y-6)/5*3+(x-10)/5]) / 255
		}
		if math.Abs(float64(c.v[i])-want) > 1e-6 {
			t.Fatalf("pixel %d, %d is %v, want %v", x, y, c.v[i], want)
		}
	}
}

// Streams of one seed differ by their names, and one stream is the same each time.
func TestNewRand(t *testing.T) {
	seen := map[uint64]string{}
	for _, seed := range []uint64{0, 1, 2, math.MaxUint64} {
		for _, stream := range []string{"", "a", "b", "ab", "ba", "wall 1", "wall 11"} {
			name := fmt.Sprintf("seed %d %q", seed, stream)
			v := newRand(seed, stream).Uint64()
			if other, ok := seen[v]; ok {
				t.Errorf("%s begins as %s", name, other)
			}
			seen[v] = name
			if newRand(seed, stream).Uint64() != v {
				t.Errorf("%s is not the same twice", name)
			}
		}
	}
}

func TestBetween(t *testing.T) {
	r := newRand(1, "between")
	lo, hi := math.Inf(1), math.Inf(-1)
	for range 5000 {
		v := between(r, -2, 6)
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	if lo < -2 || hi >= 6 || lo > -1.9 || hi < 5.9 {
		t.Errorf("from %v to %v, want from -2 to 6", lo, hi)
	}
}
