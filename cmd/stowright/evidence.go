package main

import (
	"context"
	"fmt"
	"io"

	"stowright/app/evidence"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// evidenceCommand shows what the shop knows of one thing, or writes it to a file.
type evidenceCommand struct {
	asOfFlag
	replaceFlag
	Code      string `arg:"" optional:"" help:"A sub-assembly, by its code." placeholder:"SA-20"`
	Item      string `help:"In place of a sub-assembly: an item." placeholder:"NUMBER"`
	Lot       string `help:"In place of a sub-assembly: a lot; with --item where several have that printed." placeholder:"L-17"`
	Component string `help:"In place of a sub-assembly: a component, by its name or serial number." placeholder:"CO-1"`
	Aircraft  string `help:"In place of a sub-assembly: an aircraft, with all that was built for it." placeholder:"NAME"`
	Save      string `help:"Write it to a file: .pdf with the photographs, or .csv." type:"path" placeholder:"FILE"`
}

// savedAnswer is the answer where a file was written.
type savedAnswer struct {
	File        string     `json:"file"`
	Day         store.Date `json:"day"`
	Entry       uint64     `json:"entry"`
	Photographs int        `json:"photographs"`
}

func (c *evidenceCommand) subject() evidence.Subject {
	of := evidence.Subject{SubAssembly: c.Code, Item: c.Item, Lot: c.Lot, Component: c.Component, Aircraft: c.Aircraft}
	if of.Lot != "" {
		of.Item, of.Of = "", c.Item
	}
	return of
}

// Run gathers it, and prints or writes it.
func (c *evidenceCommand) Run(p *program) error {
	c.on(p)
	return p.withSession(func(s *session.Session) error {
		var book evidence.Book
		err := p.long(func(ctx context.Context) (err error) {
			if book, err = evidence.Gather(ctx, &s.Shop.Reader, c.subject()); err != nil || c.Save == "" {
				return err
			}
			return evidence.Save(ctx, s, book, c.Save, c.files(p))
		})
		if err != nil {
			return err
		}
		if c.Save == "" {
			return p.emit(book, func(w io.Writer) error {
				_, err := io.WriteString(w, book.Text())
				return err
			})
		}
		photographs := len(book.Photos())
		return p.emit(savedAnswer{c.Save, book.Day, book.Head.Entry, photographs}, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, "The evidence is in %s, as of %s, entry %d, with %s.\n", c.Save, book.Day, book.Head.Entry, wording.Plural(photographs, "photograph", "photographs"))
			return err
		})
	})
}

// valueCommand shows what the things of the shop cost, by where they are, or writes it.
type valueCommand struct {
	asOfFlag
	replaceFlag
	Save string `help:"Write it to a file: .pdf or .csv." type:"path" placeholder:"FILE"`
}

// Run adds it up, and prints or writes it.
func (c *valueCommand) Run(p *program) error {
	c.on(p)
	return p.withSession(func(s *session.Session) error {
		value, err := evidence.ValueOf(&s.Shop.Reader)
		if err != nil {
			return err
		}
		if c.Save == "" {
			return p.emit(value, func(w io.Writer) error {
				_, err := io.WriteString(w, value.Book().Text())
				return err
			})
		}
		err = p.long(func(ctx context.Context) error { return evidence.Save(ctx, s, value, c.Save, c.files(p)) })
		if err != nil {
			return err
		}
		return p.emit(savedAnswer{File: c.Save, Day: value.Day, Entry: value.Head.Entry}, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, "The value as of %s, entry %d, is in %s.\n", value.Day, value.Head.Entry, c.Save)
			return err
		})
	})
}
