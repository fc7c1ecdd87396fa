package store

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// furniture are the kinds of place that people make.
var furniture = []PlaceKind{Room, Rack, Shelf, Cabinet, Drawer, Bin, Tub}

// AddPlace makes a place with a tag of its own. Only Parent, Kind and Name of p
// count; the place made is returned.
func (s *Shop) AddPlace(p Place) (Place, Entry, error) {
	var made Place
	e, err := s.commit(VerbPlace, func(w *writer) (string, error) {
		if !p.Kind.Storage() {
			return "", fail(Invalid, string(p.Kind), "A %s is not made by hand: it comes with a packing list or a sub-assembly.", p.Kind)
		}
		if !slices.Contains(furniture, p.Kind) {
			return "", fail(Invalid, string(p.Kind), "There is no kind of place called %s: it is a room, a rack, a shelf, a cabinet, a drawer, a bin or a tub.", phrase.Quote(string(p.Kind)))
		}
		if err := w.mayHold(p.Parent, p); err != nil {
			return "", err
		}
		var err error
		made, err = w.newPlace(Place{Parent: p.Parent, Kind: p.Kind, Name: p.Name})
		return fmt.Sprintf("%s %s made", p.Kind, made.Name), err
	})
	return made, e, err
}

// CabinetSpec is a cabinet to be made in one step. Its drawers are named Prefix-01
// and so on, along each row from the top.
type CabinetSpec struct {
	Parent  string // id
	Name    string
	Prefix  string // of the drawers
	Rows    int    // 1 to 40
	Columns int    // 1 to 40
}

// maxGrid is the most rows or columns that a cabinet has.
const maxGrid = 40

// AddCabinet makes a cabinet with all its drawers as one entry.
func (s *Shop) AddCabinet(c CabinetSpec) (Place, Entry, error) {
	var cabinet Place
	e, err := s.commit(VerbPlace, func(w *writer) (string, error) {
		if c.Rows < 1 || c.Columns < 1 || c.Rows > maxGrid || c.Columns > maxGrid {
			return "", fail(Invalid, c.Name, "A cabinet has 1 to %d rows and columns, and not %d x %d: make two of it, or correct the figures.", maxGrid, c.Rows, c.Columns)
		}
		prefix, err := cleanName("The letter of the drawers", c.Prefix)
		if err != nil {
			return "", err
		}
		if err := w.mayHold(c.Parent, Place{Kind: Cabinet, Name: c.Name}); err != nil {
			return "", err
		}
		if cabinet, err = w.newPlace(Place{Parent: c.Parent, Kind: Cabinet, Name: c.Name, Rows: c.Rows, Columns: c.Columns}); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s made with %d drawers", cabinet.Name, c.Rows*c.Columns), w.fill(cabinet, prefix)
	})
	return cabinet, e, err
}

func (w *writer) fill(cabinet Place, prefix string) error {
	digits := max(2, len(fmt.Sprint(cabinet.Rows*cabinet.Columns)))
	for i := range cabinet.Rows * cabinet.Columns {
		drawer := Place{
			Parent: cabinet.ID, Kind: Drawer, Name: fmt.Sprintf("%s-%0*d", prefix, digits, i+1),
			Row: i/cabinet.Columns + 1, Column: i%cabinet.Columns + 1,
		}
		if _, err := w.newPlace(drawer); err != nil {
			return err
		}
	}
	return nil
}

// mayHold checks that a place may take p: it exists, is in use, is of a kind that can
// contain p, has nothing of that name yet and does not get too deep. A place that is
// moved is named by its ID; one that is to be made has none.
func (w *writer) mayHold(parent string, p Place) error {
	if parent != "" {
		into, err := w.usablePlace(parent)
		switch {
		case err != nil:
			return err
		case !into.Kind.Storage() && (p.Kind != Bag || into.Kind == SubAssemblyKind):
			return fail(Invalid, into.Name, "%s is a %s, which cannot contain that: choose a place of the shop.", into.Name, into.Kind)
		}
	}
	if err := w.notTooDeep(parent, p); err != nil {
		return err
	}
	siblings, err := childIDs(w.ledger.tx, parent)
	if err != nil {
		return err
	}
	for _, id := range siblings {
		other, _, err := lookup[Place](w.ledger, tablePlaces, id)
		if err != nil {
			return err
		}
		if id != p.ID && !other.Retired && strings.EqualFold(other.Name, strings.TrimSpace(p.Name)) {
			return fail(Conflict, p.Name, "There is already a place %s there: give this one another name.", other.Name)
		}
	}
	return nil
}

// notTooDeep refuses to nest places deeper than a path may be long.
func (w *writer) notTooDeep(parent string, p Place) error {
	path, err := pathOf(w.ledger, parent)
	if err != nil {
		return err
	}
	below := 1
	if p.Kind == Cabinet {
		below = 2 // its drawers, which are made after it
	}
	if p.ID != "" {
		if below, err = height(w.ledger.tx, p.ID, 0); err != nil {
			return err
		}
	}
	if len(path)+below > MaxDepth {
		return fail(Invalid, p.Name, "Places nest %d deep at most: put %s somewhere less deep.", MaxDepth, p.Name)
	}
	return nil
}

// height is how many places lie one in the other from a place down, itself counted.
func height(tx *disk.Tx, id string, depth int) (int, error) {
	if depth > MaxDepth {
		return 0, errCircle()
	}
	children, err := childIDs(tx, id)
	if err != nil {
		return 0, err
	}
	tallest := 0
	for _, child := range children {
		h, err := height(tx, child, depth+1)
		if err != nil {
			return 0, err
		}
		tallest = max(tallest, h)
	}
	return tallest + 1, nil
}

// MovePlace moves a place, with all that is in it, into another, or to the top
// for "". Crates, bags and the places of sub-assemblies move too. Tags and labels
// stay as they are.
func (s *Shop) MovePlace(id, parent string) (Entry, error) {
	return s.changePlace(VerbMove, id, func(w *writer, p *Place) (string, error) {
		into, at := "the top", "at the top"
		if parent != "" {
			path, err := pathOf(w.ledger, parent)
			if err != nil {
				return "", err
			}
			if slices.ContainsFunc(path, func(q Place) bool { return q.ID == id }) {
				return "", fail(Invalid, p.Name, "%s cannot be moved into itself: choose a place outside it.", p.Name)
			}
			into = path[len(path)-1].Name
			at = "in " + into
		}
		if parent == p.Parent {
			return "", fail(Invalid, p.Name, "%s is %s already: choose another place.", p.Name, at)
		}
		p.Parent = parent
		if p.Kind == Drawer {
			p.Row, p.Column = 0, 0
		}
		return fmt.Sprintf("%s moved to %s", p.Name, into), w.mayHold(parent, *p)
	})
}

// RenamePlace gives a place another name. Its tag and its label's code stay good.
func (s *Shop) RenamePlace(id, name string) (Entry, error) {
	return s.changePlace(VerbPlace, id, func(w *writer, p *Place) (string, error) {
		if p.Kind == SubAssemblyKind {
			return "", fail(Invalid, p.Name, "%s is a sub-assembly, whose place has its code: change the name of the sub-assembly instead.", p.Name)
		}
		clean, err := cleanName("The name of the place", name)
		if err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s renamed to %s", p.Name, clean)
		p.Name = clean
		return text, w.mayHold(p.Parent, *p)
	})
}

// RetirePlace takes a place out of use, with the places in it, when nothing lies
// in any of them. Their tags stay known as retired.
func (s *Shop) RetirePlace(id string) (Entry, error) {
	return s.changePlace(VerbPlace, id, func(w *writer, p *Place) (string, error) {
		if p.Kind == SubAssemblyKind {
			return "", fail(Invalid, p.Name, "%s is a sub-assembly, whose place stays: move it where it is not in the way.", p.Name)
		}
		retired, err := w.retireWithin(id)
		if err != nil {
			return "", err
		}
		p.Retired = true
		text := fmt.Sprintf("%s %s taken out of use", p.Kind, p.Name)
		if retired > 0 {
			text += fmt.Sprintf(" with %d places in it", retired)
		}
		return text, w.put(tableTags, string(p.Tag), tagRecord{Place: id, Retired: true})
	})
}

// retireWithin retires all places within a place and says how many they were. It
// is refused when something lies in that place or in one of them.
func (w *writer) retireWithin(id string) (int, error) {
	holdings, err := contents(w.ledger.tx, id)
	if err != nil {
		return 0, err
	}
	if len(holdings) > 0 {
		path, err := pathOf(w.ledger, id)
		if err != nil {
			return 0, err
		}
		name := path[len(path)-1].Name
		return 0, fail(Conflict, name, "%s still holds %s: move that first.", name, holdings[0].Item)
	}
	children, err := childIDs(w.ledger.tx, id)
	if err != nil {
		return 0, err
	}
	retired := 0
	for _, child := range children {
		c, _, err := lookup[Place](w.ledger, tablePlaces, child)
		if err != nil {
			return 0, err
		}
		if c.Kind == SubAssemblyKind {
			return 0, fail(Conflict, c.Name, "The sub-assembly %s lies there: move it elsewhere first.", c.Name)
		}
		n, err := w.retireWithin(child)
		if err != nil {
			return 0, err
		}
		retired += n
		if c.Retired {
			continue
		}
		retired++
		c.Retired = true
		if err := w.put(tablePlaces, child, c); err != nil {
			return 0, err
		}
		if err := w.put(tableTags, string(c.Tag), tagRecord{Place: child, Retired: true}); err != nil {
			return 0, err
		}
	}
	return retired, nil
}

// changePlace changes the record of a place as one entry.
func (s *Shop) changePlace(verb Verb, id string, change func(w *writer, p *Place) (text string, err error)) (Entry, error) {
	return s.commit(verb, func(w *writer) (string, error) {
		p, err := w.usablePlace(id)
		if err != nil {
			return "", err
		}
		text, err := change(w, &p)
		if err != nil {
			return "", err
		}
		return text, w.put(tablePlaces, id, p)
	})
}
