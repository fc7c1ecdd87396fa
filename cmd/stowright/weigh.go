package main

import (
	"errors"
	"fmt"
	"io"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// weighCommand counts pieces by their weight.
type weighCommand struct {
	listFlag
	Item         string `arg:"" optional:"" help:"Record the count of this part number; without it nothing is recorded."`
	In           string `help:"The place that it lies in, by name or tag; it may be left out where it lies in one place." placeholder:"PLACE"`
	Lot          string `help:"The lot." placeholder:"LOT"`
	Line         int    `help:"Record it as what was found of this line of the packing list." placeholder:"NUMBER"`
	Unit         string `help:"What the scale shows: g, oz or lb." enum:"g,oz,lb" default:"g"`
	Step         string `help:"The smallest difference that the scale shows (of an item or line: default as the last time)." placeholder:"0.1"`
	Tare         string `help:"The empty container." default:"0" placeholder:"24.3"`
	Gross        string `help:"The container with all the pieces." required:"" placeholder:"160.4"`
	Sample       int64  `help:"How many pieces were counted out and weighed (of an item or line: default the sample of the last time)." placeholder:"100"`
	SampleWeight string `help:"What those weigh, without a container." placeholder:"8.1"`
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

// Run counts, and records the count where it is told of what.
func (c *weighCommand) Run(p *program) error {
	if c.Item == "" && c.Line == 0 {
		m, err := c.weighing(measure.Quantity{}, nil)
		if err != nil {
			return err
		}
		return c.answer(p, m, nil)
	}
	if c.Item != "" && c.Line != 0 {
		return &usageError{errors.New("give a part number or --line, not both")}
	}
	return p.withSession(func(s *session.Session) error {
		item, record, err := c.target(s)
		if err != nil {
			return err
		}
		settings, err := s.Shop.Settings()
		if err != nil {
			return err
		}
		known, err := s.Shop.Item(item)
		if err != nil && store.KindOf(err) != store.NotFound {
			return err
		}
		m, err := c.weighing(settings.ScaleStep, known.Sample)
		if err != nil {
			return err
		}
		e, err := record(m)
		if err != nil {
			return err
		}
		return c.answer(p, m, &changed{Entry: e.Seq, Hand: e.Hand, Text: e.Text})
	})
}

// target is the item that is weighed, and what records it.
func (c *weighCommand) target(s *session.Session) (item string, record func(measure.Weighing) (store.Entry, error), err error) {
	if c.Line == 0 {
		named := countCommand{Item: c.Item, In: c.In, Lot: c.Lot}
		key, _, err := named.key(s)
		return key.Item, func(m measure.Weighing) (store.Entry, error) { return s.Shop.WeighSample(key, m) }, err
	}
	line, err := c.line(s.Shop, c.Line)
	if c.Expect == "" && line.Listed.Unit.IsWeight() {
		c.Expect = line.Listed.String()
	}
	return line.Designation, func(m measure.Weighing) (store.Entry, error) {
		return s.Shop.Receive(line.Shipment, c.Line, store.Finding{Counted: true, Lot: c.Lot, Weighing: &m})
	}, err
}

// weighing reads the flags; step and sample are those of the last time.
func (c *weighCommand) weighing(step measure.Quantity, sample *measure.Sample) (measure.Weighing, error) {
	unit := measure.Unit(c.Unit)
	var m measure.Weighing
	if c.Step == "" && step.Unit == unit {
		c.Step = step.Plain()
	}
	if c.Step == "" {
		return m, &usageError{errors.New("give the step of the scale as --step 0.1: the smallest difference that it shows")}
	}
	if c.Sample == 0 && c.SampleWeight == "" && sample != nil {
		m.Sample = *sample
	} else if c.Sample == 0 || c.SampleWeight == "" {
		return m, &usageError{errors.New("give a sample as --sample 100 --sample-weight 8.1: so many counted pieces, and what they weigh")}
	}
	for _, f := range []struct {
		flag, text string
		to         *measure.Quantity
	}{{"step", c.Step, &m.Step}, {"tare", c.Tare, &m.Tare}, {"gross", c.Gross, &m.Gross}, {"sample-weight", c.SampleWeight, &m.Sample.Net}} {
		if f.text == "" {
			continue
		}
		q, err := measure.ParseQuantity(f.text, unit)
		if err != nil {
			return m, &usageError{fmt.Errorf("--%s %q is no weight: give a number such as 8.1 (the unit is %s)", f.flag, f.text, unit)}
		}
		*f.to = q
	}
	if c.Sample != 0 {
		m.Sample.Pieces, m.Sample.Step = c.Sample, m.Step
	}
	if _, err := m.Count(); err != nil {
		return m, &usageError{err}
	}
	return m, nil
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
			return &usageError{fmt.Errorf("--expect %q is no weight: give it with its unit, such as \"0.30 lb\"", c.Expect)}
		}
		if a.Expected, err = n.Beside(expect); err != nil {
			return &usageError{fmt.Errorf("--expect %q is no weight: give it in g, oz, lb or kg", c.Expect)}
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
