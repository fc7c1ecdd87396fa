package unpack

import (
	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// course is where the check-off stands after the last finding: the bag and the crate in
// hand are finished before another is begun, and leaving one is said.
type course struct {
	said     string // which bag was left for which one; empty where none was
	finished string // name of the crate that nothing is left to check in; empty otherwise
	then     string // name of the crate that may be opened next; empty where none waits
}

// next goes on to what is to be checked next: in the bag in hand, then in the other bags
// of its crate. Where the crate is finished the line stays in hand, and another crate is
// offered: its lines are not booked by keys that were meant for this one.
func (m *Model) next() {
	m.course = course{}
	from := m.data.line(m.current)
	if from == nil {
		return
	}
	bag := scope{from.Crate, from.Group}
	if n := nextOpen(m.data, m.data.ownLines(bag), m.current); n != 0 {
		m.current = n
		return
	}
	if n := nextOpen(m.data, m.data.within(scope{crate: from.Crate}), m.current); n != 0 {
		to := m.data.line(n)
		m.current = n
		m.course.said = "All of " + bag.words() + " is checked. Next is " + scope{to.Crate, to.Group}.words() + "."
		if !m.scope.holds(*to) {
			m.scope = scope{to.Crate, to.Group}
		}
		return
	}
	m.course.finished, m.course.then = from.Crate, m.data.crateToOpen(from.Crate)
}

// goOn opens the crate that is offered.
func (m *Model) goOn() {
	for _, l := range m.data.lines {
		if l.Crate != m.course.then || !m.data.open(l) {
			continue
		}
		m.current, m.stowing = l.ID, l.ID
		if !m.scope.holds(l) {
			m.scope = scope{l.Crate, l.Group}
		}
		m.course, m.state.Error = course{}, ""
		m.suggest()
		return
	}
}

// refuseFinding says why no finding is taken while a finished crate waits to be left;
// empty where one is taken.
func (c course) refuseFinding() string {
	switch {
	case c.finished == "":
		return ""
	case c.then == "":
		return crateWords(c.finished) + " is checked off already: choose a line to correct it."
	}
	return crateWords(c.finished) + " is checked off already: G opens " + phrase.Crate(c.then) + "; choose a line to correct it."
}

// notice is what is said of a bag or crate that is finished; nil for nothing.
func (c course) notice(d delivery) *notice.Notice {
	switch {
	case c.said != "":
		return &notice.Notice{Tone: notice.OK, Text: c.said}
	case c.finished == "":
		return nil
	case c.then == "":
		return &notice.Notice{Tone: notice.OK, Lead: crateWords(c.finished) + " is checked off."}
	}
	open := 0
	for _, l := range d.within(scope{crate: c.then}) {
		if d.open(l) {
			open++
		}
	}
	return &notice.Notice{
		Tone: notice.OK, Lead: crateWords(c.finished) + " is checked off.",
		Text: "G opens " + phrase.Crate(c.then) + ": " + wording.Plural(open, "line", "lines") + " to check.",
	}
}

// crateToOpen is the first other crate that came and has lines to check; empty for none.
func (d delivery) crateToOpen(but string) string {
	for _, c := range d.ship.Crates {
		if c.Name == but {
			continue
		}
		for _, l := range d.within(scope{crate: c.Name}) {
			if d.open(l) {
				return c.Name
			}
		}
	}
	return ""
}

// ownLines are the lines of a bag, or those of a crate that are in none of its bags.
func (d delivery) ownLines(bag scope) []store.Line {
	lines := d.within(bag)
	if bag.group != "" {
		return lines
	}
	var loose []store.Line
	for _, l := range lines {
		if l.Group == "" {
			loose = append(loose, l)
		}
	}
	return loose
}

// words name a bag or a crate within a sentence.
func (s scope) words() string {
	if s.group != "" {
		return "bag " + s.group
	}
	return "what is in no bag of " + phrase.Crate(s.crate)
}

// crateWords is a crate at the beginning of a sentence: "Crate C1".
func crateWords(name string) string {
	return wording.Upper(phrase.Crate(name))
}
