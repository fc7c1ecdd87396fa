package handle

import (
	"strings"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Putting is the question what is put into a place that came from nowhere the
// shop knows: loose stock of the builder's own, or an opening count.
type Putting struct {
	session *session.Session
	place   store.Place
	done    func(said card.Notice, err error)
	busy    bool // something is being put in: a second Enter does nothing
}

// NewPutting asks about a place; done is told on the window's goroutine what to say
// of what was done, or why it was not. A number that no standard has is taken as it
// stands, since somebody holds the thing in the hand, and doubted.
func NewPutting(s *session.Session, place store.Place, done func(said card.Notice, err error)) *Putting {
	return &Putting{session: s, place: place, done: done}
}

// Put adds an amount of an item to what lies in the place, as a count of the two
// together: the entry says what there was before.
func (p *Putting) Put(designation, amount string) {
	designation = p.session.Canonical(strings.Join(strings.Fields(designation), " "))
	if p.busy {
		return
	}
	p.busy = true
	session.Do(p.session, func() (store.Entry, error) { return p.put(designation, amount) }, func(e store.Entry, err error) {
		p.busy = false
		said := Done(e.Text)
		if doubt := p.session.NoSuchNumber(designation); doubt != "" {
			said = card.Notice{Tone: card.Warn, Lead: "Done, but look again:", Text: doubt + " Ctrl+Z takes it out again."}
		}
		p.done(said, err)
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
	if err := whole(q); err != nil {
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
