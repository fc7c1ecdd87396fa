package building

import (
	"slices"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/store"
	"stowright/store/build"
)

// standing is how all sub-assemblies stood when they were read. A window keeps a page for a
// while after it was left, so what the thousands of needs come to is kept, and not they.
type standing struct {
	statuses []build.Status // without Needs
	squares  [][]drawing.Square
	pulls    map[string]bool // codes of those of which something is to be pulled
	ready    int
	of       int
	cheapest build.Cheapest
	chosen   int         // index of the one that was asked for, or else of the one to begin with; -1 where there is none
	lines    []table.Row // of that one
}

// read reads how they stand; code is that of the one to choose, where there is such a one.
func read(r *session.Reader, code string) (standing, error) {
	s := standing{pulls: map[string]bool{}}
	err := r.Board(func(b *build.Board) error {
		for _, x := range b.Statuses() {
			s.pulls[x.Code] = slices.ContainsFunc(x.Needs, func(n build.Need) bool { return n.Open.Sign() > 0 })
			s.squares = append(s.squares, squaresOf(x))
			x.Needs = nil
			s.statuses = append(s.statuses, x)
		}
		s.ready, s.of = b.Ready()
		return nil
	})
	if err != nil {
		return s, err
	}
	if s.cheapest, err = r.Cheapest(); err != nil {
		return s, err
	}
	s.chosen = slices.IndexFunc(s.statuses, func(x build.Status) bool { return x.Code == code })
	if s.chosen < 0 {
		s.chosen = s.first()
	}
	if s.chosen >= 0 {
		s.lines, err = lines(r, s.statuses[s.chosen].Code)
	}
	return s, err
}

// first is the one to begin with: the first that can be started, or else the first.
func (s standing) first() int {
	if i := slices.IndexFunc(s.statuses, func(x build.Status) bool { return x.State.Startable() }); i >= 0 || len(s.statuses) == 0 {
		return i
	}
	return 0
}

// lines are what a sub-assembly needs, as rows.
func lines(r *session.Reader, code string) ([]table.Row, error) {
	var s build.Status
	err := r.Board(func(b *build.Board) error {
		s, _ = b.Status(code)
		s.Needs = slices.Clone(s.Needs) // the board's own change with its next entry
		return nil
	})
	if err != nil {
		return nil, err
	}
	var rows []table.Row
	for _, n := range s.Needs {
		title, err := titleOf(r, n.Item)
		if err != nil {
			return nil, err
		}
		var beware []build.Neighbour
		for _, share := range n.Promised {
			near, err := r.Beside(n.Item, share.Heap.Place)
			if err != nil {
				return nil, err
			}
			beware = append(beware, near...)
		}
		names, err := placesOf(r, n)
		if err != nil {
			return nil, err
		}
		rows = append(rows, lineRow(n, blockerOf(s, n), title, names, beware))
	}
	return rows, nil
}

// titleOf is an item in plain words.
func titleOf(r *session.Reader, item string) (string, error) {
	record, err := r.Shop.Item(item)
	if err != nil && store.KindOf(err) != store.NotFound {
		return "", err
	}
	return session.Title(record, r.Catalog().Decode(item)), nil
}

// placesOf are the names of the places that a need is promised from.
func placesOf(r *session.Reader, n build.Need) ([]string, error) {
	var names []string
	for _, share := range n.Promised {
		p, err := r.Shop.Place(share.Heap.Place)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(names, p.Name) {
			names = append(names, p.Name)
		}
	}
	return names, nil
}

// blockerOf is what stops a sub-assembly at one of its needs, nil where nothing does.
func blockerOf(s build.Status, n build.Need) *build.Blocker {
	for _, b := range s.Blockers {
		if b.Requirement == n.Requirement && b.Item == n.Item {
			return b
		}
	}
	return nil
}

// lineRow is a need as a row.
func lineRow(n build.Need, b *build.Blocker, title string, places []string, beware []build.Neighbour) table.Row {
	sub := title
	if n.Called != n.Item {
		sub += " · called " + n.Called
	}
	if n.Decision != "" {
		sub += " · by " + n.Decision
	}
	state := stateOf(n, b, places)
	if state.Tone == notice.OK && len(beware) > 0 {
		state.Word += "; beware of " + beware[0].Place
	}
	return table.Row{ID: n.Requirement + "/" + n.Item, Cells: []table.Cell{
		table.Name(n.Item, sub), {Text: neededWords(n), Sub: doneWords(n)}, table.T(freeWords(n)), {Mark: state},
	}}
}
