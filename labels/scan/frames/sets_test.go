package frames

import (
	"fmt"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// hardened is what a bucket makes of an ordinary frame.
func hardened(t *testing.T, seed uint64, bucket string, module float64) (pose, effects, *texture) {
	t.Helper()
	r := newRand(seed, "harden")
	label, err := newLabel(r, "SP7K3M9QXY")
	if err != nil {
		t.Fatal(err)
	}
	p, e := pose{module: module, at: [2]float64{160, 120}}, daylight(r)
	harden(r, bucket, &p, &e, label)
	return p, e, label
}

// Each bucket makes one thing difficult, within its limits, in many draws; and what it is
// not about stays as in daylight.
func TestHarden(t *testing.T) {
	const module = 3.0
	type limits struct {
		of     func(p pose, e effects, l *texture) float64
		lo, hi float64
	}
	tilt := func(p pose, _ effects, _ *texture) float64 { return p.tilt / degree }
	turn := func(p pose, _ effects, _ *texture) float64 { return p.rotation / degree }
	defocus := func(_ pose, e effects, _ *texture) float64 { return e.defocus / module }
	contrast := func(_ pose, e effects, _ *texture) float64 { return e.white - e.black }
	slope := func(_ pose, e effects, _ *texture) float64 { return e.slope }
	noise := func(_ pose, e effects, _ *texture) float64 { return e.noise }
	quality := func(_ pose, e effects, _ *texture) float64 { return float64(e.jpeg) }
	for bucket, want := range map[string][]limits{
		"plain":    {{tilt, 0, 0}, {turn, 0, 0}, {noise, 1, 3}, {quality, 92, 92}, {slope, 0, 0.2}, {contrast, 130, 215}},
		"tilt":     {{tilt, 15, 60}, {turn, 0, 0}, {noise, 1, 3}},
		"rotation": {{turn, 0, 360}, {tilt, 0, 0}},
		"defocus":  {{defocus, 0.25, 0.6}, {noise, 1, 3}},
		"motion": {
			{func(_ pose, e effects, _ *texture) float64 { return e.motion / module }, 0.5, 1.6},
			{func(_ pose, e effects, _ *texture) float64 { return e.motionDir / degree }, 0, 180},
		},
		"noise":    {{noise, 8, 30}, {quality, 0, 0}},
		"contrast": {{contrast, 25, 70}, {func(_ pose, e effects, _ *texture) float64 { return e.black }, 60, 140}},
		"light":    {{slope, 1, 1.6}, {turn, -20, 20}},
		"glare": {
			{func(_ pose, e effects, _ *texture) float64 { return e.glare / module }, 4, 9},
			{func(p pose, e effects, _ *texture) float64 {
				return math.Hypot(e.glareAt[0]-p.at[0], e.glareAt[1]-p.at[1]) / module
			}, 3, 12},
		},
		"occlusion": {{func(_ pose, _ effects, l *texture) float64 { return covered(l) }, 0.02, 0.14}},
		"jpeg":      {{quality, 15, 54}, {noise, 1, 3}},
		"inverse":   {{noise, 1, 3}, {tilt, 0, 0}},
		"mixed": {
			{tilt, 0, 40},
			{turn, 0, 360},
			{defocus, 0.2, 0.4},
			{noise, 3, 10},
			{contrast, 60, 150},
			{slope, 0.2, 1},
			{quality, 50, 89},
		},
		"jpeg 5 to 12":       {{quality, 5, 12}},
		"light to nothing":   {{slope, 1.7, 2}, {func(_ pose, e effects, _ *texture) float64 { return e.white }, 100, 235}},
		"contrast 4 to 10 %": {{contrast, 10, 25}},
	} {
		t.Run(bucket, func(t *testing.T) {
			for i, l := range want {
				lo, hi := math.Inf(1), math.Inf(-1)
				for seed := range uint64(150) {
					p, e, label := hardened(t, seed, bucket, module)
					v := l.of(p, e, label)
					lo, hi = math.Min(lo, v), math.Max(hi, v)
					if label.invert != (bucket == "inverse") || label.covers != (bucket == "occlusion") {
						t.Fatalf("seed %d: light on dark %v, covered %v", seed, label.invert, label.covers)
					}
				}
				// Within the limits, and using most of what is between them.
				if span := l.hi - l.lo; lo < l.lo-1e-9 || hi > l.hi+1e-9 || hi-lo < 0.85*span-1e-9 {
					t.Errorf("limit %d: from %.3f to %.3f, want from %.3f to %.3f", i, lo, hi, l.lo, l.hi)
				}
			}
		})
	}
}

// covered is the part of a symbol's area that something lies over.
func covered(t *texture) float64 {
	if !t.covers {
		return 0
	}
	w := math.Min(t.size, t.cover[2]) - math.Max(0, t.cover[0])
	h := math.Min(t.size, t.cover[3]) - math.Max(0, t.cover[1])
	return w * h / t.size / t.size
}

// Every bucket that is listed is one that makes something of a frame, and they are all
// different.
func TestBuckets(t *testing.T) {
	all := append(Buckets(), Extremes()...)
	for i, bucket := range all {
		if slices.Contains(all[:i], bucket) {
			t.Errorf("%q is listed twice", bucket)
		}
		if bucket == "plain" {
			continue
		}
		p, e, l := hardened(t, 5, bucket, 3)
		plain, day, label := hardened(t, 5, "plain", 3)
		if p == plain && e == day && l.invert == label.invert && l.covers == label.covers {
			t.Errorf("%q changes nothing", bucket)
		}
	}
	if n := len(Buckets()); n != 13 {
		t.Errorf("%d buckets, want 13", n)
	}
}

// Something that lies over a symbol begins beside it, at one of its four edges.
func TestCover(t *testing.T) {
	sides := map[string]int{}
	for seed := range uint64(200) {
		label, err := newLabel(newRand(seed, "x"), "SP7K3M9QXY")
		if err != nil {
			t.Fatal(err)
		}
		const part = 0.1
		cover(newRand(seed, "cover"), label, part)
		if got := covered(label); math.Abs(got-part) > 1e-9 {
			t.Fatalf("seed %d: %.4f of the symbol is covered, want %.4f", seed, got, part)
		}
		b := label.cover
		switch {
		case b[1] < 0:
			sides["top"]++
		case b[3] > label.size:
			sides["bottom"]++
		case b[0] < 0:
			sides["left"]++
		case b[2] > label.size:
			sides["right"]++
		}
	}
	for _, side := range []string{"top", "bottom", "left", "right"} {
		if sides[side] < 20 {
			t.Errorf("%d of 200 are covered at the %s: %v", sides[side], side, sides)
		}
	}
}

// Frames go through the buckets, and then through the sizes.
func TestSingleOrder(t *testing.T) {
	buckets, sizes := Buckets(), PixelsPerModule()
	for _, n := range []int{0, 1, len(buckets) - 1, len(buckets), 3*len(buckets) + 2, len(buckets) * len(sizes)} {
		f, err := Single(1, n, 320, 240, tags())
		if err != nil {
			t.Fatal(err)
		}
		if want := buckets[n%len(buckets)]; f.Bucket != want {
			t.Errorf("frame %d is %q, want %q", n, f.Bucket, want)
		}
		if len(f.Labels) != 1 || !slices.Contains(tags(), f.Labels[0].Text) || len(f.Foreign) != 0 {
			t.Errorf("frame %d: %+v, %q", n, f.Labels, f.Foreign)
		}
		if f.Picture.Rect != image.Rect(0, 0, 320, 240) {
			t.Errorf("frame %d is %v", n, f.Picture.Rect)
		}
	}
	for n := range 2 * len(Extremes()) {
		f, err := Extreme(1, n, 320, 240, tags())
		if err != nil || f.Bucket != Extremes()[n%len(Extremes())] || len(f.Labels) != 1 {
			t.Errorf("extreme frame %d: %q, %d labels, %v", n, f.Bucket, len(f.Labels), err)
		}
	}
}

// A symbol that the printer's encoder cannot make is an error.
func TestSingleRefuses(t *testing.T) {
	if _, err := Single(1, 0, 320, 240, []string{strings.Repeat("X", 40)}); err == nil || !strings.Contains(err.Error(), "frames: symbol") {
		t.Errorf("a text that does not fit: %v", err)
	}
	film := NewFilm(1, 320, 200, 1, []string{strings.Repeat("X", 40)})
	if _, err := film.Frame(0, View{Module: 1.5}); err == nil {
		t.Error("a film of a text that does not fit: no error")
	}
	if _, err := Wall(1, 0, false, 320, 240, []string{strings.Repeat("X", 40)}); err == nil {
		t.Error("a wall of a text that does not fit: no error")
	}
}

// A reader that is not ours reads a plain frame of large modules: the truth in the frame
// is what is printed there.
func TestSingleIsReadByAnother(t *testing.T) {
	buckets, sizes := len(Buckets()), len(PixelsPerModule())
	read := 0
	for i := range 6 {
		f, err := Single(8, (sizes*i+sizes-1)*buckets, 480, 360, tags()) // plain, four pixels a module
		if err != nil {
			t.Fatal(err)
		}
		if text := another(t, f.Picture); text == f.Labels[0].Text {
			read++
		} else if text != "" {
			t.Errorf("frame %d says %q, want %q", i, text, f.Labels[0].Text)
		}
	}
	if read < 4 {
		t.Errorf("%d of 6 frames are read, want 4", read)
	}
}

// another is what a reader that is not ours reads in a picture; empty for nothing.
func another(t *testing.T, picture image.Image) string {
	t.Helper()
	bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return ""
	}
	return result.GetText()
}

// The labels of a cabinet lie beside each other: none over another, all different while
// there are tags enough, and all in the picture when it is taken straight on.
func TestWall(t *testing.T) {
	var many []string
	for i := range 60 {
		many = append(many, fmt.Sprintf("SP%07dA", i))
	}
	for n := range 6 {
		f, err := Wall(5, n, n%2 == 1, 640, 360, many)
		if err != nil {
			t.Fatal(err)
		}
		if want := map[bool]string{false: "wall easy", true: "wall hard"}[n%2 == 1]; f.Bucket != want {
			t.Errorf("wall %d is %q, want %q", n, f.Bucket, want)
		}
		if len(f.Labels) < 12 || len(f.Labels) > 40 {
			t.Errorf("wall %d has %d labels, want 12 to 40", n, len(f.Labels))
		}
		seen := map[string]bool{}
		for i := range f.Labels {
			l := &f.Labels[i]
			if seen[l.Text] {
				t.Errorf("wall %d: %s twice", n, l.Text)
			}
			seen[l.Text] = true
			for j := range f.Labels[:i] {
				o := &f.Labels[j]
				d := math.Hypot(l.Corners[0][0]-o.Corners[0][0], l.Corners[0][1]-o.Corners[0][1])
				if d < 29*math.Min(l.Module, o.Module) {
					t.Errorf("wall %d: %s and %s are %.1f pixels apart, of modules of %.2f", n, l.Text, o.Text, d, l.Module)
				}
			}
			if n%2 == 0 && !inPicture(l, 640, 360) {
				t.Errorf("wall %d: %s leaves the picture: %v", n, l.Text, l.Corners)
			}
		}
	}
}

func inPicture(l *Label, w, h float64) bool {
	for _, c := range l.Corners {
		if c[0] < 0 || c[1] < 0 || c[0] > w || c[1] > h {
			return false
		}
	}
	return true
}

// What is nearly a tag has the form of one but for its check character; a code of another
// maker is an address.
func TestDecoys(t *testing.T) {
	r := newRand(4, "decoys")
	for range 30 {
		_, text, err := decoy(r, "nearly tags")
		if err != nil || len(text) != 10 || text[0] != 'S' || !strings.Contains("PBCS", text[1:2]) || text[9] != 'O' {
			t.Fatalf("nearly a tag: %q, %v", text, err)
		}
		_, text, err = decoy(r, "foreign")
		if err != nil || !strings.HasPrefix(text, "https://example.org/") {
			t.Fatalf("a foreign code: %q, %v", text, err)
		}
	}
	for _, kind := range []string{"text", "squares"} {
		label, text, err := decoy(r, kind)
		if label == nil || text != "" || err != nil {
			t.Errorf("%s: %v, %q, %v", kind, label, text, err)
		}
	}
	if label, _, _ := decoy(r, "noise"); label != nil {
		t.Error("noise has a label")
	}
}

// Squares have finder patterns in most of their corners, and are not the same twice.
func TestSquares(t *testing.T) {
	r := newRand(6, "squares")
	finders, last := 0, ""
	for range 40 {
		s := squares(r)
		for _, at := range [][2]int{{0, 0}, {14, 0}, {0, 14}, {14, 14}} {
			whole := true
			for y := range 7 {
				for x := range 7 {
					ring := max(abs(x-3), abs(y-3))
					whole = whole && s.bits[at[1]+y][at[0]+x] == (ring != 2)
				}
			}
			if whole {
				finders++
			}
		}
		if now := fmt.Sprint(s.bits); now == last {
			t.Error("two are the same")
		} else {
			last = now
		}
	}
	if finders < 110 || finders > 145 {
		t.Errorf("%d of 160 corners are finder patterns, want four in five", finders)
	}
}

// A text is dark where its letters are, and paper around it.
func TestDrawText(t *testing.T) {
	m := drawText([]string{"II", "I"})
	if m.Rect != image.Rect(0, 0, 14, 26) {
		t.Fatalf("two lines are %v, want 14 x 26", m.Rect)
	}
	count := func(r image.Rectangle) (n int) {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if m.AlphaAt(x, y).A > 127 {
					n++
				}
			}
		}
		return n
	}
	first, second := count(image.Rect(0, 0, 14, 13)), count(image.Rect(0, 13, 14, 26))
	if second == 0 || first != 2*second {
		t.Errorf("%d pixels of two letters and %d of one", first, second)
	}
	// The shorter line is in the middle.
	if left, right := count(image.Rect(0, 13, 7, 26)), count(image.Rect(7, 13, 14, 26)); left == 0 || right == 0 || left == second {
		t.Errorf("the shorter line has %d pixels in the left half and %d in the right", left, right)
	}
	only := textOnly([]string{"II"})
	if ink, ok := only.ink(-3, 1); ok || ink != 0 {
		t.Errorf("beside its paper: %v, %v", ink, ok)
	}
	if ink, ok := only.ink(-1, 1); !ok || ink != 0 {
		t.Errorf("on its paper: %v, %v", ink, ok)
	}
}
