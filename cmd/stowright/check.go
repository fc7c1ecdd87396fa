package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/store"
)

// checkCommand proves that the shop file is whole.
type checkCommand struct {
	Paper uint64   `help:"Whether the shop still has this entry and all before it as a printed page says; its hash follows." placeholder:"ENTRY"`
	Hash  []string `arg:"" optional:"" help:"With --paper: the hash of the page, in one piece or in groups; its first 16 digits are enough."`
}

// checkAnswer is what was found, with its words.
type checkAnswer struct {
	store.Report
	Words []string `json:"words,omitempty"` // what the paper is answered, and where the chain of hashes begins
}

// Run replays the journal and prints what it found.
func (c checkCommand) Run(p *program) error {
	paper, err := c.paper()
	if err != nil {
		return err
	}
	var r store.Report
	err = p.withShop(func(shop *store.Shop) (err error) {
		line := p.progress()
		defer line.clear()
		if paper == nil {
			r, err = shop.Check(p.ctx, line.entries)
			return err
		}
		r, err = shop.CheckPaper(p.ctx, *paper, line.entries)
		return err
	})
	if err != nil {
		return err
	}
	if err := p.emit(checkAnswer{r, checkWords(r)}, func(w io.Writer) error { return printReport(w, r) }); err != nil {
		return err
	}
	switch {
	case !r.OK:
		return &store.Error{Kind: store.Corrupt, Where: p.shop, Message: fmt.Sprintf("%s is not whole: keep it, and open a copy made earlier.", p.shop)}
	case r.Paper != nil && r.Paper.Answer != store.AsPrinted:
		return &noError{message: r.Paper.Words(r.Entries), where: p.shop}
	}
	return nil
}

// paper is what a page says; nil where none was named.
func (c checkCommand) paper() (*store.OnPaper, error) {
	switch {
	case c.Paper == 0 && len(c.Hash) > 0:
		return nil, &store.Error{Kind: store.Invalid, Where: c.Hash[0], Message: "A hash is held against a page: give the number of its entry too, as in --paper 200 HASH."}
	case c.Paper == 0:
		return nil, nil
	}
	paper, err := store.ReadPaper(c.Paper, strings.Join(c.Hash, ""))
	return &paper, err
}

// checkWords are the sentences about the chain of hashes.
func checkWords(r store.Report) (words []string) {
	if r.Paper != nil {
		words = append(words, r.Paper.Words(r.Entries))
	}
	if begun := r.BegunWords(); begun != "" {
		words = append(words, begun)
	}
	return words
}

func printReport(w io.Writer, r store.Report) error {
	lines := append([]string{}, r.Problems...)
	if r.OK {
		lines = append(lines, fmt.Sprintf("Whole: %d entries replayed, and they add up to what the file says.", r.Entries))
	}
	if r.Head != nil && r.OK {
		lines = append(lines, fmt.Sprintf("Entry %d: %s", r.Head.Entry, r.Head.Grouped()))
	}
	if r.OK && r.Paper != nil && r.Paper.Answer != store.AsPrinted {
		r.Paper = nil // that it is not so is the error
	}
	_, err := fmt.Fprintln(w, strings.Join(append(lines, checkWords(r)...), "\n"))
	return err
}
