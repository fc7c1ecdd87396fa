package labels

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"stowright/assets/fonts"
)

// A strip is a label too low for a card: code, name, place, and in small type
// the tag and the look-alike. Millimetres on tape of 12 mm.
const (
	stripHeight     = 15.0
	stripName       = 5.4
	stripPlace      = 4.2
	stripPlaceFloor = 2.9 // the place gives way to the name down to this
	stripSmall      = 2.0
	stripGap        = 1.5
	stripFootGap    = 0.8
	stripLeading    = 0.95 // of the small print, which is all capitals, in parts of the em
	shortestTape    = 30.0
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
		if c.stock.Tape && moduleFor(r.H/(codeModules+2*QuietModules), c.stock.Dot) == 0 {
			c.note("this roll is too narrow for a code that can be read: the tag is printed in characters only")
			return c.stripOf(label, m, col)
		}
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
	return c.stripOf(label, m, col)
}

// stripOf sets what is beside the code of a strip.
func (c *composer) stripOf(label Label, m margins, col Rect) error {
	small := smallPrint(label)
	if c.stock.Tape {
		c.cutTape(label, strings.Join(small, smallJoin), m, &col)
	}
	c.stripText(label, small, col)
	return nil
}

// stripMost is the greatest size of a name: an empty drawer's fills its label.
func stripMost(label Label) float64 {
	if label.Place == "" && label.Beware.Name == "" {
		return 2 * stripName
	}
	return stripName
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
	_, tail := nameSpacing(label.Name)
	name := (col.H - stripFoot{lines: []string{small}, size: stripSmall}.height()) / (capHeight + tail)
	width := math.Max(c.set.width(fonts.MonoBold, math.Min(stripMost(label), name), label.Name), c.set.width(fonts.MonoMedium, stripSmall, small))
	if label.Place != "" {
		width += stripGap + c.set.width(fonts.MonoBold, stripPlace, label.Place) + 0.8*stripPlace
	}
	length := math.Max(shortestTape, math.Ceil(col.X+width+m.right-c.cell.X))
	if length < c.cell.W {
		c.cell.W = length
		col.W = c.cell.Right() - m.right - col.X
	}
}

// stripFoot is the small print of a strip, set in lines of one size.
type stripFoot struct {
	lines []string
	size  float64
	area  Rect // as wide as it may be; its foot is that of the lines
}

// height is that of the lines with the gap above them.
func (f stripFoot) height() float64 {
	if len(f.lines) == 0 {
		return 0
	}
	return stripFootGap + f.size*(capHeight+stripLeading*float64(len(f.lines)-1))
}

// stripPlan is one way to share a strip between the name, the place and the small print.
type stripPlan struct {
	name  fittedName
	box   Rect // of the place; no width for none
	place float64
	foot  stripFoot
	lost  int // lines of the small print that are shortened or left out
}

// fitting are the lines of the small print that leave a name any room in a height.
func (f stripFoot) fitting(height float64) stripFoot {
	for len(f.lines) > 0 && height-f.height() < smallest {
		f.lines = f.lines[:len(f.lines)-1]
	}
	return f
}

// whole reports whether nothing is lost and the name can be read.
func (p stripPlan) whole() bool { return p.lost == 0 && !p.name.cut && p.name.size >= leastName-slack }

// underBox reports whether the small print goes on under the box of the place.
func (p stripPlan) underBox(col Rect) bool {
	return p.box.W > 0 && p.foot.area.W > col.W-slack && p.box.Bottom() <= col.Bottom()-p.foot.height()+slack
}

// better reports whether a plan is better than another: first by a name that can be read,
// then by what is lost, then by the size of the place.
func (p stripPlan) better(o stripPlan) bool {
	if p.name.cut != o.name.cut {
		return o.name.cut
	}
	return cmp.Or(
		cmp.Compare(math.Min(p.name.size, leastName), math.Min(o.name.size, leastName)),
		cmp.Compare(o.lost, p.lost), cmp.Compare(p.place, o.place), cmp.Compare(p.name.size, o.name.size),
	) > 0
}

// stripText sets name and place side by side with the small print under them. The place
// is made smaller, and goes to the foot, rather than have a name that cannot be read.
func (c *composer) stripText(label Label, small []string, col Rect) {
	var best stripPlan
	first := true
	for _, place := range c.stripPlaces(label.Place, col) {
		for _, plan := range c.stripPlans(label, small, place, col) {
			if first || plan.better(best) {
				best, first = plan, false
			}
		}
		if best.whole() {
			break
		}
	}
	c.stripSet(label, small, best, col)
}

// stripPlaces are the sizes that the place may have, largest first.
func (c *composer) stripPlaces(place string, col Rect) []float64 {
	if place == "" {
		return []float64{0}
	}
	var sizes []float64
	for size := math.Max(smallest, c.set.largest(fonts.MonoBold, stripPlace, 0.4*col.W-0.8*stripPlace, place)); ; size *= 0.95 {
		sizes = append(sizes, size)
		if size*0.95 < math.Min(stripPlaceFloor, stripPlace) || size*0.95 < smallest {
			return sizes
		}
	}
}

// stripPlans are the ways to set a strip with a place of that size.
func (c *composer) stripPlans(label Label, small []string, place float64, col Rect) []stripPlan {
	var box Rect
	left := col
	if place > 0 {
		box.W = math.Min(col.W/2, c.set.width(fonts.MonoBold, place, label.Place)+0.8*place)
		box.H = math.Min(1.3*place, col.H)
		box.X = col.Right() - box.W
		left.W -= box.W + stripGap
	}
	joined := small
	if len(small) == 2 {
		joined = []string{strings.Join(small, smallJoin)}
	}
	var plans []stripPlan
	add := func(nameW, nameH float64, box Rect, foot stripFoot) {
		plan := stripPlan{box: box, place: place, foot: foot, lost: len(small) - strings.Count(strings.Join(foot.lines, smallJoin), smallJoin) - min(1, len(foot.lines))}
		plan.name = c.set.fitName(fonts.MonoBold, label.Name, nameRoom{width: nameW, height: nameH, above: col.Y - c.cell.Y, max: stripMost(label), floor: leastName, hard: smallest})
		for _, line := range foot.lines {
			if c.set.width(fonts.MonoMedium, foot.size, line) > foot.area.W+slack {
				plan.lost++
			}
		}
		plans = append(plans, plan)
	}
	for _, size := range []float64{stripSmall, smallest} {
		for _, lines := range [][]string{joined, small} {
			beside, under := stripFoot{lines, size, left}.fitting(col.H), stripFoot{lines, size, col}.fitting(col.H)
			box.Y = col.Y + (col.H-box.H)/2
			add(left.W, col.H-beside.height(), box, beside)
			if box.W == 0 {
				continue
			}
			if room := col.H - under.height(); box.H <= room {
				box.Y = col.Y + (room-box.H)/2
				add(left.W, room, box, under)
			}
			box.Y = col.Bottom() - box.H
			add(col.W, col.H-math.Max(beside.height(), box.H+0.6), box, beside)
		}
	}
	return plans
}

// stripSet draws a plan.
func (c *composer) stripSet(label Label, small []string, p stripPlan, col Rect) {
	if p.box.W > 0 {
		k := &card{composer: c, label: label}
		k.placeBox(p.box, p.place)
	}
	if p.name.cut {
		c.note(fmt.Sprintf("the name %q is too long for this stock and is shortened", label.Name))
	}
	for _, line := range small {
		if !strings.Contains(strings.Join(p.foot.lines, smallJoin), line) {
			c.note(fmt.Sprintf("there is no room for %q", line))
		}
	}
	foot := c.growFoot(p, col)
	top := col.Y + (col.H-p.name.height()-foot.height())/2
	if p.box.Y > col.Y+(col.H-p.box.H)/2+slack { // the place is at the foot
		top = col.Y
	}
	// No accent of the first line may leave the cell.
	top = math.Max(top, c.cell.Y+(ascent-capHeight)*p.name.size)
	for i, line := range p.name.lines {
		c.text(fonts.MonoBold, p.name.size, col.X, top+p.name.baseline(i), line)
	}
	foot.area.Y = top + p.name.height()
	if p.underBox(col) {
		foot.area.Y = math.Max(foot.area.Y, p.box.Bottom()-stripFootGap/3)
	}
	foot.area.H = col.Bottom() - foot.area.Y
	c.stripFoot(foot)
}

// growFoot is the small print as large as the plan leaves room for, half as large again
// at most.
func (c *composer) growFoot(p stripPlan, col Rect) stripFoot {
	f := p.foot
	if len(f.lines) == 0 {
		return f
	}
	// An accent that has no room in the margin moves the name down.
	room := col.H - p.name.height() - math.Max(0, (ascent-capHeight)*p.name.size-col.Y+c.cell.Y)
	if p.underBox(col) {
		room = math.Min(room, col.Bottom()-p.box.Bottom())
	}
	most := (room - stripFootGap) / (capHeight + stripLeading*float64(len(f.lines)-1))
	f.size = math.Max(f.size, math.Min(most, c.set.largest(fonts.MonoMedium, 1.5*stripSmall, f.area.W, f.lines...)))
	return f
}

// stripFoot sets the small print under the name.
func (c *composer) stripFoot(f stripFoot) {
	for i, line := range f.lines {
		text, cut := c.set.shorten(fonts.MonoMedium, f.size, line, f.area.W)
		if cut {
			c.note(fmt.Sprintf("%q is too long for this stock and is shortened", line))
		}
		upTo := stripFoot{lines: f.lines[:i+1], size: f.size}
		c.text(fonts.MonoMedium, f.size, f.area.X, f.area.Y+upTo.height(), text)
	}
}
