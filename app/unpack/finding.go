package unpack

import (
	"fmt"
	"strings"

	"stowright/app/operation"
	"stowright/app/stockdialog"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// say is an error that is already a sentence for a person.
func say(format string, args ...any) error {
	return &store.Error{Kind: store.Invalid, Message: fmt.Sprintf(format, args...)}
}

// receive records what was found of a line, asks where it goes, and goes on to the next.
func (m *Model) receive(l store.Line, o operation.Receive) {
	o.List, o.Line, o.Looked = l.Shipment, l.Number(), o.Looked || m.looked[l.ID]
	m.do(o, func() {
		delete(m.looked, l.ID)
		m.stowing = l.ID
		m.next()
		m.offerOrdered(l.ID)
	})
}

// allHere records that as many as listed are there. Where another bag gave some
// already, it asks, since "all" could mean either.
func (m *Model) allHere(l store.Line) {
	if brought, _ := operation.Brought(l); !brought.IsZero() {
		m.someHere(l, m.session.Typed(l.Listed))
		return
	}
	m.receive(l, operation.Receive{Found: "all"})
}

// someHere asks how many are there.
func (m *Model) someHere(l store.Line, begun string) {
	extra, _ := operation.Brought(l)
	hint := fmt.Sprintf("%s listed. A number, then Enter.", wording.Counted(l.Listed))
	question := "How many " + wording.Units(l.Listed.Unit) + " are here?"
	if !extra.IsZero() {
		question = "How many are in its own bag?"
		hint = fmt.Sprintf("%s from another bag come on top.", extra.Number())
	}
	q := typed(question, hint, begun, "Count it", func(text string) error {
		found, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err != nil {
			return err
		}
		if found, err = found.Add(extra); err != nil {
			return err
		}
		o := operation.Receive{Found: m.session.Typed(found)}
		if partial(l) {
			o.Note = l.Finding.Note
		}
		m.receive(l, o)
		return nil
	})
	q.Unit = wording.Units(l.Listed.Unit)
	q.Begun = len(begun) == 1 && extra.IsZero()
	q.Weigh = extra.IsZero() && stockdialog.CanWeigh(l.Listed.Unit)
	m.ask(q)
}

// Weighable is the line in hand, where its pieces can be weighed now.
func (m *Model) Weighable() (store.Line, bool) {
	l := m.data.line(m.current)
	if l == nil || m.working.Busy() || !m.data.weighable(*l) || m.prompt != nil && !m.prompt.Weigh {
		return store.Line{}, false
	}
	return *l, true
}

func (d delivery) weighable(l store.Line) bool {
	brought, _ := operation.Brought(l)
	return d.receivable(l) && brought.IsZero() && stockdialog.CanWeigh(l.Listed.Unit)
}

// Weighed records what the pieces of a line weigh.
func (m *Model) Weighed(l store.Line, w measure.Weighing) {
	m.prompt = nil
	m.receive(l, operation.Receive{Weighing: &w})
}

// typed is a question that is answered by typing alone.
func typed(ask, hint, text, answer string, accept func(string) error) question {
	return question{Prompt: Prompt{Question: ask, Hint: hint, Text: text, Answer: answer}, accept: accept}
}

// in says in what unit the amount is that is asked for.
func (q question) in(u measure.Unit) question {
	q.Unit = wording.Units(u)
	return q
}

// here is what counts as found of a line while something else is asked about it:
// what was counted, or else all that is listed.
func here(l store.Line) measure.Quantity {
	if l.Finding != nil && !partial(l) {
		return l.Finding.Found
	}
	return l.Listed
}

// damaged asks how many are damaged, and what is.
func (m *Model) damaged(l store.Line) {
	found := here(l)
	hint := fmt.Sprintf("All %s count as here. If some are missing: Esc, then S first.", found.Number())
	if l.Finding != nil && !partial(l) {
		hint = fmt.Sprintf("of the %s that are here", found.Number())
	}
	m.ask(typed("How many are damaged?", hint, "1", "Next", func(text string) error {
		bad, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err != nil {
			return err
		}
		if over, err := bad.Cmp(found); err != nil || over > 0 || bad.Sign() <= 0 {
			return say("%s are here: 1 to %s of them can be damaged.", found.Number(), found.Number())
		}
		m.ask(typed("What is damaged?", "Goes on the claim. Then P photographs it before you move it.", "", "Mark damaged", func(text string) error {
			m.receive(l, operation.Receive{Found: m.session.Typed(found), Damaged: m.session.Typed(bad), Looked: true, Note: text})
			return nil
		}))
		return nil
	}).in(l.Listed.Unit))
}

// look ticks a line as looked at, or takes the tick back. Before the line is
// counted the tick waits for the count.
func (m *Model) look(l store.Line) {
	if l.Finding == nil || partial(l) {
		m.looked[l.ID] = !m.looked[l.ID]
		m.render()
		return
	}
	m.do(operation.Look{List: l.Shipment, Line: l.Number(), Looked: !l.Finding.Looked}, nil)
}

// wrong asks which number came in place of a line's, how many, and whether that is
// the same part of another revision.
func (m *Model) wrong(l store.Line) {
	m.ask(typed("Which number came instead of "+l.Designation+"?", "As it is stamped or printed on the part or the bag.", "", "Next", func(text string) error {
		came := m.data.number(text)
		if came == "" || came == l.Designation {
			return say("Type the number that came; with the right number use A, S or N.")
		}
		m.undoubted(came, func() { m.wrongMany(l, came) }, func() { m.wrong(l) })
		return nil
	}))
}

// undoubted goes on with a number at once, or asks first where it has the form of a
// published one and is none that the tables know: it may be misread.
func (m *Model) undoubted(designation string, then, again func()) {
	problem := m.data.catalog.Decode(designation).Problem
	if problem == "" {
		then()
		return
	}
	m.choose(Prompt{Question: wording.Sentence(problem) + " Is it marked so?", Answer: "Next"}, []offer{
		{id: "again", name: "Read it again", sub: "type the number once more"},
		{id: "so", name: "It is marked so", sub: "keep " + designation + " as it was typed"},
	}, func(id string) {
		if id == "so" {
			then()
			return
		}
		again()
	})
}

// wrongMany asks how many of another number came.
func (m *Model) wrongMany(l store.Line, came string) {
	m.ask(typed("How many "+came+" came?", fmt.Sprintf("%s listed", l.Listed), m.session.Typed(l.Listed), "Next", func(text string) error {
		n, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err != nil {
			return err
		}
		if n.Sign() <= 0 {
			return say("Say how many %s came.", came)
		}
		m.wrongKind(l, store.Came{Designation: came, Quantity: n})
		return nil
	}).in(l.Listed.Unit))
}

// wrongKind asks whether what came is another revision.
func (m *Model) wrongKind(l store.Line, came store.Came) {
	revision, other := offer{id: "revision", name: "Another revision", sub: "the same part, of another revision"}, offer{id: "other", name: "Another part", sub: "a different part"}
	offers := []offer{other, revision}
	if revised(l.Designation, came.Designation) {
		offers = []offer{revision, other}
	}
	m.choose(Prompt{Question: "What is " + came.Designation + "?", Answer: "Next"}, offers, func(id string) {
		came.Revision = id == revision.id
		m.wrongRest(l, came)
	})
}

// wrongRest asks how many right ones are there besides, where there can be any.
func (m *Model) wrongRest(l store.Line, came store.Came) {
	record := func(found measure.Quantity) {
		m.receive(l, operation.Receive{
			Found: m.session.Typed(found), Came: came.Designation, Many: m.session.Typed(came.Quantity), Revision: came.Revision,
			Looked: true, Note: m.data.difference(l.Designation, came.Designation),
		})
	}
	none := measure.Quantity{Unit: l.Listed.Unit}
	left, err := l.Listed.Sub(came.Quantity)
	if err != nil || left.Sign() <= 0 {
		record(none)
		return
	}
	m.ask(typed("How many right ones are here too?", fmt.Sprintf("%s listed", l.Listed), m.session.Typed(left), "Mark wrong", func(text string) error {
		found, err := m.session.ParseAmount(text, l.Listed.Unit)
		if err == nil {
			record(found)
		}
		return err
	}).in(l.Listed.Unit))
}

// revised reports whether two numbers differ only in a last letter that is not a hand.
func revised(a, b string) bool {
	i, j := strings.LastIndexByte(a, '-'), strings.LastIndexByte(b, '-')
	if i < 0 || i != j || a[:i] != b[:j] || len(a) != i+2 || len(b) != j+2 {
		return false
	}
	hand := func(c byte) bool { return c == 'L' || c == 'R' }
	letter := func(c byte) bool { return c >= 'A' && c <= 'Z' }
	return letter(a[i+1]) && letter(b[j+1]) && !(hand(a[i+1]) && hand(b[j+1]))
}
