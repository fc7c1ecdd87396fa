package labelling

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"stowright/app/printing"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store/fault"
)

// Printers are the printers of the machine, as package printing reaches them.
type Printers interface {
	Printers(ctx context.Context) (names []string, err error)
	Print(ctx context.Context, j printing.Job) (paper string, err error)
	Show(ctx context.Context, file string) error
}

var _ Printers = printing.System{}

// Print sends the labels to the printer that was chosen before, as soon as their layout is there
// and read back; where there are several and
// none of them was, AskPrinter is called. Where there is no printer at all, the PDF is saved
// to the path and opened in the system's viewer.
func (m *Model) Print(path string) {
	if m.laying() {
		m.waiting = func() { m.Print(path) }
		return
	}
	if len(m.doc.Pages) == 0 {
		m.state.Problem = "Pick at least one group of labels."
		m.show(m.state)
		return
	}
	session.Do(m.session, func() ([]string, error) { return m.printers.Printers(context.Background()) }, func(names []string, err error) {
		m.printOnOneOf(names, path, err)
	})
}

// printOnOneOf goes on with the printers that there are.
func (m *Model) printOnOneOf(names []string, path string, err error) {
	switch {
	case err != nil:
		m.printed("", err)
	case len(names) == 0:
		m.view(path)
	case slices.Contains(names, m.state.Setup.Printer):
		m.printOn(m.state.Setup.Printer)
	case len(names) > 1 && m.AskPrinter != nil:
		m.AskPrinter(names, m.printOn)
	default:
		m.printOn(names[0])
	}
}

// printOn prints on a printer, and remembers it.
func (m *Model) printOn(printer string) {
	if m.laying() { // anew, since it was asked which printer
		m.waiting = func() { m.printOn(printer) }
		return
	}
	m.setPrinter(printer)
	if m.memory != nil {
		m.memory.SetString(printerKey, printer)
	}
	doc, tags, made := m.state.Setup.Error.Apply(m.doc), m.tags(), m.session.Shop.Now()
	session.Do(m.session, func() (string, error) {
		return SendTo(context.Background(), m.printers, printer, doc, made)
	}, func(paper string, err error) {
		if err == nil {
			m.noteMade(tags)
		}
		m.printed(fmt.Sprintf("%s went to %s at actual size, on its paper %s.", wording.Plural(doc.Labels(), "label", "labels"), printer, paper), err)
	})
}

// SendTo prints a document of labels on a printer, one job for each size of page, and
// returns the paper as the printer calls it.
func SendTo(ctx context.Context, printers Printers, printer string, doc labels.Document, made time.Time) (paper string, err error) {
	title := wording.Plural(doc.Labels(), "label", "labels")
	sent := 0
	for _, part := range runs(doc) {
		var pdf bytes.Buffer
		if err := labels.PDF(&pdf, part, labels.PDFOptions{Made: made}); err != nil {
			return "", err
		}
		job := printing.Job{Printer: printer, Title: title, Paper: printing.PaperOf(doc.Stock, part.Pages[0]), PDF: pdf.Bytes()}
		if paper, err = printers.Print(ctx, job); err != nil {
			return "", notSent(sent, err)
		}
		sent += part.Labels()
	}
	return paper, nil
}

// errPartly is among the causes where some labels were printed before a job failed.
var errPartly = errors.New("some of the labels were printed")

// notSent is why a job failed after so many labels had gone to the printer.
func notSent(sent int, err error) error {
	if sent == 0 {
		return err
	}
	return fault.Wrap(errors.Join(errPartly, err), fault.KindOf(err), "", "%s went to the printer, the others did not: leave out what came, then print again. %s",
		wording.Plural(sent, "label", "labels"), wording.Error(err))
}

// runs are the pages of a document that follow each other and are of one size: a job has
// one paper, and labels of tape have their own lengths.
func runs(doc labels.Document) []labels.Document {
	var parts []labels.Document
	for _, p := range doc.Pages {
		if n := len(parts); n > 0 && parts[n-1].Pages[0].W == p.W && parts[n-1].Pages[0].H == p.H {
			parts[n-1].Pages = append(parts[n-1].Pages, p)
			continue
		}
		part := doc
		part.Pages = []labels.Page{p}
		parts = append(parts, part)
	}
	return parts
}

func (m *Model) printed(words string, err error) {
	m.state.Problem, m.state.Saved = "", ""
	switch {
	case errors.Is(err, errPartly):
		m.state.Problem = wording.Error(err)
	case err != nil:
		m.state.Problem = "Nothing was printed. " + wording.Error(err)
	default:
		m.state.Saved, m.state.Lead = words, "Printed:"
	}
	m.show(m.state)
}

// view saves the labels and opens them in the system's viewer.
func (m *Model) view(path string) {
	if m.laying() { // anew, since the printers were asked for
		m.waiting = func() { m.view(path) }
		return
	}
	doc, tags := m.doc, m.tags()
	m.write(withEnding(path), writing{
		make: func() (labels.Document, error) { return doc, nil }, tags: tags,
		show: func(file string) error { return m.printers.Show(context.Background(), file) },
	})
}
