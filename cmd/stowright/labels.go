package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/session"
	"stowright/labels"
	"stowright/store"
)

// labelsCommand writes a PDF of labels.
type labelsCommand struct {
	replaceFlag
	Out      string `help:"The PDF to write." required:"" type:"path" placeholder:"FILE.pdf"`
	Stock    string `help:"What to print on: ${stocks}." default:"letter-3x10"`
	Places   string `help:"Which places: a name such as \"Cabinet A\" (what is in it) or a pattern such as A-*. Without it, every drawer, bin, tub and shelf."`
	StartAt  int    `help:"The first free label of a used sheet, counted row by row from 1." default:"1"`
	CutMarks bool   `help:"Mark the corners of each label, for plain paper."`
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
	Labels []printedLabel `json:"labels"`
}

// Run writes the PDF and says what is on which page.
func (c *labelsCommand) Run(p *program) error {
	stock, err := labels.StockNamed(c.Stock)
	if err != nil {
		return &usageError{fmt.Errorf("--stock: %w; the stocks are %s", err, stockNames())}
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
		answer, doc, err := c.lay(s, stock, places)
		if err != nil {
			return err
		}
		if err := session.WritePDF(c.Out, doc, labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
			return err
		}
		return p.emit(answer, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, "%d labels on %d pages of %s in %s. Print at 100 %%, not fitted to the page.\n%s\n",
				len(answer.Labels), answer.Pages, stock.Words, c.Out, labels.Caution)
			return err
		})
	})
}

func (c *labelsCommand) lay(s *session.Session, stock labels.Stock, places []store.Place) (labelsAnswer, labels.Document, error) {
	answer := labelsAnswer{PDF: c.Out, Labels: []printedLabel{}}
	list, err := s.Labels(places)
	if err != nil {
		return answer, labels.Document{}, err
	}
	doc, err := labels.Layout(list, stock, labels.Options{StartAt: c.StartAt - 1, CutMarks: c.CutMarks})
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

func stockNames() string {
	var names []string
	for _, s := range labels.Stocks() {
		names = append(names, s.Name)
	}
	return strings.Join(names, ", ")
}
