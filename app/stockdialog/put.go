package stockdialog

import (
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
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
	writing loop.Once
}

// NewPutting asks about a place; done is told on the window's goroutine what to say
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

// Put adds an amount of an item to what lies in the place, as a count of the two
// together: the entry says what there was before.
func (p *Putting) Put(designation, amount string) {
	designation = p.spelled(designation)
	loop.DoOnce(p.session.Loop, &p.writing, func() (store.Entry, error) { return p.put(designation, amount) }, func(e store.Entry, err error) {
		p.done(Done(e.Text), err)
	})
}

func (p *Putting) put(designation, amount string) (store.Entry, error) {
	unit := measure.Each
	if item, err := p.session.Shop.Item(designation); err == nil {
		unit = item.Unit
	} else if store.KindOf(err) != store.NotFound {
		return store.Entry{}, err
	}
	q, err := measure.ParseQuantity(amount, unit)
	if err != nil || q.Sign() == 0 {
		return store.Entry{}, &store.Error{Kind: store.Invalid, Message: "Type how many go in, as a number such as 12."}
	}
	if err := session.Whole(q); err != nil {
		return store.Entry{}, err
	}
	holdings, err := p.session.Shop.Contents(p.place.ID)
	if err != nil {
		return store.Entry{}, err
	}
	key := store.StockKey{Item: designation, Place: p.place.ID}
	sum := store.Exact(q)
	for _, h := range holdings {
		if h.StockKey == key {
			if sum, err = sum.Add(h.Amount); err != nil {
				return store.Entry{}, err
			}
		}
	}
	if sum.Estimate() { // what is added by hand does not make the rest counted
		return p.session.Shop.Weigh(key, sum)
	}
	return p.session.Shop.Count(key, sum.Quantity)
}
