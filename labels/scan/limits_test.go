package scan

import (
	"image"
	"image/draw"
	"math"
	"slices"
	"testing"
	"time"
)

// scored is a decoder for which a number of issued tags, which differ in one codeword,
// have the given scores; the root of the power of its values is 2.
func scored(scores ...float32) (*decoder, *Issued) {
	d, issued := &decoder{}, &Issued{}
	d.value[8*sharedWords] = 2
	d.value[0] = 100 // a codeword that all tags share does not count
	for i, s := range scores {
		var w words
		w[sharedWords] = byte(i + 1)
		d.score[sharedWords][i+1] = s
		issued.words, issued.tags = append(issued.words, w), append(issued.tags, "")
	}
	return d, issued
}

// A tag is recognised when it agrees well enough, and by 2.5 deviations better than the
// second best, wherever the two stand among the issued ones.
func TestRecogniseLimits(t *testing.T) {
	for _, row := range []struct {
		name       string
		scores     []float32
		least      float64
		tag        int
		deviations float64
		lead       float64
		want       bool
	}{
		{"alone", []float32{10}, 4.99, 0, 5, math.Inf(1), true},
		{"alone and too weak", []float32{10}, 5.01, 0, 5, math.Inf(1), false},
		{"just far enough ahead", []float32{10, 4.98}, 4.99, 0, 5, 2.51, true},
		{"not far enough ahead", []float32{10, 5.2}, 4.99, 0, 5, 2.4, false},
		{"the best last", []float32{4.98, 3, 10}, 4.99, 2, 5, 2.51, true},
		{"the second after the best", []float32{3, 10, 5.2}, 4.99, 1, 5, 2.4, false},
		{"the second before the best", []float32{5.2, 10, 3}, 4.99, 1, 5, 2.4, false},
		{"two alike", []float32{10, 10}, 5, 0, 5, 0, false},
		{"the other way round", []float32{-10, -20}, 5, 0, -5, 5, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, issued := scored(row.scores...)
			issued.least = row.least
			got, ok := d.recognise(issued)
			same := func(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-6 }
			if ok != row.want || got.tag != row.tag || !same(got.deviations, row.deviations) || !same(got.lead, row.lead) {
				t.Errorf("tag %d with %.3f deviations, %.3f ahead: %v; want tag %d with %v, %v: %v",
					got.tag, got.deviations, got.lead, ok, row.tag, row.deviations, row.lead, row.want)
			}
		})
	}
	d, none := scored()
	if _, ok := d.recognise(none); ok {
		t.Error("one of no tags is recognised")
	}
}

// A sample is a module by its place from the middle, its colour and its weight.
func TestSampleAt(t *testing.T) {
	for _, row := range []struct {
		c    cell
		dark bool
		want sample
	}{
		{cell{10, 10}, true, sample{0, 0, 1, 0.5, 10, 10}},
		{cell{0, 20}, false, sample{10, -10, -1, 0.5, 0, 20}},
		{cell{-1, 21}, false, sample{11, -11, -1, 0.5, -1, 21}},
	} {
		if got := sampleAt(row.c, row.dark, 0.5); got != row.want {
			t.Errorf("module %v: %+v, want %+v", row.c, got, row.want)
		}
	}
	s := newTagSamples(theTables())
	if len(s.fixed) != 203+88 || len(s.coarse) != 96 || len(s.finder) != 81 {
		t.Errorf("%d fixed, %d coarse and %d finder samples, want 291, 96 and 81", len(s.fixed), len(s.coarse), len(s.finder))
	}
	for i, x := range s.fixed {
		if want := map[bool]float64{true: 0.5, false: 1}[i >= 203]; x.weight != want {
			t.Fatalf("sample %d weighs %v, want %v", i, x.weight, want)
		}
	}
	for _, x := range s.coarse {
		if (x.row+x.col)%2 != 0 {
			t.Errorf("the coarse sample %d, %d is not on a dark field of the chessboard", x.row, x.col)
		}
	}
}

// A finder pattern is found across its middle in all four directions, from a place that
// is somewhat off: how far its middle is, and how long a module.
func TestAcross(t *testing.T) {
	const module, middle = 8, 100
	var p plane
	p.fill(painted(200, 200, func(x, y int) byte {
		dx, dy := (x-middle)+7*module/2, (y-middle)+7*module/2
		if dx >= 0 && dy >= 0 && dx < 7*module && dy < 7*module && finderDark(dy/module, dx/module) {
			return 20
		}
		return 220
	}))
	r := New()
	r.runs.swing = 20
	for _, row := range []struct {
		name   string
		from   Point
		dx, dy float64
		shift  float64
		module float64
	}{
		{"along a row", Point{100, 100}, 1, 0, 0, module},
		{"along a row, from three pixels right", Point{103, 100}, 1, 0, -3, module},
		{"along a column", Point{100, 100}, 0, 1, 0, module},
		{"along a column, from two pixels above", Point{100, 98}, 0, 1, 2, module},
		{"along a diagonal", Point{100, 100}, math.Sqrt2 / 2, math.Sqrt2 / 2, 0, module * math.Sqrt2},
		{"along the other diagonal", Point{100, 100}, math.Sqrt2 / 2, -math.Sqrt2 / 2, 0, module * math.Sqrt2},
		{"along a diagonal, from beside", Point{102, 102}, math.Sqrt2 / 2, math.Sqrt2 / 2, -2 * math.Sqrt2, module * math.Sqrt2},
	} {
		shift, m, ok := r.across(&p, row.from, row.dx, row.dy, 1.3*row.module, false)
		if !ok || math.Abs(shift-row.shift) > 0.3 || math.Abs(m-row.module) > 0.3 {
			t.Errorf("%s: %v, %.2f pixels on, a module of %.2f; want %.2f and %.2f", row.name, ok, shift, m, row.shift, row.module)
		}
		if _, _, ok := r.across(&p, row.from, row.dx, row.dy, 1.3*row.module, true); ok {
			t.Errorf("%s: found as light on dark too", row.name)
		}
		if _, _, ok := r.across(&p, row.from, row.dx, row.dy, 0.85*row.module, false); ok {
			t.Errorf("%s: found with modules longer than may be", row.name)
		}
	}
	if _, _, ok := r.across(&p, Point{40, 100}, 1, 0, 1.3*module, false); ok {
		t.Error("a finder is found far beside it")
	}
}

// A finder that was found before is not added again, but counted; it is the same within
// 1.2 modules, if both are dark on light or both light on dark.
func TestKeepFinder(t *testing.T) {
	base := finder{module: [4]float64{2, 2, 3, 0}, hits: 1}
	for _, row := range []struct {
		name    string
		dx      float64 // pixels of the full size, where a module is 4.67
		inverse bool
		known   int
	}{{"at the same place", 0, false, 1}, {"just near enough", 5.55, false, 1}, {"just too far", 5.65, false, 2}, {"light on dark", 0, true, 2}} {
		r := New()
		r.keepFinder(base, Point{50, 50}, 2)
		f := base
		f.inverse = row.inverse
		r.keepFinder(f, Point{50 + row.dx/2, 50}, 2)
		if len(r.found) != row.known {
			t.Errorf("%s: %d finders, want %d", row.name, len(r.found), row.known)
			continue
		}
		if want := 3 - row.known; r.found[0].hits != want {
			t.Errorf("%s: seen %d times, want %d", row.name, r.found[0].hits, want)
		}
		first := r.found[0]
		if first.at != (Point{100, 100}) || first.module != [4]float64{4, 4, 6, 0} || math.Abs(first.size-14.0/3) > 1e-9 {
			t.Errorf("%s: kept as %+v, want in pixels of the full size, its size the mean of what is known", row.name, first)
		}
	}
}

// A code in one part of a crowded picture is given where it lies in the whole.
func TestReadPartsPlaces(t *testing.T) {
	const scale, x0, y0 = 2.0, 100.0, 50.0
	symbol := printedSymbol(t, "HELLO", 1, 4) // 29 modules of 4 pixels, the quiet zone is 16
	for _, at := range []image.Point{{20, 20}, {340, 20}, {20, 340}, {340, 340}} {
		var p plane
		p.fill(onWhite(480, 480, map[image.Point]image.Image{at: symbol}))
		g := generalReader{clock: newClock(t.Context(), time.Minute)}
		g.readParts(&p, scale, Point{x0, y0})
		if len(g.codes) == 0 {
			t.Errorf("the code at %v is not read", at)
			continue
		}
		left, top := x0+scale*float64(at.X+16), y0+scale*float64(at.Y+16)
		side := scale * 84
		for _, code := range g.codes {
			if code.Text != "HELLO" || code.Tag {
				t.Errorf("at %v: %q, tag %v", at, code.Text, code.Tag)
			}
			near(t, code.Corners, [4]Point{{left, top}, {left + side, top}, {left + side, top + side}, {left, top + side}}, 5)
		}
	}
}

// What lies over a symbol is noticed, and the modules under it count little from then on;
// a clean symbol is left as it is.
func TestAdaptToOcclusion(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 6}
	clean := scene(t, s)
	covered := image.NewGray(clean.Rect)
	copy(covered.Pix, clean.Pix)
	// A grey finger over modules 8 to 14 of rows 8 to 14.
	finger := image.Rect(s.at.X+8*6, s.at.Y+8*6, s.at.X+15*6, s.at.Y+15*6)
	draw.Draw(covered, finger, image.NewUniform(clean.At(0, 0)), image.Point{}, draw.Src)
	for _, row := range []struct {
		name    string
		picture *image.Gray
		want    bool
	}{{"clean", clean, false}, {"covered", covered, true}} {
		t.Run(row.name, func(t *testing.T) {
			f := following(t, clean)
			f.sees(t, row.picture)
			r, k := f.reader, &f.known[0]
			r.sampleSymbol(&k.symbol.bits, k.symbol.mask)
			r.blurSamples(k.symbol.blur)
			before := slices.Clone(r.samples.all[:])
			g := gridOn(s)
			v := r.pyramid.level(g.module())
			fitted := g.gather(v, r.samples.all[:], nil)
			if got := r.adaptToOcclusion(&g, v, &fitted); got != row.want {
				t.Fatalf("something lies over it: %v, want %v", got, row.want)
			}
			lighter := 0
			for i, x := range r.samples.all {
				if !row.want && x != before[i] {
					t.Fatal("the samples of a clean symbol were changed")
				}
				if x.weight < before[i].weight {
					lighter++
					if x.row < 7 || x.row > 15 || x.col < 7 || x.col > 15 {
						t.Errorf("module %d, %d counts less, and nothing lies there", x.row, x.col)
					}
				}
			}
			if row.want && lighter < 5 {
				t.Errorf("%d modules count less, want 5 at least", lighter)
			}
		})
	}
}

// The bits outside the basis, and those alone, say by how much a tag is better than
// chance; the codewords in which any bit was read wrong are counted.
func TestJudge(t *testing.T) {
	tables, tag := theTables(), madeTag('B', 271828)
	s := readAs(tables, tag, 1)
	damage(tables, &s, 4, 2, func(v float64) float64 { return -v / 4 })
	var d decoder
	d.load(tables, &s, 1)
	got := d.decode(&tables.code)
	if !got.ok || string(got.text[:]) != tag || got.wrong != 2 {
		t.Fatalf("decoded %v as %q with %d codewords wrong, want %q with 2", got.ok, got.text, got.wrong, tag)
	}
	inBasis := map[uint8]bool{}
	for _, bit := range d.pivot {
		inBasis[bit] = true
	}
	if len(inBasis) != freeCount {
		t.Fatalf("%d bits are in the basis, want %d", len(inBasis), freeCount)
	}
	sum, power, all, agree := 0.0, 0.0, 0.0, 0.0
	for i, v := range d.value {
		x := float64(v)
		if !got.bits.has(i) {
			x = -x
		}
		all, agree = all+math.Abs(x), agree+x
		if !inBasis[uint8(i)] {
			sum, power = sum+x, power+x*x
		}
	}
	if want := sum / math.Sqrt(power); math.Abs(got.deviations-want) > 1e-3 {
		t.Errorf("%.4f deviations, want %.4f", got.deviations, want)
	}
	if want := agree / all; math.Abs(got.agreement-want) > 1e-4 {
		t.Errorf("agreement %.4f, want %.4f", got.agreement, want)
	}
	// 208 bits of one, 16 of a quarter of which are wrong.
	if math.Abs(all-196) > 1e-3 || math.Abs(agree-188) > 1e-3 {
		t.Errorf("all certainty is %.2f and %.2f agrees, want 196 and 188", all, agree)
	}
}

// The basis is of the most certain bits that determine the others: each basis vector has
// a one at its own pivot and none at another's.
func TestReduce(t *testing.T) {
	tables := theTables()
	s := readAs(tables, madeTag('C', 9), 5)
	random := newNoise(0.3)
	for row := range s {
		for col := range s[row] {
			s[row][col] += random()
		}
	}
	var d decoder
	d.load(tables, &s, 5)
	d.reduce(&tables.code)
	for i := range d.basis {
		for j, bit := range d.pivot {
			if d.basis[i].has(int(bit)) != (i == j) {
				t.Errorf("basis vector %d has a one at pivot %d: %v", i, j, i != j)
			}
		}
	}
	for i := 1; i < len(d.order); i++ {
		if abs32(d.value[d.order[i]]) > abs32(d.value[d.order[i-1]]) {
			t.Fatalf("bit %d in order is more certain than the one before", i)
		}
	}
	// No bit that was passed over could have been taken: it depends on those before it.
	last := slices.Index(d.order[:], d.pivot[freeCount-1])
	if last < freeCount-1 || last > 120 {
		t.Errorf("the last pivot is number %d of all bits", last)
	}
}

// Every stage of a reading that has something to do is timed, and no other.
func TestStagesAreTimed(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 4}
	report, err := New().Read(t.Context(), scene(t, s), Options{Budget: time.Minute})
	if err != nil || len(report.Codes) != 1 {
		t.Fatalf("%d codes, %v", len(report.Codes), err)
	}
	for name, took := range map[string]time.Duration{
		"grey": report.Stages.Grey, "find": report.Stages.Find, "fit": report.Stages.Fit, "decode": report.Stages.Decode, "foreign": report.Stages.Foreign,
	} {
		if took <= 0 {
			t.Errorf("stage %s took no time", name)
		}
	}
	if report.Stages.Recognise != 0 {
		t.Errorf("recognising took %v where everything was read", report.Stages.Recognise)
	}
	report, err = New().Read(t.Context(), scene(t, s), Options{TagsOnly: true, Budget: time.Minute})
	if err != nil || report.Stages.Foreign != 0 {
		t.Errorf("with tags only, other codes took %v, %v", report.Stages.Foreign, err)
	}
}

// The margin is how far the agreement is above the least that is accepted: with a part of
// the text's modules the other way round, twice that part is missing from it.
func TestMargin(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 6}
	for _, wrong := range []float64{0, 0.02, 0.03, 0.04} {
		report, err := New().Read(t.Context(), spoilText(scene(t, s), s, wrong), Options{TagsOnly: true, Budget: time.Minute})
		if err != nil || len(report.Codes) != 1 || report.Codes[0].Text != s.tag || report.Codes[0].How != Read {
			t.Fatalf("%.2f of the text wrong: %+v, %v", wrong, report.Codes, err)
		}
		want := (1 - 2*wrong - leastAgreement) / (1 - leastAgreement)
		if got := report.Codes[0].Margin; math.Abs(got-want) > 0.06 {
			t.Errorf("%.2f of the text wrong: margin %.3f, want %.3f", wrong, got, want)
		}
		if wrong == 0 && report.Codes[0].Mended != 0 || wrong > 0 && report.Codes[0].Mended == 0 {
			t.Errorf("%.2f of the text wrong: %d codewords were mended", wrong, report.Codes[0].Mended)
		}
	}
}

// The correlation of the data modules is that of the textbook: of each module's value,
// with the light taken out, with what it should be.
func TestDataMatch(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 6}
	f := following(t, scene(t, s))
	for _, wrong := range []float64{0, 0.1, 0.3, 0.6} {
		k := f.known[0]
		f.load(&k.want)
		f.sees(t, spoilText(scene(t, s), s, wrong))
		g := gridOn(s)
		v := f.reader.pyramid.level(g.module())
		fitted := g.gather(v, f.all[:], nil)
		var x, y []float64
		for _, m := range f.all[len(f.reader.samples.fixed):][:symbolBits] {
			px, py, _ := g.near(m.u, m.v)
			x = append(x, m.want)
			y = append(y, (fitted.light[0]+fitted.light[1]*m.u+fitted.light[2]*m.v-v.at(px/v.scale, py/v.scale))/fitted.depth)
		}
		mean := func(of []float64) (sum float64) {
			for _, v := range of {
				sum += v / float64(len(of))
			}
			return sum
		}
		mx, my := mean(x), mean(y)
		var xx, xy, yy float64
		for i := range x {
			xx, xy, yy = xx+(x[i]-mx)*(x[i]-mx), xy+(x[i]-mx)*(y[i]-my), yy+(y[i]-my)*(y[i]-my)
		}
		if got, want := f.dataMatch(&g, v, fitted), xy/math.Sqrt(xx*yy); math.Abs(got-want) > 1e-9 {
			t.Errorf("%.1f of the text wrong: correlation %.9f, want %.9f", wrong, got, want)
		}
	}
	// Modules that are all alike are like nothing.
	k := f.known[0]
	for i := range k.want {
		k.want[i] = 1
	}
	f.load(&k.want)
	g := gridOn(s)
	if got := f.dataMatch(&g, f.reader.pyramid.level(6), fit{depth: 50}); got != 0 {
		t.Errorf("modules that should all be dark have a correlation of %v", got)
	}
}

// A drawing's own edges may leave the fit restless; a tag that matches so well is kept.
func TestFollowerKeepsSharpTags(t *testing.T) {
	tag := madeTag('P', 4711)
	for _, module := range []int{3, 5, 6, 7, 9} {
		picture := func(dx, dy int) image.Image {
			return onWhite(480, 320, map[image.Point]image.Image{{100 + dx, 60 + dy}: printedSymbol(t, tag, 1, module)})
		}
		f := following(t, picture(0, 0))
		for i, at := range []image.Point{{1, 0}, {1, 1}, {2, 2}, {4, 2}, {4, 4}} {
			if f.keep(f.sees(t, picture(at.X, at.Y)), false); len(f.known) != 1 {
				t.Fatalf("%d pixels a module: lost at picture %d", module, i+1)
			}
		}
	}
}

// Without blur that is known, a tag is learned as sharp as it is printed.
func TestLearnAppearance(t *testing.T) {
	s := sticker{image.Pt(200, 150), madeTag('P', 77), 3}
	blurry := softened(softened(scene(t, s)))
	f := following(t, blurry)
	f.sees(t, blurry)
	k := f.known[0]
	if k.symbol.blur[0] == 0 {
		t.Fatal("the blur of a tag that was read is not known")
	}
	blurred, pale := k.want, 0
	for _, v := range blurred {
		if math.Abs(math.Abs(v)-1) > 0.02 {
			pale++
		}
	}
	if pale < 100 {
		t.Errorf("%d modules are expected paler or darker than printed, want 100 of a blurred picture", pale)
	}
	k.symbol.blur = [4]float64{}
	f.learnAppearance(&k)
	sharp := 0
	for i, v := range k.want {
		if v == 1 || v == -1 {
			sharp++
		}
		if v != blurred[i] && v*blurred[i] < 0 && math.Abs(blurred[i]) > 0.5 {
			t.Errorf("module %d is %v, and was %v with blur", i, v, blurred[i])
		}
	}
	if sharp != len(k.want) {
		t.Errorf("%d of %d modules are wholly dark or light", sharp, len(k.want))
	}
	k.symbol.blur = [4]float64{1, 0, 0, 0}
	f.learnAppearance(&k)
	for i, v := range k.want {
		if v != 1 && v != -1 {
			t.Errorf("blurred by nothing, module %d is %v", i, v)
		}
	}
}

// A search looks at every other module of the three finder patterns, and at no others.
func TestCoarseSamples(t *testing.T) {
	f := NewFollower()
	if coarseSamples != 96 {
		t.Fatalf("%d samples, want half of three corners of 64", coarseSamples)
	}
	for i, s := range f.half {
		corner := s.row < 8 && s.col < 8 || s.row < 8 && s.col > 12 || s.row > 12 && s.col < 8
		fixed := s.row >= 0 && s.col >= 0 && s.row < symbolSize && s.col < symbolSize && corner
		if i < coarseSamples && !fixed {
			t.Errorf("sample %d, module %d, %d, is on no finder pattern", i, s.row, s.col)
		}
		if (s.row+s.col)&1 != 0 {
			t.Errorf("sample %d, module %d, %d, is on a light field of the chessboard", i, s.row, s.col)
		}
	}
}
