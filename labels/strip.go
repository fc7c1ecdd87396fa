package labels

import (
	"fmt"
	"math"

	"stowright/assets/fonts"
)

// A strip is a label too low for a card: code, name, place, and in small type
// the tag and the look-alike. Millimetres on tape of 12 mm.
const (
	stripHeight    = 15.0
	stripName      = 5.0
	stripNameFloor = 3.0
	stripPlace     = 4.2
	stripSmall     = 2.0
	stripGap       = 2.0
	shortestTape   = 30.0
)

// strip sets a label as code, name and place in a row.
func (c *composer) strip(label Label) error {
	r := c.cell.Rect
	m := c.marginsOf(1.2)
	col := Rect{r.X + m.left, r.Y + m.top, r.W - m.left - m.right, r.H - m.top - m.bottom}
	if label.Tag != "" {
		module := moduleFor(math.Min(r.H/(codeModules+2*QuietModules), col.H/codeModules), c.stock.Dot)
		side := codeModules * module
		left := math.Max(m.left, QuietModules*module)
		if module == 0 || left+side+QuietModules*module+10 > r.W {
			return c.tooSmall()
		}
		if err := c.code(label.Tag, r.X+left, r.Y+(r.H-side)/2, module); err != nil {
			return err
		}
		right := r.X + left + side + QuietModules*module
		col.W -= right - col.X
		col.X = right
	}
	small := SpacedTag(label.Tag)
	if label.Beware.Name != "" {
		small += "   ≠ " + label.Beware.Name
	}
	if c.stock.Tape {
		c.cutTape(label, small, m, &col)
	}
	c.stripText(label, small, col)
	return nil
}

// cutTape shortens the tape to what the label needs.
func (c *composer) cutTape(label Label, small string, m margins, col *Rect) {
	width := math.Max(c.set.width(fonts.MonoBold, stripName, label.Name), c.set.width(fonts.MonoMedium, stripSmall, small))
	if label.Place != "" {
		width += stripGap + c.set.width(fonts.MonoBold, stripPlace, label.Place) + 0.8*stripPlace
	}
	length := math.Max(shortestTape, math.Ceil(col.X+width+m.right-c.cell.X))
	if length < c.cell.W {
		c.cell.W = length
		col.W = c.cell.Right() - m.right - col.X
	}
}

// stripText sets name and place side by side; where that would make the name
// small, the place goes under it.
func (c *composer) stripText(label Label, small string, col Rect) {
	smallH := 0.0
	if small != "" {
		smallH = stripSmall*capHeight + 1.1
	}
	size := stripPlace
	box := Rect{}
	if label.Place != "" {
		size = math.Max(smallest, c.set.largest(fonts.MonoBold, stripPlace, 0.4*col.W-0.8*stripPlace, label.Place))
		box.W = math.Min(col.W/2, c.set.width(fonts.MonoBold, size, label.Place)+0.8*size)
		box.H = math.Min(1.3*size, col.H)
	}
	room := nameRoom{
		width: col.W, height: col.H - smallH,
		max: stripName, floor: stripNameFloor, hard: smallest,
	}
	beside, under := room, room
	if box.W > 0 {
		beside.width -= box.W + stripGap
		under.height = col.H - math.Max(smallH, box.H+0.6)
	}
	name := c.set.fitName(fonts.MonoBold, label.Name, beside)
	box.X, box.Y = col.Right()-box.W, col.Y+(col.H-box.H)/2
	smallW := beside.width
	if box.W > 0 {
		if low := c.set.fitName(fonts.MonoBold, label.Name, under); low.size > 1.05*name.size {
			name, box.Y = low, col.Bottom()-box.H
		}
		k := &card{composer: c, label: label}
		k.placeBox(box, size)
	}
	if name.cut {
		c.note(fmt.Sprintf("the name %q is too long for this stock and is shortened", label.Name))
	}
	top := col.Y + (col.H-name.height()-smallH)/2
	if box.Y+box.H == col.Bottom() {
		top = col.Y
	}
	// No accent of the first line may leave the cell.
	top = math.Max(top, c.cell.Y+(ascent-capHeight)*name.size)
	for i, line := range name.lines {
		c.text(fonts.MonoBold, name.size, col.X, top+name.size*(capHeight+nameLeading*float64(i)), line)
	}
	c.stripFoot(label, small, Rect{col.X, top + name.height(), smallW, smallH})
}

// stripFoot sets the tag and the look-alike in small type under the name.
func (c *composer) stripFoot(label Label, small string, room Rect) {
	if small == "" {
		return
	}
	size := math.Max(smallest, c.set.largest(fonts.MonoMedium, stripSmall, room.W, small))
	if c.set.width(fonts.MonoMedium, size, small) > room.W && label.Beware.Name != "" {
		c.note(fmt.Sprintf("there is no room for the look-alike %q", label.Beware.Name))
		small = SpacedTag(label.Tag)
		size = math.Max(smallest, c.set.largest(fonts.MonoMedium, stripSmall, room.W, small))
	}
	small, _ = c.set.shorten(fonts.MonoMedium, size, small, room.W)
	c.text(fonts.MonoMedium, size, room.X, room.Bottom(), small)
}
