package unpack

import (
	"fmt"
	"strings"

	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
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
	for _, c := range r.Changes {
		at, mark := changeMark(c)
		text := wording.Upper(c.String()) + "."
		if c.Apart {
			text += fmt.Sprintf(" What was found is marked %s and stays under it, off the list; line %d is to check.", c.Was.Designation, c.Now.Number)
		}
		add(at, text, mark)
	}
	if r.Renumbered > 0 || len(r.Changes) == 0 {
		all := r.Changed(0)
		add("numbers", wording.Upper(all[len(all)-1])+".", notice.Mark{Word: "the same", Tone: notice.Quiet})
	}
	for _, words := range r.Claim(mostClaimed) {
		add("claim", words, notice.Mark{Word: "claim", Tone: notice.Warn})
	}
	for _, words := range r.Needs {
		add("build", words+".", notice.Mark{Word: "needs", Tone: notice.Warn})
	}
	return points
}

// changeMark is where a line that differs is, and in a word how.
func changeMark(c store.LineChange) (at string, mark notice.Mark) {
	line := c.Now.Number
	if c.Kind == store.LineGone || c.Apart {
		line = c.Was.Number
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
