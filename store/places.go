package store

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"go.etcd.io/bbolt"
)

// PathSeparator stands between the names of a path.
const PathSeparator = ", "

// Place is the place of an id.
func (s *Shop) Place(id string) (Place, error) { return one[Place](s, tablePlaces, id, "place") }

// Places are all places, retired ones too, in the order in which they were made.
func (s *Shop) Places() ([]Place, error) { return all[Place](s, tablePlaces, "") }

// Children are the places directly within a place, or at the top for "": drawers
// by their position, others by name with numbers in their natural order. Retired
// places are left out.
func (s *Shop) Children(parent string) ([]Place, error) {
	var list []Place
	err := s.db.View(func(tx *bbolt.Tx) error {
		ids := childIDs(tx, parent)
		for _, id := range ids {
			p, _, err := lookup[Place](fileLedger{tx}, tablePlaces, id)
			if err != nil {
				return err
			}
			if !p.Retired {
				list = append(list, p)
			}
		}
		return nil
	})
	slices.SortFunc(list, ComparePlaces)
	return list, err
}

func childIDs(tx *bbolt.Tx, parent string) []string {
	var ids []string
	prefix := []byte(parent + keySeparator)
	c := tx.Bucket(bucketChildren).Cursor()
	for k, _ := c.Seek(prefix); k != nil && bytes.HasPrefix(k, prefix); k, _ = c.Next() {
		ids = append(ids, string(k[len(prefix):]))
	}
	return ids
}

// ComparePlaces orders the places within one place: by row and column, then by
// name with numbers in their natural order.
func ComparePlaces(a, b Place) int {
	return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Column, b.Column), CompareNames(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
}

// CompareNames orders names as people do: A-2 before A-10.
func CompareNames(a, b string) int {
	for a != "" && b != "" {
		na, nb := digitRun(a), digitRun(b)
		if na > 0 && nb > 0 {
			da, db := strings.TrimLeft(a[:na], "0"), strings.TrimLeft(b[:nb], "0")
			if c := cmp.Or(cmp.Compare(len(da), len(db)), cmp.Compare(da, db)); c != 0 {
				return c
			}
			a, b = a[na:], b[nb:]
			continue
		}
		if c := cmp.Compare(a[0], b[0]); c != 0 {
			return c
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func digitRun(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }

// Path is a place and the places that it lies in, the outermost first.
func (s *Shop) Path(id string) ([]Place, error) {
	var path []Place
	err := s.db.View(func(tx *bbolt.Tx) error {
		var err error
		path, err = pathOf(fileLedger{tx}, id)
		return err
	})
	return path, err
}

// maxDepth bounds how deep places nest, so that a damaged file cannot make a loop endless.
const maxDepth = 32

func pathOf(l ledger, id string) ([]Place, error) {
	var path []Place
	for at := id; at != ""; {
		p, found, err := lookup[Place](l, tablePlaces, at)
		switch {
		case err != nil:
			return nil, err
		case !found:
			return nil, fail(NotFound, at, "There is no place %q in this shop.", at)
		case len(path) == maxDepth:
			return nil, fail(Corrupt, id, "The places of this shop nest in a circle: open a copy made earlier.")
		}
		path = append(path, p)
		at = p.Parent
	}
	slices.Reverse(path)
	return path, nil
}

// PathText is a path in words, "Garage, Cabinet A, A-12".
func PathText(path []Place) string {
	names := make([]string, 0, len(path))
	for _, p := range path {
		names = append(names, p.Name)
	}
	return strings.Join(names, PathSeparator)
}

// AddPlace makes a place with a tag of its own. Only Parent, Kind and Name of p
// count; the place made is returned.
func (s *Shop) AddPlace(p Place) (Place, Entry, error) {
	var made Place
	e, err := s.commit(VerbBuild, func(w *writer) (string, error) {
		if !p.Kind.Storage() {
			return "", fail(Invalid, string(p.Kind), "A %s is not made by hand: it comes with a packing list or a sub-assembly.", p.Kind)
		}
		if err := w.mayHold(p.Parent, p.Name, ""); err != nil {
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
	e, err := s.commit(VerbBuild, func(w *writer) (string, error) {
		if c.Rows < 1 || c.Columns < 1 || c.Rows > maxGrid || c.Columns > maxGrid {
			return "", fail(Invalid, c.Name, "A cabinet has 1 to %d rows and columns, not %d x %d.", maxGrid, c.Rows, c.Columns)
		}
		prefix, err := cleanName("The letter of the drawers", c.Prefix)
		if err != nil {
			return "", err
		}
		if err := w.mayHold(c.Parent, c.Name, ""); err != nil {
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

// mayHold says whether a place may take another one of a name: it exists, is in
// use, and holds none of that name. The place with the id except may have it.
func (w *writer) mayHold(parent, name, except string) error {
	if parent != "" {
		p, found, err := lookup[Place](w.ledger, tablePlaces, parent)
		switch {
		case err != nil:
			return err
		case !found || p.Retired:
			return fail(NotFound, parent, "There is no place %q in this shop.", parent)
		case !p.Kind.Storage():
			return fail(Invalid, p.Name, "%s is a %s: it holds no other places.", p.Name, p.Kind)
		}
	}
	for _, id := range childIDs(w.ledger.tx, parent) {
		p, _, err := lookup[Place](w.ledger, tablePlaces, id)
		if err != nil {
			return err
		}
		if id != except && !p.Retired && strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return fail(Conflict, name, "There is already a place %s there: give this one another name.", p.Name)
		}
	}
	return nil
}

// MovePlace moves a place, with all that is in it, into another, or to the top
// for "". Tags and labels stay as they are.
func (s *Shop) MovePlace(id, parent string) (Entry, error) {
	return s.changePlace(VerbMove, id, func(w *writer, p *Place) (string, error) {
		if !p.Kind.Storage() {
			return "", fail(Invalid, p.Name, "%s is a %s: move what is in it instead.", p.Name, p.Kind)
		}
		into := "the top"
		if parent != "" {
			path, err := pathOf(w.ledger, parent)
			if err != nil {
				return "", err
			}
			if slices.ContainsFunc(path, func(q Place) bool { return q.ID == id }) {
				return "", fail(Invalid, p.Name, "%s cannot be moved into itself: choose a place outside it.", p.Name)
			}
			into = path[len(path)-1].Name
		}
		p.Parent = parent
		if p.Kind == Drawer {
			p.Row, p.Column = 0, 0
		}
		return fmt.Sprintf("%s moved to %s", p.Name, into), w.mayHold(parent, p.Name, id)
	})
}

// RenamePlace gives a place another name. Its tag and its label's code stay good.
func (s *Shop) RenamePlace(id, name string) (Entry, error) {
	return s.changePlace(VerbBuild, id, func(w *writer, p *Place) (string, error) {
		clean, err := cleanName("The name of the place", name)
		if err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s renamed to %s", p.Name, clean)
		p.Name = clean
		return text, w.mayHold(p.Parent, clean, id)
	})
}

// RetirePlace takes an empty place out of use. Its tag stays known as retired.
func (s *Shop) RetirePlace(id string) (Entry, error) {
	return s.changePlace(VerbBuild, id, func(w *writer, p *Place) (string, error) {
		holdings, err := contents(w.ledger.tx, id)
		if err != nil {
			return "", err
		}
		if len(holdings) > 0 {
			return "", fail(Conflict, p.Name, "%s still holds %s: move that first.", p.Name, holdings[0].Item)
		}
		for _, child := range childIDs(w.ledger.tx, id) {
			c, _, err := lookup[Place](w.ledger, tablePlaces, child)
			if err != nil {
				return "", err
			}
			if !c.Retired {
				return "", fail(Conflict, p.Name, "%s still holds %s: move or retire that first.", p.Name, c.Name)
			}
		}
		p.Retired = true
		return fmt.Sprintf("%s %s taken out of use", p.Kind, p.Name), w.put(tableTags, string(p.Tag), tagRecord{Place: id, Retired: true})
	})
}

// changePlace changes the record of a place as one entry.
func (s *Shop) changePlace(verb Verb, id string, change func(w *writer, p *Place) (text string, err error)) (Entry, error) {
	return s.commit(verb, func(w *writer) (string, error) {
		p, found, err := lookup[Place](w.ledger, tablePlaces, id)
		if err != nil {
			return "", err
		}
		if !found || p.Retired {
			return "", fail(NotFound, id, "There is no place %q in this shop.", id)
		}
		text, err := change(w, &p)
		if err != nil {
			return "", err
		}
		return text, w.put(tablePlaces, id, p)
	})
}
