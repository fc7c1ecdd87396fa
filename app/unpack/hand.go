package unpack

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/stockdialog"
	"stowright/app/wording"
	"stowright/store"
)

// currentLine is the line in hand with what can be done with it.
func (d delivery) currentLine(l store.Line, lookedAt bool) Current {
	c := Current{
		Number: l.Number(), Designation: l.Designation, Title: d.titles[l.Designation], Mark: d.mark(l),
		Listed: "listed " + wording.Counted(l.Listed), Hint: d.hint(l),
	}
	c.Piece, c.Beware = drawing.PieceOf(d.catalog.Decode(l.Designation), d.lengths), d.alikeInBag(l)
	counted := l.Finding != nil && l.Finding.Counted
	if l.Extra {
		c.Listed = "on no list"
	}
	c.Ticks = tick("counted", counted) + " · " + tick("checked for damage", lookedAt || l.Finding != nil && l.Finding.Looked)
	off := !d.receivable(l)
	c.Weigh = d.weighable(l)
	chosen := "" // the button that is filled: what was found, or else what most lines get first
	switch {
	case counted:
		chosen = chosenKey(*l.Finding, l)
	case l.Finding == nil && d.state(l) == store.ToCheck:
		chosen = "A"
	}
	for _, a := range []card.Action{
		{ID: "A", Label: "All here"},
		{ID: "S", Label: "Some"},
		{ID: "N", Label: "None"},
	} {
		a.Key, a.Off, a.Primary = a.ID, off, a.ID == chosen
		if a.Primary && a.ID == "S" {
			a.Label = "Some: " + l.Finding.Found.Number()
		}
		c.Actions = append(c.Actions, a)
	}
	c.More = []card.Action{
		{ID: "D", Label: "Some of it is damaged", Off: off},
		{ID: "W", Label: "Another item or revision came", Off: off},
		{ID: "X", Label: "Split its bag: several numbers are in it", Off: off},
		{ID: stockdialog.WeighKey, Label: "Weigh it", Off: !c.Weigh},
		{ID: "L", Label: "It was checked for damage", Off: off},
		{ID: "B", Label: "All of its bag is here", Off: off || len(d.toBook(l)) < 2},
		{ID: "F", Label: "What is missing was found inside another part", Off: l.Finding == nil || l.Finding.Weighing != nil || d.state(l) != store.Short},
		{ID: lotKey, Label: "Its lot: number, dates, origin", Off: lotOf(l) == ""},
		{ID: stockdialog.BlindKey, Label: "Have another hand count it", Off: !d.recountable(l)},
		{ID: "U", Label: "Something that is on no list"},
		{ID: "H", Label: "Note where to look for it"},
		{ID: "Y", Label: "It is never going to be checked"},
	}
	for i := range c.More {
		c.More[i].Key = c.More[i].ID
	}
	return c
}

// mostAlike is how many look-alikes of a bag are named.
const mostAlike = 3

// alikeInBag warns of the other numbers of a line's bag that are easily taken for it, with how
// each one differs.
func (d delivery) alikeInBag(l store.Line) []notice.Notice {
	if l.Group == "" || !d.catalog.Decode(l.Designation).Known {
		return nil
	}
	var out []notice.Notice
	for _, o := range d.within(scope{l.Crate, l.Group}) {
		differs, like := d.catalog.Alike(l.Designation, o.Designation)
		if like && len(out) < mostAlike && o.Designation != l.Designation {
			out = append(out, notice.Notice{Tone: notice.Warn, Lead: "Not " + o.Designation, Text: fmt.Sprintf("of line %d, in the same bag: %s.", o.Number(), differs)})
		}
	}
	return out
}

// toBook are the lines of the bag of a line that can be booked at once.
func (d delivery) toBook(l store.Line) []store.Line {
	all, _ := operation.WholeBag{Line: l.Number()}.Lines(d.lines)
	return all
}

// chosenKey is the key that says what was found of a line.
func chosenKey(f store.Finding, l store.Line) string {
	switch {
	case f.Came != nil:
		return "W"
	case !f.Damaged.IsZero():
		return "D"
	case f.Found.IsZero():
		return "N"
	case f.Weighing != nil:
		return ""
	case f.Found == l.Listed:
		return "A"
	}
	return "S"
}

func tick(word string, on bool) string {
	if on {
		return "✓ " + word
	}
	return "○ not " + word + " yet"
}

// hint says what to know of a line: what came instead, what is damaged, where to
// look for what is missing.
func (d delivery) hint(l store.Line) string {
	var words []string
	if f := l.Finding; f != nil {
		if f.Weighing != nil {
			words = append(words, "By weight "+f.Amount().String()+".")
		}
		if f.Came != nil {
			words = append(words, fmt.Sprintf("%s %s came instead.", f.Came.Quantity.Number(), f.Came.Designation))
		}
		if f.Note != "" {
			words = append(words, wording.Upper(f.Note)+".")
		}
	}
	switch d.state(l) {
	case store.Short:
		words = append(words, l.Describe(true)+" so far. Look first: "+d.lookFirst(l)+".")
	case store.OffList:
		words = append(words, "The revised list does not have it any more. Enter it if it came all the same.")
	case store.BackOrder:
		words = append(words, "The list says back-ordered: it comes later and is not claimed. Enter it when it comes.")
	case store.NeverChecked:
		words = append(words, "Never going to be checked: "+l.Unchecked+". Nothing of it is claimed, and nobody says that it came. What is found of it counts all the same.")
	case store.NotArrived:
		words = append(words, crateWords(l.Crate)+" has not come.")
	}
	if l.LookIn != "" && d.state(l) != store.Short {
		words = append(words, "Noted where to look: "+l.LookIn+".")
	}
	if d.apart[bagged{l.Place, l.Designation}] {
		words = append(words, "Damaged ones stay set apart in the bag.")
	}
	return strings.Join(words, " ")
}

// hollow are words of parts that others are packed inside of.
var hollow = []string{"skin", "tube", "tank", "box", "fairing", "cowl"}

// said is what stands under the line in hand: what to do about the line that was checked
// before it, and which bag or crate is finished.
func (m *Model) said() *notice.Notice {
	about, course := m.data.before(m.stowing, m.current), m.course.notice(m.data)
	switch {
	case about == nil:
		return course
	case course == nil:
		return about
	}
	about.Text = strings.Join(strings.Fields(about.Text+" "+course.Lead+" "+course.Text), " ")
	return about
}

// before says where to look for what the line that was just checked lacks, and that
// what is damaged is to be photographed: by now the next line is in hand.
func (d delivery) before(checked, current store.LineID) *notice.Notice {
	l := d.line(checked)
	switch {
	case l == nil || checked == current:
		return nil
	case d.needsPhoto(*l):
		return &notice.Notice{Tone: notice.Warn, Lead: l.Designation + " goes on the claim as " + l.Describe(true) + ".", Text: "P photographs it before you move it."}
	case d.state(*l) != store.Short:
		return nil
	}
	return &notice.Notice{Tone: notice.Stop, Lead: l.Designation + " is " + l.Describe(true) + " so far.", Text: "Look first: " + d.lookFirst(*l) + "."}
}

// needsPhoto reports whether a line has something to show to the supplier, and no
// photograph of it yet.
func (d delivery) needsPhoto(l store.Line) bool {
	f := l.Finding
	return f != nil && (f.Damaged.Sign() > 0 || f.Came != nil) && len(d.photos[l.ID]) == 0
}

// photographed is the line that P photographs: the one that was just checked, while it
// is to be photographed, or else the one in hand.
func (m *Model) photographed() *store.Line {
	if l := m.data.line(m.stowing); l != nil && m.data.needsPhoto(*l) {
		return l
	}
	return m.data.line(m.current)
}

// mostPlaces is how many places to look in are named.
const mostPlaces = 3

// lookFirst is where what is missing of a line may be: as the builder noted it; hardware in the other bags
// of its crate, those with look-alikes first; parts inside larger parts.
func (d delivery) lookFirst(l store.Line) string {
	if l.LookIn != "" {
		return l.LookIn
	}
	if d.catalog.Decode(l.Designation).Known {
		if bags := d.otherBags(l); len(bags) > 0 {
			return "in the wrong bag, such as " + strings.Join(bags, ", ") + ", and among its look-alikes"
		}
	}
	if inside := d.largerParts(l); len(inside) > 0 {
		return "inside " + strings.Join(inside, ", ") + ", and in the packing"
	}
	return "inside other parts of " + l.Crate + ", and in the packing"
}

// otherBags are the bags of a line's crate that hold hardware, those first that hold
// what is easily taken for it.
func (d delivery) otherBags(l store.Line) []string {
	var alike, other []string
	for _, o := range d.within(scope{crate: l.Crate}) {
		if o.Place == l.Place || o.Group == "" || !d.catalog.Decode(o.Designation).Known {
			continue
		}
		if _, like := d.catalog.Alike(l.Designation, o.Designation); like || o.Designation == l.Designation {
			alike = append(alike, o.Group)
		} else {
			other = append(other, o.Group)
		}
	}
	var bags []string
	for _, b := range append(alike, other...) {
		if len(bags) < mostPlaces && !slices.Contains(bags, b) {
			bags = append(bags, b)
		}
	}
	return bags
}

// largerParts are the parts of a line's bag that others are packed inside of.
func (d delivery) largerParts(l store.Line) []string {
	var parts []string
	for _, o := range d.within(scope{l.Crate, l.Group}) {
		if o.Number() != l.Number() && len(parts) < mostPlaces && holdsParts(o.Title) {
			parts = append(parts, fmt.Sprintf("the %s (line %d)", strings.ToLower(o.Title), o.Number()))
		}
	}
	return parts
}

func holdsParts(title string) bool {
	for _, word := range hollow {
		if strings.Contains(strings.ToLower(title), word) {
			return true
		}
	}
	return false
}

// difference is how what came differs from what was listed, where the tables know.
func (d delivery) difference(listed, came string) string {
	words, _ := d.catalog.Alike(listed, came)
	return words
}
