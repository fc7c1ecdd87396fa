package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/unpack"
	"stowright/labels"
	"stowright/store"
	"stowright/store/phrase"
)

// sheetCommand prints the check-off sheet of a crate, or enters what was ticked on it.
type sheetCommand struct {
	listFlag
	replaceFlag
	Crate string   `arg:"" help:"The crate, as the packing list names it."`
	Out   string   `help:"The PDF to write." type:"path" placeholder:"FILE.pdf"`
	Enter []string `help:"What was ticked, as one entry: the line and how many were found of it, \"a\" for all and \"n\" for none." placeholder:"LINE=FOUND,..."`
}

type sheetAnswer struct {
	PDF   string `json:"pdf"`
	Pages int    `json:"pages"`
}

// Run writes the sheet, or enters it.
func (c *sheetCommand) Run(p *program) error {
	if (c.Out == "") == (len(c.Enter) == 0) {
		return &usageError{fmt.Errorf("say --out FILE.pdf to print the sheet, or --enter 38=12,39=a to enter what was ticked on it")}
	}
	if len(c.Enter) > 0 {
		return c.enter(p)
	}
	return p.withSession(func(s *session.Session) error {
		ship, err := operation.ShipmentNamed(s, c.List)
		if err != nil {
			return err
		}
		doc, err := unpack.SheetPaper(s, ship.ID, c.Crate)
		if err != nil {
			return err
		}
		if err := session.WritePDF(c.Out, doc, labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
			return err
		}
		return p.emit(sheetAnswer{c.Out, len(doc.Pages)}, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, "%d pages in %s. Print at 100 %%.\n", len(doc.Pages), c.Out)
			return err
		})
	})
}

// enter enters the lines of the crate that were ticked.
func (c *sheetCommand) enter(p *program) error {
	o := operation.Column{List: c.List}
	for _, pair := range c.Enter {
		line, found, ok := strings.Cut(pair, "=")
		t := operation.Ticked{Found: found}
		if _, err := fmt.Sscanf(line, "%d", &t.Line); err != nil || !ok {
			return &usageError{fmt.Errorf("--enter: %q is no line with what was found of it: write it like 38=12", pair)}
		}
		o.Found = append(o.Found, t)
	}
	return p.withSession(func(s *session.Session) error {
		for _, t := range o.Found {
			l, err := operation.LineOf(s, c.List, t.Line)
			if err != nil {
				return err
			}
			if !strings.EqualFold(l.Crate, c.Crate) {
				return &store.Error{Kind: store.Invalid, Where: fmt.Sprint(t.Line), Message: fmt.Sprintf("Line %d is in %s, and this is the sheet of %s: look at the line again.", l.Number(), phrase.Crate(l.Crate), phrase.Crate(c.Crate))}
			}
		}
		return p.doIn(s, o)
	})
}
