package main

import (
	"fmt"
	"io"

	"stowright/store"
)

// checkCommand proves that the shop file is whole.
type checkCommand struct{}

// Run replays the journal and prints what it found.
func (checkCommand) Run(p *program) error {
	var r store.Report
	err := p.withShop(func(shop *store.Shop) (err error) {
		line := p.progress()
		defer line.clear()
		r, err = shop.Check(p.ctx, line.entries)
		return err
	})
	if err != nil {
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
