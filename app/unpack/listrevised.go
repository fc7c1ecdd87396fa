package unpack

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// mostClaimed is how many lines of a claim a point names.
const mostClaimed = 4

// revisedPoints ask what the list is, where the shop has another one of its order, and say
// what would come of it were it the revised one: each line that differs, what the claim
// loses and gains, what sub-assemblies do.
func (m *ListModel) revisedPoints() []point {
	r := m.revised
	ask := point{
		at:    "order",
		text:  fmt.Sprintf("The shop has another list of order %s, from %s. Is this the revised one, or one of its own?", r.Of.Order, r.Of.File),
		state: notice.Mark{Word: "unsure", Tone: notice.Stop}, open: m.taken == unsaid,
	}
	if m.taken != unsaid {
		ask.state = notice.Mark{Word: "settled", Tone: notice.OK}
	}
	own := way{words: "One of its own: bring it in beside that one", chosen: m.taken == beside, take: beside}
	if r.Refused != nil {
		ask.text += " " + wording.Error(r.Refused)
		ask.ways = []way{own}
		return []point{ask}
	}
	ask.ways = []way{{words: "The revised one: it takes that one's place, and what was checked stays", chosen: m.taken == revises, take: revises}, own}
	points := []point{ask}
	add := func(at, text string, mark notice.Mark) {
		points = append(points, point{at: at, text: text, state: mark})
	}
	points = append(points, m.linePoints(r.Asked)...)
	for _, c := range r.Changes {
		at, mark := changeMark(c)
		text := wording.Upper(c.String()) + "."
		if c.Apart {
			text += fmt.Sprintf(" What was found is marked %s and stays under it, off the list; line %d is to check.", c.Was.Designation, c.Now.Number())
		}
		add(at, text, mark)
	}
	if len(r.Changes) == 0 && len(r.Asked) == 0 {
		add("lines", wording.Upper(r.Changed(0)[0])+".", notice.Mark{Word: "the same", Tone: notice.Quiet})
	}
	for _, words := range r.Claim(mostClaimed) {
		add("claim", words, notice.Mark{Word: "claim", Tone: notice.Warn})
	}
	for _, words := range r.Needs {
		add("build", words+".", notice.Mark{Word: "needs", Tone: notice.Warn})
	}
	for _, c := range r.Renumbered {
		add(fmt.Sprintf("line %d", c.Now.Number()), wording.Upper(c.String())+".", notice.Mark{Word: string(c.Kind), Tone: notice.Quiet})
	}
	return points
}

// told is what a person said of a line: its number on the new list, 0 for none.
type told struct {
	line  store.LineID
	words string // which line it was, and which it is
	is    int
	again bool // it is to be asked again
}

func toldOf(said []told) map[store.LineID]int {
	of := map[store.LineID]int{}
	for _, t := range said {
		of[t.line] = t.is
	}
	return of
}

// tell takes what was said of a line, and compares the lists again.
func (m *ListModel) tell(t told) {
	m.told = slices.DeleteFunc(slices.Clone(m.told), func(o told) bool { return o.line == t.line })
	if !t.again {
		m.told = append(m.told, t)
	}
	book, c, said := m.book, m.choices, m.told
	m.read(func(context.Context) (read, error) { return m.by(book, c, said) })
}

// mostMeant is how many lines of the new list a question offers: a digit each, with one for
// none of them.
const mostMeant = 8

// linePoints ask which line of the new list a line is, and say what was told of others.
func (m *ListModel) linePoints(asked []store.LineQuestion) []point {
	var points []point
	for _, q := range asked {
		was := fmt.Sprintf("line %d", q.Was.Number())
		p := point{at: was, text: q.String(), state: notice.Mark{Word: "unsure", Tone: notice.Stop}, open: true}
		for _, b := range q.Could[:min(len(q.Could), mostMeant)] {
			words := fmt.Sprintf("It is line %d: %s in bag %s of %s", b.Number, b.Listed, cmp.Or(b.Group, "none"), phrase.Crate(b.Crate))
			said := fmt.Sprintf("%s, %s, is line %d of the new list.", wording.Upper(was), q.Was.Designation, b.Number)
			p.ways = append(p.ways, way{words: words, tell: &told{line: q.Was.ID, is: b.Number, words: said}})
		}
		none := fmt.Sprintf("%s, %s, is on the new list no more.", wording.Upper(was), q.Was.Designation)
		p.ways = append(p.ways, way{words: "None of them: it is on the new list no more", tell: &told{line: q.Was.ID, words: none}})
		points = append(points, p)
	}
	for _, t := range m.told {
		back := t
		back.again = true
		points = append(points, point{at: "as you said", text: t.words, state: notice.Mark{Word: "settled", Tone: notice.OK}, ways: []way{{words: "Ask again", tell: &back}}})
	}
	return points
}

// changeMark is where a line that differs is, and in a word how.
func changeMark(c store.LineChange) (at string, mark notice.Mark) {
	line := c.Now.Number()
	if c.Kind == store.LineGone || c.Apart {
		line = c.Was.Number()
	}
	mark = notice.Mark{Word: string(c.Kind), Tone: notice.Warn}
	switch c.Kind {
	case store.LineAdded, store.LineListed:
		mark.Tone = notice.OK
	case store.LineGone:
		mark.Tone = notice.Stop
	}
	return fmt.Sprintf("line %d", line), mark
}

// said is what is told once a revised list is in.
func (b Brought) said() notice.Notice {
	words := []string{"in place of " + b.Revised.Of.File + ", with what was checked by that one."}
	words = append(words, b.Revised.Claim(mostClaimed)...)
	for _, n := range b.Revised.Needs {
		words = append(words, n+".")
	}
	tone := notice.OK
	if len(b.Revised.Withdraw) > 0 {
		tone = notice.Warn
	}
	return notice.Notice{Tone: tone, Lead: "The revised list is in:", Text: strings.Join(words, " ")}
}
