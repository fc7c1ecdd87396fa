package scan

import (
	"fmt"
	"image"
	"math"
	"slices"

	"github.com/makiuchi-d/gozxing"
	multidetector "github.com/makiuchi-d/gozxing/multi/qrcode/detector"
	general "github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/detector"
)

// Limits of what the general library is given at once.
const (
	generalPixels = 3_000_000 // because its search cannot be interrupted
	partOverlap   = 400       // pixels that neighbouring parts of a larger picture share
	flatPart      = 12        // of contrast: the library needs 24, and sharpened it is twice as much
	leastPart     = 160       // pixels a side of the smallest part of a crowded picture
)

// readForeign adds the codes, of any QR version, that a general library finds when our
// own tags are painted over. It overwrites the grey levels. A picture over
// generalPixels is searched in a smaller size first, and then in overlapping parts of
// the larger sizes: a code up to partOverlap pixels wide in one of the sizes is whole
// in one of the parts.
func (r *Reader) readForeign(clock *clock) {
	others := generalReader{clock: clock}
	level, scale := 0, 1.0
	for level < r.pyramid.n-1 && r.pyramid.levels[level].w*r.pyramid.levels[level].h > generalPixels {
		level++
		scale *= 2
	}
	for ; level >= 0 && !clock.expired(); level, scale = level-1, scale/2 {
		p := &r.pyramid.levels[level]
		for i := range r.codes {
			p.paintOver(&r.codes[i].Corners, scale)
		}
		for _, box := range r.partsOf(p, scale) {
			if clock.expired() {
				break
			}
			part, at := p.cut(box), Point{float64(box.Min.X) * scale, float64(box.Min.Y) * scale}
			if part.contrast(0, 0, max(part.w, part.h)) <= flatPart {
				continue
			}
			before := len(others.codes)
			others.read(part, scale, at)
			if len(others.codes) == before && !clock.expired() {
				// The library compares each pixel with the mean around: blur of two
				// modules takes some of them over that edge.
				others.read(part.sharpened(), scale, at)
			}
		}
	}
	r.codes = append(r.codes, others.codes...)
}

// paintOver fills a symbol with the brightness of the paper around its corners, so that
// it is not found again. The corners are in pixels of the full size; scale of them make
// one pixel of p.
func (p *plane) paintOver(full *[4]Point, scale float64) {
	corners := *full
	for i := range corners {
		corners[i] = Point{corners[i].X / scale, corners[i].Y / scale}
	}
	var m Point
	top, bottom := math.Inf(1), math.Inf(-1)
	for _, c := range corners {
		m.X, m.Y = m.X+c.X/4, m.Y+c.Y/4
		top, bottom = math.Min(top, c.Y), math.Max(bottom, c.Y)
	}
	paper := 0.0
	for _, c := range corners {
		// A tenth further out than the corner is the quiet zone.
		paper += p.at(c.X+0.1*(c.X-m.X), c.Y+0.1*(c.Y-m.Y)) / 4
	}
	for y := max(0, int(top)); y < min(p.h, int(bottom)+1); y++ {
		left, right := p.w, 0
		for i := range corners {
			a, b := corners[i], corners[(i+1)%4]
			v := float64(y) + 0.5
			if (a.Y > v) == (b.Y > v) {
				continue
			}
			x := a.X + (v-a.Y)/(b.Y-a.Y)*(b.X-a.X)
			left, right = min(left, int(x)), max(right, int(x)+1)
		}
		for x := max(0, left); x < min(p.w, right); x++ {
			p.pix[y*p.w+x] = byte(math.Max(0, math.Min(255, paper)))
		}
	}
}

// generalReader reads one picture with the general library, part by part so that the
// time limit can be checked in between.
type generalReader struct {
	clock *clock
	codes []Code
}

// read adds the codes of a part of the picture, whose corner is given in pixels of the
// full size; scale of them make one pixel of p. A panic in the library ends the reading
// of the part; codes found before are kept.
func (g *generalReader) read(p *plane, scale float64, at Point) {
	defer func() { _ = recover() }()
	matrix, err := binarize(p)
	if err != nil {
		return // too small to hold a code, or all of one brightness
	}
	if g.tooMany(matrix) {
		g.readParts(p, scale, at)
		return
	}
	// The library's own readers, for several codes and for one, do these steps in one
	// call, which cannot be interrupted. Each finds some that the other does not.
	before := len(g.codes)
	hints := map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true}
	symbols, err := multidetector.NewMultiFinderPatternFinder(matrix, nil).FindMulti(hints)
	for _, symbol := range symbols {
		if err != nil || g.clock.expired() {
			break
		}
		g.decode(matrix, symbol, scale, at)
	}
	if len(g.codes) > before || g.clock.expired() {
		return
	}
	if symbol, err := detector.NewFinderPatternFinder(matrix, nil).Find(nil); err == nil {
		g.decode(matrix, symbol, scale, at)
	}
}

// decode adds the code to which three finders belong, if it is one.
func (g *generalReader) decode(matrix *gozxing.BitMatrix, symbol *detector.FinderPatternInfo, scale float64, at Point) {
	found, err := detector.NewDetector(matrix).ProcessFinderPatternInfo(symbol)
	if err != nil {
		return
	}
	result, err := general.NewDecoder().Decode(found.GetBits(), nil)
	// An empty text is a false detection in noise.
	if err != nil || result.GetText() == "" {
		return
	}
	points := slices.Clone(found.GetPoints())
	if meta, ok := result.GetOther().(*general.QRCodeDecoderMetaData); ok {
		meta.ApplyMirroredCorrection(points)
	}
	code := Code{Text: result.GetText(), Tag: IsTag(result.GetText()), Corners: generalCorners(points)}
	for i, c := range code.Corners {
		code.Corners[i] = Point{c.X*scale + at.X, c.Y*scale + at.Y}
	}
	g.codes = append(g.codes, code)
}

// readParts reads a crowded picture in four parts that overlap by half their width. A
// part that is small and still crowded is not read, and the report is marked partial.
func (g *generalReader) readParts(p *plane, scale float64, at Point) {
	w, h := p.w*2/3, p.h*2/3
	if g.clock.expired() || min(w, h) < leastPart {
		g.clock.timedOut = true
		return
	}
	for _, corner := range [4]image.Point{{}, {X: p.w - w}, {Y: p.h - h}, {X: p.w - w, Y: p.h - h}} {
		box := image.Rect(0, 0, w, h).Add(corner)
		g.read(p.cut(box), scale, Point{at.X + float64(corner.X)*scale, at.Y + float64(corner.Y)*scale})
	}
}

// maxGeneralFinders is how many finders the library may have to group: its time
// grows with their cube.
const maxGeneralFinders = 200

// tooMany counts the finder candidates of the library, row by row as it does, and
// reports whether there are so many, or it takes so long, that the library must not be
// called.
func (g *generalReader) tooMany(matrix *gozxing.BitMatrix) bool {
	finders := detector.NewFinderPatternFinder(matrix, nil)
	const step = detector.FinderPatternFinder_MIN_SKIP
	for y := step - 1; y < matrix.GetHeight(); y += step {
		countRow(finders, matrix, y)
		if len(finders.GetPossibleCenters()) > maxGeneralFinders || g.clock.expired() {
			return true
		}
	}
	return false
}

// countRow adds the finders that a row goes through: runs of dark, light, dark,
// light, dark pixels as 1:1:3:1:1.
func countRow(finders *detector.FinderPatternFinder, matrix *gozxing.BitMatrix, y int) {
	runs, state := make([]int, 5), 0
	for x := range matrix.GetWidth() {
		dark := matrix.Get(x, y)
		switch {
		case dark == (state%2 == 0):
			runs[state]++
		case state < 4:
			state++
			runs[state]++
		case detector.FinderPatternFinder_foundPatternCross(runs) && finders.HandlePossibleCenter(runs, y, x):
			clear(runs)
			state = 0
		default:
			copy(runs, []int{runs[2], runs[3], runs[4], 1, 0})
			state = 3
		}
	}
	if detector.FinderPatternFinder_foundPatternCross(runs) {
		finders.HandlePossibleCenter(runs, y, matrix.GetWidth())
	}
}

func binarize(p *plane) (*gozxing.BitMatrix, error) {
	source, err := gozxing.NewPlanarYUVLuminanceSource(p.pix, p.w, p.h, 0, 0, p.w, p.h, false)
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(source))
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	matrix, err := bitmap.GetBlackMatrix()
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	return matrix, nil
}

// finderInset is how far a finder pattern's middle lies from the symbol's edge,
// in modules. Source: ISO/IEC 18004, a finder pattern is 7 x 7 modules.
const finderInset = 3.5

// generalCorners works the corners out from the middles of the finder patterns,
// which come bottom left, top left, top right. They are as good as that allows:
// the fourth is where a parallelogram has it.
func generalCorners(points []gozxing.ResultPoint) [4]Point {
	if len(points) < 3 {
		return [4]Point{}
	}
	at := func(i int) Point { return Point{points[i].GetX(), points[i].GetY()} }
	bottomLeft, topLeft, topRight := at(0), at(1), at(2)
	right := Point{topRight.X - topLeft.X, topRight.Y - topLeft.Y}
	down := Point{bottomLeft.X - topLeft.X, bottomLeft.Y - topLeft.Y}
	module := 0.0
	for _, point := range points[:3] {
		if sized, ok := point.(interface{ GetEstimatedModuleSize() float64 }); ok {
			module += sized.GetEstimatedModuleSize() / 3
		}
	}
	// Lengths in modules of the two sides between finder middles.
	inset := func(side Point) float64 {
		length := math.Hypot(side.X, side.Y)
		if length == 0 || module <= 0 {
			return 0
		}
		return finderInset * module / length
	}
	u, v := inset(right), inset(down)
	place := func(a, b float64) Point {
		return Point{topLeft.X + a*right.X + b*down.X, topLeft.Y + a*right.Y + b*down.Y}
	}
	return [4]Point{place(-u, -v), place(1+u, -v), place(1+u, 1+v), place(-u, 1+v)}
}
