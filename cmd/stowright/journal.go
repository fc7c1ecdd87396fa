package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"stowright/app/operation"
	"stowright/store"
)

// journalCommand shows what was done, the newest first.
type journalCommand struct {
	Limit  int    `help:"How many entries at most." default:"20"`
	Before uint64 `help:"Only those older than this entry." placeholder:"NUMBER"`
}

// journalLine is an entry in the JSON answer.
type journalLine struct {
	Entry  uint64    `json:"entry"`
	At     time.Time `json:"at"`
	Hand   string    `json:"hand"`
	Verb   string    `json:"verb"`
	Text   string    `json:"text"`
	Undoes uint64    `json:"undoes,omitempty"`
}

type journalAnswer struct {
	Entries []journalLine `json:"entries"`
}

// Run prints the entries.
func (c *journalCommand) Run(p *program) error {
	var entries []store.Entry
	err := p.withShop(func(shop *store.Shop) (err error) {
		entries, err = shop.Entries(c.Before, c.Limit)
		return err
	})
	if err != nil {
		return err
	}
	answer := journalAnswer{Entries: []journalLine{}}
	for _, e := range entries {
		answer.Entries = append(answer.Entries, journalLine{e.Seq, e.At, e.Hand, string(e.Verb), e.Text, e.Undoes})
	}
	return p.emit(answer, answer.print)
}

func (a journalAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, e := range a.Entries {
		fmt.Fprintf(&b, "%d  %s  %s: %s\n", e.Entry, e.At.Format("2006-01-02 15:04"), e.Hand, e.Text)
	}
	if len(a.Entries) == 0 {
		b.WriteString("No entries.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// undoCommand writes the opposite of the newest entry that is not undone.
type undoCommand struct{}

// Run undoes.
func (c *undoCommand) Run(p *program) error {
	return p.do(operation.Undo{})
}

// redoCommand takes the newest undo back.
type redoCommand struct{}

// Run redoes.
func (c *redoCommand) Run(p *program) error {
	return p.do(operation.Redo{})
}
