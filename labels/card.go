package labels

import (
	"fmt"
	"math"

	"stowright/assets/fonts"
)

// A card is drawn for a cell of 66.7 x 25.4 mm and grows or shrinks with it.
// These are millimetres on that cell: sizes are the height of the em.
const (
	cardW, cardH = 66.7, 25.4

	nameSize   = 5.4
	nameFloor  = 2.9
	placeSize  = 3.8
	titleSize  = 2.5
	lineSize   = 2.2
	bewareSize = 2.3
	whySize    = 2.0
	dueSize    = 2.4

	// quietSlack keeps what a glyph hangs over its origin out of the quiet zone.
	quietSlack = 0.3

	// smallest is the least size that anything is set in: 5 points.
	smallest = 5 * inch / 72
	// leading is the distance of two lines of text in parts of the em.
	leading = 1.18
	// narrow is the width of the text column below which the place goes to the
	// foot and leaves the whole first line to the name.
	narrow = 32.0
)

// card is a label being set into a cell of some height.
type card struct {
	*composer
	label Label
	unit  float64 // how much larger than the drawn card
	tall  float64 // how much taller than the drawn card for its width, 1 to 1.6
	col   Rect    // the remaining text column; shrinks as things are set
}

// size scales a size of the drawn card to the cell, never below the smallest.
func (k *card) size(mm float64) float64 { return math.Max(mm*k.unit, smallest) }

// card sets a label with its code at the left and everything else at the right.
func (c *composer) card(label Label) error {
	r := c.cell.Rect
	k := &card{composer: c, label: label}
	k.unit = math.Min(math.Max(math.Min(r.W/cardW, r.H/cardH), 0.6), 1.9)
	k.tall = math.Min(math.Max(r.H/cardH/(r.W/cardW), 1), 1.6)
	m := c.marginsOf(math.Min(math.Max(0.06*r.H, 1.2), 3.4))
	var err error
	if k.col, err = c.column(m); err != nil {
		return err
	}
	if label.Tag != "" {
		if err := k.codeAndTag(m); err != nil {
			return err
		}
	}
	k.nameAndPlace()
	k.title()
	k.due()
	k.rest()
	return nil
}

// codeAndTag sets the largest code that leaves the text its share of the width,
// and the tag under it, as wide as the code.
func (k *card) codeAndTag(m margins) error {
	r := k.cell.Rect
	share := 0.36 + 0.13*(k.tall-1)
	spaced := SpacedTag(k.label.Tag)
	perEm := k.set.width(fonts.MonoMedium, 1, spaced)
	tagSize := func(module float64) float64 {
		return math.Max(smallest, math.Min((codeModules+2)*module/perEm, 2*codeModules*module/10))
	}
	for dots := math.Floor(share * r.W / (codeModules + 2*QuietModules) / k.stock.Dot); dots > 0; dots-- {
		module := dots * k.stock.Dot
		if module < MinModule {
			break
		}
		quiet := QuietModules * module
		left, top := math.Max(m.left, quiet), math.Max(m.top, quiet)
		size := tagSize(module)
		tall := codeModules*module + quiet + size*capHeight
		wide := math.Max(left+codeModules*module+quiet, 2*left+perEm*size)
		if top+tall+m.bottom > r.H || wide > share*r.W*1.04+m.left {
			continue
		}
		y := r.Y + top
		if slack := r.H - top - tall - m.bottom; slack < 0.2*r.H {
			y += slack / 2
		}
		if err := k.code(k.label.Tag, r.X+left, y, module); err != nil {
			return err
		}
		x := math.Max(r.X+m.left, r.X+left+(codeModules*module-perEm*size)/2)
		k.text(fonts.MonoMedium, size, x, y+tall, spaced)
		right := math.Max(r.X+left+codeModules*module+quiet+quietSlack, x+perEm*size+1.2)
		k.col.W -= right - k.col.X
		k.col.X = right
		return nil
	}
	return k.tooSmall()
}

// nameAndPlace sets the first line: the name and the place in its box. In a
// narrow column the box goes to the foot.
func (k *card) nameAndPlace() {
	width, boxH := k.col.W, 0.0
	if k.label.Place != "" {
		size := k.size(placeSize)
		size = math.Max(smallest, k.set.largest(fonts.MonoBold, size, 0.45*k.col.W-0.8*size, k.label.Place))
		most := 0.5 * k.col.W
		if k.col.W < narrow {
			most = k.col.W
		}
		w := math.Min(most, k.set.width(fonts.MonoBold, size, k.label.Place)+0.8*size)
		boxH = 1.22 * size
		if k.col.W < narrow {
			k.placeBox(Rect{k.col.Right() - w, k.col.Bottom() - boxH, w, boxH}, size)
			k.col.H -= boxH + 0.5
			boxH = 0
		} else {
			k.placeBox(Rect{k.col.Right() - w, k.col.Y, w, boxH}, size)
			width -= w + 0.6*size
		}
	}
	name := k.set.fitName(fonts.MonoBold, k.label.Name, nameRoom{
		width: width, height: 0.6 * k.col.H,
		max: k.tall * k.size(nameSize), floor: k.tall * k.size(nameFloor), hard: smallest,
	})
	if name.cut {
		k.note(fmt.Sprintf("the name %q is too long for this stock and is shortened", k.label.Name))
	}
	// No accent of the first line may leave the cell.
	top := math.Max(k.col.Y, k.cell.Y+(ascent-capHeight)*name.size)
	if h := name.height(); h < boxH {
		top += (boxH - h) / 2
	}
	for i, line := range name.lines {
		k.text(fonts.MonoBold, name.size, k.col.X, top+name.size*(capHeight+nameLeading*float64(i)), line)
	}
	k.take(math.Max(name.height()+0.5*k.unit*k.tall, boxH) + 0.5*k.unit)
}

func (k *card) placeBox(r Rect, size float64) {
	k.add(Box{Rect: Rect{r.X + 0.15, r.Y + 0.15, r.W - 0.3, r.H - 0.3}, Radius: 0.25 * size, Pen: 0.3})
	place, cut := k.set.shorten(fonts.MonoBold, size, k.label.Place, r.W-0.8*size)
	if cut {
		k.note(fmt.Sprintf("the place %q is too long for this stock and is shortened", k.label.Place))
	}
	w := k.set.width(fonts.MonoBold, size, place)
	k.text(fonts.MonoBold, size, r.X+(r.W-w)/2, r.Y+(r.H+capHeight*size)/2, place)
}

// take removes a height from the top of the remaining column.
func (k *card) take(h float64) {
	h = math.Min(h, k.col.H)
	k.col.Y, k.col.H = k.col.Y+h, k.col.H-h
}

// flow sets lines of text at the top of the remaining column.
func (k *card) flow(f fonts.Face, size float64, lines []string) {
	for _, line := range lines {
		k.text(f, size, k.col.X, k.col.Y+size*(leading+capHeight)/2, line)
		k.take(size * leading)
	}
}

// squeeze is a slightly smaller size if that avoids a second line.
func (k *card) squeeze(f fonts.Face, size float64, text string) float64 {
	const most = 0.85
	if one := k.set.largest(f, size, k.col.W, text); one >= most*size && one >= smallest {
		return one
	}
	return size
}

// title sets the plain words, in as many lines as leave the look-alike its room.
func (k *card) title() {
	if k.label.Title == "" {
		return
	}
	size, face := k.size(titleSize), fonts.TextRegular
	if k.unit > 1.2 {
		size, face = k.size(1.15*titleSize), fonts.TextSemiBold
	}
	size = k.squeeze(face, size, k.label.Title)
	room := int((k.col.H - k.bewareHeight()) / (size * leading))
	lines, cut := k.set.wrap(face, size, k.label.Title, k.col.W, min(room, 2))
	if cut && size > smallest {
		size = math.Max(smallest, 0.8*size)
		lines, cut = k.set.wrap(face, size, k.label.Title, k.col.W, min(int((k.col.H-k.bewareHeight())/(size*leading)), 3))
	}
	if cut {
		k.note(fmt.Sprintf("the title %q is too long for this stock and is shortened", k.label.Title))
	}
	k.flow(face, size, lines)
}

// bewareHeight is what the look-alike needs at the full width.
func (k *card) bewareHeight() float64 {
	b, _ := k.beware(k.col.W)
	return b.height
}
