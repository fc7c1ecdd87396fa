package main

import (
	"fmt"
	"io"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// changed is what a command that changes the shop prints: its entry in the journal,
// the tag of the place that was made, and why a part number is to be looked at.
type changed struct {
	Entry uint64 `json:"entry"`
	Hand  string `json:"hand"`
	Text  string `json:"text"`
	Tag   string `json:"tag,omitempty"`
	Doubt string `json:"doubt,omitempty"`
}

// do does one operation and prints its entry.
func (p *program) do(o operation.Operation) error {
	if p.asOf != "" {
		return &usageError{fmt.Errorf("--as-of shows how it was on a day: leave it out to change something now")}
	}
	shop, err := p.open(false)
	if err != nil {
		return err
	}
	return p.inSession(shop, func(s *session.Session) error { return p.doIn(s, o) })
}

// doIn is do in a shop that is open.
func (p *program) doIn(s *session.Session, o operation.Operation) error {
	r, err := o.Do(p.ctx, s)
	if err != nil {
		return err
	}
	return p.emit(changed{Entry: r.Entry.Seq, Hand: r.Entry.Hand, Text: r.Entry.Text, Tag: string(r.Place.Tag), Doubt: r.Doubt}, func(w io.Writer) error {
		line := fmt.Sprintf("%d  %s: %s\n", r.Entry.Seq, r.Entry.Hand, r.Words())
		if r.Place.ID != "" {
			line += "tag " + r.Place.Tag.Spaced() + "\n"
		}
		if r.Doubt != "" {
			line += "Look at the number: " + r.Doubt + "\n"
		}
		_, err := io.WriteString(w, line)
		return err
	})
}

// doOrList does an operation; where there is none, it lists what a reading of the shop finds,
// as JSON under a name.
func doOrList[A any](p *program, o operation.Operation, name string, list func(*store.Reader) ([]A, error), print func(io.Writer, []A) error) error {
	if o != nil {
		return p.do(o)
	}
	return p.withShop(func(s *store.Shop) error {
		var answer []A
		err := s.Read(func(r *store.Reader) (err error) {
			answer, err = list(r)
			return err
		})
		if err != nil {
			return err
		}
		return p.emit(map[string][]A{name: answer}, func(w io.Writer) error { return print(w, answer) })
	})
}
