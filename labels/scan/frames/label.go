package frames

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"

	"github.com/skip2/go-qrcode"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// texture is a printed label: ink is looked up in modules from the symbol's top
// left corner.
type texture struct {
	bits   [][]bool // modules without quiet zone
	size   float64
	box    [4]float64 // paper: left, top, right, bottom
	border float64    // thickness of a printed frame at the paper's edge, 0 none
	text   *image.Alpha
	textAt [4]float64
	invert bool
	cover  [4]float64 // what lies over it, such as a finger: a box of middle grey
	covers bool
}

// quiet is the width of the quiet zone in modules. Source: ISO/IEC 18004.
const quiet = 4

// newLabel prints a tag with lines of text under it.
func newLabel(r *rand.Rand, text string, lines ...string) (*texture, error) {
	return newSymbol(r, text, 1, qrcode.Highest, lines...)
}

func newSymbol(r *rand.Rand, text string, version int, level qrcode.RecoveryLevel, lines ...string) (*texture, error) {
	code, err := qrcode.NewWithForcedVersion(text, version, level)
	if err != nil {
		return nil, fmt.Errorf("frames: symbol %q: %w", text, err)
	}
	code.DisableBorder = true
	t := &texture{bits: code.Bitmap()}
	t.size = float64(len(t.bits))
	t.box = [4]float64{-quiet, -quiet, t.size + quiet, t.size + quiet}
	if len(lines) > 0 {
		t.text = drawText(lines)
		// Text 2.6 modules high, as small print under a symbol is.
		const scale = 0.2
		w, h := float64(t.text.Rect.Dx())*scale, float64(t.text.Rect.Dy())*scale
		left := (t.size - w) / 2
		t.textAt = [4]float64{left, t.size + quiet, left + w, t.size + quiet + h}
		t.box[3] += h + 1
		t.box[0], t.box[2] = math.Min(t.box[0], left-1), math.Max(t.box[2], left+w+1)
	}
	if r.IntN(3) == 0 {
		t.border = between(r, 0.3, 0.8)
		for i, d := range []float64{-1, -1, 1, 1} {
			t.box[i] += d
		}
	}
	return t, nil
}

func drawText(lines []string) *image.Alpha {
	face := basicfont.Face7x13
	widest := 0
	for _, line := range lines {
		widest = max(widest, len(line))
	}
	m := image.NewAlpha(image.Rect(0, 0, 7*widest, 13*len(lines)))
	for i, line := range lines {
		d := font.Drawer{Dst: m, Src: image.Opaque, Face: face, Dot: fixed.P((m.Rect.Dx()-7*len(line))/2, 13*i+11)}
		d.DrawString(line)
	}
	return m
}

// ink is 0 for paper, 1 for ink, 0.5 for what covers the label; ok is false
// beside the paper.
func (t *texture) ink(u, v float64) (ink float64, ok bool) {
	if u < t.box[0] || v < t.box[1] || u >= t.box[2] || v >= t.box[3] {
		return 0, false
	}
	if t.covers && u >= t.cover[0] && v >= t.cover[1] && u < t.cover[2] && v < t.cover[3] {
		return 0.6, true
	}
	dark := t.dark(u, v)
	if t.invert {
		dark = !dark
	}
	if dark {
		return 1, true
	}
	return 0, true
}

func (t *texture) dark(u, v float64) bool {
	if u >= 0 && v >= 0 && u < t.size && v < t.size {
		return t.bits[int(v)][int(u)]
	}
	if t.border > 0 && (u-t.box[0] < t.border || v-t.box[1] < t.border || t.box[2]-u < t.border || t.box[3]-v < t.border) {
		return true
	}
	if t.text != nil && u >= t.textAt[0] && v >= t.textAt[1] && u < t.textAt[2] && v < t.textAt[3] {
		x := int((u - t.textAt[0]) / (t.textAt[2] - t.textAt[0]) * float64(t.text.Rect.Dx()))
		y := int((v - t.textAt[1]) / (t.textAt[3] - t.textAt[1]) * float64(t.text.Rect.Dy()))
		return t.text.AlphaAt(x, y).A > 127
	}
	return false
}
