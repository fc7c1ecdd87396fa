package labels

import (
	"fmt"
	"math"
	"strings"

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
	col, err := c.column(m)
	if err != nil {
		return err
	}
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
		right := r.X + left + side + QuietModules*module + quietSlack
		col.W -= right - col.X
		col.X = right
	}
	small := smallPrint(label)
	if c.stock.Tape {
		c.cutTape(label, strings.Join(small, smallJoin), m, &col)
	}
	c.stripText(label, small, col)
	return nil
}

// smallJoin parts the tag from the look-alike in one line.
const smallJoin = "   "

// smallPrint is what a strip says in small type: the tag and the look-alike.
func smallPrint(label Label) []string {
	var small []string
	if label.Tag != "" {
		small = append(small, SpacedTag(label.Tag))
	}
	if label.Beware.Name != "" {
		small = append(small, unlike+label.Beware.Name)
	}
	return small
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

// smallHeight is the height of lines of small print with the gap above them.
func smallHeight(lines int) float64 {
	if lines == 0 {
		return 0
	}
	return 1.1 + stripSmall*(capHeight+1.05*float64(lines-1))
}

// stripText sets name and place side by side with the small print under the
// name; where that would break the name, the place goes under it too.
func (c *composer) stripText(label Label, small []string, col Rect) {
	box, size := c.stripBox(label.Place, col)
	left := col
	if box.W > 0 {
		left.W -= box.W + stripGap
	}
	if len(small) == 2 && c.set.width(fonts.MonoMedium, stripSmall, strings.Join(small, smallJoin)) <= left.W {
		small = []string{strings.Join(small, smallJoin)}
	}
	smallH := smallHeight(len(small))
	room := nameRoom{width: left.W, height: col.H - smallH, max: stripName, floor: stripNameFloor, hard: smallest}
	name := c.set.fitName(fonts.MonoBold, label.Name, room)
	top := col.Y + (col.H-name.height()-smallH)/2
	if box.W > 0 {
		room.width, room.height = col.W, col.H-math.Max(smallH, box.H+0.6)
		low := c.set.fitName(fonts.MonoBold, label.Name, room)
		if len(low.lines) == 1 && low.size > 1.05*name.size || len(low.lines) < len(name.lines) {
			name, top, box.Y = low, col.Y, col.Bottom()-box.H
		}
		k := &card{composer: c, label: label}
		k.placeBox(box, size)
	}
	if name.cut {
		c.note(fmt.Sprintf("the name %q is too long for this stock and is shortened", label.Name))
	}
	// No accent of the first line may leave the cell.
	top = math.Max(top, c.cell.Y+(ascent-capHeight)*name.size)
	for i, line := range name.lines {
		c.text(fonts.MonoBold, name.size, col.X, top+name.size*(capHeight+nameLeading*float64(i)), line)
	}
	left.Y = top + name.height()
	left.H = col.Bottom() - left.Y
	c.stripFoot(small, left)
}

// stripBox is the box of the place at the right and the size of its text.
func (c *composer) stripBox(place string, col Rect) (box Rect, size float64) {
	if place == "" {
		return Rect{}, 0
	}
	size = math.Max(smallest, c.set.largest(fonts.MonoBold, stripPlace, 0.4*col.W-0.8*stripPlace, place))
	box.W = math.Min(col.W/2, c.set.width(fonts.MonoBold, size, place)+0.8*size)
	box.H = math.Min(1.3*size, col.H)
	box.X, box.Y = col.Right()-box.W, col.Y+(col.H-box.H)/2
	return box, size
}

// stripFoot sets the small print under the name.
func (c *composer) stripFoot(small []string, room Rect) {
	for len(small) > 0 && smallHeight(len(small)) > room.H+slack {
		last := small[len(small)-1]
		c.note(fmt.Sprintf("there is no room for %q", last))
		small = small[:len(small)-1]
	}
	for i, line := range small {
		size := math.Max(smallest, c.set.largest(fonts.MonoMedium, stripSmall, room.W, line))
		text, cut := c.set.shorten(fonts.MonoMedium, size, line, room.W)
		if cut {
			c.note(fmt.Sprintf("%q is too long for this stock and is shortened", line))
		}
		c.text(fonts.MonoMedium, size, room.X, room.Y+smallHeight(i+1), text)
	}
}
