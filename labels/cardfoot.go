package labels

import (
	"fmt"
	"math"

	"stowright/assets/fonts"
)

// unlike is the sign before the name of a look-alike.
const unlike = "≠ "

// bewareBlock is the look-alike set to a width: its name, then why.
type bewareBlock struct {
	name    fittedName
	why     []string
	whySize float64
	width   float64
	height  float64
}

// beware sets the look-alike to a width. fits reports whether it need not be shortened.
func (k *card) beware(width float64) (block bewareBlock, fits bool) {
	b := k.label.Beware
	if b.Name == "" && b.Why == "" {
		return bewareBlock{}, true
	}
	block = bewareBlock{whySize: k.grow * k.size(whySize), width: width}
	size := k.grow * k.size(bewareSize)
	sign := k.set.width(fonts.MonoBold, size, unlike)
	block.name = k.set.fitName(fonts.MonoBold, b.Name, nameRoom{
		width: width - sign, height: 3 * size, max: size, floor: smallest, hard: smallest,
	})
	if len(block.name.lines) > 0 {
		block.name.lines[0] = unlike + block.name.lines[0]
	}
	var cut bool
	block.why, cut = k.set.balance(fonts.TextRegular, block.whySize, b.Why, width, 3)
	block.height = block.name.rise() + block.name.height() + block.whySize*leading*float64(len(block.why))
	if n := len(block.why); n > 0 {
		block.height += 0.1 * block.whySize
	}
	return block, !cut && !block.name.cut
}

// spread is how the piece and the look-alike share the foot of a card.
type spread struct {
	beware bewareBlock
	scale  float64 // of the piece; 0 when it is not drawn
	said   string  // the scale in words
	piece  Rect    // size of the piece with the words of its scale; X, Y unset
	beside bool    // look-alike at the right of the piece, not under it
	height float64
}

// pieceScales are the scales a piece may be drawn at, best first.
var pieceScales = []float64{1, 2, 3, 4, 5, 8, 10, 15, 20, 30, 40, 50, 80, 100}

const (
	scaleSize = lineSize // em of the words that say the scale, mm on the drawn card
	pieceGap  = 1.4      // around a piece, mm on the drawn card
)

// bewareGrowth are how much larger than drawn a look-alike may be, best first.
var bewareGrowth = []float64{1.5, 1.4, 1.3, 1.2, 1.1}

// spreadOut finds the largest scale at which the piece and the look-alike have
// room in a height, side by side or one above the other.
func (k *card) spreadOut(height float64) spread {
	full, _ := k.beware(k.col.W)
	none := spread{beware: full, height: full.height}
	if k.label.Piece == nil {
		return none
	}
	b := k.label.Piece.Bounds()
	for _, n := range pieceScales {
		said := fmt.Sprintf("1:%g", n)
		s := spread{scale: 1 / n, said: said}
		s.piece = Rect{W: b.W/n + 0.8 + k.set.width(fonts.TextRegular, k.grow*k.size(scaleSize), said), H: math.Max(b.H/n, k.grow*k.size(scaleSize)) + 0.3}
		if s.piece.W > k.col.W || s.piece.H > height {
			continue
		}
		if full.height == 0 {
			s.height = s.piece.H
			return s
		}
		beside, ok := k.beware(k.col.W - s.piece.W - k.unit*pieceGap)
		ok = ok && beside.width > 8 && beside.height <= height
		broken := len(beside.name.lines) > len(full.name.lines)
		under := s.piece.H + k.unit*pieceGap/2 + full.height
		switch {
		case ok && (!broken || under > height):
			s.beware, s.beside, s.height = beside, true, math.Max(s.piece.H, beside.height)
			return s
		case under <= height:
			s.beware, s.height = full, under
			return s
		}
	}
	return none
}

// checkPiece drops a drawing that cannot be drawn at any scale.
func (k *card) checkPiece() {
	if k.label.Piece == nil || len(k.label.Piece.Strokes) == 0 {
		k.label.Piece = nil
		return
	}
	if b := k.label.Piece.Bounds(); !(b.W >= 0 && b.H >= 0 && b.W < 1e5 && b.H < 1e5) || b.W+b.H == 0 {
		k.note("the drawing of the piece has no size and is left out")
		k.label.Piece = nil
	}
}

// linesHeight is what the further lines need, without the place in words.
func (k *card) linesHeight() (h float64) {
	for _, line := range k.label.Lines {
		size := k.squeeze(fonts.TextRegular, k.size(lineSize), line)
		lines, _ := k.set.wrap(fonts.TextRegular, size, line, k.col.W, 2)
		h += size * leading * float64(len(lines))
	}
	return h
}

// rest sets the further lines in the room that the piece and the look-alike leave, and
// then those two at the foot. The piece is scaled down rather than a line left out.
func (k *card) rest() {
	room := k.col.H - k.linesHeight()
	s := k.spreadOut(room)
	if s.scale == 0 && k.label.Piece != nil {
		room = k.col.H
		if s = k.spreadOut(room); s.scale == 0 {
			k.note("there is no room for the drawing of the piece")
		}
	}
	s = k.growBeware(s, room)
	k.lines(k.col.H - s.height)
	if s.scale > 0 {
		area := k.col
		if !s.beside {
			area.H -= s.beware.height
		}
		k.piece(s, area)
	}
	k.bewareAtFoot(s.beware)
}

// growBeware is the spread with the look-alike as large as leaves everything else as it is.
func (k *card) growBeware(s spread, room float64) spread {
	if k.label.PlacePath != "" {
		room -= math.Min(k.size(lineSize)*leading, math.Max(0, room-s.height))
	}
	for _, k.grow = range bewareGrowth {
		_, fits := k.beware(k.col.W)
		grown := k.spreadOut(room)
		same := grown.scale == s.scale && len(grown.beware.name.lines) == len(s.beware.name.lines) && len(grown.beware.why) <= max(2, len(s.beware.why))
		if fits && same && grown.height <= room {
			return grown
		}
	}
	k.grow = 1
	return s
}

// lines sets the further lines, and the place in words, into a height.
func (k *card) lines(height float64) {
	all := k.label.Lines
	if k.label.PlacePath != "" {
		all = append(all[:len(all):len(all)], k.label.PlacePath)
	}
	for i, line := range all {
		size := k.squeeze(fonts.TextRegular, k.size(lineSize), line)
		room := int((height + 0.01) / (size * leading))
		lines, cut := k.set.wrap(fonts.TextRegular, size, line, k.col.W, min(room, 2))
		if len(lines) == 0 {
			if i < len(k.label.Lines) {
				k.note(fmt.Sprintf("there is no room for %q", line))
			}
			continue
		}
		if cut {
			k.note(fmt.Sprintf("%q is too long for this stock and is shortened", line))
		}
		k.flow(fonts.TextRegular, size, lines)
		height -= size * leading * float64(len(lines))
	}
}

// piece draws the piece in the middle of the height of an area, at its left, and
// says its scale.
func (k *card) piece(s spread, area Rect) {
	b := k.label.Piece.Bounds()
	at := Point{area.X, area.Y + (area.H-b.H*s.scale)/2}
	for _, stroke := range k.label.Piece.Strokes {
		points := make([]Point, len(stroke.Points))
		for i, p := range stroke.Points {
			points[i] = Point{at.X + (p.X-b.X)*s.scale, at.Y + (p.Y-b.Y)*s.scale}
		}
		stroke.Points = points
		k.add(stroke)
	}
	bottom := math.Min(at.Y+b.H*s.scale, area.Bottom()) - 0.1
	k.text(fonts.TextRegular, k.grow*k.size(scaleSize), at.X+b.W*s.scale+0.8, bottom, s.said)
	if s.scale < 1 {
		k.note("the piece does not fit at true size and is drawn at " + s.said)
	}
}

// bewareAtFoot sets the look-alike into the bottom right corner.
func (k *card) bewareAtFoot(b bewareBlock) {
	if b.height > k.col.H+0.01 {
		k.note(fmt.Sprintf("there is no room for the look-alike %q", k.label.Beware.Name))
		return
	}
	if b.name.cut {
		k.note(fmt.Sprintf("the look-alike %q is too long for this stock and is shortened", k.label.Beware.Name))
	}
	right, y := k.col.Right(), k.col.Bottom()-b.height+b.name.rise()
	for i, line := range b.name.lines {
		k.textRight(fonts.MonoBold, b.name.size, right, y+b.name.baseline(i), line)
	}
	y += b.name.height() + 0.1*b.whySize
	for _, line := range b.why {
		y += b.whySize * leading
		k.textRight(fonts.TextRegular, b.whySize, right, y-0.2*b.whySize, line)
	}
}

// due sets the deadlines at the very foot: two large lines where there is height, else
// one.
func (k *card) due() {
	due, later := k.label.Due, k.label.Later
	if due == "" && later == "" {
		return
	}
	size := k.size(dueSize)
	if due == "" || later == "" {
		k.dueLine(size, due, later)
		return
	}
	tall := 5.0 // in lines of the larger type
	if k.bare() {
		tall = 8 // the name is still to come
	}
	if big := 1.5 * size; k.col.H > tall*big {
		k.dueLine(1.15*size, "", later)
		k.dueLine(big, due, "")
		return
	}
	joined := " · " + later
	if k.set.width(fonts.TextBold, smallest, due)+k.set.width(fonts.TextRegular, smallest, joined) > k.col.W {
		k.dueLine(size, "", later)
		k.dueLine(size, due, "")
		return
	}
	k.dueLine(size, due, joined)
}

// How deep the tails of a line of dates go, and how high the whole of it is, in parts of the
// em.
const (
	dueTail    = 0.24
	dueLeading = dueTail + 0.96
)

// dueLine sets one line at the foot of what is left, bold and then regular.
func (k *card) dueLine(size float64, bold, regular string) {
	if w := k.set.width(fonts.TextBold, 1, bold) + k.set.width(fonts.TextRegular, 1, regular); w*size > k.col.W {
		size = math.Max(smallest, k.col.W/w)
	}
	if size*dueLeading > k.col.H {
		k.note(fmt.Sprintf("there is no room for %q", bold+regular))
		return
	}
	short, cut := k.set.shorten(fonts.TextBold, size, bold, k.col.W)
	w := k.set.width(fonts.TextBold, size, short)
	after, cutToo := k.set.shorten(fonts.TextRegular, size, regular, k.col.W-w)
	if cut || cutToo {
		k.note(fmt.Sprintf("%q is too long for this stock and is shortened", bold+regular))
	}
	baseline := k.col.Bottom() - dueTail*size
	k.text(fonts.TextBold, size, k.col.X, baseline, short)
	k.text(fonts.TextRegular, size, k.col.X+w, baseline, after)
	k.col.H -= size*dueLeading + 0.2*k.unit
}
