package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/hardware"
)

// Around is the cabinet, shelf or rack that a place is part of, with the place
// lit; nil where the place stands alone.
func (s *Reader) Around(id string) (*drawing.Cabinet, error) {
	place, err := s.Shop.Place(id)
	if err != nil || place.Parent == "" {
		return nil, err
	}
	parent, err := s.Shop.Place(place.Parent)
	if err != nil || parent.Kind == store.Room || !parent.Kind.Storage() {
		return nil, err
	}
	picture, err := s.Cabinet(parent.ID)
	if err != nil {
		return nil, err
	}
	for i := range picture.Drawers {
		picture.Drawers[i].Lit = picture.Drawers[i].ID == id
	}
	return &picture, nil
}

// maxAcross is how many places without a position of their own stand side by side.
const maxAcross = 8

// Cabinet is a cabinet as it looks: its drawers where they are, with what lies in
// them and the look-alikes within reach of each other marked. Places without a
// position of their own, such as the shelves of a rack, stand one below the other.
func (s *Reader) Cabinet(id string) (drawing.Cabinet, error) {
	place, err := s.Shop.Place(id)
	if err != nil {
		return drawing.Cabinet{}, err
	}
	children, err := s.Shop.Children(id)
	if err != nil {
		return drawing.Cabinet{}, err
	}
	grid := layOut(place, children)
	items := make([]string, len(grid.places))
	picture := drawing.Cabinet{Rows: grid.rows, Cols: grid.columns, Drawers: make([]drawing.Drawer, len(grid.places))}
	for i, p := range grid.places {
		if p.ID == "" {
			picture.Drawers[i] = drawing.Drawer{Empty: true, Level: -1}
			continue
		}
		d, err := s.drawer(p)
		if err != nil {
			return drawing.Cabinet{}, err
		}
		picture.Drawers[i], items[i] = d, d.Designation
	}
	catalog := s.Catalog()
	for i := range items {
		picture.Drawers[i].LookAlike = confusedNearby(catalog, items, grid.columns, i)
	}
	return picture, nil
}

// grid is places laid out in reading order; a gap is a place without an id.
type grid struct {
	rows, columns int
	places        []store.Place
}

func layOut(parent store.Place, children []store.Place) grid {
	if parent.Rows == 0 || parent.Columns == 0 {
		columns := 1
		if parent.Kind == store.Shelf {
			columns = max(1, min(maxAcross, len(children)))
		}
		rows := max(1, (len(children)+columns-1)/columns)
		places := make([]store.Place, rows*columns)
		copy(places, children)
		return grid{rows: rows, columns: columns, places: places}
	}
	g := grid{rows: parent.Rows, columns: parent.Columns, places: make([]store.Place, parent.Rows*parent.Columns)}
	for _, c := range children {
		if c.Row >= 1 && c.Row <= g.rows && c.Column >= 1 && c.Column <= g.columns {
			g.places[(c.Row-1)*g.columns+c.Column-1] = c
		}
	}
	return g
}

func (s *Reader) drawer(p store.Place) (drawing.Drawer, error) {
	contents, err := s.Shop.Contents(p.ID)
	if err != nil {
		return drawing.Drawer{}, err
	}
	d := drawing.Drawer{ID: p.ID, Name: p.Name, Level: -1, Empty: len(contents) == 0}
	if len(contents) == 0 {
		return d, nil
	}
	d.Designation = contents[0].Item
	kinds := map[string]bool{}
	for _, h := range contents {
		kinds[h.Item] = true
	}
	d.More = len(kinds) - 1
	if d.More == 0 {
		d.Count, err = countWords(contents)
	}
	return d, err
}

// countWords is how much heaps of one kind are together: "28 ea", "about 1,680 ea".
func countWords(heaps []store.Holding) (string, error) {
	sum := heaps[0].Amount
	var err error
	for _, h := range heaps[1:] {
		if sum, err = sum.Add(h.Amount); err != nil {
			return "", fmt.Errorf("adding up %s: %w", h.Item, err)
		}
	}
	if sum.Estimate() {
		return "about " + sum.Quantity.String(), nil
	}
	return sum.Quantity.String(), nil
}

// Pair is two drawers of one cabinet whose contents are easily taken for each
// other. Away is how many drawers lie between them, plus one: neighbours are 1 away.
type Pair struct {
	A, B drawing.Drawer
	Away int
}

// NearestPair is the pair of look-alikes of a cabinet that lies closest together,
// the first in reading order among equals. Found is false where there is none.
func NearestPair(catalog *hardware.Catalog, c drawing.Cabinet) (pair Pair, found bool) {
	columns := max(1, c.Cols)
	for i, a := range c.Drawers {
		for j := i + 1; a.Designation != "" && j < len(c.Drawers); j++ {
			away := max(abs(j/columns-i/columns), abs(j%columns-i%columns))
			if b := c.Drawers[j]; b.Designation != "" && (!found || away < pair.Away) {
				if _, alike := catalog.Alike(a.Designation, b.Designation); alike {
					pair, found = Pair{a, b, away}, true
				}
			}
		}
	}
	return pair, found
}

// neighbours are the indexes of the drawers that touch drawer i, corners too.
func neighbours(n, columns, i int) []int {
	var near []int
	row, column := i/columns, i%columns
	for r := row - 1; r <= row+1; r++ {
		for c := column - 1; c <= column+1; c++ {
			j := r*columns + c
			if j != i && r >= 0 && c >= 0 && c < columns && j < n {
				near = append(near, j)
			}
		}
	}
	return near
}

// confusedNearby reports whether a drawer next to drawer i holds what its content is
// easily taken for.
func confusedNearby(catalog *hardware.Catalog, items []string, columns, i int) bool {
	if items[i] == "" {
		return false
	}
	for _, j := range neighbours(len(items), columns, i) {
		if items[j] == "" {
			continue
		}
		if _, alike := catalog.Alike(items[i], items[j]); alike {
			return true
		}
	}
	return false
}

// alikeThing is something in the same cabinet that is easily taken for another.
type alikeThing struct {
	item       string
	difference string
	place      store.Place
	away       int // drawers
}

// alikeNear are the things in the cabinet of a place that its content is easily
// taken for, the nearest first.
func (s *Reader) alikeNear(item string, place store.Place) ([]alikeThing, error) {
	if place.Parent == "" || !s.Catalog().Decode(item).Known {
		return nil, nil
	}
	drawers, err := s.drawersOf(place.Parent)
	if err != nil {
		return nil, err
	}
	var alike []alikeThing
	for _, d := range drawers {
		if d.item == "" || d.item == item {
			continue
		}
		if difference, ok := s.Catalog().Alike(item, d.item); ok {
			alike = append(alike, alikeThing{d.item, difference, d.place, steps(place, d.place)})
		}
	}
	slices.SortStableFunc(alike, func(a, b alikeThing) int { return cmp.Compare(a.away, b.away) })
	return alike, nil
}

// steps is how many drawers lie between two of one cabinet, corners counted as one.
func steps(a, b store.Place) int { return max(abs(a.Row-b.Row), abs(a.Column-b.Column)) }

// maxDiffering is how many look-alikes a card tells the difference of; it names the others.
const maxDiffering = 3

// beware are the look-alikes of what lies in a place as warnings, those within
// reach of it first, then those elsewhere in the shop.
func (s *Reader) beware(item string, place store.Place) ([]notice.Notice, error) {
	near, err := s.alikeNear(item, place)
	if err != nil {
		return nil, err
	}
	var alike []lookAlike
	named := map[string]bool{}
	for _, a := range near {
		alike = append(alike, lookAlike{a.item, a.place.Name, a.difference})
		named[a.item] = true
	}
	for _, like := range s.Catalog().Decode(item).LookAlikes {
		holdings, err := s.Shop.Holdings(like.Designation)
		if err != nil {
			return nil, err
		}
		if len(holdings) == 0 || named[like.Designation] {
			continue
		}
		where, err := s.Shop.Place(holdings[0].Place)
		if err != nil {
			return nil, err
		}
		alike = append(alike, lookAlike{like.Designation, where.Name, like.Difference})
	}
	return warnings(alike), nil
}

// lookAlike is what something is easily taken for.
type lookAlike struct {
	item       string
	place      string // empty where the shop has none
	difference string
}

// warnings warn of every look-alike: of the first ones with the difference, then by their
// numbers alone.
func warnings(alike []lookAlike) []notice.Notice {
	var list []notice.Notice
	for _, a := range alike[:min(len(alike), maxDiffering)] {
		text := a.difference + "."
		if a.place != "" {
			list = append(list, notice.Notice{Tone: notice.Warn, Lead: "Not " + a.item, Text: "in " + a.place + ": " + text})
			continue
		}
		list = append(list, notice.Notice{Tone: notice.Warn, Lead: "Not " + a.item + ":", Text: text})
	}
	if len(alike) > maxDiffering {
		var others []string
		for _, a := range alike[maxDiffering:] {
			others = append(others, wording.Joined(" in ", a.item, a.place))
		}
		list = append(list, notice.Notice{Tone: notice.Warn, Lead: "Nor", Text: strings.Join(others, ", ") + "."})
	}
	return list
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
