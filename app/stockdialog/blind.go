package stockdialog

import (
	"context"
	"strings"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// BlindKey begins a count by several hands wherever a count is asked for.
const BlindKey = "F10"

// BlindState is what the question of a blind count shows: no figure of the shop, nor of a
// hand before.
type BlindState struct {
	Words   string // what is asked for: "First count.", "Counts differ: count again."
	Problem string // why the last count was not taken; empty for none
	Counts  int    // that are in
	Done    string // what was settled, in words; empty while it is not
}

// Blind asks one hand after the other how many of a heap there are.
type Blind struct {
	session *session.Session
	heap    session.Heap
	line    *store.Line // of which it is what was found, the first count; nil: it is of none
	show    func(BlindState)
	state   BlindState
	writing loop.Once
}

// NewBlind makes the model of a heap; show is called with every new state.
func NewBlind(s *session.Session, heap session.Heap, show func(BlindState)) *Blind {
	return &Blind{session: s, heap: heap, show: show}
}

// State is what is shown now.
func (m *Blind) State() BlindState { return m.state }

// Load reads how many counts are in.
func (m *Blind) Load() {
	session.Do(m.session, m.read, func(b store.Blind, err error) { m.take(b, "", err) })
}

func (m *Blind) read() (store.Blind, error) {
	b, _, err := m.session.Shop.CountingBlind(m.heap.StockKey)
	if err == nil && (b.Settled || b.Had != m.heap.Amount) {
		b = store.Blind{} // a fresh one begins
	}
	if m.line != nil && len(b.Counts) == 0 {
		b.Counts = make([]store.BlindCount, 1) // what was found, and is not shown
	}
	return b, err
}

// Count records what a hand counted.
func (m *Blind) Count(hand, counted string) {
	if m.line != nil {
		m.book(hand, operation.CountLineBlind{List: m.line.Shipment, Line: m.line.Number(), Counted: counted, By: hand})
		return
	}
	m.book(hand, m.ofHeap(hand, operation.CountBlind{Counted: counted}))
}

func (m *Blind) ofHeap(hand string, o operation.CountBlind) operation.CountBlind {
	o.Heap, o.By = operation.Heap{Key: m.heap.StockKey}, hand
	return o
}

// Weighed records what a hand weighed.
func (m *Blind) Weighed(hand string, w measure.Weighing) {
	if m.line != nil {
		m.book(hand, operation.CountLineBlind{List: m.line.Shipment, Line: m.line.Number(), Weighing: &w, By: hand})
		return
	}
	m.book(hand, m.ofHeap(hand, operation.CountBlind{Weighing: &w}))
}

func (m *Blind) book(hand string, o operation.Operation) {
	if strings.TrimSpace(hand) == "" {
		m.state.Problem = "Say who counts: the hands are kept with the counts."
		m.show(m.state)
		return
	}
	type booked struct {
		blind store.Blind
		done  string
	}
	loop.DoOnce(m.session.Loop, &m.writing, func() (booked, error) {
		r, err := o.Do(context.Background(), m.session)
		if err != nil {
			return booked{}, err
		}
		b, _, err := m.session.Shop.CountingBlind(m.heap.StockKey)
		if b.Settled {
			return booked{b, r.Words()}, err
		}
		return booked{blind: b}, err
	}, func(b booked, err error) { m.take(b.blind, b.done, err) })
}

func (m *Blind) take(b store.Blind, done string, err error) {
	if err != nil {
		m.state.Problem = wording.Error(err)
		m.show(m.state)
		return
	}
	m.state = BlindState{Counts: len(b.Counts), Done: done}
	switch len(b.Counts) {
	case 0:
		m.state.Words = "First count. Who counts, and how many are there?"
	case 1:
		m.state.Words = "The first count is in, and is not shown. Another hand counts now, who has not seen it."
	default:
		m.state.Words = "Counts differ: count again. None of them is shown."
	}
	m.show(m.state)
}
