package labels

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"stowright/assets/fonts"
)

// A card is drawn for a cell of 66.7 x 25.4 mm and grows or shrinks with it.
// These are millimetres on that cell: sizes are the height of the em.
const (
	cardW, cardH = 66.7, 25.4

	nameSize   = 5.4
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

// Heights of the capitals of a name, in millimetres: what is read at 60 cm at least, and
// what is read well there (16 and 20 minutes of arc).
const (
	LeastCapital = 2.8
	GoodCapital  = 3.5
)

// The same as sizes of the em.
const (
	leastName = LeastCapital / capHeight
	goodName  = GoodCapital / capHeight
)

// card is a label being set into a cell of some height.
type card struct {
	*composer
	label  Label
	unit   float64 // how much larger than the drawn card
	tall   float64 // how much taller than the drawn card for its width, 1 to 1.6
	placed bool    // the place stands beside the code already
	grow   float64 // how much larger the look-alike is than drawn, where there is room
	col    Rect    // the remaining text column; shrinks as things are set
}

// size scales a size of the drawn card to the cell, never below the smallest.
func (k *card) size(mm float64) float64 { return math.Max(mm*k.unit, smallest) }

// card sets a label with its code at the left and everything else at the right.
func (c *composer) card(label Label) error {
	r := c.cell.Rect
	k := &card{composer: c, label: label, grow: 1}
	k.unit = math.Min(math.Max(math.Min(r.W/cardW, r.H/cardH), 0.6), 1.9)
	k.tall = math.Min(math.Max(r.H/cardH/(r.W/cardW), 1), 1.6)
	m := c.marginsOf(math.Min(math.Max(0.06*r.H, 1.2), 3.4))
	var err error
	if k.col, err = c.column(m); err != nil {
		return err
	}
	if label.Tag != "" {
		set := k.codeAndTag
		if upright(r) {
			set = k.codeOnTop
		}
		if err := set(m); err != nil {
			return err
		}
	}
	k.checkPiece()
	if k.bare() {
		k.due()
		k.fillName()
		k.title()
	} else {
		k.nameAndPlace()
		k.title()
		k.due()
	}
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
		spare := r.H - top - tall - m.bottom
		grown := k.growTag(size, spare, perEm, math.Min(2*(left-m.left+tagAside), left-m.left+quiet-quietSlack)+codeModules*module)
		tall += (grown - size) * capHeight
		spare -= (grown - size) * capHeight
		size = grown
		y := r.Y + top
		if spare < 0.2*r.H {
			y += spare / 2
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

// tagAside is how far a tag may stand beside the middle of its code, to be larger.
const tagAside = 0.8

// growTag is the size of the tag under its code where there is more room than it needs: at
// most half as large again, as high as what is spare and as wide as the code with its
// quiet zone.
func (k *card) growTag(size, spare, perEm, width float64) float64 {
	return math.Max(size, math.Min(math.Min(1.5*size, size+spare/capHeight), width/perEm))
}

// nameAndPlace sets the first lines: the name and the place in its box. In a narrow column
// the box goes to the foot, and where the name would be too small beside it.
func (k *card) nameAndPlace() {
	whole := k.fitted(k.col.W, k.col.H)
	if k.label.Place == "" {
		k.setName(whole, 0)
		return
	}
	size := k.size(placeSize)
	size = math.Max(smallest, k.set.largest(fonts.MonoBold, size, 0.45*k.col.W-0.8*size, k.label.Place))
	for _, smaller := range []float64{1, 0.9, 0.8} {
		// A slightly smaller place is better than a name in two lines.
		if w := k.placeWidth(smaller * size); k.fitted(k.col.W-w-0.6*smaller*size, k.col.H).good() {
			size = math.Max(smallest, smaller*size)
			break
		}
	}
	w, high := math.Min(0.5*k.col.W, k.placeWidth(size)), 1.22*size
	beside := k.fitted(k.col.W-w-0.6*size, k.col.H)
	atFoot := k.fitted(k.col.W, k.col.H-high-0.5)
	if k.col.W < narrow || beside.size < goodName-slack && atFoot.size > 1.05*beside.size {
		w = math.Min(k.col.W, k.placeWidth(size))
		k.placeBox(Rect{k.col.Right() - w, k.col.Bottom() - high, w, high}, size)
		k.col.H -= high + 0.5
		k.setName(atFoot, 0)
		return
	}
	k.placeBox(Rect{k.col.Right() - w, k.col.Y, w, high}, size)
	k.setName(beside, high)
}

// placeWidth is that of the box of the place set in a size.
func (k *card) placeWidth(size float64) float64 {
	return k.set.width(fonts.MonoBold, size, k.label.Place) + 0.8*size
}

// good reports whether a name stands in one line that is read well.
func (n fittedName) good() bool { return len(n.lines) == 1 && n.size >= goodName-slack }

// freeName is how much larger than drawn a name is where no piece is drawn.
const freeName = 1.3

// A name in one line that is read well is broken all the same where it is longer than
// shortName characters and two lines are so much larger.
const (
	shortName = 8
	muchMore  = 1.5
)

// fitted is the name set to a width: in one line if that is read well, else in two, and
// no larger than leaves the rest its room as long as it can be read.
func (k *card) fitted(width, height float64) fittedName {
	most := math.Max(k.tall*k.size(nameSize), goodName)
	if k.label.Piece == nil {
		most *= freeName
	}
	lead, tail := nameSpacing(k.label.Name)
	least := leastName * (capHeight + lead + tail)
	room := nameRoom{
		width: width, above: k.col.Y - k.cell.Y, height: math.Min(0.6*height, math.Max(height-k.need(), least)),
		max: most, floor: goodName, hard: smallest,
	}
	name := k.set.fitName(fonts.MonoBold, k.label.Name, room)
	if name.good() && utf8.RuneCountInString(k.label.Name) > shortName {
		room.floor = math.Inf(1)
		if two := k.set.fitName(fonts.MonoBold, k.label.Name, room); two.size >= muchMore*name.size {
			return two
		}
	}
	return name
}

// need is what is said beside the name needs, the piece and its gaps apart.
func (k *card) need() float64 {
	h := k.titleHeight() + k.linesHeight() + k.bewareHeight() + k.unit*(1+k.tall)/2
	if k.label.PlacePath != "" {
		h += k.size(lineSize) * leading
	}
	return h
}

// setName sets a name at the top of the column, in the middle of the height of the box
// beside it.
func (k *card) setName(name fittedName, boxH float64) {
	if name.cut {
		k.note(fmt.Sprintf("the name %q is too long for this stock and is shortened", k.label.Name))
	}
	// No accent of the first line may leave the cell.
	top := math.Max(k.col.Y, k.cell.Y+(ascent-capHeight)*name.size)
	if len(name.lines) == 1 && name.height() < boxH {
		top += (boxH - name.height()) / 2
	}
	for i, line := range name.lines {
		k.text(fonts.MonoBold, name.size, k.col.X, top+name.baseline(i), line)
	}
	k.take(math.Max(top-k.col.Y+name.height()+0.5*k.unit*k.tall, boxH) + 0.5*k.unit)
}

// bare reports whether a label has little more to say than its name, as that of an empty
// drawer or a crate.
func (k *card) bare() bool {
	l := k.label
	return l.Place == "" && !k.placed && l.Piece == nil && l.Beware == Beware{}
}

// fillName sets the name as large as what else is said leaves room.
func (k *card) fillName() {
	room, floor := math.Max(k.col.H-k.need(), math.Min(0.4*k.col.H, GoodCapital)), goodName
	if strings.Contains(k.label.Name, " ") {
		floor *= 2 // words are read in two lines as well as in one
	}
	name := k.set.fitName(fonts.MonoBold, k.label.Name, nameRoom{
		width: k.col.W, height: room, above: k.col.Y - k.cell.Y, max: room / capHeight, floor: floor, hard: smallest,
	})
	k.setName(name, 0)
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

// titleFace is the face of the title and its size in one line or more.
func (k *card) titleFace() (fonts.Face, float64) {
	size, face := k.size(titleSize), fonts.TextRegular
	if k.unit > 1.2 {
		size, face = k.size(1.15*titleSize), fonts.TextSemiBold
	}
	return face, k.squeeze(face, size, k.label.Title)
}

// titleHeight is what the title needs, two lines at most.
func (k *card) titleHeight() float64 {
	face, size := k.titleFace()
	lines, _ := k.set.wrap(face, size, k.label.Title, k.col.W, 2)
	return size * leading * float64(len(lines))
}

// title sets the plain words, in as many lines as leave the look-alike its room.
func (k *card) title() {
	if k.label.Title == "" {
		return
	}
	face, size := k.titleFace()
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
