package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"strings"

	"stowright/app/labelling"
	"stowright/app/printing"
	"stowright/app/session"
	"stowright/labels"
	"stowright/store"
)

// labelsCommand writes a PDF of labels.
type labelsCommand struct {
	replaceFlag
	Out      string `help:"The PDF to write." required:"" type:"path" placeholder:"FILE.pdf"`
	Stock    string `help:"What to print on: ${stocks}, or a size of your own in millimetres, such as \"${stock_example}\", \"57 x 32\" or \"40 mm roll\"." default:"letter-3x10"`
	Places   string `help:"Which places: a name such as \"Cabinet A\" (what is in it) or a pattern such as A-*. Without it, every drawer, bin, tub and shelf."`
	StartAt  int    `help:"The first free label of a used sheet, counted row by row from 1." default:"1"`
	Copies   int    `help:"How many of each label." default:"1"`
	Sizes    bool   `name:"sizing-card" help:"In place of labels: what lies in these places at its real size, to lay a loose piece on."`
	CutMarks bool   `help:"Mark the corners of each label, for plain paper."`
	Printer  string `help:"Print them as well, on this printer, at actual size and on the paper that the stock is." placeholder:"NAME"`
	Error    string `name:"printer-error" help:"By how many millimetres the printer prints too far right and too low, as measured on a test print: \"0.5 -1.2\"." placeholder:"\"RIGHT DOWN\""`
}

// printedLabel is a label in the JSON answer. Page counts from 1.
type printedLabel struct {
	Tag  string `json:"tag"`
	Text string `json:"text"`
	Page int    `json:"page"`
}

type labelsAnswer struct {
	PDF    string         `json:"pdf"`
	Pages  int            `json:"pages"`
	Paper  string         `json:"paper,omitempty"` // of the printer, where they were printed
	Labels []printedLabel `json:"labels"`
}

// Run writes the PDF and says what is on which page.
func (c *labelsCommand) Run(p *program) error {
	stock, err := labels.StockNamed(c.Stock)
	if err != nil {
		return &usageError{fmt.Errorf("--stock: %w; the stocks are %s", err, stockNames())}
	}
	wrong, err := labels.ParseCorrection(c.Error)
	if err != nil {
		return &usageError{fmt.Errorf("--printer-error: %w", err)}
	}
	if c.Copies < 1 || c.Copies > labels.MostCopies {
		return &usageError{fmt.Errorf("--copies: print 1 to %d of each label", labels.MostCopies)}
	}
	if c.StartAt < 1 || c.StartAt > stock.PerPage() {
		return &usageError{fmt.Errorf("--start-at: a sheet of %s has labels 1 to %d", stock.Words, stock.PerPage())}
	}
	return p.withSession(func(s *session.Session) error {
		places, err := s.PlacesMatching(c.Places)
		if err != nil {
			return err
		}
		if len(places) == 0 {
			return &noError{fmt.Sprintf("no place of this shop is called %q: try a pattern such as A-*.", c.Places), ""}
		}
		if c.Sizes {
			return c.sizes(p, s, stock, places)
		}
		answer, doc, err := c.lay(p.ctx, s, stock, places)
		if err != nil {
			return err
		}
		if err := session.WritePDF(c.Out, wrong.Apply(doc), labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
			return err
		}
		if c.Printer != "" {
			if answer.Paper, err = labelling.SendTo(p.ctx, printing.Here(), c.Printer, wrong.Apply(doc), p.clock()); err != nil {
				return err
			}
		}
		return p.emit(answer, func(w io.Writer) error {
			if answer.Paper != "" {
				_, err := fmt.Fprintf(w, "%d labels went to %s at actual size, on its paper %s; they are in %s too.\n%s\n", len(answer.Labels), c.Printer, answer.Paper, c.Out, labels.Caution)
				return err
			}
			_, err := fmt.Fprintf(w, "%d labels on %d pages of %s in %s. Print at 100 %%, not fitted to the page.\n%s\n",
				len(answer.Labels), answer.Pages, stock.Words, c.Out, labels.Caution)
			return err
		})
	})
}

func (c *labelsCommand) lay(ctx context.Context, s *session.Session, stock labels.Stock, places []store.Place) (labelsAnswer, labels.Document, error) {
	answer := labelsAnswer{PDF: c.Out, Labels: []printedLabel{}}
	list, err := s.Labels(places)
	if err != nil {
		return answer, labels.Document{}, err
	}
	doc, err := labels.Layout(list, stock, labels.Options{StartAt: c.StartAt - 1, Copies: c.Copies, CutMarks: c.CutMarks})
	if err == nil {
		err = session.ReadBack(ctx, doc, list, func(float64) {})
	}
	if err != nil {
		return answer, doc, err
	}
	answer.Pages = len(doc.Pages)
	for n, page := range doc.Pages {
		for _, cell := range page.Cells {
			l := list[cell.Label]
			answer.Labels = append(answer.Labels, printedLabel{Tag: l.Tag, Text: strings.TrimSpace(l.Name + " " + l.Place), Page: n + 1})
		}
	}
	return answer, doc, nil
}

// sizes writes the sizing card of places.
func (c *labelsCommand) sizes(p *program, s *session.Session, stock labels.Stock, places []store.Place) error {
	card, err := s.SizingCard(cmp.Or(c.Places, "Sizing card"), places)
	if err != nil {
		return err
	}
	doc, err := card.Layout(stock)
	if err != nil {
		return &usageError{fmt.Errorf("--stock: %w", err)}
	}
	if err := session.WritePDF(c.Out, doc, labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
		return err
	}
	return p.emit(sheetAnswer{c.Out, len(doc.Pages)}, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%d pieces on %d pages in %s. Print at 100 %%, not fitted to the page.\n", len(card.Pieces), len(doc.Pages), c.Out)
		return err
	})
}

func stockNames() string {
	var names []string
	for _, s := range labels.Stocks() {
		names = append(names, s.Name)
	}
	return strings.Join(names, ", ")
}
