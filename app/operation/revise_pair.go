package operation

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/packinglist"
)

// line is a line in force, by its name; nil where there is none.
func (v *reviser) line(name string) *store.Requirement {
	for _, listed := range v.listed {
		for i := range listed {
			if strings.EqualFold(listed[i].Name(), name) {
				return &listed[i]
			}
		}
	}
	return nil
}

// free are the lines of a sub-assembly that no row is about yet.
func (v *reviser) free(code string, fits func(r store.Requirement) bool) []*store.Requirement {
	var free []*store.Requirement
	for i := range v.listed[code] {
		if r := &v.listed[code][i]; !v.taken[r.Name()] && fits(*r) {
			free = append(free, r)
		}
	}
	return free
}

// take has a row be about a line.
func (v *reviser) take(a *askedRow, r *store.Requirement) {
	a.was = r
	v.taken[r.Name()] = true
}

// named pairs the rows that say which line they are about.
func (v *reviser) named() {
	for i := range v.asked {
		a := &v.asked[i]
		name := a.row.Text(packinglist.NeedReplaces)
		if name == "" || a.does == adds {
			continue
		}
		if r := v.line(name); r != nil && r.SubAssembly == a.code && !v.taken[r.Name()] {
			v.take(a, r)
			continue
		}
		called := v.shop.Canonical(name)
		free := v.calling(a.code, called)
		if done := v.calling(a.code, a.need.Called); len(free) == 0 && a.does != drops && len(done) == 1 {
			free = done // it took its place before
		}
		v.only(a, packinglist.NeedReplaces, called, free)
	}
}

// calling are the lines of a sub-assembly that call a number and that no row is about yet.
func (v *reviser) calling(code, called string) []*store.Requirement {
	return v.free(code, func(r store.Requirement) bool { return r.Called == called })
}

// only takes the one line that a row may be about, or asks.
func (v *reviser) only(a *askedRow, f packinglist.NeedField, called string, free []*store.Requirement) {
	switch len(free) {
	case 1:
		v.take(a, free[0])
	case 0:
		v.refuse(a.row, f, "no line of %s calls %s: see its list", a.code, called)
	default:
		v.refuse(a.row, packinglist.NeedReplaces, "%s calls %s in %s: write in a column replaces which of them the row is about", a.code, called, lineNames(free))
	}
}

// lineNames is "R-31 and R-32".
func lineNames(lines []*store.Requirement) string {
	var names []string
	for _, r := range lines {
		names = append(names, r.Name())
	}
	return strings.Join(names, " and ")
}

// pair finds which lines the other rows are about, the surest first: the same number at
// the same place, the same number, another number at the same place. Where a row may be
// about several lines it is asked.
func (v *reviser) pair() {
	unpaired := func(does ...change) []*askedRow {
		var rows []*askedRow
		for i := range v.asked {
			if a := &v.asked[i]; a.was == nil && slices.Contains(does, a.does) && a.row.Text(packinglist.NeedReplaces) == "" {
				rows = append(rows, a)
			}
		}
		return rows
	}
	for _, a := range unpaired(whole, replaces, drops) {
		same := v.free(a.code, func(r store.Requirement) bool {
			return r.Called == a.need.Called && r.Callout == a.need.Callout && r.Position == a.need.Position
		})
		if len(same) == 1 {
			v.take(a, same[0])
		}
	}
	for _, a := range unpaired(whole, replaces, drops) {
		v.pairByNumber(a, unpaired(whole, replaces))
	}
	for _, a := range unpaired(whole, replaces) {
		there := v.free(a.code, func(r store.Requirement) bool {
			return r.Callout != (store.Callout{}) && r.Callout == a.need.Callout && r.Position == a.need.Position
		})
		if len(there) == 1 {
			v.take(a, there[0])
		}
	}
	for _, a := range unpaired(replaces) {
		v.refuse(a.row, packinglist.NeedReplaces, "the row does not say what %s takes the place of: write the number before, or the line, in a column replaces", a.need.Called)
	}
}

// pairByNumber pairs a row with the line of the same number, where there is one of each.
func (v *reviser) pairByNumber(a *askedRow, others []*askedRow) {
	free := v.calling(a.code, a.need.Called)
	if a.does == drops {
		v.only(a, packinglist.NeedNumber, a.need.Called, free)
		return
	}
	rivals := 0
	for _, b := range others {
		if b.code == a.code && b.need.Called == a.need.Called {
			rivals++
		}
	}
	switch {
	case len(free) == 1 && rivals == 1:
		v.take(a, free[0])
	case len(free) > 0:
		v.refuse(a.row, packinglist.NeedReplaces, "%s calls %s in %s, elsewhere than the list: write in a column replaces which line each row is about", a.code, a.need.Called, lineNames(free))
	}
}

// settle makes the changes of the pairs, and asks what the lists ask for then.
func (v *reviser) settle() {
	if len(v.Problems) > 0 {
		return
	}
	after := map[string][]store.Requirement{}
	for i := range v.asked {
		a := &v.asked[i]
		switch {
		case a.does == drops:
			v.edit.End = append(v.edit.End, a.was.Name())
			continue
		case a.was == nil:
			v.edit.Add = append(v.edit.Add, a.need)
		default:
			a.need = carried(a.need, *a.was)
			if sameNeed(a.need, *a.was) {
				v.Same++
				a.need = *a.was
			} else {
				v.edit.Replace[a.was.Name()] = a.need
			}
		}
		after[a.code] = append(after[a.code], a.need)
	}
	for _, l := range v.Lists {
		code := l.SubAssembly.Code
		rest := v.free(code, func(store.Requirement) bool { return true })
		for _, r := range rest {
			if v.Bulletin {
				after[code] = append(after[code], *r)
				v.Same++
			} else {
				v.edit.End = append(v.edit.End, r.Name())
			}
		}
		v.Doubts = append(v.Doubts, v.doubts(code, after[code])...)
	}
}

// carried is a line of the list with what the list does not say and the one before it did.
func carried(need, was store.Requirement) store.Requirement {
	keep := func(now *string, before string) {
		if *now == "" {
			*now = before
		}
	}
	if need.Callout == (store.Callout{}) {
		need.Callout = was.Callout
	}
	keep(&need.Position, was.Position)
	keep(&need.Joint, was.Joint)
	if len(need.Stack) == 0 && need.Joint == was.Joint {
		need.Stack = was.Stack
	}
	keep(&need.Option, was.Option)
	keep(&need.Note, was.Note)
	keep(&need.Revision, was.Revision)
	if need.Called == was.Called {
		keep(&need.Torque, was.Torque)
		if need.Torque == was.Torque {
			keep(&need.TorqueSource, was.TorqueSource)
		}
	}
	return need
}

// sameNeed reports whether a line asks for the same as the one before it.
func sameNeed(a, b store.Requirement) bool {
	words := func(r store.Requirement) string {
		return fmt.Sprint(r.Called, r.Needed, r.Kind, r.Callout, r.Position, r.Option, r.Joint, r.Stack, r.Torque, r.Note)
	}
	return words(a) == words(b)
}
