package stockdialog

import (
	"errors"
	"fmt"
	"slices"

	"stowright/app/loop"
	"stowright/app/operation"
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
	last   operation.Remembered
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
	session.Do(w.session, func() (operation.Remembered, error) { return operation.LastWeighing(w.session, w.item) }, func(last operation.Remembered, err error) {
		if err != nil {
			w.state.Problem = wording.Error(err)
			w.show(w.state)
			return
		}
		w.begin(last)
	})
}

// begin fills in what is remembered, unless something was typed already.
func (w *Weighing) begin(last operation.Remembered) {
	w.loaded, w.last = true, last
	if w.state.Form != (WeighForm{}) {
		w.Set(w.state.Form)
		return
	}
	unit := last.Step.Unit
	if unit == "" && last.Sample != nil {
		unit = last.Sample.Net.Unit
	}
	f := WeighForm{Unit: max(slices.Index(weighUnits, unit), 0)}
	r := last.Fill(f.readings())
	f.Step, f.Pieces, f.Net = r.Step, r.Pieces, r.Net
	w.Set(f)
}

// readings are what was typed.
func (f WeighForm) readings() operation.Readings {
	return operation.Readings{Unit: weighUnits[f.Unit], Step: f.Step, Tare: f.Tare, Gross: f.Gross, Pieces: f.Pieces, Net: f.Net}
}

// Set shows what the typed figures come to.
func (w *Weighing) Set(f WeighForm) {
	w.state = WeighState{Form: f, Loaded: w.loaded}
	w.ready = nil
	m, err := f.readings().Weighing(w.session.Region)
	var untyped *operation.Untyped
	missing := errors.As(err, &untyped)
	switch {
	case w.last.Same(&m):
		w.state.Note = fmt.Sprintf("%d of them weighed %s the last time, %s each. Weigh others to replace that.", m.Sample.Pieces, m.Sample.Net, m.Sample.Piece())
	case missing:
		w.state.Note = howTo
	}
	if missing && m.Sample.Pieces > 0 && m.Sample.Net.Micro > 0 && m.Step.Micro > 0 {
		if e := m.Sample.Check(); e != nil { // it is too small before the full container is weighed
			err = e
		}
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

// Book does with the count what it is for; failed is called with why it was not.
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
