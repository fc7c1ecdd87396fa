package main

import (
	"errors"
	"fmt"
	"io"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// weighCommand counts pieces by their weight.
type weighCommand struct {
	listFlag
	Item         string `arg:"" optional:"" help:"Record the count of this part number; without it nothing is recorded."`
	In           string `help:"The place that it is in, by name or tag; it may be left out where it is in one place." placeholder:"PLACE"`
	Lot          string `help:"The lot." placeholder:"LOT"`
	Line         int    `help:"Record it as what was found of this line of the packing list." placeholder:"NUMBER"`
	Unit         string `help:"What the scale shows: g, oz or lb." enum:"g,oz,lb" default:"g"`
	Step         string `help:"The smallest difference that the scale shows (of an item or line: default as the last time)." placeholder:"0.1"`
	Tare         string `help:"The empty container." default:"0" placeholder:"24.3"`
	Gross        string `help:"The container with all the pieces." required:"" placeholder:"160.4"`
	Sample       string `help:"How many pieces were counted out and weighed (of an item or line: default the sample of the last time)." placeholder:"100"`
	SampleWeight string `help:"What those weigh, without a container." placeholder:"8.1"`
	Blind        bool   `help:"One of several hands weighs an item, or a line that was counted, and none is told what the others found: two that agree settle it."`
	By           string `help:"Who weighed, with --blind (default: the hand that works)." placeholder:"HAND"`
	Expect       string `help:"The weight that is listed, with its unit, to hold beside." placeholder:"\"0.30 lb\""`
}

type weighAnswer struct {
	Number   int64    `json:"number"`
	Low      int64    `json:"low"`
	High     int64    `json:"high"`
	Estimate bool     `json:"estimate"`
	Net      string   `json:"net"`
	Unit     string   `json:"unit"` // of net
	Piece    string   `json:"piece"`
	Expected string   `json:"expected,omitempty"`
	Recorded *changed `json:"recorded,omitempty"`
	about    store.Amount
}

// usage is what is wrong with the flags together.
func (c *weighCommand) usage() error {
	switch {
	case c.Item != "" && c.Line != 0:
		return &usageError{errors.New("give a part number or --line, not both")}
	case (c.Sample == "") != (c.SampleWeight == ""):
		return &usageError{errors.New(wantSample)}
	case c.By != "" && !c.Blind:
		return &usageError{errors.New("--by goes with --blind: --hand says who works")}
	case c.Blind && (c.Expect != "" || c.Item == "" && c.Line == 0):
		return &usageError{errors.New("--blind records: give it a part number or --line, and nothing to expect")}
	}
	return nil
}

// Run counts, and records the count where it is said of what.
func (c *weighCommand) Run(p *program) error {
	if err := c.usage(); err != nil {
		return err
	}
	heap := operation.Heap{Item: c.Item, From: c.In, Lot: c.Lot}
	switch {
	case c.Item == "" && c.Line == 0:
		m, err := c.readings().Weighing(inRegion())
		if err != nil {
			return flagError(err)
		}
		return c.answer(p, m, nil)
	case c.Blind && c.Line != 0: // no figure is printed: the next hand may look on
		return flagError(p.do(operation.CountLineBlind{List: c.List, Line: c.Line, Readings: c.readings(), By: c.By}))
	case c.Blind:
		return flagError(p.do(operation.CountBlind{Heap: heap, Readings: c.readings(), By: c.By}))
	}
	return p.withSession(func(s *session.Session) error {
		if c.Line != 0 && c.Expect == "" {
			line, err := operation.LineOf(s, c.List, c.Line)
			if err != nil {
				return err
			}
			if line.Listed.Unit.IsWeight() {
				c.Expect = line.Listed.String()
			}
		}
		o := operation.Weigh{Heap: heap, List: c.List, Line: c.Line, Lot: c.Lot, Readings: c.readings()}
		r, err := o.Do(p.ctx, s)
		if err != nil {
			return flagError(err)
		}
		return c.answer(p, *r.Weighing, &changed{Entry: r.Entry.Seq, Hand: r.Entry.Hand, Text: r.Words()})
	})
}

func (c *weighCommand) readings() operation.Readings {
	return operation.Readings{Unit: measure.Unit(c.Unit), Step: c.Step, Tare: c.Tare, Gross: c.Gross, Pieces: c.Sample, Net: c.SampleWeight}
}

// What is asked for where a flag was left out.
const (
	wantStep   = "give the step of the scale as --step 0.1: the smallest difference that it shows"
	wantSample = "give a sample as --sample 100 --sample-weight 8.1: so many counted pieces, and what they weigh"
)

// flagError names the flag that an error about a reading is about.
func flagError(err error) error {
	var untyped *operation.Untyped
	var wrong *measure.WeighError
	switch {
	case errors.As(err, &untyped) && untyped.Reading == measure.StepReading:
		return &usageError{errors.New(wantStep)}
	case errors.As(err, &untyped):
		return &usageError{errors.New(wantSample)}
	case errors.As(err, &wrong):
		return &usageError{wrong}
	}
	return err
}

// answer prints what a weighing comes to.
func (c *weighCommand) answer(p *program, m measure.Weighing, recorded *changed) error {
	n, err := m.Count()
	if err != nil {
		return &usageError{err}
	}
	a := weighAnswer{Number: n.Pieces, Low: n.Low, High: n.High, Net: n.Net.Plain(), Unit: string(n.Net.Unit), Piece: m.Sample.Piece(), Recorded: recorded, about: store.AmountWeighed(n)}
	a.Estimate = a.about.Estimate()
	if c.Expect != "" {
		var expect measure.Quantity
		if err := expect.UnmarshalText([]byte(c.Expect)); err != nil {
			return &usageError{fmt.Errorf("--expect %q is not a weight: give it with its unit, such as \"0.30 lb\"", c.Expect)}
		}
		if a.Expected, err = n.Beside(expect); err != nil {
			return &usageError{fmt.Errorf("--expect %q is not a weight: give it in g, oz, lb or kg", c.Expect)}
		}
	}
	return p.emit(a, a.print)
}

func (a weighAnswer) print(w io.Writer) error {
	_, err := fmt.Fprintf(w, "%s\n  %s %s net, one piece %s\n", a.about, a.Net, a.Unit, a.Piece)
	if err == nil && a.Expected != "" {
		_, err = fmt.Fprintf(w, "  %s\n", a.Expected)
	}
	if err == nil && a.Recorded != nil {
		_, err = fmt.Fprintf(w, "%d  %s: %s\n", a.Recorded.Entry, a.Recorded.Hand, a.Recorded.Text)
	}
	if err == nil {
		_, err = fmt.Fprintln(w, "A weighed count is an estimate.")
	}
	return err
}
