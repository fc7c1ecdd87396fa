package labelling

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stowright/app/wording"
	"stowright/labels"
)

// Setup is how the labels are put on their stock, and what the printer does to them.
type Setup struct {
	Copies   int  // of each label, from 1
	CutMarks bool // at the corners of each label
	Printer  string
	Error    labels.Correction // that of the printer, as it was measured
}

// Typed is a setup as a person types it.
type Typed struct {
	Copies   string // empty for one
	CutMarks bool
	Size     string // of labels of one's own; empty for none
	Printer  string
	Error    string // of the printer, as two numbers; empty for none
}

// Refused says what is wrong with what was typed, field by field; empty for nothing.
type Refused struct{ Copies, Size, Error string }

// Memory keeps what belongs to the machine and not to the shop between runs, as text by
// name.
type Memory interface {
	String(name string) string
	SetString(name, text string)
}

// What is kept, by name. The error of a printer is kept by the printer's name.
const (
	sizesKey   = "labels.sizes" // one a line
	printerKey = "labels.printer"
	errorKey   = "labels.printer-error."
)

// mostSizes is how many sizes of one's own are kept: the newest.
const mostSizes = 30

// Remember takes what was kept before, and keeps from now on.
func (m *Model) Remember(memory Memory) {
	m.memory = memory
	for line := range strings.Lines(memory.String(sizesKey)) {
		if s, err := labels.ParseStock(strings.TrimSpace(line)); err == nil {
			m.state.Stocks = append(m.state.Stocks, s)
		}
	}
	m.setPrinter(memory.String(printerKey))
}

// setPrinter chooses a printer, with the error that was measured of it.
func (m *Model) setPrinter(name string) {
	m.state.Setup.Printer, m.state.Setup.Error = name, labels.Correction{}
	if m.memory != nil {
		// What is kept was let through once; a text that is damaged corrects nothing.
		m.state.Setup.Error, _ = labels.ParseCorrection(m.memory.String(errorKey + name))
	}
}

// ErrorOf is what is kept of a printer's error, as it is typed; empty for none.
func (m *Model) ErrorOf(printer string) string {
	if m.memory == nil {
		return ""
	}
	return m.memory.String(errorKey + printer)
}

// TakeSetup takes what was typed and lays the labels out anew, or refuses all of it and
// says why.
func (m *Model) TakeSetup(t Typed) Refused {
	var bad Refused
	s := Setup{Copies: 1, CutMarks: t.CutMarks, Printer: t.Printer}
	if text := strings.TrimSpace(t.Copies); text != "" {
		n, err := strconv.Atoi(text)
		if s.Copies = n; err != nil || n < 1 || n > labels.MostCopies {
			bad.Copies = fmt.Sprintf("Type a number from 1 to %d.", labels.MostCopies)
		}
	}
	var err error
	if s.Error, err = labels.ParseCorrection(t.Error); err != nil {
		bad.Error = wording.Sentence(err.Error())
	}
	var own labels.Stock
	if t.Size = strings.TrimSpace(t.Size); t.Size != "" {
		if own, err = labels.ParseStock(t.Size); err != nil {
			bad.Size = wording.Sentence(err.Error())
		}
	}
	if bad != (Refused{}) {
		return bad
	}
	m.state.Setup = s
	if m.memory != nil {
		m.memory.SetString(printerKey, s.Printer)
		m.memory.SetString(errorKey+s.Printer, s.Error.String())
	}
	if t.Size != "" {
		m.takeSize(own)
	}
	m.state.Sheet = 0
	m.Lay()
	return Refused{}
}

// takeSize adds a stock of one's own, unless it is there, and chooses it.
func (m *Model) takeSize(own labels.Stock) {
	at := slices.IndexFunc(m.state.Stocks, func(s labels.Stock) bool { return s.Name == own.Name })
	if at < 0 {
		at = len(m.state.Stocks)
		m.state.Stocks = append(slices.Clone(m.state.Stocks), own)
		if m.memory != nil {
			sizes := append(strings.Split(m.memory.String(sizesKey), "\n"), own.Name)
			sizes = slices.DeleteFunc(sizes, func(s string) bool { return s == "" })
			m.memory.SetString(sizesKey, strings.Join(sizes[max(0, len(sizes)-mostSizes):], "\n"))
		}
	}
	if at != m.state.Stock {
		m.state.Stock, m.state.StartAt, m.state.BadAt = at, 1, ""
	}
}
