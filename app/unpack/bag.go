package unpack

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/app/wording"
	"stowright/store"
)

// mostNamed is how many lines a question names; of more it says how many there are.
const mostNamed = 8

// wholeBag asks whether all lines of the bag in hand that are still to check are here as
// listed, and books them as one entry.
func (m *Model) wholeBag(l store.Line) {
	o := operation.WholeBag{List: l.Shipment, Line: l.Number()}
	all, left := o.Lines(m.data.lines)
	if len(all) == 0 {
		m.state.Error = "Nothing in " + (scope{l.Crate, l.Group}).words() + " can be booked at once: its lines are checked, or another bag gave to them."
		m.render()
		return
	}
	var names []string
	for _, a := range all[:min(len(all), mostNamed)] {
		names = append(names, amountOf(store.Exact(a.Listed), a.Designation))
		if m.looked[a.ID] {
			o.Looked = append(o.Looked, a.Number())
		}
	}
	if n := len(all) - len(names); n > 0 {
		names = append(names, wording.Plural(n, "more line", "more lines"))
	}
	hint := strings.Join(names, ", ") + "."
	if len(left) > 0 {
		hint += fmt.Sprintf(" Line %d is asked apart: another bag gave to it.", left[0].Number())
	}
	m.choose(Prompt{Question: "Is all of " + (scope{l.Crate, l.Group}).words() + " here as listed?", Hint: hint, Answer: "Book them"}, []offer{
		{id: "all", name: "All " + wording.Plural(len(all), "line is here", "lines are here"), sub: "counted, as one entry"},
	}, func(string) {
		m.do(o, func() {
			for _, a := range all {
				delete(m.looked, a.ID)
			}
			m.stowing = l.ID
			m.next()
		})
	})
}

// inside asks how many of what is short lay inside another part, and inside which one.
func (m *Model) inside(l store.Line) {
	short := l.Difference().Neg()
	if l.Finding == nil || partial(l) || short.Sign() <= 0 || l.Finding.Weighing != nil {
		m.state.Error = "Line " + fmt.Sprint(l.Number()) + " is not short: count it first, with S."
		m.render()
		return
	}
	m.ask(typed("How many more "+l.Designation+" were found?", short.String()+" short so far", m.session.Typed(short), "Next", func(text string) error {
		n, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err != nil {
			return err
		}
		if n.Sign() <= 0 {
			return say("Say how many more were found: 1 or more.")
		}
		m.insideWhat(l, m.session.Typed(n))
		return nil
	}).in(l.Listed.Unit))
}

// insideWhat asks inside what they lay: a part of the list, or as it is typed.
func (m *Model) insideWhat(l store.Line, found string) {
	m.ask(question{
		Prompt: Prompt{Question: "Inside what were they?", Hint: "Type a number, a word of a part, or say it in your own words.", Answer: "Found there"},
		match: func(text string) []offer {
			offers := m.data.hollowParts(text, l)
			if text = strings.TrimSpace(text); text != "" {
				offers = append(offers[:min(len(offers), maxOptions-1)], offer{id: "in " + text, name: text, sub: "as typed"})
			}
			return offers
		},
		pick: func(_, id string) error {
			in := strings.TrimPrefix(strings.TrimPrefix(id, "line "), "in ")
			if in == "" {
				return say("Say inside what they were: a part of the list, or in your own words.")
			}
			m.do(operation.Inside{List: l.Shipment, Line: l.Number(), Found: found, In: in}, func() { m.stowing = l.ID })
			return nil
		},
	})
}

// hollowParts are the parts of a line's crate that have a text in their number or title;
// with no text, those that others are packed inside of.
func (d delivery) hollowParts(text string, of store.Line) []offer {
	want := fold(text)
	var offers []offer
	for _, o := range d.within(scope{crate: of.Crate}) {
		hit := strings.Contains(fold(o.Designation), want) || strings.Contains(fold(o.Title), want)
		if o.ID == of.ID || !hit || want == "" && !holdsParts(o.Title) {
			continue
		}
		offers = append(offers, offer{id: fmt.Sprintf("line %d", o.Number()), name: o.Designation, sub: fmt.Sprintf("line %d, %s", o.Number(), o.Title)})
	}
	slices.SortStableFunc(offers, func(a, b offer) int { return boolRank(d.sameBag(b, of)) - boolRank(d.sameBag(a, of)) })
	return offers
}

func boolRank(first bool) int {
	if first {
		return 1
	}
	return 0
}

// sameBag reports whether the line of an offer is in the bag of another.
func (d delivery) sameBag(o offer, of store.Line) bool {
	l := d.numbered(o.id)
	return l != nil && l.Place == of.Place
}

// unlistedFind asks for something that lies in the bag in hand and is on no list: it gets
// a line of its own, stock in the bag, and its entry on the claim.
func (m *Model) unlistedFind(l store.Line) {
	m.ask(typed("Which number is on no list?", "It gets a line of its own. As it is stamped or printed on the part or the bag.", "", "Next", func(text string) error {
		part := m.data.number(text)
		if part == "" {
			return say("Type the number of what was found; of a part without one, a word for it.")
		}
		if owed := m.data.owedLines(part); len(owed) > 0 {
			m.offerOwed(l, part, owed)
			return nil
		}
		if listed := m.data.listedNear(part, l); listed != 0 {
			return say("Line %d lists %s: count it there.", listed, part)
		}
		m.undoubted(part, func() { m.unlistedMany(l, part) }, func() { m.unlistedFind(l) })
		return nil
	}))
}

// listedNear is the line that lists a number in the same crate; 0 for none.
func (d delivery) listedNear(designation string, of store.Line) int {
	for _, o := range d.within(scope{crate: of.Crate}) {
		if o.Designation == designation {
			return o.Number()
		}
	}
	return 0
}

// owedLines are the lines of a number of which the supplier owes something.
func (d delivery) owedLines(designation string) []store.Line {
	var owed []store.Line
	for _, l := range d.lines {
		if due, _ := d.ship.Due(l); l.Designation == designation && due.Sign() > 0 {
			owed = append(owed, l)
		}
	}
	return owed
}

// offerOwed asks whether what came is what is owed of a line: by its number it may be, and
// only a person can say that it is.
func (m *Model) offerOwed(l store.Line, part string, owed []store.Line) {
	var offers []offer
	for _, o := range owed {
		due, why := m.data.ship.Due(o)
		offers = append(offers, offer{id: fmt.Sprint(o.Number()), name: fmt.Sprintf("Line %d is owed %s", o.Number(), due), sub: why, more: "they are put to that line"})
	}
	offers = append(offers, offer{id: "own", name: "Something else", sub: "a find of its own", more: "what is owed stays owed"})
	m.choose(Prompt{Question: "Is this the " + part + " that is owed?", Answer: "Next"}, offers, func(id string) {
		for _, o := range owed {
			if id == fmt.Sprint(o.Number()) {
				m.owedMany(l, o)
				return
			}
		}
		m.unlistedMany(l, part)
	})
}

// owedMany asks how many of what is owed came.
func (m *Model) owedMany(l, owed store.Line) {
	due, why := m.data.ship.Due(owed)
	m.ask(typed("How many "+owed.Designation+" came?", due.String()+" owed, "+why, m.session.Typed(due), "They came", func(text string) error {
		n, err := m.session.ParseAmount(text, owed.Listed.Unit)
		if err != nil {
			return err
		}
		if more, err := n.Cmp(due); err != nil || more > 0 || n.Sign() <= 0 {
			return say("%s of line %d are owed: up to that many can have come for it.", due, owed.Number())
		}
		m.do(operation.Owed{List: owed.Shipment, Line: owed.Number(), Found: m.session.Typed(n)}, func() {
			m.current, m.stowing = l.ID, owed.ID
		})
		return nil
	}).in(owed.Listed.Unit))
}

func (m *Model) unlistedMany(l store.Line, part string) {
	m.ask(typed("How many "+part+" are there?", "In "+(scope{l.Crate, l.Group}).words()+". A number, then Enter.", "1", "Add it", func(text string) error {
		m.do(operation.Extra{List: l.Shipment, Line: l.Number(), Part: part, Found: text}, func() {
			m.current = l.ID // and not the new line: keys are for what is checked off
			for _, o := range m.data.lines {
				if o.Extra && o.Designation == part {
					m.stowing = o.ID // the newest of that number
				}
			}
		})
		return nil
	}))
}

// never asks why a line is never going to be checked.
func (m *Model) never(l store.Line) {
	if s := m.data.state(l); partial(l) || s != store.ToCheck && s != store.NeverChecked {
		m.state.Error = "Line " + fmt.Sprint(l.Number()) + " is " + string(s) + ": only a line that is to be checked can be left unchecked."
		m.render()
		return
	}
	hint := "Such as: the paper is lost, or given away. It is then neither here nor missing, and nothing of it is claimed."
	if l.Unchecked != "" {
		hint = "Nothing typed has it to be checked after all."
	}
	m.ask(typed("Why is "+l.Designation+" never going to be checked?", hint, l.Unchecked, "Leave it unchecked", func(text string) error {
		if strings.TrimSpace(text) == "" && l.Unchecked == "" {
			return say("Say why: the journal keeps the reason.")
		}
		m.do(operation.LeaveUnchecked{List: l.Shipment, Line: l.Number(), Why: text}, m.next)
		return nil
	}))
}

// lookIn asks where to look for a line before it is claimed.
func (m *Model) lookIn(l store.Line) {
	m.ask(typed("Where is "+l.Designation+" to be looked for before it is claimed?", "In your own words; nothing typed takes the note away.", l.LookIn, "Note it", func(text string) error {
		m.do(operation.LookIn{List: l.Shipment, Line: l.Number(), Words: text}, nil)
		return nil
	}))
}
