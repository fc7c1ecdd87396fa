package scan

import (
	"fmt"
	"math"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/multi/qrcode"
)

// readForeign adds the codes that a general library finds, of any version.
func (r *Reader) readForeign(clock *clock) {
	if clock.over() {
		return
	}
	results, err := decodeGeneral(&r.pyramid.levels[0])
	if err != nil {
		return // the library reports a picture without codes as an error
	}
	for _, result := range results {
		if result.GetText() == "" {
			continue // no label says nothing: an empty text comes out of noise
		}
		text := result.GetText()
		r.codes = append(r.codes, Code{Text: text, Tag: IsTag(text), Corners: generalCorners(result.GetResultPoints())})
	}
	clock.over()
}

// decodeGeneral runs the general library, whose panics on odd pictures become
// errors.
func decodeGeneral(p *plane) (results []*gozxing.Result, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("general reader: %v", fault)
		}
	}()
	source, err := gozxing.NewPlanarYUVLuminanceSource(p.pix, p.w, p.h, 0, 0, p.w, p.h, false)
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(source))
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	hints := map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true}
	results, err = qrcode.NewQRCodeMultiReader().DecodeMultiple(bitmap, hints)
	if err != nil {
		return nil, fmt.Errorf("general reader: %w", err)
	}
	return results, nil
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
