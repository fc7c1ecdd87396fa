package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// alertCommand records an alert or its next issue, releases lots from it, and says where
// what it names is.
type alertCommand struct {
	Alert   string   `arg:"" optional:"" help:"The alert, by its number; without one, a new alert." placeholder:"A-3"`
	Title   string   `help:"What a new alert is called." placeholder:"WORDS"`
	Item    string   `help:"The part number that an issue names." placeholder:"DESIGNATION"`
	Lot     []string `help:"A lot that it names, as it is marked; with --release, one that is released." placeholder:"LOT"`
	From    string   `help:"What it names was sent on this day or later." placeholder:"2026-03-01"`
	Until   string   `help:"What it names was sent on this day or before." placeholder:"2026-03-31"`
	Maker   string   `help:"Who made what it names." placeholder:"NAME"`
	Issued  string   `help:"The day of the issue." placeholder:"2026-05-01"`
	Paper   string   `help:"Its paper, by its number." placeholder:"PA-3"`
	Note    string   `help:"Anything else." placeholder:"WORDS"`
	Release string   `help:"Release lots by this decision." placeholder:"D-2"`
}

// alertAnswer is an alert in the JSON answer: four lists that are never one.
type alertAnswer struct {
	Alert      string        `json:"alert"`
	Title      string        `json:"title"`
	Issues     []store.Issue `json:"issues"`
	Named      []lotAnswer   `json:"named"`
	CannotTell []lotAnswer   `json:"cannot_tell"`
	Near       []lotAnswer   `json:"near"`
	Assembled  []string      `json:"assembled"`
}

// Run does it, and says what the alert comes to.
func (c *alertCommand) Run(p *program) error {
	return p.withSession(func(s *session.Session) error {
		var o operation.Operation
		switch {
		case c.Release != "":
			o = operation.AnswerAlert{Alert: c.Alert, Decision: c.Release, Lots: c.Lot, Item: c.Item}
		case c.Item != "" || c.Alert == "":
			o = operation.Alert{
				Alert: c.Alert, Title: c.Title, Item: c.Item, Lots: c.Lot, From: c.From, Until: c.Until, Maker: c.Maker, Day: c.Issued, Paper: c.Paper, Note: c.Note,
			}
		}
		if o != nil {
			if _, err := o.Do(p.ctx, s); err != nil {
				return err
			}
		}
		var answer alertAnswer
		err := s.Read(func(r *session.Reader) (err error) {
			answer, err = c.answer(r)
			return err
		})
		if err != nil {
			return err
		}
		return p.emit(answer, answer.print)
	})
}

// answer is the alert that was named, or the newest.
func (c *alertCommand) answer(r *session.Reader) (alertAnswer, error) {
	a := alertAnswer{Named: []lotAnswer{}, CannotTell: []lotAnswer{}, Near: []lotAnswer{}, Assembled: []string{}}
	alerts, err := r.Shop.Alerts()
	if err != nil {
		return a, err
	}
	wanted, _ := store.AlertNumber(c.Alert)
	for _, alert := range alerts {
		if c.Alert == "" || alert.Number == wanted {
			a.Alert, a.Title, a.Issues = alert.Name(), alert.Title, alert.Issues
		}
	}
	number, known := store.AlertNumber(a.Alert)
	if !known {
		return a, &noError{fmt.Sprintf("there is no alert %q: give its number, such as A-3.", c.Alert), c.Alert}
	}
	found, err := r.Shop.AlertFound(number)
	if err != nil {
		return a, err
	}
	a.Assembled = append(a.Assembled, found.Assembled...)
	for _, list := range []struct {
		from []store.Whereabouts
		to   *[]lotAnswer
	}{{found.Named, &a.Named}, {found.CannotTell, &a.CannotTell}, {found.Near, &a.Near}} {
		for _, where := range list.from {
			lot, err := lotAnswerOf(r, where.Lot)
			if err != nil {
				return a, err
			}
			*list.to = append(*list.to, lot)
		}
	}
	return a, nil
}

func (a alertAnswer) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s, issue %d\n", a.Alert, a.Title, len(a.Issues))
	for _, list := range []struct {
		words string
		lots  []lotAnswer
	}{{"named", a.Named}, {"cannot tell, as it was not recorded", a.CannotTell}, {"not named, and nearly the same", a.Near}} {
		for _, l := range list.lots {
			fmt.Fprintf(&b, "%s: %s of %s, %s\n", list.words, cmp.Or(l.Lot, "some"), l.Item, l.Words)
			for _, at := range l.At {
				fmt.Fprintf(&b, "  %s %s\n", at.words(), at.where(l.Lot))
			}
		}
	}
	if len(a.Named)+len(a.CannotTell)+len(a.Near) == 0 {
		b.WriteString("no record here names it\n")
	}
	for _, code := range a.Assembled {
		fmt.Fprintf(&b, "came assembled, what is inside is not known: %s\n", code)
	}
	_, err := io.WriteString(w, b.String())
	return err
}
