package store

import (
	"cmp"
	"slices"
	"strings"

	"stowright/store/disk"
)

// PathSeparator stands between the names of a path.
const PathSeparator = ", "

// Place is the place of an id.
func (r *Reader) Place(id string) (Place, error) {
	return one[Place](r, tablePlaces, id, "such place", "")
}

// Places are all places, retired ones too, in the order in which they were made.
func (r *Reader) Places() ([]Place, error) { return all[Place](r, tablePlaces, "") }

// Children are the places directly within a place, or at the top for "": drawers
// by their position, others by name with numbers in their natural order. Retired
// places are left out.
func (r *Reader) Children(parent string) ([]Place, error) {
	var list []Place
	err := r.view(func(tx *disk.Tx) error {
		ids, err := childIDs(tx, parent)
		if err != nil {
			return err
		}
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

func childIDs(tx *disk.Tx, parent string) (ids []string, err error) {
	children, err := tx.Bucket(indexChildren)
	if err != nil {
		return nil, err
	}
	prefix := []byte(parent + keySeparator)
	err = children.Scan(prefix, func(k, _ []byte) error {
		ids = append(ids, string(k[len(prefix):]))
		return nil
	})
	return ids, err
}

// placesWithin is how many places in use lie directly in a place.
func placesWithin(tx *disk.Tx, id string) (int, error) {
	children, err := childIDs(tx, id)
	if err != nil {
		return 0, err
	}
	n := 0
	for _, child := range children {
		p, _, err := lookup[Place](fileLedger{tx}, tablePlaces, child)
		if err != nil {
			return 0, err
		}
		if !p.Retired {
			n++
		}
	}
	return n, nil
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
func (r *Reader) Path(id string) ([]Place, error) {
	var path []Place
	err := r.view(func(tx *disk.Tx) error {
		var err error
		path, err = pathOf(fileLedger{tx}, id)
		return err
	})
	return path, err
}

// MaxDepth bounds how deep places nest, so that a damaged file cannot make a loop endless:
// a place and all that it lies in are so many at most.
const MaxDepth = 32

func pathOf(l ledger, id string) ([]Place, error) {
	var path []Place
	for at := id; at != ""; {
		p, found, err := lookup[Place](l, tablePlaces, at)
		switch {
		case err != nil:
			return nil, err
		case !found:
			return nil, fail(NotFound, "", "That place is not in this shop: choose another one.")
		case len(path) == MaxDepth:
			return nil, errCircle()
		}
		path = append(path, p)
		at = p.Parent
	}
	slices.Reverse(path)
	return path, nil
}

func errCircle() error {
	return fail(Corrupt, "", "The places of this shop nest in a circle: keep the file, and open a copy made earlier.")
}

// PathText is a path in words, "Garage, Cabinet A, A-12".
func PathText(path []Place) string {
	names := make([]string, 0, len(path))
	for _, p := range path {
		names = append(names, p.Name)
	}
	return strings.Join(names, PathSeparator)
}
