package scan

import (
	"image"
	"image/draw"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// sticker is a printed tag at a place of a picture, module pixels a module.
type sticker struct {
	at     image.Point // of the symbol's first module
	tag    string
	module int
}

// scene is white paper with tags on it, as sharp as a camera shows it: a drawing's own
// edges would leave a grid restless.
func scene(t testing.TB, stickers ...sticker) *image.Gray {
	t.Helper()
	paper := painted(640, 480, func(int, int) byte { return 230 })
	for _, s := range stickers {
		symbol := printedSymbol(t, s.tag, 1, s.module)
		corner := s.at.Sub(image.Pt(4*s.module, 4*s.module)) // of the quiet zone
		draw.Draw(paper, symbol.Rect.Add(corner), symbol, image.Point{}, draw.Src)
	}
	return softened(paper)
}

// softened is a picture in which each pixel is the mean of the nine around it.
func softened(p *image.Gray) *image.Gray {
	out := image.NewGray(p.Rect)
	copy(out.Pix, p.Pix)
	for y := 1; y < p.Rect.Dy()-1; y++ {
		for x := 1; x < p.Rect.Dx()-1; x++ {
			sum := 0
			for i := range 9 {
				sum += int(p.Pix[p.PixOffset(x+i%3-1, y+i/3-1)])
			}
			out.Pix[out.PixOffset(x, y)] = byte(sum / 9)
		}
	}
	return out
}

// gridOn is the true grid of a sticker.
func gridOn(s sticker) grid {
	m := float64(s.module)
	middle := symbolSize / 2.0 * m
	return grid{m, 0, float64(s.at.X) + middle, 0, m, float64(s.at.Y) + middle, 0, 0}
}

// following is a follower that has read a picture and knows the tags in it.
func following(t testing.TB, picture image.Image) *Follower {
	t.Helper()
	f := NewFollower()
	if _, err := f.Read(t.Context(), picture, Options{TagsOnly: true, Budget: time.Minute}); err != nil {
		t.Fatal(err)
	}
	return f
}

// sees takes a picture in without reading it.
func (f *Follower) sees(t testing.TB, picture image.Image) *clock {
	t.Helper()
	var report Report
	clock, err := f.reader.begin(t.Context(), picture, Options{Budget: time.Minute}, &report)
	if err != nil {
		t.Fatal(err)
	}
	return clock
}

// knows are the texts of the tags that a follower keeps, in its order.
func (f *Follower) knows() (tags []string) {
	for i := range f.known {
		tags = append(tags, f.known[i].code.Text)
	}
	return tags
}

// only puts the known tags into an order.
func (f *Follower) only(t testing.TB, tags ...string) {
	t.Helper()
	var known []followed
	for _, tag := range tags {
		i := slices.IndexFunc(f.known, func(k followed) bool { return k.code.Text == tag })
		if i < 0 {
			t.Fatalf("%s is not known, but %q", tag, f.knows())
		}
		known = append(known, f.known[i])
	}
	f.known = known
}

// After three known tags were lost and none was found, the picture is taken for another
// one: the others are not looked for one by one. Two are not enough, and one that was
// found says that the picture is the same.
func TestFollowerGivesUp(t *testing.T) {
	tags := madeTags(6)
	var all []sticker
	for i, tag := range tags {
		all = append(all, sticker{image.Pt(40+200*(i%3), 60+200*(i/3)), tag, 4})
	}
	for _, row := range []struct {
		name  string
		order []int // of the tags that the follower knows
		there []int // in the second picture
		kept  []int
	}{
		{"three lost, then one that is there", []int{0, 1, 2, 3}, []int{3}, nil},
		{"two lost, then one that is there", []int{0, 1, 3}, []int{3}, []int{3}},
		{"one found first", []int{3, 0, 1, 2, 4}, []int{3, 4}, []int{3, 4}},
		{"two lost, one found, two lost, one found", []int{0, 1, 3, 2, 5, 4}, []int{3, 4}, []int{3, 4}},
		{"three lost, then two that are there", []int{0, 1, 2, 3, 4}, []int{3, 4}, nil},
		{"all there", []int{0, 1, 2, 3, 4, 5}, []int{0, 1, 2, 3, 4, 5}, []int{0, 1, 2, 3, 4, 5}},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := following(t, scene(t, all...))
			pick := func(of []int) (tags []string, stickers []sticker) {
				for _, i := range of {
					tags, stickers = append(tags, all[i].tag), append(stickers, all[i])
				}
				return tags, stickers
			}
			known, _ := pick(row.order)
			f.only(t, known...)
			_, there := pick(row.there)
			lost := f.keep(f.sees(t, scene(t, there...)), false)
			want, _ := pick(row.kept)
			if got := f.knows(); !slices.Equal(got, want) {
				t.Errorf("%q are kept, want %q", got, want)
			}
			if lost != (len(row.kept) < len(row.order)) {
				t.Errorf("lost is %v", lost)
			}
			if len(f.reader.codes) != len(want) || len(f.reader.detections) != len(want) {
				t.Errorf("%d codes and %d signs are reported, want %d", len(f.reader.codes), len(f.reader.detections), len(want))
			}
		})
	}
}

// The whole picture is looked through at every fourth picture, when a tag was lost, and
// when none is known: a new tag is seen then and not before.
func TestFollowerLooks(t *testing.T) {
	old, fresh := sticker{image.Pt(60, 60), madeTag('P', 1), 4}, sticker{image.Pt(300, 200), madeTag('B', 2), 4}
	f := following(t, scene(t, old))
	both := scene(t, old, fresh)
	for n := 1; n <= 3*fullScanEvery; n++ {
		report, err := f.Read(t.Context(), both, Options{TagsOnly: true, Budget: time.Minute})
		if err != nil {
			t.Fatal(err)
		}
		want := 1
		if n >= 4 {
			want = 2
		}
		if len(report.Codes) != want {
			t.Errorf("picture %d after a look: %d tags, want %d", n, len(report.Codes), want)
		}
	}
	// The one lost brings the look forward.
	third := sticker{image.Pt(60, 300), madeTag('C', 3), 4}
	report, err := f.Read(t.Context(), scene(t, old, third), Options{TagsOnly: true, Budget: time.Minute})
	if err != nil || len(report.Codes) != 2 || report.Codes[1].Text != third.tag {
		t.Errorf("after a tag was lost: %+v, %v; want %s and %s at once", report.Codes, err, old.tag, third.tag)
	}
}

// A tag that has grown is taken up to 1.25 times from one picture to the next; one that
// is larger or smaller than that is not the same label.
func TestFollowerGrowth(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 8}
	f := following(t, scene(t, s))
	f.sees(t, scene(t, s))
	for _, row := range []struct {
		before float64 // size of a module in the picture before, pixels; now it is 8
		want   bool
	}{
		{8, true},
		{8 / 1.23, true},
		{8 / 1.27, false},
		{8 * 1.23, true},
		{8 * 1.27, false},
	} {
		k := f.known[0]
		f.load(&k.want)
		for _, i := range []int{0, 1, 3, 4} {
			k.grid[i] *= row.before / 8
		}
		if got := f.fitTag(&k, gridOn(s)); got != row.want {
			t.Errorf("a module of %.2f pixels, and 8 now: taken %v, want %v", row.before, got, row.want)
		}
	}
}

// What is known of how a tag looks is learned anew when it is a twentieth larger or
// smaller, and not before.
func TestFollowerRefresh(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 8}
	f := following(t, scene(t, s))
	f.sees(t, scene(t, s))
	for _, row := range []struct {
		studied float64 // size at which it was learned, of 8 now
		anew    bool
	}{{8, false}, {8 / 1.04, false}, {8 / 1.06, true}, {8 * 1.04, false}, {8 * 1.06, true}} {
		k := f.known[0]
		k.grid = gridOn(s)
		k.size = row.studied
		f.relearn(&k)
		if anew := k.size != row.studied; anew != row.anew {
			t.Errorf("learned at %.2f pixels, and 8 now: learned anew %v, want %v", row.studied, anew, row.anew)
		}
		if row.anew && math.Abs(k.size-8) > 1e-9 {
			t.Errorf("learned anew at %.2f pixels, want 8", k.size)
		}
	}
}

// spoilText is a picture in which a part of the modules that hold the text is the other
// way round.
func spoilText(picture *image.Gray, s sticker, part float64) *image.Gray {
	out := image.NewGray(picture.Rect)
	copy(out.Pix, picture.Pix)
	random := rand.New(rand.NewPCG(11, 12))
	data := theTables().data
	for _, i := range random.Perm(symbolBits)[:int(part*symbolBits)] {
		c := data[i]
		for y := range s.module {
			for x := range s.module {
				at := out.PixOffset(s.at.X+int(c.col)*s.module+x, s.at.Y+int(c.row)*s.module+y)
				out.Pix[at] = 255 - out.Pix[at]
			}
		}
	}
	return out
}

// Of the modules that hold the text, enough must be as they were when the tag was read,
// and half a correlation in any case: the finders of another tag are the same.
func TestFollowerSense(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 6}
	whole := scene(t, s)
	for _, row := range []struct {
		name  string
		wrong float64 // part of the modules that is the other way round; each takes 2 off the correlation
		read  float64 // correlation with which the tag was read
		want  bool
	}{
		{"as read", 0, 1, true},
		{"a tenth wrong", 0.10, 1, true},
		{"a sixth wrong of a tag that was clear", 0.19, 1, false},
		{"a sixth wrong of a tag that was poor", 0.19, 0.6, true},
		{"somewhat more, of a poor tag", 0.22, 0.6, true},
		{"more than a quarter wrong", 0.29, 0.5, false},
		{"half wrong", 0.5, 0.1, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := following(t, whole)
			k := f.known[0]
			k.dataMatch = row.read
			f.load(&k.want)
			f.sees(t, spoilText(whole, s, row.wrong))
			if got := f.fitTag(&k, gridOn(s)); got != row.want {
				t.Errorf("taken %v, want %v", got, row.want)
			}
		})
	}
	f := following(t, whole)
	if got := f.known[0].dataMatch; got < 0.95 {
		t.Errorf("a clear tag is read with a correlation of %.2f, want 0.95", got)
	}
}

// A label put in the place of another, to the pixel, is never taken for it, whatever
// text it has.
func TestFollowerSwapped(t *testing.T) {
	tags := madeTags(40)
	first := sticker{image.Pt(200, 150), tags[0], 5}
	f := following(t, scene(t, first))
	k := f.known[0]
	for _, tag := range tags[1:] {
		other := first
		other.tag = tag
		f.sees(t, scene(t, other))
		f.load(&k.want)
		kept := k
		if f.fitTag(&kept, gridOn(first)) {
			t.Errorf("%s is taken for %s", tag, first.tag)
		}
	}
}

// A tag that moved is found up to three modules aside, and one that went far is not.
func TestFollowerSearch(t *testing.T) {
	const module = 6
	s := sticker{image.Pt(200, 150), madeTag('P', 77), module}
	f := following(t, scene(t, s))
	for _, row := range []struct {
		dx, dy float64 // modules
		want   bool
	}{{0, 0, true}, {1, 0, true}, {0, -2, true}, {3, 3, true}, {-3, 3, true}, {9, 0, false}, {0, -12, false}} {
		moved := s
		moved.at = s.at.Add(image.Pt(int(row.dx*module), int(row.dy*module)))
		f.sees(t, scene(t, moved))
		f.motion = motion{}
		k := f.known[0]
		k.grid = gridOn(s)
		found := f.locate(&k, &motion{})
		if found != row.want {
			t.Errorf("moved by %v, %v modules: found %v, want %v", row.dx, row.dy, found, row.want)
		}
		if !found {
			if f.motion.n != 0 {
				t.Errorf("moved by %v, %v modules and not found, it counts as a motion", row.dx, row.dy)
			}
			continue
		}
		want := gridOn(moved)
		if off := math.Hypot(k.grid[2]-want[2], k.grid[5]-want[5]); off > 0.2*module {
			t.Errorf("moved by %v, %v modules: found %.2f pixels aside", row.dx, row.dy, off)
		}
		if f.motion.n != 1 {
			t.Errorf("found, and %v motions are noted", f.motion.n)
		}
	}
}

// When the time is up, a tag that was not looked for is neither reported nor forgotten.
func TestFollowerOutOfTime(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 5}
	f := following(t, scene(t, s))
	clock := f.sees(t, scene(t, s))
	clock.end = time.Now().Add(-time.Second)
	if lost := f.keep(clock, false); lost || len(f.known) != 1 || len(f.reader.codes) != 0 {
		t.Errorf("lost %v, %d known, %d reported; want it known and not reported", lost, len(f.known), len(f.reader.codes))
	}
}

// The time for a picture is a fifth of a second where none is named: five a second.
func TestFollowBudget(t *testing.T) {
	if FollowBudget != 200*time.Millisecond {
		t.Errorf("FollowBudget is %v, want 200 ms", FollowBudget)
	}
	f := NewFollower()
	report, err := f.Read(t.Context(), painted(4000, 3000, func(x, y int) byte { return byte((x*7919 ^ y*104729) >> 3) }), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !report.Partial {
		t.Error("twelve million pixels of nonsense are read in a fifth of a second")
	}
}

// The picture before moves the first guess: a camera that pans goes on panning.
func TestFollowerPans(t *testing.T) {
	const module, step = 5, 30 // six modules a picture, more than a search reaches
	tag := madeTag('P', 77)
	f := following(t, scene(t, sticker{image.Pt(100, 150), tag, module}))
	f.motion.add(Point{0, 0}, Point{step, 0})
	for n := 1; n <= 3; n++ {
		f.keep(f.sees(t, scene(t, sticker{image.Pt(100+n*step, 150), tag, module})), false)
		if len(f.known) != 1 {
			t.Fatalf("lost at picture %d", n)
		}
	}
	if f.keep(f.sees(t, scene(t, sticker{image.Pt(100+3*step+90, 150), tag, module})), false); len(f.known) != 0 {
		t.Error("a jump of 18 modules is followed")
	}
}
