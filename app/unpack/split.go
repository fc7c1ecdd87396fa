package unpack

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// mixed is a bag that is being split: what is left in it under its own number, and
// what was found to be something else.
type mixed struct {
	line  store.Line
	left  measure.Quantity
	parts []piece
}

// piece is so many of another number in a mixed bag.
type piece struct {
	line        int // of the list; 0 where it is on none
	designation string
	quantity    measure.Quantity
}

// split asks how many pieces a mixed bag holds in all, then what they are, until
// the rest is what the line lists.
func (m *Model) split(l store.Line) {
	if l.Finding != nil && !partial(l) && m.data.inBag(l).Quantity != l.Finding.Found {
		m.state.Error = "Some of line " + fmt.Sprint(l.Number()) + " have left the bag already: put them back, or count them where they are."
		m.render()
		return
	}
	m.ask(typed("Mixed bag: how many pieces are in it in all?", fmt.Sprintf("%s of %s listed", l.Listed, l.Designation), m.session.Typed(l.Listed), "Next", func(text string) error {
		all, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err == nil {
			m.splitWhat(mixed{line: l, left: all})
		}
		return err
	}).in(l.Listed.Unit))
}

// splitWhat asks what else is in the bag; nothing typed means that the rest is
// what the line lists.
func (m *Model) splitWhat(bag mixed) {
	rest := fmt.Sprintf("%s left: Enter if they are all %s, else type the other number or a part of it.", bag.left.Number(), bag.line.Designation)
	m.ask(question{
		Prompt: Prompt{Question: "Which other number is in the bag?" + bag.soFar(), Hint: rest, Answer: "Next"},
		match: func(text string) []offer {
			if strings.TrimSpace(text) == "" {
				return nil
			}
			return m.data.mightBe(text, bag.line)
		},
		pick: func(text, id string) error {
			if strings.TrimSpace(text) == "" {
				m.splitDone(bag)
				return nil
			}
			p := piece{designation: m.data.number(text)}
			if l := m.data.numbered(id); l != nil {
				p.line, p.designation = l.Number(), l.Designation
			}
			if p.designation == bag.line.Designation {
				return say("%s is what the line lists: type another number, or nothing if the rest are all %s.", p.designation, p.designation)
			}
			m.undoubted(p.designation, func() { m.splitHowMany(bag, p) }, func() { m.splitWhat(bag) })
			return nil
		},
	})
}

// soFar is what was told apart already.
func (b mixed) soFar() string {
	var words []string
	for _, p := range b.parts {
		words = append(words, p.quantity.Number()+" "+p.designation)
	}
	if len(words) == 0 {
		return ""
	}
	return " So far " + strings.Join(words, ", ") + "."
}

// splitHowMany asks how many of the other number are in the bag.
func (m *Model) splitHowMany(bag mixed, p piece) {
	m.ask(typed("How many "+p.designation+"?", fmt.Sprintf("%s left in the bag", bag.left.Number()), "", "Next", func(text string) error {
		n, err := m.session.ParseAmount(text, bag.left.Unit)
		if err != nil {
			return err
		}
		left, err := bag.left.Sub(n)
		if err != nil || left.Sign() < 0 || n.Sign() <= 0 {
			return say("%s are left in the bag: 1 to %s of them can be %s.", bag.left.Number(), bag.left.Number(), p.designation)
		}
		p.quantity = n
		bag.left, bag.parts = left, append(bag.parts, p)
		if left.IsZero() {
			m.splitDone(bag)
			return nil
		}
		m.splitWhat(bag)
		return nil
	}).in(bag.left.Unit))
}

// splitDone records what the bag holds: the line in hand first, then the other numbers.
func (m *Model) splitDone(bag mixed) {
	o := operation.Split{List: bag.line.Shipment, Line: bag.line.Number(), Left: m.session.Typed(bag.left)}
	for _, p := range bag.parts {
		o.Parts = append(o.Parts, operation.SplitPart{Line: p.line, Part: p.designation, Amount: m.session.Typed(p.quantity)})
	}
	m.do(o, func() {
		m.stowing = bag.line.ID
		m.next()
	})
}

// numbered is the line that an offer names by its number, nil where it names none.
func (d delivery) numbered(offer string) *store.Line {
	var n int
	if _, err := fmt.Sscanf(offer, "line %d", &n); err != nil {
		return nil
	}
	at := slices.IndexFunc(d.lines, func(l store.Line) bool { return l.Number() == n })
	if at < 0 {
		return nil
	}
	return &d.lines[at]
}

// mightBe are the lines that a mixed bag's pieces may belong to, those of the same
// bag first, and last the number as it was typed.
func (d delivery) mightBe(text string, from store.Line) []offer {
	want := fold(text)
	var near, far []offer
	exact := false
	for _, l := range d.lines {
		if l.ID == from.ID || l.Listed.Unit != from.Listed.Unit || !strings.Contains(fold(l.Designation), want) {
			continue
		}
		exact = exact || fold(l.Designation) == want && (l.Place == from.Place || d.receivable(l))
		o := offer{id: fmt.Sprintf("line %d", l.Number()), name: l.Designation, sub: fmt.Sprintf("line %d, %s", l.Number(), d.titles[l.Designation])}
		switch {
		case l.Place == from.Place:
			near = append(near, o)
		case d.receivable(l):
			far = append(far, o)
		}
	}
	all := append(near, far...)
	if exact {
		return all
	}
	all = all[:min(len(all), maxOptions-1)]
	typed := d.number(text)
	sub, more, _ := strings.Cut(d.apartFrom(typed, from), ": ")
	return append(all, offer{"typed", typed, sub, more})
}

// apartFrom says why a number that was typed belongs to no line that can be given any of
// a bag: what it gets then is a line of its own.
func (d delivery) apartFrom(designation string, from store.Line) string {
	for _, l := range d.lines {
		if l.ID == from.ID || fold(l.Designation) != fold(designation) {
			continue
		}
		if l.Listed.Unit != from.Listed.Unit {
			return fmt.Sprintf("a find of its own: line %d lists it by %s, and nothing is converted", l.Number(), l.Listed.Unit)
		}
		return fmt.Sprintf("a find of its own: line %d lists it, in %s that has not come", l.Number(), phrase.Crate(l.Crate))
	}
	return d.unlisted(designation)
}

// unlisted says what a number that is on no line is.
func (d delivery) unlisted(designation string) string {
	known := d.catalog.Decode(designation)
	switch {
	case known.Problem != "":
		return "not on the list; " + known.Problem
	case known.Known:
		return "not on the list: " + session.Marked(known.Short, known)
	}
	return "not on the list, and not in the tables"
}

// number is a number as the shop writes it: as the tables or the list have it, or
// else as typed, in capitals where the list's own numbers are. The list goes before
// what only has the form of a number of the tables: an34a is its AN3-4A, no AN34A.
func (d delivery) number(text string) string {
	text = strings.TrimSpace(text)
	if c, known := d.catalog.Canonical(text); known {
		return c
	}
	capitals := true
	for _, l := range d.lines {
		if fold(l.Designation) == fold(text) {
			return l.Designation
		}
		capitals = capitals && l.Designation == strings.ToUpper(l.Designation)
	}
	if c := session.Canonical(d.catalog, text); c != text {
		return c
	}
	if capitals {
		return strings.ToUpper(text)
	}
	return text
}

// fold is a number without case, dashes and spaces, as people type it.
func fold(s string) string {
	return strings.ToUpper(strings.NewReplacer("-", "", " ", "").Replace(s))
}
