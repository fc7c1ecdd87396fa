package store

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/store/measure"
)

// Revision is what a revised packing list makes of the list that it takes the place of.
type Revision struct {
	Of      Shipment
	Changes []LineChange // in the order of the new list; what is gone comes last
	// Before are the lines of the list as they are, and After as they will be, by number.
	// A line of After that has no Place yet is in a crate or a bag that will be made.
	Before, After []Line
	// Renumbered is how many lines have another number on the new list. They keep the one
	// by which they were checked, claimed and photographed.
	Renumbered int
}

// ChangeKind is how a line differs from that of an earlier list.
type ChangeKind string

// The kinds of change.
const (
	LineAdded      ChangeKind = "added"      // on the new list alone
	LineGone       ChangeKind = "gone"       // on the earlier list alone
	LineAltered    ChangeKind = "altered"    // the same number, another quantity, crate, bag, lot, price or status
	LineRevised    ChangeKind = "revised"    // another revision letter of the same number
	LineSuperseded ChangeKind = "superseded" // another number on the same line, with the same words
	LineListed     ChangeKind = "listed"     // found before though it was on no list
)

// LineChange is one difference between two lists. Was is the line as it is and Now as it
// will be, with Number 0 where there is none.
type LineChange struct {
	Kind     ChangeKind
	Was, Now Line
	// Apart is set where pieces were checked under another number than the new one: Was
	// goes off the list with what was found of it, and Now is a line to check. What is
	// marked with one number is never taken for another.
	Apart bool
	// Lot is the lot that the new list names, where what was found is of another one: it
	// is to be read off the bag.
	Lot string
	// Place is the crate and the bag that the new list names, where what was found lay in
	// others: it stays where it is. Empty: in the same.
	Place string
	came  bool // what came in place of Was is what the new list names
}

// String is the change as a person reads it: "AN3-5A: 24 ea, was 20 ea".
func (c LineChange) String() string {
	switch c.Kind {
	case LineAdded:
		return fmt.Sprintf("%s: added, %s", c.Now.Designation, c.Now.Listed)
	case LineGone:
		return fmt.Sprintf("%s: not on this list, was %s", c.Was.Designation, c.Was.Listed)
	case LineListed:
		return fmt.Sprintf("%s: %s, found before though it was on no list", c.Now.Designation, c.Now.Listed)
	case LineRevised, LineSuperseded:
		return fmt.Sprintf("%s: %s, was %s, %s", c.Now.Designation, c.Now.Listed, c.Was.Designation, c.Was.Listed)
	}
	return c.Now.Designation + ": " + strings.Join(c.alterations(), "; ")
}

// alterations are how the same number is listed otherwise; none where it is not.
func (c LineChange) alterations() []string {
	var parts []string
	if c.Was.Listed != c.Now.Listed {
		parts = append(parts, fmt.Sprintf("%s, was %s", c.Now.Listed, c.Was.Listed))
	}
	for _, part := range []struct{ what, was, now string }{
		{"", string(c.Was.Status), string(c.Now.Status)},
		{"crate ", c.Was.Crate, c.Now.Crate},
		{"bag ", c.Was.Group, c.Now.Group},
		{"lot ", c.Was.Lot, c.Now.Lot},
		{"price ", c.Was.Price.String(), c.Now.Price.String()},
	} {
		if part.was != part.now {
			parts = append(parts, fmt.Sprintf("%s%s, was %s", part.what, cmp.Or(part.now, "none"), cmp.Or(part.was, "none")))
		}
	}
	if c.Lot != "" {
		parts = append(parts, fmt.Sprintf("lot %s on the new list, found as lot %s: look at the bag", c.Lot, cmp.Or(printedLot(c.Was, c.Was.Finding), "unknown")))
	}
	if c.Place != "" {
		parts = append(parts, fmt.Sprintf("in %s on the new list, found in %s: what was found stays where it is; see whether more lies there", c.Place, placeOnList(c.Was.Crate, c.Was.Group)))
	}
	return parts
}

// placeOnList is where a list says that a line is: "bag H2 of crate C1".
func placeOnList(crate, group string) string {
	switch {
	case crate == "" && group == "":
		return "no crate"
	case group == "":
		return "crate " + crate
	case crate == "":
		return "bag " + group
	}
	return "bag " + group + " of crate " + crate
}

// lineRule is by what two lines of two lists are the same line: an empty key is none.
type lineRule struct {
	kind ChangeKind
	key  func(number int, crate, group, designation, title string) string
}

// lineRules are tried in this order, the surest first.
var lineRules = []lineRule{
	{LineAltered, func(number int, _, _, designation, _ string) string { return fmt.Sprint(number, " ", designation) }},
	{LineAltered, func(_ int, crate, group, designation, _ string) string {
		return crate + keySeparator + group + keySeparator + designation
	}},
	{LineAltered, func(_ int, crate, _, designation, _ string) string { return crate + keySeparator + designation }},
	{LineAltered, func(_ int, _, _, designation, _ string) string { return designation }},
	{LineRevised, func(_ int, _, _, designation, _ string) string { return withoutRevision(designation) }},
	{LineSuperseded, func(number int, _, _, _, title string) string {
		if title == "" {
			return ""
		}
		return fmt.Sprint(number, " ", title)
	}},
	{LineListed, func(_ int, crate, _, designation, _ string) string { return crate + keySeparator + designation }},
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

// pairs are, for each line of a new list, the index of the line that it is among those that
// there were, -1 for none, and by what. What was found though it was on no list is paired
// as such alone. What was checked by one unit is never a line of another: nothing is converted.
func pairs(was []Line, now []NewLine) (before []int, kinds []ChangeKind) {
	before, kinds = make([]int, len(now)), make([]ChangeKind, len(now))
	for i := range before {
		before[i] = -1
	}
	taken := make([]bool, len(was))
	for _, rule := range lineRules {
		free := map[string][]int{}
		for j, a := range was {
			if taken[j] || a.Extra != (rule.kind == LineListed) {
				continue
			}
			if key := rule.key(a.Number, a.Crate, a.Group, a.Designation, a.Title); key != "" {
				free[key] = append(free[key], j)
			}
		}
		for i, b := range now {
			if before[i] >= 0 {
				continue
			}
			key := rule.key(b.Number, b.Crate, b.Group, b.Designation, b.Title)
			at := slices.IndexFunc(free[key], func(j int) bool { return was[j].Finding == nil || was[j].Listed.Unit == b.Listed.Unit })
			if at < 0 {
				continue
			}
			j := free[key][at]
			free[key] = slices.Delete(free[key], at, at+1)
			before[i], kinds[i], taken[j] = j, rule.kind, true
		}
	}
	return before, kinds
}

// ReviseList is what a revised list makes of a list with those lines. Lines that stay keep
// what was found of them, where it lies and the number that they have; a line that is gone
// stays with what was found of it, as something that is on no list. It is refused where a
// line that gets another number was found under both.
func ReviseList(of Shipment, was []Line, now []NewLine) (Revision, error) {
	r := Revision{Of: of, Before: was}
	kept, apart := map[int]bool{}, map[int]bool{} // by number
	before, kinds := pairs(was, now)
	numbers := newNumbers(was, now)
	var added []Line
	for i, b := range now {
		if before[i] < 0 {
			line := Line{Shipment: of.ID}.relisted(b)
			line.Number = numbers.next(b.Number)
			added = append(added, line)
			r.Changes = append(r.Changes, LineChange{Kind: LineAdded, Now: line})
			continue
		}
		a := was[before[i]]
		c, err := changed(kinds[i], a, b)
		if err != nil {
			return Revision{}, err
		}
		if c.Apart {
			apart[a.Number] = true
			c.Now.Number = numbers.next(b.Number)
			added = append(added, c.Now)
		} else {
			kept[a.Number] = true
			r.After = append(r.After, c.Now)
			if a.Number != b.Number && c.Kind != LineListed {
				r.Renumbered++
			}
		}
		if c.Kind != LineAltered || len(c.alterations()) > 0 {
			r.Changes = append(r.Changes, c)
		}
	}
	r.After = append(r.After, added...)
	for _, a := range was {
		if kept[a.Number] {
			continue
		}
		r.After = append(r.After, a.offList())
		if !a.Extra && !apart[a.Number] {
			r.Changes = append(r.Changes, LineChange{Kind: LineGone, Was: a})
		}
	}
	slices.SortFunc(r.After, func(a, b Line) int { return cmp.Compare(a.Number, b.Number) })
	return r, nil
}

// changed is what becomes of a line that a new list has.
func changed(kind ChangeKind, a Line, b NewLine) (LineChange, error) {
	c := LineChange{Kind: kind, Was: a, Now: a.relisted(b)}
	f := a.Finding
	if f == nil {
		return c, nil
	}
	if a.Designation == b.Designation {
		if a.Crate != b.Crate || a.Group != b.Group {
			c.Place = placeOnList(b.Crate, b.Group)
		}
		if b.Lot != printedLot(a, f) {
			c.Lot = b.Lot
		}
		return c, nil
	}
	if came := f.Came; came == nil || came.Designation != b.Designation {
		c.Apart, c.Now = true, Line{Shipment: a.Shipment}.relisted(b)
		return c, nil
	}
	if f.Found.Sign() > 0 || f.Came.Quantity.Unit != b.Listed.Unit {
		return c, fail(Conflict, b.Designation, "Of line %d both %s and %s were found, and the new list names one of them: correct what was found of it first.", a.Number, a.Designation, b.Designation)
	}
	c.came = true
	c.Now.Finding = &Finding{Found: f.Came.Quantity, Counted: f.Counted, Looked: f.Looked, LotName: f.Came.LotName, Note: f.Note}
	return c, nil
}

// relisted is a line as a list has it now. What was found of it stays where it was found.
func (l Line) relisted(b NewLine) Line {
	if l.Designation != b.Designation {
		l.Match = nil // it was said of the other number
	}
	l.Designation, l.Title, l.Listed, l.Status, l.Extra = b.Designation, cmp.Or(b.Title, l.Title), b.Listed, b.Status, false
	if b.Price.Known() {
		l.Price, l.Priced = b.Price, ""
	}
	if l.Finding != nil {
		return l
	}
	if l.Crate != b.Crate || l.Group != b.Group {
		l.Place = ""
	}
	l.Crate, l.Group, l.Lot = b.Crate, b.Group, b.Lot
	return l
}

// offList is a line that is on no list any more.
func (l Line) offList() Line {
	l.Extra, l.Listed = true, measure.Quantity{Unit: l.Listed.Unit}
	return l
}

// lineNumbers gives numbers to lines that are added.
type lineNumbers struct {
	used map[int]bool
	last int
}

func newNumbers(was []Line, now []NewLine) *lineNumbers {
	n := &lineNumbers{used: map[int]bool{}}
	for _, l := range was {
		n.used[l.Number] = true
		n.last = max(n.last, l.Number)
	}
	for _, l := range now {
		n.last = max(n.last, l.Number)
	}
	return n
}

// next is the number that the list gives, or else the next one after all that there are.
func (n *lineNumbers) next(own int) int {
	if n.used[own] {
		n.last++
		own = n.last
	}
	n.used[own] = true
	return own
}

// Revision is what a revised list would make of the list of a shipment; see [ReviseList].
func (r *Reader) Revision(of Shipment, list NewShipment) (Revision, error) {
	lines, err := r.Lines(of.ID)
	if err != nil {
		return Revision{}, err
	}
	clean := make([]NewLine, len(list.Lines))
	for i, l := range list.Lines {
		if clean[i], err = cleanLine(l); err != nil {
			return Revision{}, err
		}
	}
	return ReviseList(of, lines, clean)
}

// Claims are what would be claimed by the list as it is and not by the revised one, and
// what by that one alone.
func (r Revision) Claims() (lost, gained []Claimed) {
	before, after := claimsOf(r.Before), claimsOf(r.After)
	for _, c := range before {
		if !slices.ContainsFunc(after, c.same) {
			lost = append(lost, c)
		}
	}
	for _, c := range after {
		if !slices.ContainsFunc(before, c.same) {
			gained = append(gained, c)
		}
	}
	return lost, gained
}

func claimsOf(lines []Line) []Claimed {
	var all []Claimed
	for _, l := range lines {
		all = append(all, l.Claims()...)
	}
	return all
}
