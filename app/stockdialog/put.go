package stockdialog

import (
	"context"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// Putting is the question what is put into a place that came from nowhere the
// shop knows: loose stock of the builder's own, or an opening count.
type Putting struct {
	session *session.Session
	place   store.Place
	done    func(said notice.Notice, err error)
	doubted string // the number that was doubted last
	put     operation.PutIn
	writing loop.Once
	unit    loop.Latest
}

// NewPutting asks about a place; done is called on the window's goroutine with what to say
// of what was done, or why it was not.
func NewPutting(s *session.Session, place store.Place, done func(said notice.Notice, err error)) *Putting {
	return &Putting{session: s, place: place, done: done}
}

// What says what a number is, where the tables know it.
func (p *Putting) What(designation string) string {
	piece := p.session.Catalog().Decode(p.spelled(designation))
	if !piece.Known {
		return ""
	}
	return session.Title(store.Item{}, piece)
}

// InUnit tells in what an item is counted or measured, in words, once that is read: what the shop
// does not have yet comes in pieces.
func (p *Putting) InUnit(designation string, show func(unit string)) {
	spelled := p.spelled(designation)
	loop.DoLatest(p.session.Loop, &p.unit, func(context.Context) (string, error) {
		item, err := p.session.Shop.Item(spelled)
		if err != nil {
			return wording.Units(measure.Each), nil
		}
		return wording.Units(item.Unit), nil
	}, func(unit string, _ error) { show(unit) })
}

func (p *Putting) spelled(designation string) string {
	return p.session.Canonical(strings.Join(strings.Fields(designation), " "))
}

// Doubt says why a number is doubted that no standard has. It does so once: somebody
// holds the thing in the hand, and may put it in all the same.
func (p *Putting) Doubt(designation string) string {
	designation = p.spelled(designation)
	doubt := p.session.NoSuchNumber(designation)
	if doubt == "" || designation == p.doubted {
		return ""
	}
	p.doubted = designation
	return doubt + " Enter again takes it as it stands."
}

// Put adds an amount of an item to what lies in the place.
func (p *Putting) Put(designation, amount string) {
	p.put = operation.PutIn{Item: designation, Amount: amount, Place: p.place.ID}
	p.start()
}

// Meet puts in what Put was asked to, with the answer what becomes of the two lots that
// meet there.
func (p *Putting) Meet(meeting store.Meeting) {
	p.put.Meeting = meeting
	p.start()
}

func (p *Putting) start() {
	operation.Start(p.session, &p.writing, p.put, func(r operation.Result, err error) {
		p.done(Done(r.Words()), err)
	})
}
