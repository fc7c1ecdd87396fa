package unpack

import (
	"slices"

	"stowright/app/table"
	"stowright/store"
)

// shown is what is worked out once of a delivery that was read, away from the window,
// so that a key on a list of thousands of lines costs little.
type shown struct {
	scopes   []scope
	within   map[scope][]store.Line
	bagRows  []table.Row // by scopes
	lineRows map[store.LineID]table.Row
	index    map[store.LineID]int // of a line
	progress Progress
	side     Side
	waiting  int // lines to stow
}

// workOut fills shown. The delivery must not be changed afterwards.
func (d *delivery) workOut() {
	s := &shown{within: map[scope][]store.Line{}, lineRows: map[store.LineID]table.Row{}, index: map[store.LineID]int{}}
	d.shown = s
	for i, l := range d.lines {
		s.index[l.ID] = i
		s.lineRows[l.ID] = d.lineRow(l)
		in := []scope{{}, {crate: l.Crate}}
		if l.Group != "" {
			in = append(in, scope{l.Crate, l.Group})
		}
		for _, sc := range in {
			s.within[sc] = append(s.within[sc], l)
		}
		if d.toStow(l) {
			s.waiting++
		}
	}
	s.scopes = d.scopes()
	for _, sc := range s.scopes {
		s.bagRows = append(s.bagRows, d.bagRow(sc))
	}
	s.progress, s.side = d.progress(), d.side()
}

// line is the line of an id, nil where there is none.
func (d delivery) line(id store.LineID) *store.Line {
	if d.shown == nil {
		return nil
	}
	i, ok := d.shown.index[id]
	if !ok {
		return nil
	}
	return &d.lines[i]
}

// within are the lines of a scope. The caller must not change them.
func (d delivery) within(s scope) []store.Line {
	if d.shown == nil {
		return nil
	}
	return d.shown.within[s]
}

// waitingToStow is how many checked lines have stock in their bag.
func (d delivery) waitingToStow() int {
	if d.shown == nil {
		return 0
	}
	return d.shown.waiting
}

// scopes are all lines, then each crate followed by its bags, in the order of the
// list. A crate whose lines are all in one bag, or in none, is not listed apart.
func (d delivery) scopes() []scope {
	all := []scope{{}}
	for _, c := range d.ship.Crates {
		var bags []scope
		seen := map[scope]bool{}
		for _, l := range d.within(scope{crate: c.Name}) {
			s := scope{c.Name, l.Group}
			if !seen[s] {
				seen[s] = true
				bags = append(bags, s)
			}
		}
		if len(bags) > 1 {
			bags = slices.DeleteFunc(bags, func(s scope) bool { return s.group == "" })
			all = append(all, scope{crate: c.Name})
		}
		all = append(all, bags...)
	}
	return all
}
