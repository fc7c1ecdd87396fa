package handbook

import (
	"context"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
)

// Answer is what a chooser shows of bolts or rivets for a thickness.
type Answer struct {
	Heading  string
	Problem  string // a sentence; "" for none
	Rows     []table.Row
	Chosen   int            // index, -1 for none
	Section  *drawing.Piece // the chosen one cut along its axis; nil for none
	Facts    []card.Fact    // what is said of the chosen one
	Cautions []card.Fact
	Card     card.Card
}

// option is one bolt or rivet of an answer.
type option struct {
	designation string
	row         table.Row
	section     hardware.Outline
	facts       []card.Fact
}

// chooser keeps an answer and which of its options is chosen. It is the part that
// choosing bolts and choosing rivets have in common.
type chooser struct {
	session *session.Session
	show    func()
	answer  Answer
	options []option
	working loop.Latest // the answer out
	card    loop.Latest // of the chosen option
}

// refuse shows why there is no answer.
func (c *chooser) refuse(heading, problem string) {
	c.working.Drop()
	c.card.Drop()
	c.options = nil
	c.answer = Answer{Heading: heading, Problem: problem, Chosen: -1}
	c.show()
}

// ask works an answer out away from the window and shows it.
func (c *chooser) ask(work func() (Answer, []option, error)) {
	type found struct {
		answer  Answer
		options []option
	}
	loop.DoLatest(c.session.Loop, &c.working, func(context.Context) (found, error) {
		a, o, err := work()
		return found{a, o}, err
	}, func(f found, err error) {
		if err != nil {
			c.refuse("No answer", wording.Sentence(err.Error()))
			return
		}
		was := ""
		if c.answer.Chosen >= 0 && c.answer.Chosen < len(c.options) {
			was = c.options[c.answer.Chosen].designation
		}
		c.answer, c.options = f.answer, f.options
		c.answer.Chosen = -1
		at := 0
		for i, o := range c.options {
			c.answer.Rows = append(c.answer.Rows, o.row)
			if o.designation == was {
				at = i
			}
		}
		c.choose(at)
	})
}

// choose shows the section and the findings of an option.
func (c *chooser) choose(index int) {
	if index < 0 || index >= len(c.options) {
		c.show()
		return
	}
	o := c.options[index]
	c.answer.Chosen, c.answer.Facts, c.answer.Section = index, o.facts, nil
	if len(o.section.Views) > 0 {
		p := drawing.PieceOfView(o.section.Views[0], c.session.Lengths())
		p.Caption = strings.Join(append([]string{"drawn to scale"}, o.section.Notes...), "; ")
		c.answer.Section = &p
	}
	c.show()
	loop.DoLatest(c.session.Loop, &c.card, func(context.Context) (card.Card, error) { return c.session.PieceCard(o.designation) }, func(k card.Card, err error) {
		if err != nil {
			k = card.Card{Designation: o.designation, Notes: []string{err.Error()}}
		}
		c.answer.Card = k
		c.show()
	})
}

// under is what stands under a designation in few words: whether it is at hand,
// what it is, and the mark that must go with it.
func under(what, mark string, inShop bool) string {
	var words []string
	if inShop {
		words = append(words, "in the shop")
	}
	if what != "" {
		words = append(words, what)
	}
	if mark != "" {
		words = append(words, mark)
	}
	return strings.Join(words, " · ")
}
