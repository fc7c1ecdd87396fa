package places

import (
	"cmp"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// Kinds are the places that are made one at a time, with their words.
func Kinds() []store.PlaceKind {
	return []store.PlaceKind{store.Room, store.Rack, store.Shelf, store.Bin, store.Tub, store.Drawer}
}

// FirstKind is the index of the kind that a new place most likely is, by the kind of
// the place that it is made in: a room at the top, a rack in a room, a shelf in a rack.
func FirstKind(parent store.PlaceKind) int {
	likely := map[store.PlaceKind]store.PlaceKind{"": store.Room, store.Room: store.Rack, store.Rack: store.Shelf, store.Cabinet: store.Drawer}[parent]
	return max(slices.Index(Kinds(), cmp.Or(likely, store.Bin)), 0)
}

// Example is a name that a place of a kind could have.
func Example(kind store.PlaceKind) string {
	return map[store.PlaceKind]string{
		store.Room: "Garage", store.Rack: "R1", store.Shelf: "S1", store.Bin: "Bin 1", store.Tub: "Tub 1", store.Drawer: "A-41",
	}[kind]
}

// Change makes and changes places. done is called on the window's goroutine with what was
// done, in words, or with the error.
type Change struct {
	session *session.Session
	done    func(words string, err error)
	writing loop.Once
}

// NewChange prepares changes.
func NewChange(s *session.Session, done func(words string, err error)) *Change {
	return &Change{session: s, done: done}
}

func (c *Change) do(o operation.Operation) {
	operation.Start(c.session, &c.writing, o, func(r operation.Result, err error) { c.done(r.Words(), err) })
}

// Add makes a place.
func (c *Change) Add(parent string, kind store.PlaceKind, name string) {
	c.do(operation.AddPlace{Kind: kind, Name: name, In: parent})
}

// CabinetForm is a cabinet as typed, with the places that it can stand in.
type CabinetForm struct {
	Name, Prefix, Rows, Columns string

	Stands []Destination
	In     int // index of the one that is proposed, -1 where it must be said
}

// NextCabinet is the form filled in for the next cabinet of the shop: the first
// letter that no cabinet has, the usual 5 rows of 8 drawers, and the place that is open,
// or the one place where a cabinet can stand.
func NextCabinet(s *session.Session, open store.Place) (CabinetForm, error) {
	return session.Answer(s, func(r *session.Reader) (CabinetForm, error) {
		f, err := nextCabinet(r)
		if err != nil {
			return f, err
		}
		f.Stands, err = destinations(r, store.Place{Kind: store.Cabinet, Parent: noParent})
		f.Stands = slices.DeleteFunc(f.Stands, func(d Destination) bool { return !slices.Contains(bearers, d.Kind) })
		f.In = slices.IndexFunc(f.Stands, func(d Destination) bool { return d.ID == open.ID && open.ID != "" })
		rooms := 0
		for _, d := range f.Stands {
			if d.Kind == store.Room {
				rooms++
			}
		}
		if f.In < 0 && rooms < 2 { // rooms come first
			f.In = 0
		}
		return f, err
	})
}

// bearers are the kinds of place that a cabinet stands in; the empty one is no room.
var bearers = []store.PlaceKind{store.Room, store.Rack, store.Shelf, ""}

// noParent is the parent of what stands nowhere yet.
const noParent = "none"

func nextCabinet(s *session.Reader) (CabinetForm, error) {
	all, err := s.Shop.Places()
	if err != nil {
		return CabinetForm{}, err
	}
	taken := map[string]bool{}
	for _, p := range all {
		if p.Kind == store.Cabinet && !p.Retired {
			taken[strings.ToUpper(p.Name)] = true
		}
	}
	for letter := 'A'; letter <= 'Z'; letter++ {
		if !taken["CABINET "+string(letter)] {
			return CabinetForm{Name: "Cabinet " + string(letter), Prefix: string(letter), Rows: "5", Columns: "8"}, nil
		}
	}
	return CabinetForm{Rows: "5", Columns: "8"}, nil
}

// AddCabinet makes a cabinet with all its drawers.
func (c *Change) AddCabinet(parent string, f CabinetForm) {
	c.do(operation.AddCabinet{Name: f.Name, Prefix: f.Prefix, Rows: f.Rows, Columns: f.Columns, In: parent})
}

// Move moves a place with all that is in it.
func (c *Change) Move(id, to string) { c.do(operation.MovePlace{Place: id, To: to}) }

// Rename gives a place another name.
func (c *Change) Rename(id, name string) { c.do(operation.RenamePlace{Place: id, Name: name}) }

// Retire takes an empty place out of use.
func (c *Change) Retire(id string) { c.do(operation.RetirePlace{Place: id}) }

// Destination is a place that another can be moved into. The empty ID is the top.
type Destination struct {
	ID, Name, Path string
	Kind           store.PlaceKind // empty for the top
}

// Destinations are the places that a place can be moved into: storage that is not
// within it and where it is not already, rooms first, and the top where it is not there.
func Destinations(s *session.Session, moved store.Place) ([]Destination, error) {
	return session.Answer(s, func(r *session.Reader) ([]Destination, error) { return destinations(r, moved) })
}

func destinations(s *session.Reader, moved store.Place) ([]Destination, error) {
	all, err := s.Shop.Places()
	if err != nil {
		return nil, err
	}
	var rooms, others []Destination
	for _, p := range all {
		if p.Retired || !p.Kind.Storage() || p.Kind == store.Drawer || p.ID == moved.Parent {
			continue
		}
		path, err := s.Shop.Path(p.ID)
		if err != nil {
			return nil, err
		}
		if within(path, moved.ID) {
			continue
		}
		d := Destination{ID: p.ID, Name: p.Name, Path: store.PathText(path), Kind: p.Kind}
		if p.Kind == store.Room {
			rooms = append(rooms, d)
		} else {
			others = append(others, d)
		}
	}
	for _, list := range [][]Destination{rooms, others} {
		slices.SortFunc(list, func(a, b Destination) int { return store.CompareNames(a.Path, b.Path) })
	}
	if moved.Parent != "" {
		others = append(others, Destination{Name: "No room", Path: "beside the rooms of the shop"})
	}
	return append(rooms, others...), nil
}

func within(path []store.Place, id string) bool {
	for _, p := range path {
		if p.ID == id {
			return true
		}
	}
	return false
}
