// Package stockdialog is what a person can do with stock from any screen: count it, move
// it, pull it for a sub-assembly, send it back. Each is one short question over the window.
package stockdialog

import (
	"context"
	"fmt"
	"slices"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/search"
)

// The actions, by the ids that cards carry.
const (
	CountID = "count"
	MoveID  = "move"
	PullID  = "pull"
	LabelID = "label"
)

// Actions are what can be done with a heap: nothing while there is none.
func Actions(heap *session.Heap) []card.Action {
	return []card.Action{
		{ID: PullID, Label: "Take out", Key: "T", Primary: true, Off: heap == nil || !heap.Usable()},
		{ID: MoveID, Label: "Move", Key: "M", Off: heap == nil},
		{ID: CountID, Label: "Count", Key: "C", Off: heap == nil},
		{ID: LabelID, Label: "Label", Key: "L", Off: heap == nil},
	}
}

// Done says what was done, and that it can be undone.
func Done(words string) notice.Notice {
	return notice.Notice{Tone: notice.OK, Lead: "Done:", Text: words + ". Ctrl+Z undoes it."}
}

// Choice is one thing to choose among.
type Choice struct {
	ID   string
	Name string
	Note string
}

// Model is one question at a time about one heap of stock.
type Model struct {
	session *session.Session
	heap    session.Heap
	done    func(words string, err error)

	move     operation.Move // that was asked for last
	doubted  string         // the count that was doubted last
	writing  loop.Once
	offering loop.Latest // of places for what is typed
	then     func()      // what waits for that
}

// NewModel asks about a heap; done is called on the window's goroutine with what was
// done, in words, or why it was not.
func NewModel(s *session.Session, heap session.Heap, done func(words string, err error)) *Model {
	return &Model{session: s, heap: heap, done: done}
}

// Heap is what is asked about.
func (m *Model) Heap() session.Heap { return m.heap }

// Unit is the unit of the amounts.
func (m *Model) Unit() measure.Unit { return m.heap.Amount.Unit }

// Hint says what the amounts are counted in.
func (m *Model) Hint() string {
	return wording.Units(m.Unit())
}

// What is far from what was there, so that it is asked about once more: more than twice as
// much or less than half, and of pieces more than a few. No standard says so.
const (
	farTimes  = 2
	farPieces = 4
)

// Doubt asks once more about a count that is far from what was there; "" where it is not,
// and where the same was asked about already.
func (m *Model) Doubt(text string) string {
	counted, err := m.session.ParseAmount(text, m.Unit())
	if err != nil || text == m.doubted || !far(m.heap.Amount, counted) {
		return ""
	}
	m.doubted = text
	return fmt.Sprintf("%s here becomes %s: Enter again if that is so.", m.heap.Amount, counted)
}

func far(was measure.Amount, is measure.Quantity) bool {
	if was.Unit == measure.Each && max(is.Micro-was.Micro, was.Micro-is.Micro) <= measure.Pieces(farPieces).Micro {
		return false
	}
	return is.Micro > farTimes*was.High.Micro || farTimes*is.Micro < was.Low.Micro
}

// Count records what was counted.
func (m *Model) Count(text string) {
	m.do(operation.Count{Heap: m.key(), Counted: text})
}

// Move takes an amount, or everything for none, to a place.
func (m *Model) Move(text, place string) {
	m.move = operation.Move{Heap: m.key(), Amount: text, To: place}
	m.do(m.move)
}

// Meet moves what Move was asked to, with the answer what becomes of the two lots that
// meet there.
func (m *Model) Meet(meeting store.Meeting) {
	m.move.Meeting = meeting
	m.do(m.move)
}

// Pull takes an amount out for a sub-assembly.
func (m *Model) Pull(text, code string) {
	m.do(operation.Take{Heap: m.key(), Amount: text, For: code})
}

// SendBack takes an amount out of the shop, back to a supplier, "" for who sent the packing
// list that its lot came with, for a reason.
func (m *Model) SendBack(text, to, reason string) {
	m.do(operation.SendBack{Heap: m.key(), Amount: text, To: to, Reason: reason})
}

func (m *Model) key() operation.Heap { return operation.Heap{Key: m.heap.StockKey} }

func (m *Model) do(o operation.Operation) {
	operation.Start(m.session, &m.writing, o, func(r operation.Result, err error) { m.done(r.Words(), err) })
}

// Offer brings the places that typing names, the best first.
func (m *Model) Offer(typed string, show func([]Choice, error)) {
	loop.DoLatest(m.session.Loop, &m.offering, func(context.Context) ([]Choice, error) { return m.places(typed) }, func(choices []Choice, err error) {
		show(choices, err)
		if then := m.then; then != nil {
			m.then = nil
			then()
		}
	})
}

// WhenOffered does something as soon as what was typed last is answered: a hand
// scanner presses Enter before any answer can be there.
func (m *Model) WhenOffered(do func()) {
	if m.offering.Waiting() {
		m.then = do
		return
	}
	do()
}

// maxChoices is how many places are offered at once.
const maxChoices = 5

// places are those that typing names, the best first, without the one that the heap
// lies in.
func (m *Model) places(typed string) ([]Choice, error) {
	if tag, problem := store.ParseTag(typed); problem == "" {
		r, err := m.session.Shop.Resolve(string(tag))
		if err != nil || r.Answer != store.TagFound {
			return nil, err
		}
		return []Choice{placeChoice(r.Path)}, nil
	}
	found, _, err := m.session.Find(typed, 4*maxChoices)
	if err != nil {
		return nil, err
	}
	var choices []Choice
	for _, f := range found {
		if f.Kind != search.Place || f.Place == m.heap.Place || len(choices) == maxChoices {
			continue
		}
		path, err := m.session.Shop.Path(f.Place)
		if err != nil {
			return nil, err
		}
		choices = append(choices, placeChoice(path))
	}
	return choices, nil
}

func placeChoice(path []store.Place) Choice {
	last := path[len(path)-1]
	return Choice{ID: last.ID, Name: last.Name, Note: store.PathText(path)}
}

// SubAssemblies are those that the heap can be pulled for: first the ones that still need it, in
// the builder's order, then the ones that have all they need of it, then all others. Closed ones
// take nothing.
func (m *Model) SubAssemblies() (all []Choice, err error) {
	err = m.session.Read(func(r *session.Reader) error {
		return r.Board(func(b *build.Board) error {
			var need, have, others []Choice
			for _, s := range b.Statuses() {
				c := Choice{ID: s.Code, Name: s.Code + " " + s.Name}
				switch open, called := m.wanted(s); {
				case s.State == build.Closed:
				case open.Sign() > 0:
					c.Note = "needs " + open.String()
					need = append(need, c)
				case called:
					c.Note = "has all it needs"
					have = append(have, c)
				default:
					others = append(others, c)
				}
			}
			all = slices.Concat(need, have, others)
			return nil
		})
	})
	return all, err
}

// wanted is how many of the heap's item a sub-assembly still has to get, and whether it calls
// for it at all.
func (m *Model) wanted(s build.Status) (open measure.Quantity, called bool) {
	open.Unit = m.Unit()
	for _, n := range s.Needs {
		if n.Item != m.heap.Item {
			continue
		}
		called = true
		if n.Open.Unit == open.Unit {
			open.Micro += n.Open.Micro
		}
	}
	return open, called
}
