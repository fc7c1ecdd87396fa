package session

import (
	"github.com/bojanz/currency"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// Ordering is what is to be bought, and how what was ordered stands.
type Ordering struct {
	List     build.OrderList
	Subs     int                         // how many sub-assemblies there are
	Supplies map[string]store.Supply     // by item
	Keep     map[string]measure.Quantity // of which the shop never wants to be below so many, by item
	Owing    []store.Owing               // every line of an order, by order and line
	Offers   []Offer                     // what came, or is coming, that may be what was ordered
	Forecast []build.Forecast            // of those that cannot be started yet
	Titles   map[string]string           // of what is to be bought and of what was ordered, in plain words
	// Ordered is what was ordered so far and not canceled, one sum for every currency.
	Ordered []currency.Amount
}

// Offer is a line of a packing list that may be what was ordered. A person says so.
type Offer struct {
	Ship   store.Shipment
	Line   store.Line
	Orders []store.Owing // of the number, the oldest first
}

// Ordering is what is to be bought, and how what was ordered stands. It is the session's
// own, to be read and not changed: the same one is given until the board changes.
func (s *Reader) Ordering() (o Ordering, err error) {
	err = s.board(func(k *kept) error {
		if k.ordering == nil {
			fresh, err := s.order(k)
			if err != nil {
				return err
			}
			k.ordering = &fresh
		}
		o = *k.ordering
		return nil
	})
	return o, err
}

// order works out what is to be bought.
func (s *Reader) order(k *kept) (Ordering, error) {
	o := Ordering{Supplies: map[string]store.Supply{}, Keep: map[string]measure.Quantity{}, Titles: map[string]string{}}
	supplies, err := s.Shop.Supplies()
	if err != nil {
		return o, err
	}
	for _, u := range supplies {
		o.Supplies[u.Item], o.Keep[u.Item] = u, k.plan.Of.Supply[u.Item].Minimum
	}
	if o.Owing, o.Offers, err = s.owingWithOffers(); err != nil {
		return o, err
	}
	if o.Ordered, err = orderedSums(o.Owing); err != nil {
		return o, err
	}
	o.Subs = len(k.board.Statuses())
	for _, f := range k.board.Forecast(leadTimes(o.Owing)) {
		if f.Unknown || f.To != s.Shop.Today() {
			o.Forecast = append(o.Forecast, f)
		}
	}
	if o.List, err = k.board.Order(); err != nil {
		return o, err
	}
	return o, s.called(k, &o)
}

// called fills in what the things to be bought are called.
func (s *Reader) called(k *kept, o *Ordering) (err error) {
	name := func(item string) {
		if err == nil {
			o.Titles[item], err = s.title(k, item)
		}
	}
	for _, supplier := range o.List.Suppliers {
		for _, l := range supplier.Lines {
			name(l.Item)
		}
	}
	for _, w := range o.Owing {
		name(w.Item)
	}
	return err
}

// owingWithOffers is how all lines of orders stand, and what may be theirs.
func (s *Reader) owingWithOffers() ([]store.Owing, []Offer, error) {
	orders, err := s.Shop.Orders()
	if err != nil || len(orders) == 0 {
		return nil, nil, err
	}
	ships, err := s.Shop.Shipments()
	if err != nil {
		return nil, nil, err
	}
	lines, err := s.AllLines(ships)
	if err != nil {
		return nil, nil, err
	}
	owing, err := s.owing(ships, lines)
	if err != nil {
		return nil, nil, err
	}
	byItem := map[string][]store.Owing{}
	for _, w := range owing {
		byItem[w.Item] = append(byItem[w.Item], w)
	}
	var offers []Offer
	for i, ship := range ships {
		for _, l := range lines[i] {
			offer := Offer{Ship: ship, Line: l}
			for _, w := range byItem[l.Designation] {
				if w.MayCome(ship, l) {
					offer.Orders = append(offer.Orders, w)
				}
			}
			if len(offer.Orders) > 0 {
				offers = append(offers, offer)
			}
		}
	}
	return owing, offers, nil
}

// Offers are the lines of a packing list that may be what was ordered.
func (s *Reader) Offers(shipment string) (map[store.LineID]Offer, error) {
	_, offers, err := s.owingWithOffers()
	of := map[store.LineID]Offer{}
	for _, o := range offers {
		if o.Line.Shipment == shipment {
			of[o.Line.ID] = o
		}
	}
	return of, err
}

// orderedSums adds up what was ordered and not canceled.
func orderedSums(owing []store.Owing) ([]currency.Amount, error) {
	var sums []currency.Amount
next:
	for _, w := range owing {
		if !w.Price.Known() || !w.Canceled.IsZero() {
			continue
		}
		for i := range sums {
			if sums[i].CurrencyCode() == w.Price.CurrencyCode() {
				var err error
				if sums[i], err = sums[i].Add(w.Price.Amount); err != nil {
					return nil, err
				}
				continue next
			}
		}
		sums = append(sums, w.Price.Amount)
	}
	return sums, nil
}
