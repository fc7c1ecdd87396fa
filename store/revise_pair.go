package store

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/store/measure"
)

// The lines of a revised list are told by what they are, never by their numbers alone: a
// supplier who puts a line in shifts all that follow. A line with nothing to lose, of which
// nothing was found, claimed, noted or photographed, may be any of several that say the same.
// Of any other a person is asked.

// LineQuestion is a line of which more than one of the new list may be meant, or one that
// need not be it.
type LineQuestion struct {
	Was   Line
	Could []NewLine // in the order of the new list
}

// String asks, for whoever has to answer.
func (q LineQuestion) String() string {
	var could []string
	for _, b := range q.Could {
		could = append(could, fmt.Sprintf("line %d (%s in %s)", b.Number, b.Listed, placeOnList(b.Crate, b.Group)))
	}
	const named = 6
	if len(could) > named {
		could = append(could[:named], fmt.Sprintf("%d more", len(could)-named))
	}
	return fmt.Sprintf("Line %d, %s, %s in %s: it may be %s of the new list, or be on it no more. Say which.",
		q.Was.Number(), q.Was.Designation, q.Was.Listed, placeOnList(q.Was.Crate, q.Was.Group), strings.Join(could, " or "))
}

// pairing finds which line of a list is which of a revised one.
type pairing struct {
	old    OldLines
	now    []NewLine
	before []int // of each line of the new list: the index of the one that it is, -1 for none
	kinds  []ChangeKind
	taken  []bool // of each line that there was: it is settled
	// shifted is set where a part that both lists have once has another number by now: then
	// no number says which line is meant.
	shifted bool
	// What waits for an answer: numbers of the new list, and lines that there were.
	open    map[int]bool
	waiting map[LineID]bool
	asked   []LineQuestion
}

// pairLines pairs what is sure, and asks for the rest. What was found though it was on no
// list is paired as such alone. What was checked by one unit is never a line of another:
// nothing is converted.
func pairLines(old OldLines, now []NewLine, told map[LineID]int) (*pairing, error) {
	p := &pairing{old: old, now: now, before: make([]int, len(now)), kinds: make([]ChangeKind, len(now)), taken: make([]bool, len(old.Lines)), open: map[int]bool{}, waiting: map[LineID]bool{}}
	for i := range p.before {
		p.before[i] = -1
	}
	if err := p.told(told); err != nil {
		return nil, err
	}
	p.shifted = p.isShifted()
	p.settle(LineAltered, func(l Line) string { return l.Designation }, sameLine)
	p.settle(LineRevised, func(l Line) string { return withoutRevision(l.Designation) }, sameLine)
	p.supersede()
	p.settle(LineListed, func(l Line) string { return l.Crate + keySeparator + l.Designation }, sameFind)
	return p, nil
}

func (p *pairing) isShifted() bool {
	groups, _ := p.groups(false, func(l Line) string { return l.Designation })
	for _, g := range groups {
		if len(g.was) == 1 && len(g.now) == 1 && p.old.Lines[g.was[0]].Number() != p.now[g.now[0]].Number {
			return true
		}
	}
	return false
}

// fits reports whether a line can be one of the new list as far as units say.
func (p *pairing) fits(j, i int) bool {
	a := p.old.Lines[j]
	return a.Finding == nil || a.Listed.Unit == p.now[i].Listed.Unit
}

// told pairs what a person said.
func (p *pairing) told(told map[LineID]int) error {
	for j, a := range p.old.Lines {
		number, said := told[a.ID]
		if !said {
			continue
		}
		p.taken[j] = true
		if number == 0 {
			continue
		}
		i := slices.IndexFunc(p.now, func(b NewLine) bool { return b.Number == number })
		switch {
		case i < 0:
			return fail(Invalid, fmt.Sprint(number), "The new list has no line %d: say which of its lines line %d is.", number, a.Number())
		case p.before[i] >= 0:
			return fail(Invalid, fmt.Sprint(number), "Line %d of the new list cannot be two lines: say which one it is.", number)
		case !p.fits(j, i):
			return fail(Conflict, a.Designation, "Line %d was found by %s, and line %d of the new list is in %s: nothing is converted.", a.Number(), a.Listed.Unit, number, p.now[i].Listed.Unit)
		}
		p.before[i], p.kinds[i] = j, toldKind(a, p.now[i])
	}
	for id := range told {
		if !slices.ContainsFunc(p.old.Lines, func(l Line) bool { return l.ID == id }) {
			return noLine(id)
		}
	}
	return nil
}

func toldKind(a Line, b NewLine) ChangeKind {
	switch base := withoutRevision(a.Designation); {
	case a.Extra:
		return LineListed
	case a.Designation == b.Designation:
		return LineAltered
	case base != "" && base == withoutRevision(b.Designation):
		return LineRevised
	}
	return LineSuperseded
}

// lineRule is what two lines have in common that are the same line, besides the part number.
type lineRule struct {
	key func(l Line) string
	// either is set where a line that is listed so many times elsewhere may as well be meant.
	either bool
}

// sameLine are the rules for lines that are listed, the surest first.
var sameLine = []lineRule{
	{key: func(l Line) string {
		return fmt.Sprint(l.Crate, keySeparator, l.Group, keySeparator, l.Listed, keySeparator, l.Title, keySeparator, l.Lot)
	}},
	{key: func(l Line) string { return fmt.Sprint(l.Crate, keySeparator, l.Group, keySeparator, l.Listed) }},
	{key: inBag, either: true},
	{key: func(l Line) string { return l.Listed.String() }},
}

// sameFind are the rules for what was found though it was on no list.
var sameFind = []lineRule{{key: inBag}}

func inBag(l Line) string { return fmt.Sprint(l.Crate, keySeparator, l.Group) }

// group is lines that may be the same, of both lists: indexes.
type group struct{ was, now []int }

// settle pairs the lines that have a name in common, where it is sure which is which.
func (p *pairing) settle(kind ChangeKind, name func(l Line) string, rules []lineRule) {
	groups, names := p.groups(kind == LineListed, name)
	for _, n := range names {
		g := groups[n]
		alone := len(g.was) == 1 && len(g.now) == 1
		for _, rule := range rules {
			p.byRule(kind, g, rule)
			g = p.free(g)
		}
		p.last(kind, g, alone)
	}
}

// groups are the lines that are not settled yet by a name that both lists have, and those
// names in the order of the new list.
func (p *pairing) groups(extra bool, name func(l Line) string) (map[string]group, []string) {
	groups := map[string]group{}
	for j, a := range p.old.Lines {
		if n := name(a); !p.taken[j] && a.Extra == extra && n != "" {
			g := groups[n]
			g.was = append(g.was, j)
			groups[n] = g
		}
	}
	var names []string
	for i, b := range p.now {
		n := name(asLine(b))
		g, both := groups[n]
		if !both || !p.isFree(i) {
			continue
		}
		if len(g.now) == 0 {
			names = append(names, n)
		}
		g.now = append(g.now, i)
		groups[n] = g
	}
	return groups, names
}

func asLine(b NewLine) Line {
	return Line{Crate: b.Crate, Group: b.Group, Designation: b.Designation, Title: b.Title, Listed: b.Listed, Lot: b.Lot}
}

func (p *pairing) isFree(i int) bool { return p.before[i] < 0 && !p.open[p.now[i].Number] }

// free is what is left of a group.
func (p *pairing) free(g group) group {
	var left group
	for _, j := range g.was {
		if !p.taken[j] {
			left.was = append(left.was, j)
		}
	}
	for _, i := range g.now {
		if p.isFree(i) {
			left.now = append(left.now, i)
		}
	}
	return left
}

// byRule pairs the lines of a group that have the key of a rule in common.
func (p *pairing) byRule(kind ChangeKind, g group, rule lineRule) {
	same := map[string]group{}
	for _, j := range g.was {
		a := p.old.Lines[j]
		key := fmt.Sprint(rule.key(a), keySeparator, a.Listed.Unit)
		s := same[key]
		s.was = append(s.was, j)
		same[key] = s
	}
	for _, i := range g.now {
		b := asLine(p.now[i])
		key := fmt.Sprint(rule.key(b), keySeparator, b.Listed.Unit)
		s := same[key]
		s.now = append(s.now, i)
		same[key] = s
	}
	listed := p.listings(g)
	for _, j := range g.was {
		a := p.old.Lines[j]
		key := fmt.Sprint(rule.key(a), keySeparator, a.Listed.Unit)
		s := p.free(same[key])
		delete(same, key)
		switch {
		case len(s.was) == 0 || len(s.now) == 0:
		case rule.either && len(s.was) == 1 && len(s.now) == 1 && listed.elsewhere(a, p.now[s.now[0]]) && !p.plain(p.free(g)):
			p.rest(kind, p.free(g))
		default:
			p.oneOf(kind, s)
		}
	}
}

// listings are how often a quantity is listed in a group, by both lists.
type listings struct{ was, now map[measure.Quantity]int }

func (p *pairing) listings(g group) listings {
	n := listings{was: map[measure.Quantity]int{}, now: map[measure.Quantity]int{}}
	for _, j := range g.was {
		n.was[p.old.Lines[j].Listed]++
	}
	for _, i := range g.now {
		n.now[p.now[i].Listed]++
	}
	return n
}

// elsewhere reports whether two lines of one bag that list different quantities may as well
// be two that went to other bags.
func (n listings) elsewhere(a Line, b NewLine) bool {
	return n.now[a.Listed] > 0 || n.was[b.Listed] > 0
}

// last pairs what is left of a group: the only ones of a name, whatever else is different,
// and those that have nothing to lose.
func (p *pairing) last(kind ChangeKind, g group, alone bool) {
	if len(g.was) == 0 || len(g.now) == 0 {
		return
	}
	if alone && p.fits(g.was[0], g.now[0]) {
		p.pair(kind, g.was[0], g.now[0])
		return
	}
	p.rest(kind, g)
}

// rest pairs lines that have no more than a part number in common: by their numbers, where
// none has shifted, or any where nothing hangs on them.
func (p *pairing) rest(kind ChangeKind, g group) {
	switch {
	case !p.shifted && p.numbersAgree(g), p.plain(g) && len(g.was) == len(g.now):
		p.inOrder(kind, g)
	case p.plain(g):
		p.anyOf(kind, g)
	default:
		p.ask(kind, g)
	}
}

// plain reports whether nothing hangs on the lines of a group.
func (p *pairing) plain(g group) bool {
	return !slices.ContainsFunc(g.was, func(j int) bool { return p.hangs(p.old.Lines[j]) })
}

func (p *pairing) inOrder(kind ChangeKind, g group) {
	for k := range g.was {
		p.pair(kind, g.was[k], g.now[k])
	}
}

// oneOf pairs lines that say the same: the only ones, or those that have the same numbers.
func (p *pairing) oneOf(kind ChangeKind, g group) {
	if len(g.was) == 1 && len(g.now) == 1 || p.numbersAgree(g) {
		p.inOrder(kind, g)
		return
	}
	p.rest(kind, g)
}

func (p *pairing) numbersAgree(g group) bool {
	return slices.EqualFunc(g.was, g.now, func(j, i int) bool {
		return p.old.Lines[j].Number() == p.now[i].Number && p.fits(j, i)
	})
}

// anyOf pairs lines that nothing hangs on: those of the same number first.
func (p *pairing) anyOf(kind ChangeKind, g group) {
	for _, sameNumber := range []bool{true, false} {
		for _, j := range g.was {
			for _, i := range p.free(g).now {
				if !p.taken[j] && (!sameNumber || p.old.Lines[j].Number() == p.now[i].Number) {
					p.pair(kind, j, i)
				}
			}
		}
	}
}

func (p *pairing) pair(kind ChangeKind, j, i int) {
	p.before[i], p.kinds[i], p.taken[j] = j, kind, true
}

// ask asks of the lines that something hangs on, and leaves all of the group open until that
// is answered. Where none of them fits, the others are any of the new ones.
func (p *pairing) ask(kind ChangeKind, g group) {
	var asked []LineQuestion
	var plain group
	for _, j := range g.was {
		if a := p.old.Lines[j]; !p.hangs(a) {
			plain.was = append(plain.was, j)
		} else if could := p.could(j, g.now); len(could) > 0 {
			p.taken[j] = true
			asked = append(asked, LineQuestion{Was: a, Could: could})
		}
	}
	if len(asked) == 0 {
		plain.now = g.now
		p.anyOf(kind, plain)
		return
	}
	p.asked = append(p.asked, asked...)
	for _, q := range asked {
		p.waiting[q.Was.ID] = true
		for _, b := range q.Could {
			p.open[b.Number] = true
		}
	}
	for _, j := range plain.was {
		p.taken[j], p.waiting[p.old.Lines[j].ID] = true, true
	}
}

// could are the lines of the new list that one may be.
func (p *pairing) could(j int, now []int) []NewLine {
	var could []NewLine
	for _, i := range now {
		if p.fits(j, i) {
			could = append(could, p.now[i])
		}
	}
	return could
}

// hangs reports whether a line has something to lose. What was claimed was found.
func (p *pairing) hangs(l Line) bool {
	return l.Finding != nil || l.Match != nil || l.LookIn != "" || l.Unchecked != "" || l.Priced != "" || p.old.Photographed[l.ID]
}

// supersede pairs lines that got another part number: in the same place of the list, between
// the same neighbours, and with the same words. Numbers tell that where none has shifted.
func (p *pairing) supersede() {
	wasAt, nowAt := p.gaps()
	free := map[string]group{}
	for j, a := range p.old.Lines {
		if !p.taken[j] && !a.Extra && a.Title != "" {
			key := placeInList(p.shifted, wasAt[j], a.Number(), a.Title)
			g := free[key]
			g.was = append(g.was, j)
			free[key] = g
		}
	}
	for i, b := range p.now {
		key := placeInList(p.shifted, nowAt[i], b.Number, b.Title)
		if g, both := free[key]; both && p.isFree(i) {
			g.now = append(g.now, i)
			free[key] = g
		}
	}
	for _, g := range free {
		if len(g.was) != 1 || len(g.now) != 1 {
			continue
		}
		if p.fits(g.was[0], g.now[0]) {
			p.pair(LineSuperseded, g.was[0], g.now[0])
		}
	}
}

func placeInList(shifted bool, gap [2]int, number int, title string) string {
	if shifted {
		return fmt.Sprint(gap, title)
	}
	return fmt.Sprint(number, " ", title)
}

// gaps are, for each line of both lists, the lines that there were and are settled before it
// and after it in its list.
func (p *pairing) gaps() (was, now [][2]int) {
	was, now = make([][2]int, len(p.old.Lines)), make([][2]int, len(p.now))
	paired := map[int]bool{}
	for _, j := range p.before {
		if j >= 0 {
			paired[j] = true
		}
	}
	between(was, func(j int) int {
		if paired[j] {
			return j
		}
		return -1
	})
	order := make([]int, len(p.now))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return p.now[a].Number - p.now[b].Number })
	inOrder := make([][2]int, len(p.now))
	between(inOrder, func(k int) int { return p.before[order[k]] })
	for k, i := range order {
		now[i] = inOrder[k]
	}
	return was, now
}

// between fills in what is settled before and after each of some lines; -1 for nothing.
func between(gaps [][2]int, settled func(k int) int) {
	last := -1
	for k := range gaps {
		gaps[k][0] = last
		if s := settled(k); s >= 0 {
			last = s
		}
	}
	last = -1
	for k := range slices.Backward(gaps) {
		gaps[k][1] = last
		if s := settled(k); s >= 0 {
			last = s
		}
	}
}

// revision is a number with a revision letter behind it. L and R are hands, never revisions.
var revision = regexp.MustCompile(`^(.*\d)-[A-KM-QS-Z]$`)

// withoutRevision is a number without its revision letter, empty where it has none.
func withoutRevision(designation string) string {
	if m := revision.FindStringSubmatch(designation); m != nil {
		return m[1]
	}
	return ""
}
