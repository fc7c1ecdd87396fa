package operation

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"stowright/app/region"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// Readings are what a person reads off a scale, as typed, in the unit that it shows.
type Readings struct {
	Unit   measure.Unit
	Step   string // the smallest difference that the scale shows
	Tare   string // the empty container; "": the scale was set to nought with it
	Gross  string // the container with all the pieces
	Pieces string // of the sample: how many were counted out
	Net    string // what those weigh, without a container
}

// Untyped is that a reading is still to be typed, which is no mistake while somebody types.
type Untyped struct{ Reading measure.Reading }

func (e *Untyped) Error() string {
	return "Type what the scale shows: the full container, and a sample of counted pieces."
}

// Weighing reads the readings as typed in a region. Of one that cannot be read the error is a
// *measure.WeighError, and of one that is not there an *Untyped; what could be read is
// returned with it.
func (r Readings) Weighing(in region.Region) (m measure.Weighing, err error) {
	var untyped error
	for _, part := range []struct {
		text    string
		to      *measure.Quantity
		reading measure.Reading
	}{
		{r.Step, &m.Step, measure.StepReading},
		{r.Tare, &m.Tare, measure.TareReading},
		{r.Gross, &m.Gross, measure.GrossReading},
		{r.Net, &m.Sample.Net, measure.SampleReading},
	} {
		part.to.Unit = r.Unit
		if strings.TrimSpace(part.text) == "" {
			if part.reading != measure.TareReading {
				untyped = cmp.Or(untyped, error(&Untyped{part.reading}))
			}
			continue
		}
		q, parseErr := session.ParseAmount(in, part.text, r.Unit)
		if parseErr != nil {
			err = cmp.Or(err, wrongReading(part.reading, parseErr, "%q is not a weight: type a number such as 8.1.", part.text))
		}
		*part.to = q
	}
	m.Sample.Step = m.Step
	pieces := strings.TrimSpace(r.Pieces)
	if pieces == "" {
		return m, cmp.Or(err, untyped, error(&Untyped{measure.PiecesReading}))
	}
	n, parseErr := session.ParseAmount(in, pieces, measure.Each)
	if parseErr != nil {
		err = cmp.Or(err, wrongReading(measure.PiecesReading, parseErr, "%q is not a number of pieces: type one such as 100.", pieces))
	}
	m.Sample.Pieces = n.Micro / measure.Pieces(1).Micro
	return m, cmp.Or(err, untyped)
}

// wrongReading says what is wrong with a reading: a figure with two readings is asked.
func wrongReading(of measure.Reading, why error, format string, args ...any) error {
	if errors.Is(why, region.ErrTwoReadings) {
		return &measure.WeighError{Reading: of, Message: wording.Error(why)}
	}
	return &measure.WeighError{Reading: of, Message: fmt.Sprintf(format, args...)}
}

// Remembered is what is known of a weighing from the last time.
type Remembered struct {
	Sample *measure.Sample  // of the item; nil for none
	Step   measure.Quantity // of the scale
	region region.Region    // where it is typed
}

// LastWeighing is what is remembered of an item and of the scale.
func LastWeighing(s *session.Session, item string) (Remembered, error) {
	settings, err := s.Shop.Settings()
	if err != nil {
		return Remembered{}, err
	}
	known, err := s.Shop.Item(item)
	if store.KindOf(err) == store.NotFound {
		err = nil
	}
	return Remembered{known.Sample, settings.ScaleStep, s.Region}, err
}

// Fill are the readings with what is remembered for the step and for the sample, where
// those were not typed and the scale shows the same unit.
func (l Remembered) Fill(r Readings) Readings {
	if l.Step.Micro > 0 && l.Step.Unit == r.Unit && r.Step == "" {
		r.Step = l.region.Typed(l.Step.Plain())
	}
	if k := l.Sample; k != nil && k.Net.Unit == r.Unit && r.Pieces == "" && r.Net == "" {
		r.Pieces, r.Net = strconv.FormatInt(k.Pieces, 10), l.region.Typed(k.Net.Plain())
		r.Step = cmp.Or(r.Step, l.region.Typed(k.Step.Plain()))
	}
	return r
}

// Same reports whether a weighing has the sample that is remembered, and gives the
// weighing the step that it was weighed with then.
func (l Remembered) Same(m *measure.Weighing) bool {
	if k := l.Sample; k != nil && m.Sample.Pieces == k.Pieces && m.Sample.Net == k.Net {
		m.Sample.Step = k.Step
		return true
	}
	return false
}

// Weigh counts a heap, or what was found of a line of a packing list, by its weight, and
// remembers the sample and the step of the scale.
type Weigh struct {
	Heap     Heap
	List     string // packing list, with Line; "": the only one
	Line     int    // 0: the heap is weighed
	Lot      string // of what was found of the line; "": as it is known
	Readings Readings
	Weighing *measure.Weighing // where Readings were read already
}

// Do records the count. The result has the weighing. In the error of readings that say too
// little, or that are not all there, is a *measure.WeighError or an *Untyped.
func (o Weigh) Do(ctx context.Context, s *session.Session) (Result, error) {
	item, key, err := o.target(s)
	if err != nil {
		return Result{}, err
	}
	m, err := o.weighing(s, item)
	if err != nil {
		return Result{}, err
	}
	var r Result
	if o.Line != 0 {
		r, err = Receive{List: o.List, Line: o.Line, Lot: o.Lot, Weighing: &m}.Do(ctx, s)
	} else {
		r, err = did(s.Shop.WeighSample(key, m))
	}
	r.Weighing = &m
	return r, err
}

// target is the item that is weighed, and its heap where it is no line.
func (o Weigh) target(s *session.Session) (item string, key store.StockKey, err error) {
	if o.Line != 0 {
		line, err := LineOf(s, o.List, o.Line)
		return line.Designation, key, err
	}
	heap, err := counted(s, o.Heap)
	return heap.Item, heap.StockKey, err
}

func (o Weigh) weighing(s *session.Session, item string) (measure.Weighing, error) {
	if o.Weighing != nil {
		return *o.Weighing, nil
	}
	return o.Readings.of(s, item)
}

// of is the weighing of an item that readings come to, with what is remembered of the last.
func (r Readings) of(s *session.Session, item string) (measure.Weighing, error) {
	last, err := LastWeighing(s, item)
	if err != nil {
		return measure.Weighing{}, err
	}
	m, err := last.Fill(r).Weighing(s.Region)
	if err == nil {
		last.Same(&m)
		_, err = m.Count()
	}
	if err != nil {
		err = &store.Error{Kind: store.Invalid, Where: item, Message: err.Error(), Err: err}
	}
	return m, err
}
