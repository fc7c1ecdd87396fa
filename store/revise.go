package store

import (
	"cmp"
	"fmt"
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
	// Renumbered are the lines that differ by their number alone, in the order of the new
	// list; what is on no list and gave its number to another line comes last.
	Renumbered []LineChange
	// Asked are the lines of which a person has to say which of the new list they are; until
	// then nothing is brought in, and neither they nor what they could be is in Changes.
	Asked   []LineQuestion
	waiting map[LineID]bool // for an answer
}

// ChangeKind is how a line differs from that of an earlier list.
type ChangeKind string

// The kinds of change.
const (
	LineAdded      ChangeKind = "added"      // on the new list alone
	LineGone       ChangeKind = "gone"       // on the earlier list alone
	LineAltered    ChangeKind = "altered"    // the same part, another quantity, crate, bag, lot, price or status
	LineRevised    ChangeKind = "revised"    // another revision letter of the same part number
	LineSuperseded ChangeKind = "superseded" // another part number on the same line, with the same words
	LineListed     ChangeKind = "listed"     // found before though it was on no list
	LineRenumbered ChangeKind = "renumbered" // the same line under another number of the list
)

// LineChange is one difference between two lists. Was is the line as it is and Now as it
// will be, with ID 0 where there is none.
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
		words := fmt.Sprintf("%s: not on this list, was %s", c.Was.Designation, c.Was.Listed)
		return words + c.moved("; it is line %d now, and was %d")
	case LineRenumbered:
		return fmt.Sprintf("line %d was %d: %s", c.Now.Number(), c.Was.Number(), c.Now.Designation)
	case LineListed:
		return fmt.Sprintf("%s: %s, found before though it was on no list", c.Now.Designation, c.Now.Listed) + c.moved("; line %d was %d")
	case LineRevised, LineSuperseded:
		return fmt.Sprintf("%s: %s, was %s, %s", c.Now.Designation, c.Now.Listed, c.Was.Designation, c.Was.Listed) + c.moved("; line %d was %d")
	}
	return c.Now.Designation + ": " + strings.Join(c.alterations(), "; ") + c.moved("; line %d was %d")
}

// moved are the numbers of the line now and before, in words; nothing where they are the
// same, and of a line that is to be checked apart from what was found.
func (c LineChange) moved(words string) string {
	if c.Apart || c.Was.Number() == c.Now.Number() {
		return ""
	}
	return fmt.Sprintf(words, c.Now.Number(), c.Was.Number())
}

// alterations are how the same part is listed otherwise; none where it is not.
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

// OldLines are the lines of a list that is revised, with what a revision has to know of them.
type OldLines struct {
	Shipment     Shipment
	Lines        []Line // by number
	Photographed map[LineID]bool
}

// ReviseList is what a revised list makes of a list. Lines that stay keep what was found of
// them and where it lies, by whatever number the new list has them; a line that is gone stays
// with what was found of it, as something that is on no list. Told is what a person said of
// lines that were asked about: the number on the new list, 0 for none. It is refused where a
// line that gets another part number was found under both.
func ReviseList(old OldLines, now []NewLine, told map[LineID]int) (Revision, error) {
	p, err := pairLines(old, now, told)
	if err != nil {
		return Revision{}, err
	}
	r := Revision{Of: old.Shipment, Before: old.Lines, Asked: p.asked, waiting: p.waiting}
	kept, apart := map[LineID]bool{}, map[LineID]bool{}
	ids, numbers := newLineIDs(old.Lines), map[int]bool{}
	var added []Line
	for i, b := range now {
		numbers[b.Number] = true
		if p.open[b.Number] {
			continue // somebody has to say first which line it is
		}
		if p.before[i] < 0 {
			line := ids.added(Line{Shipment: old.Shipment.ID}.relisted(b), b.Number)
			added = append(added, line)
			r.Changes = append(r.Changes, LineChange{Kind: LineAdded, Now: line})
			continue
		}
		a := old.Lines[p.before[i]]
		c, err := changed(p.kinds[i], a, b)
		if err != nil {
			return Revision{}, err
		}
		if c.Apart {
			apart[a.ID] = true
			c.Now = ids.added(c.Now, b.Number)
			added = append(added, c.Now)
		} else {
			kept[a.ID] = true
			c.Now = c.Now.numbered(b.Number)
			r.After = append(r.After, c.Now)
		}
		r.note(c)
	}
	r.After = append(r.After, added...)
	r.takeOff(old.Lines, kept, apart, numbers)
	byNumber(r.After)
	return r, nil
}

// note keeps what differs of a line that stays.
func (r *Revision) note(c LineChange) {
	switch {
	case c.Kind != LineAltered || len(c.alterations()) > 0:
		r.Changes = append(r.Changes, c)
	case c.Was.Number() != c.Now.Number():
		c.Kind = LineRenumbered
		r.Renumbered = append(r.Renumbered, c)
	}
}

// takeOff has the lines that the new list does not have be on no list. Those whose numbers it
// gives to others get the next ones after all that there are.
func (r *Revision) takeOff(was []Line, kept, apart map[LineID]bool, numbers map[int]bool) {
	last := 0
	for n := range numbers {
		last = max(last, n)
	}
	for _, a := range was {
		last = max(last, a.Number())
	}
	for _, a := range was {
		if kept[a.ID] {
			continue
		}
		off := a.offList()
		if numbers[a.Number()] {
			last++
			off = off.numbered(last)
		}
		r.After = append(r.After, off)
		switch {
		case r.waiting[a.ID]:
		case !a.Extra && !apart[a.ID]:
			r.Changes = append(r.Changes, LineChange{Kind: LineGone, Was: a, Now: off})
		case a.Number() != off.Number():
			r.Renumbered = append(r.Renumbered, LineChange{Kind: LineRenumbered, Was: a, Now: off})
		}
	}
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
		return c, fail(Conflict, b.Designation, "Of line %d both %s and %s were found, and the new list names one of them: correct what was found of it first.", a.Number(), a.Designation, b.Designation)
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

// lineIDs gives ids to lines that are added.
type lineIDs struct {
	used map[LineID]bool
	last LineID
}

func newLineIDs(was []Line) *lineIDs {
	n := &lineIDs{used: map[LineID]bool{}}
	for _, l := range was {
		n.used[l.ID] = true
		n.last = max(n.last, l.ID)
	}
	return n
}

// added is a line with an id: that of its number where no other line has it.
func (n *lineIDs) added(l Line, number int) Line {
	l.ID = LineID(number)
	if n.used[l.ID] {
		l.ID = n.last + 1
	}
	n.used[l.ID] = true
	n.last = max(n.last, l.ID)
	return l.numbered(number)
}

// Revision is what a revised list would make of the list of a shipment; see [ReviseList].
func (r *Reader) Revision(of Shipment, list NewShipment) (Revision, error) {
	old := OldLines{Shipment: of, Photographed: map[LineID]bool{}}
	err := r.Read(func(r *Reader) (err error) {
		if old.Lines, err = r.Lines(of.ID); err != nil {
			return err
		}
		photos, err := r.PhotosOfLines(of.ID)
		for id := range photos {
			old.Photographed[id] = true
		}
		return err
	})
	if err != nil {
		return Revision{}, err
	}
	clean := make([]NewLine, len(list.Lines))
	for i, l := range list.Lines {
		if clean[i], err = cleanLine(l); err != nil {
			return Revision{}, err
		}
	}
	return ReviseList(old, clean, list.Told)
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
