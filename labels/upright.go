package labels

import (
	"math"

	"stowright/assets/fonts"
)

// An upright label is too narrow for text beside its code: it has the code on top, the place
// beside that, and everything else below at the full width.
const (
	uprightW     = 45.0 // narrower labels that are as high as they are wide
	uprightShare = 0.62 // of the width for the code with its quiet zone
)

func upright(r Rect) bool { return r.W < uprightW && r.H >= r.W }

// codeOnTop sets the code, the tag under it and the place beside it at the top of the
// column, which goes on below them.
func (k *card) codeOnTop(m margins) error {
	r := k.cell.Rect
	module := moduleFor(uprightShare*r.W/(codeModules+2*QuietModules), k.stock.Dot)
	if module == 0 {
		module = moduleFor(r.W/(codeModules+2*QuietModules), k.stock.Dot)
	}
	quiet, side := QuietModules*module, codeModules*module
	left, top := math.Max(m.left, quiet), math.Max(m.top, quiet)
	spaced := SpacedTag(k.label.Tag)
	size := math.Max(smallest, k.set.largest(fonts.MonoMedium, 3*codeModules*module/10, math.Min(k.col.W, side+2*quiet), spaced))
	bottom := top + side + quiet + size*capHeight
	if module == 0 || bottom+leastH+m.bottom > r.H || k.set.width(fonts.MonoMedium, size, spaced) > k.col.W {
		return k.tooSmall()
	}
	if err := k.code(k.label.Tag, r.X+left, r.Y+top, module); err != nil {
		return err
	}
	k.text(fonts.MonoMedium, size, k.col.X, r.Y+bottom, spaced)
	k.placeBesideCode(r.X + left + side + quiet + quietSlack)
	k.take(r.Y + bottom + k.size(1.2) - k.col.Y)
	return nil
}

// placeBesideCode sets the place from x to the right edge, if it has room there.
func (k *card) placeBesideCode(x float64) {
	if k.label.Place == "" {
		return
	}
	size := k.size(placeSize)
	width := k.col.Right() - x
	size = math.Min(size, size*width/k.placeWidth(size))
	if size < smallest {
		return
	}
	k.placeBox(Rect{k.col.Right() - k.placeWidth(size), k.col.Y, k.placeWidth(size), 1.22 * size}, size)
	k.label.Place, k.placed = "", true
}
