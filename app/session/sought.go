package session

import (
	"cmp"
	"slices"

	"stowright/store"
)

// Sought is a place in which what a camera looks for lies.
type Sought struct {
	Path   []store.Place // from its room to the place itself
	Item   string        // what is looked for; empty where the place itself is
	Amount string        // of that, "28 ea"
	Note   string        // what to know of it before it is taken, "damaged"; empty for good stock
	grids  map[string]map[string]Cell
}

// Cell is where a place stands among those beside it: rows and columns from 1.
type Cell struct{ Row, Column int }

// Place is the place itself.
func (s *Sought) Place() store.Place { return s.Path[len(s.Path)-1] }

// Beside are the cells of the places that stand beside one of the path, itself among them,
// by their ids; nil where they have no order.
func (s *Sought) Beside(id string) map[string]Cell { return s.grids[id] }

// SoughtItem is where an item lies, what is good and most of it first.
func (s *Reader) SoughtItem(designation string) ([]Sought, error) {
	heaps, err := s.Shop.Holdings(designation)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(heaps, func(a, b store.Holding) int {
		return cmp.Or(cmp.Compare(a.Condition, b.Condition), cmp.Compare(b.Amount.Micro, a.Amount.Micro)) // good is the empty one
	})
	byPlace := map[string][]store.Holding{}
	var ids []string
	for _, h := range heaps {
		if byPlace[h.Place] == nil {
			ids = append(ids, h.Place)
		}
		if of := byPlace[h.Place]; len(of) == 0 || of[0].Condition == h.Condition {
			byPlace[h.Place] = append(of, h)
		}
	}
	all, err := s.SoughtPlaces(ids)
	if err != nil {
		return nil, err
	}
	for i := range all {
		of := byPlace[all[i].Place().ID]
		if all[i].Amount, err = countWords(of); err != nil {
			return nil, err
		}
		all[i].Item, all[i].Note = designation, string(of[0].Condition)
	}
	return all, nil
}

// SoughtPlaces are places that are looked for, in the order that is given.
func (s *Reader) SoughtPlaces(ids []string) ([]Sought, error) {
	grids := map[string]map[string]Cell{} // by the parent
	var all []Sought
	for _, id := range ids {
		path, err := s.Shop.Path(id)
		if err != nil {
			return nil, err
		}
		one := Sought{Path: path, grids: map[string]map[string]Cell{}}
		for i := 1; i < len(path); i++ {
			parent := path[i-1]
			if parent.Kind == store.Room {
				continue // what stands in a room has no cells
			}
			if grids[parent.ID] == nil {
				if grids[parent.ID], err = s.cells(parent); err != nil {
					return nil, err
				}
			}
			one.grids[path[i].ID] = grids[parent.ID]
		}
		all = append(all, one)
	}
	return all, nil
}

// cells are the cells of what stands in a place.
func (s *Reader) cells(parent store.Place) (map[string]Cell, error) {
	children, err := s.Shop.Children(parent.ID)
	if err != nil {
		return nil, err
	}
	g, cells := layOut(parent, children), map[string]Cell{}
	for i, p := range g.places {
		if p.ID != "" {
			cells[p.ID] = Cell{Row: i/g.columns + 1, Column: i%g.columns + 1}
		}
	}
	return cells, nil
}
