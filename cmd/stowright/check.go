package main

import (
	"errors"
	"fmt"
	"io"

	"stowright/store"
)

// checkCommand proves that the shop file is whole.
type checkCommand struct{}

// Run replays the journal and prints what it found.
func (checkCommand) Run(p *program) error {
	shop, err := p.open(false)
	if err != nil {
		return err
	}
	line := p.progress()
	r, err := shop.Check(p.ctx, line.entries)
	line.clear()
	if err = errors.Join(err, shop.Close()); err != nil {
		return err
	}
	if err := p.emit(r, func(w io.Writer) error { return printReport(w, r) }); err != nil {
		return err
	}
	if !r.OK {
		return &store.Error{Kind: store.Corrupt, Where: p.shop, Message: fmt.Sprintf("%s is not whole: keep it, and open a copy made earlier.", p.shop)}
	}
	return nil
}

func printReport(w io.Writer, r store.Report) error {
	for _, problem := range r.Problems {
		if _, err := fmt.Fprintln(w, problem); err != nil {
			return err
		}
	}
	if !r.OK {
		return nil
	}
	_, err := fmt.Fprintf(w, "Whole: %d entries replayed, and they add up to what the file says.\n", r.Entries)
	return err
}
