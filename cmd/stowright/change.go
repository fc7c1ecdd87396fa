package main

import (
	"fmt"
	"io"

	"stowright/app/session"
	"stowright/store"
)

// changed is what a command that changes the shop prints: its entry in the journal,
// and the tag of the place that was made.
type changed struct {
	Entry uint64 `json:"entry"`
	Hand  string `json:"hand"`
	Text  string `json:"text"`
	Tag   string `json:"tag,omitempty"`
}

// change does one verb and prints its entry.
func (p *program) change(do func(*session.Session) (store.Entry, error)) error {
	return p.withSession(func(s *session.Session) error {
		e, err := do(s)
		if err != nil {
			return err
		}
		return p.changed(e, store.Place{})
	})
}

func (p *program) changed(e store.Entry, made store.Place) error {
	return p.emit(changed{Entry: e.Seq, Hand: e.Hand, Text: e.Text, Tag: string(made.Tag)}, func(w io.Writer) error {
		line := fmt.Sprintf("%d  %s: %s\n", e.Seq, e.Hand, e.Text)
		if made.ID != "" {
			line += "tag " + made.Tag.Spaced() + "\n"
		}
		_, err := io.WriteString(w, line)
		return err
	})
}
