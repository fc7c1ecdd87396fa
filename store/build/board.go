package build

import (
	"slices"

	"stowright/store/measure"
)

// Board is how all sub-assemblies of a reading stand. It is for one goroutine.
type Board struct {
	reading  *Reading
	statuses []Status
	index    map[string]int    // of a code in statuses
	pools    map[string][]ask  // who asks for an item, in the order of promising
	spare    map[string]*spare // what is left of an item that is asked for
	blockers [][]*Blocker      // of a sub-assembly and a need; nil where it is met
	books    decisionBook
}

// ask is one need of the board: of a requirement itself, or of an extra that a
// decision brings with it.
type ask struct {
	sub, need   int // where its answer stands: statuses[sub].Needs[need]
	requirement int // of the sub-assembly
	extra       bool
}

// NewBoard promises the stock of a reading in the builder's order and says how every
// sub-assembly stands. The reading is kept: see [Board.Update].
func NewBoard(r *Reading) *Board {
	b := &Board{
		reading: r, statuses: make([]Status, len(r.SubAssemblies)),
		index: make(map[string]int, len(r.SubAssemblies)), pools: map[string][]ask{}, spare: map[string]*spare{}, books: bookOf(r.Decisions),
	}
	b.blockers = make([][]*Blocker, len(r.SubAssemblies))
	for i := range r.SubAssemblies {
		b.index[r.SubAssemblies[i].Code] = i
		b.list(i)
	}
	// What was let go is promised last, among its like in the builder's order.
	for item, asks := range b.pools {
		slices.SortStableFunc(asks, func(x, y ask) int { return b.lateness(x) - b.lateness(y) })
		b.promise(item)
	}
	for i := range b.statuses {
		b.judge(i)
	}
	return b
}

func (b *Board) lateness(a ask) int {
	if b.reading.SubAssemblies[a.sub].LetGo {
		return 1
	}
	return 0
}

// list sets up what a sub-assembly needs.
func (b *Board) list(i int) {
	sub := &b.reading.SubAssemblies[i]
	day := b.reading.day(sub)
	s := &b.statuses[i]
	*s = Status{Code: sub.Code, Name: sub.Name, Day: day, Hours: sub.Hours, LetGo: sub.LetGo, Needs: make([]Need, 0, len(sub.Requirements))}
	for j := range sub.Requirements {
		r := &sub.Requirements[j]
		need := Need{Requirement: r.ID, Called: r.Called, Item: r.Item, Kind: r.Kind, Needed: r.Needed}
		d := b.books.otherItem(r.ID, day)
		if d != nil {
			need.Item, need.Decision = d.Item, d.ID
		}
		b.add(i, j, need, false)
		if d == nil {
			continue
		}
		for _, x := range d.Extra {
			b.add(i, j, Need{Requirement: r.ID, Called: x.Called, Item: x.Item, Decision: d.ID, Needed: x.Quantity}, true)
		}
	}
}

func (b *Board) add(sub, requirement int, n Need, extra bool) {
	s := &b.statuses[sub]
	b.pools[n.Item] = append(b.pools[n.Item], ask{sub: sub, need: len(s.Needs), requirement: requirement, extra: extra})
	s.Needs = append(s.Needs, n)
	b.blockers[sub] = append(b.blockers[sub], nil)
}

// day is the day that a sub-assembly is looked at for: the planned one, and today
// where none is planned or the planned one has passed.
func (r *Reading) day(sub *SubAssembly) measure.Date {
	if sub.Planned.IsZero() || sub.Planned.DaysUntil(r.Today) > 0 {
		return r.Today
	}
	return sub.Planned
}

// Statuses are all sub-assemblies in the builder's order. They stay the board's: they
// change with its next Update.
func (b *Board) Statuses() []Status { return b.statuses }

// Status is how one sub-assembly stands, by its code, and whether there is such a one.
func (b *Board) Status(code string) (Status, bool) {
	i, ok := b.index[code]
	if !ok {
		return Status{}, false
	}
	return b.statuses[i], true
}

// Ready counts the sub-assemblies that can be started, and all that are not closed yet.
func (b *Board) Ready() (ready, of int) {
	for i := range b.statuses {
		if b.statuses[i].State == Closed {
			continue
		}
		of++
		if b.statuses[i].State.Startable() {
			ready++
		}
	}
	return ready, of
}

// Update works the board out anew after Stock, Expected or what is fitted of some
// items changed in its reading, and after nothing else did: another order, day,
// requirement or decision needs a new board.
func (b *Board) Update(items ...string) {
	touched := map[int]bool{}
	for _, item := range items {
		if len(b.pools[item]) == 0 {
			continue
		}
		b.promise(item)
		for _, a := range b.pools[item] {
			touched[a.sub] = true
		}
	}
	for i := range touched {
		b.judge(i)
	}
}

// judge says from its needs how a sub-assembly stands.
func (b *Board) judge(i int) {
	s, sub := &b.statuses[i], &b.reading.SubAssemblies[i]
	s.Blockers, s.By, s.Begun = nil, nil, false
	cannotTell, blocked := false, false
	for k := range s.Needs {
		n := &s.Needs[k]
		s.Begun = s.Begun || n.Fitted.Sign() > 0 || n.Pulled.Sign() > 0
		s.named(n.Decision)
		for _, share := range n.Promised {
			s.named(share.By)
		}
		if blocker := b.blockers[i][k]; blocker != nil {
			s.Blockers = append(s.Blockers, blocker)
			cannotTell, blocked = cannotTell || blocker.CannotTell, blocked || !blocker.CannotTell
		}
	}
	switch {
	case !sub.Closed.IsZero():
		s.State = Closed
	case len(s.Needs) == 0:
		s.State = Unlisted
	case blocked:
		s.State = Blocked
	case cannotTell:
		s.State = Estimate
	case s.Begun:
		s.State = Begun
	default:
		s.State = Ready
	}
	s.Sentence = b.sentence(s, sub)
}

// named adds a decision, if there is one, to those that a sub-assembly is ready by.
func (s *Status) named(by string) {
	if by != "" && !slices.Contains(s.By, by) {
		s.By = append(s.By, by)
	}
}
