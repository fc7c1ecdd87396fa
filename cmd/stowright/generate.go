package main

import (
	"errors"
	"fmt"
	"io"
	"time"

	"stowright/app/demo"
)

// maxGenerated is the most items that a generated shop may have.
const maxGenerated = 1_000_000

// generatedAnswer is the JSON answer of a demo of a given size.
type generatedAnswer struct {
	Shop    string  `json:"shop"`
	Items   int     `json:"items"`
	Entries uint64  `json:"entries"`
	Seconds float64 `json:"seconds"`
}

// badSize is what is wrong with the size that was asked for, before any file is touched.
func (c *demoCommand) badSize() error {
	if c.Size < 0 || c.Size > maxGenerated {
		return &usageError{fmt.Errorf("--size: %d is not a number of items from 1 to %d", c.Size, maxGenerated)}
	}
	return nil
}

// generate fills the demo's file with a generated shop, and opens the desktop on it
// where there is a display and a window is wanted.
func (c *demoCommand) generate(p *program) error {
	shop, err := p.open(true)
	if err != nil {
		return err
	}
	began, line := time.Now(), p.progress()
	err = demo.Generate(p.ctx, shop, c.Size, func(done, total int) { line.entries(uint64(done), uint64(total)) })
	line.clear()
	last, err2 := shop.Entries(0, 1)
	if err := errors.Join(err, err2); err != nil {
		return errors.Join(err, shop.Close())
	}
	answer := generatedAnswer{Shop: p.shop, Items: c.Size, Entries: last[0].Seq, Seconds: time.Since(began).Seconds()}
	err = p.emit(answer, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "Generated a shop of %d items and %d entries: %s\n", answer.Items, answer.Entries, p.shop)
		return err
	})
	if err == nil && !c.NoWindow && hasDisplay() {
		return c.show(p, shop, nil)
	}
	return errors.Join(err, shop.Close())
}
