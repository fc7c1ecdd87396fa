package viewfinder

import (
	"fmt"
	"image"
	"math"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels/scan"
	"stowright/store"
)

// hint is where something that is looked for is, as far as one picture tells.
type hint struct {
	heading, note string
	found         []string       // texts of the codes in the picture that it lies at
	outline       *[4]scan.Point // where it stands by the codes around it; nil where they do not tell
	arrow         *[2]scan.Point // the way to it, from its tail to its head; nil for none
	caption       string         // at the outline or the arrow
}

// sighting is a place that is looked for, with what the picture has of one place of its path.
type sighting struct {
	*session.Sought
	at    int // index in its path
	seen  []session.Reading
	codes []placed // of the places beside it
}

// hintOf is what a picture tells of the places that are looked for: the label of one of
// them; else that of a place around it, or where it stands among those beside it.
func hintOf(sought []session.Sought, readings []session.Reading, size image.Rectangle) hint {
	var labels []sighting
	for i := range sought {
		if n := sightingOf(&sought[i], len(sought[i].Path)-1, readings); len(n.seen) > 0 {
			labels = append(labels, n)
		}
	}
	if len(labels) > 0 {
		return seenHint(labels)
	}
	for i := range sought {
		for at := len(sought[i].Path) - 1; at > 0; at-- {
			switch n := sightingOf(&sought[i], at, readings); {
			case len(n.seen) > 0:
				return n.withinHint()
			case len(n.codes) > 0:
				return n.besideHint(size)
			}
		}
	}
	return hint{heading: sought[0].Place().Name + " is not in the picture", note: wording.Sentence(words(&sought[0])) + " Show the camera where that stands."}
}

// sightingOf is what readings have of a place of a path, and of those beside it.
func sightingOf(s *session.Sought, at int, readings []session.Reading) sighting {
	n := sighting{Sought: s, at: at}
	cells := s.Beside(s.Path[at].ID)
	for _, r := range readings {
		if r.Answer != store.TagFound {
			continue
		}
		if r.Place.ID == s.Path[at].ID {
			n.seen = append(n.seen, r)
		} else if cell, stands := cells[r.Place.ID]; stands {
			n.codes = append(n.codes, placedAt(cell, r))
		}
	}
	return n
}

// words are how much of it is where: "AN3-5A, 28 ea, Garage, Cabinet A, drawer A-12".
func words(s *session.Sought) string {
	return wording.Joined(", ", s.Item, s.Amount, s.Note, session.PlaceWords(s.Path))
}

// seenHint is that of places whose labels are in the picture.
func seenHint(labels []sighting) hint {
	h := hint{heading: labels[0].Place().Name + " is here", note: wording.Sentence(words(labels[0].Sought))}
	if len(labels) > 1 {
		names := make([]string, 0, len(labels))
		for _, n := range labels {
			names = append(names, wording.Joined(" ", n.Place().Name, n.Amount))
		}
		h.heading, h.note = fmt.Sprintf("It is here in %d places", len(labels)), wording.Sentence(wording.Joined(": ", labels[0].Item, strings.Join(names, ", ")))
	}
	recognised := false
	for _, n := range labels {
		for _, r := range n.seen {
			h.found = append(h.found, r.Code.Text)
			recognised = recognised || r.Code.How == scan.Recognised
		}
	}
	if recognised {
		h.note += " Recognised, not read: check the label."
	}
	return h
}

// withinHint is that of a place that lies in one whose label is in the picture.
func (n *sighting) withinHint() hint {
	h := hint{heading: fmt.Sprintf("%s is in %s", n.Place().Name, n.Path[n.at].Name), note: wording.Sentence(words(n.Sought))}
	for _, r := range n.seen {
		h.found = append(h.found, r.Code.Text)
	}
	return h
}

// besideHint is that of a place beside which others are in the picture.
func (n *sighting) besideHint(size image.Rectangle) hint {
	to := n.Beside(n.Path[n.at].ID)[n.Path[n.at].ID]
	from := nearest(n.codes, to)
	where := n.Path[n.at].Name
	h := hint{
		heading: where + " is " + wayWords(from, to), caption: where,
		note: wording.Sentence(words(n.Sought)) + " Its label was not read: that is where the shop has it.",
	}
	l, ok := latticeOf(n.codes)
	if ok && steps(from.cell, to) <= farthest {
		if corners, inFront := l.outline(to); inFront {
			h.pointTo(corners, size)
			return h
		}
	}
	h.arrow = alongCode(from, to)
	return h
}

// pointTo outlines a cell that is in the picture, and shows the way to one that is not.
func (h *hint) pointTo(corners [4]scan.Point, size image.Rectangle) {
	var middle scan.Point
	for _, c := range corners {
		middle.X += c.X / 4
		middle.Y += c.Y / 4
	}
	if image.Pt(int(middle.X), int(middle.Y)).In(size) {
		h.outline = &corners
		return
	}
	centre := scan.Point{X: float64(size.Min.X+size.Max.X) / 2, Y: float64(size.Min.Y+size.Max.Y) / 2}
	dx, dy := middle.X-centre.X, middle.Y-centre.Y
	// As far as the frame, less a margin in which the head of the arrow is seen.
	far := 0.86 * min(float64(size.Dx())/2/max(math.Abs(dx), 1), float64(size.Dy())/2/max(math.Abs(dy), 1))
	h.arrow = &[2]scan.Point{{X: centre.X + dx*far*0.6, Y: centre.Y + dy*far*0.6}, {X: centre.X + dx*far, Y: centre.Y + dy*far}}
	h.heading += ", out of the picture"
}

// nearest is the code of the cell that is the fewest steps from another.
func nearest(codes []placed, to session.Cell) placed {
	best := codes[0]
	for _, c := range codes[1:] {
		if steps(c.cell, to) < steps(best.cell, to) {
			best = c
		}
	}
	return best
}

func steps(a, b session.Cell) int { return distance(a.Row, b.Row) + distance(a.Column, b.Column) }

func distance(a, b int) int { return max(a-b, b-a) }

// wayWords are the way from one place to another, as one stands before them: "3 to the
// right of A-09 and 1 below".
func wayWords(from placed, to session.Cell) string {
	across, down := to.Column-from.cell.Column, to.Row-from.cell.Row
	side, level := "right", "below"
	if across < 0 {
		side = "left"
	}
	if down < 0 {
		level = "above"
	}
	switch {
	case across == 0:
		return fmt.Sprintf("%d %s %s", distance(down, 0), level, from.name)
	case down == 0:
		return fmt.Sprintf("%d to the %s of %s", distance(across, 0), side, from.name)
	}
	return fmt.Sprintf("%d to the %s of %s and %d %s it", distance(across, 0), side, from.name, distance(down, 0), level)
}

// alongCode is an arrow from a code the way to a cell, by the edges of the code: how far it
// is they do not tell.
func alongCode(from placed, to session.Cell) *[2]scan.Point {
	across, down := float64(to.Column-from.cell.Column), float64(to.Row-from.cell.Row)
	dx, dy := across*from.right.X+down*from.down.X, across*from.right.Y+down*from.down.Y
	edge := math.Sqrt(math.Abs(from.right.X*from.down.Y - from.right.Y*from.down.X))
	long := max(math.Hypot(dx, dy), 1)
	start := scan.Point{X: from.at.X + dx/long*edge, Y: from.at.Y + dy/long*edge}
	return &[2]scan.Point{start, {X: start.X + dx/long*2*edge, Y: start.Y + dy/long*2*edge}}
}
