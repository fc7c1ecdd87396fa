package unpack

import (
	"slices"
	"strings"

	"stowright/app/table"
	"stowright/app/wording"
)

// Prompt is a question that is answered by typing.
type Prompt struct {
	Serial   int    // tells one question from the next
	About    string // the part number that it is about
	Question string // "How many are here?"
	Hint     string // "of 16 listed; Esc leaves it"
	Text     string // what is typed already, or what Enter takes
	Unit     string // of the amount that is asked for: "pounds"; "" where none is
	Weigh    bool   // the answer can be weighed instead
	Begun    bool   // the person has begun to type Text: it is gone on with, not replaced
	Answer   string // what the button says: "Count it"
	Error    string // why the last answer was not taken; empty for none
	Options  []table.Row
	Option   int // index of the option that Enter takes, -1 for the text alone
}

// maxOptions is how many options a question shows: further ones need more typing.
const maxOptions = 5

// question is a prompt with what to do with the answer. Exactly one of accept and
// pick is set.
type question struct {
	Prompt
	offers []string                       // what pick is called with, by option
	accept func(text string) error        // takes what was typed
	match  func(text string) []offer      // the options for what was typed
	pick   func(text, offer string) error // takes the option
}

// offer is one option of a question.
type offer struct {
	id, name, sub string
	more          string // under sub
}

// ask shows a question.
func (m *Model) ask(q question) {
	m.serial++
	q.Serial, q.Option = m.serial, -1
	if l := m.data.line(m.current); q.About == "" && l != nil {
		q.About = l.Designation
	}
	m.prompt = &q
	m.match()
	m.render()
}

// choose asks for one of a few answers. What is typed leaves those that have a word
// which begins so; where it is none of them, no answer is taken.
func (m *Model) choose(p Prompt, offers []offer, then func(id string)) {
	p.Hint = strings.TrimSpace(p.Hint + " Arrows choose, Enter takes it.")
	m.ask(question{
		Prompt: p,
		match: func(text string) []offer {
			return slices.DeleteFunc(slices.Clone(offers), func(o offer) bool { return !beginsAWord(o.name, text) })
		},
		pick: func(text, id string) error {
			if id == "" {
				var names []string
				for _, o := range offers {
					names = append(names, o.name)
				}
				return say("%q is no answer: it is %s.", strings.TrimSpace(text), strings.Join(names, " or "))
			}
			then(id)
			return nil
		},
	})
}

// beginsAWord reports whether a name, or a word of it, begins with a text.
func beginsAWord(name, text string) bool {
	name, text = " "+strings.ToLower(name), strings.ToLower(strings.TrimSpace(text))
	return strings.Contains(name, " "+text)
}

// Type follows what is typed as an answer.
func (m *Model) Type(text string) {
	if m.prompt == nil || m.working.Busy() {
		return
	}
	m.prompt.Text, m.prompt.Error = text, ""
	m.match()
	m.render()
}

func (m *Model) match() {
	q := m.prompt
	if q.match == nil {
		return
	}
	q.Options, q.offers, q.Option = nil, nil, -1
	for i, o := range q.match(q.Text) {
		if i == maxOptions {
			break
		}
		q.Options = append(q.Options, table.Row{ID: o.id, Cells: []table.Cell{table.Name(o.name, ""), {Text: o.sub, Sub: o.more}}})
		q.offers = append(q.offers, o.id)
		q.Option = 0
	}
}

// ChooseOption takes the option with that index as the answer.
func (m *Model) ChooseOption(index int) {
	if m.prompt == nil || index < 0 || index >= len(m.prompt.Options) {
		return
	}
	m.prompt.Option = index
	m.answer()
}

// promptKey does what a key is for while a question is open.
func (m *Model) promptKey(key string) {
	q := m.prompt
	switch key {
	case "Enter":
		m.answer()
		return
	case "Esc":
		m.prompt = nil
	case "Up":
		q.Option = max(q.Option-1, min(0, len(q.Options)-1))
	case "Down": // goes round: a field of one line keeps Up to itself
		if n := len(q.Options); n > 0 {
			q.Option = (q.Option + 1) % n
		}
	default: // of an answer, when a tap beside the field took the focus out of it
		m.Type(q.Text + key)
		return
	}
	m.render()
}

// answer takes the answer, which may ask the next question, or shows why it does not.
func (m *Model) answer() {
	q := m.prompt
	m.prompt = nil
	var err error
	if q.pick != nil {
		chosen := ""
		if q.Option >= 0 {
			chosen = q.offers[q.Option]
		}
		err = q.pick(q.Text, chosen)
	} else {
		err = q.accept(q.Text)
	}
	if err != nil {
		q.Error = wording.Error(err)
		m.prompt = q
	}
	m.render()
}
