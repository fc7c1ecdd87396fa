package stockdialog

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// WeighForm is what a person types of a weighing, in the unit that is chosen.
type WeighForm struct {
	Unit   int // index into WeighUnits
	Step   string
	Tare   string // empty: the scale was set to nought with the empty container
	Gross  string
	Pieces string
	Net    string
}

// weighUnits are the units that scales show, the ones a kitchen scale shows first.
var weighUnits = []measure.Unit{measure.Gram, measure.Ounce, measure.Pound}

// WeighUnits are the units to choose among, as words.
func WeighUnits() []string {
	words := make([]string, len(weighUnits))
	for i, u := range weighUnits {
		words[i] = string(u)
	}
	return words
}

// WeighState is what the question about a weighing shows.
type WeighState struct {
	Form    WeighForm
	Answer  string          // "about 1,680"; "" while there is none
	Known   string          // "1,668 to 1,692, one piece about 0.081 g"
	Note    string          // what to do, where the sample comes from, or the listed weight beside
	Loaded  bool            // what is remembered is filled in
	Reading measure.Reading // which figure the problem is with; "" for all
	Problem string
}

// Weighing is a count by weight of one item. Its methods are called on the window's
// goroutine.
type Weighing struct {
	session *session.Session
	item    string
	listed  measure.Quantity
	book    func(m measure.Weighing, done func(error))
	show    func(WeighState)

	state  WeighState
	known  *measure.Sample // what a sample weighed the last time
	step   string          // of the scale, the last time
	ready  *measure.Weighing
	loaded bool

	booking loop.Once
}

// NewWeighing asks about an item; listed is the weight on its packing list, nothing
// where there is none. Book does something with the weighing; nil only computes.
func NewWeighing(s *session.Session, item string, listed measure.Quantity, book func(m measure.Weighing, done func(error)), show func(WeighState)) *Weighing {
	return &Weighing{session: s, item: item, listed: listed, book: book, show: show}
}

// State is what is shown now.
func (w *Weighing) State() WeighState { return w.state }

// Load brings what was weighed the last time.
func (w *Weighing) Load() {
	type last struct {
		sample *measure.Sample
		step   measure.Quantity
	}
	session.Do(w.session, func() (last, error) {
		settings, err := w.session.Shop.Settings()
		if err != nil {
			return last{}, err
		}
		item, err := w.session.Shop.Item(w.item)
		if store.KindOf(err) == store.NotFound {
			err = nil
		}
		return last{item.Sample, settings.ScaleStep}, err
	}, func(l last, err error) {
		if err != nil {
			w.state.Problem = wording.Error(err)
			w.show(w.state)
			return
		}
		w.begin(l.sample, l.step)
	})
}

// begin fills in what is remembered, unless something was typed already.
func (w *Weighing) begin(sample *measure.Sample, step measure.Quantity) {
	w.loaded = true
	w.known = sample
	if step.Micro > 0 {
		w.step = step.Plain()
	}
	if w.state.Form != (WeighForm{}) {
		w.Set(w.state.Form)
		return
	}
	f := WeighForm{Step: w.step}
	unit := step.Unit
	if sample != nil && (unit == "" || unit == sample.Net.Unit) {
		unit = sample.Net.Unit
		f.Pieces, f.Net = strconv.FormatInt(sample.Pieces, 10), sample.Net.Plain()
		f.Step = cmp.Or(f.Step, sample.Step.Plain())
	}
	for i, u := range weighUnits {
		if u == unit {
			f.Unit = i
		}
	}
	w.Set(f)
}

// Set shows what the typed figures come to.
func (w *Weighing) Set(f WeighForm) {
	w.state = WeighState{Form: f, Loaded: w.loaded}
	w.ready = nil
	m, old, err := w.read(f)
	switch {
	case old:
		w.state.Note = fmt.Sprintf("%d of them weighed %s the last time, %s each. Weigh others to replace that.", w.known.Pieces, w.known.Net, w.known.Piece())
	case errors.Is(err, errUntyped):
		w.state.Note = howTo
	}
	if err == nil {
		err = w.answer(m)
	}
	var reading *measure.WeighError
	if errors.As(err, &reading) {
		w.state.Reading, w.state.Problem = reading.Reading, reading.Message
	}
	w.show(w.state)
}

const howTo = "Count some pieces out and weigh them: the more, the nearer. Then weigh the container with all of them, and empty. Nothing is typed for the empty one where the scale was set to nought with it."

// errUntyped is that something is not typed yet, which is no problem.
var errUntyped = errors.New("not all is typed")

// read turns the form into a weighing; old says that the sample is the remembered one.
func (w *Weighing) read(f WeighForm) (m measure.Weighing, old bool, err error) {
	unit := weighUnits[f.Unit]
	missing := false
	for _, part := range []struct {
		text     string
		to       *measure.Quantity
		reading  measure.Reading
		optional bool
	}{
		{f.Step, &m.Step, measure.StepReading, false},
		{f.Tare, &m.Tare, measure.TareReading, true},
		{f.Gross, &m.Gross, measure.GrossReading, false},
		{f.Net, &m.Sample.Net, measure.SampleReading, false},
	} {
		part.to.Unit = unit
		if strings.TrimSpace(part.text) == "" {
			missing = missing || !part.optional
			continue
		}
		q, parseErr := measure.ParseQuantity(part.text, unit)
		if parseErr != nil && err == nil {
			err = &measure.WeighError{Reading: part.reading, Message: fmt.Sprintf("%q is no weight: type a number such as 8.1.", part.text)}
		}
		*part.to = q
	}
	pieces := strings.TrimSpace(f.Pieces)
	if pieces != "" && err == nil {
		n, parseErr := measure.ParseQuantity(pieces, measure.Each)
		if parseErr != nil || session.Whole(n) != nil {
			err = &measure.WeighError{Reading: measure.PiecesReading, Message: fmt.Sprintf("%q is no number of pieces: type one such as 100.", pieces)}
		}
		m.Sample.Pieces = n.Micro / measure.Pieces(1).Micro
	}
	m.Sample.Step = m.Step
	if k := w.known; k != nil && m.Sample.Pieces == k.Pieces && m.Sample.Net == k.Net {
		m.Sample.Step, old = k.Step, true
	}
	if err == nil && (missing || pieces == "") {
		err = errUntyped
	}
	return m, old, w.early(m, err)
}

// early says that a sample is too small before the full container is weighed.
func (w *Weighing) early(m measure.Weighing, err error) error {
	if errors.Is(err, errUntyped) && m.Sample.Pieces > 0 && m.Sample.Net.Micro > 0 && m.Step.Micro > 0 {
		if e := m.Sample.Check(); e != nil {
			return e
		}
	}
	return err
}

// answer works the count out.
func (w *Weighing) answer(m measure.Weighing) error {
	n, err := m.Count()
	if err != nil {
		return err
	}
	w.ready = &m
	about := store.AmountWeighed(n)
	w.state.Answer = "about " + about.Number()
	w.state.Known = fmt.Sprintf("%s to %s, one piece %s", about.Low.Number(), about.High.Number(), m.Sample.Piece())
	if !about.Estimate() {
		w.state.Answer, w.state.Known = about.Number(), "one piece "+m.Sample.Piece()
	}
	if w.book == nil {
		w.state.Note = "Nothing is recorded here: weigh it from the count of where it lies."
	}
	if w.listed.Unit.IsWeight() {
		words, err := n.Beside(w.listed)
		if err != nil {
			return err
		}
		w.state.Note = fmt.Sprintf("%s weighed; %s.", n.Net, words)
	}
	return nil
}

// Book does with the count what it is for; failed is told why it was not.
func (w *Weighing) Book(done func()) {
	if w.ready == nil {
		if w.state.Problem == "" {
			w.state.Problem = "Type what the scale shows: the full container, and a sample of counted pieces."
			w.show(w.state)
		}
		return
	}
	if w.book == nil || !w.booking.Begin() {
		return
	}
	w.book(*w.ready, func(err error) {
		w.booking.End()
		if err != nil {
			w.state.Reading, w.state.Problem = "", wording.Error(err)
			w.show(w.state)
			return
		}
		done()
	})
}
