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
	// Ordered is what was ordered so far and not canceled, one sum for every currency.
	Ordered []currency.Amount
}

// Offer is a line of a packing list that may be what was ordered. A person says so.
type Offer struct {
	Ship   store.Shipment
	Line   store.Line
	Orders []store.Owing // of the number, the oldest first
}

// Ordering is what is to be bought, and how what was ordered stands.
func (s *Reader) Ordering() (Ordering, error) {
	o := Ordering{Supplies: map[string]store.Supply{}, Keep: map[string]measure.Quantity{}}
	supplies, err := s.Shop.Supplies()
	if err != nil {
		return o, err
	}
	for _, u := range supplies {
		o.Supplies[u.Item] = u
		item, err := s.Shop.Item(u.Item)
		if err != nil && store.KindOf(err) != store.NotFound {
			return o, err
		}
		o.Keep[u.Item] = item.Minimum
	}
	if o.Owing, o.Offers, err = s.owingWithOffers(); err != nil {
		return o, err
	}
	if o.Ordered, err = orderedSums(o.Owing); err != nil {
		return o, err
	}
	leads := leadTimes(o.Owing)
	return o, s.Board(func(b *build.Board) error {
		o.Subs = len(b.Statuses())
		for _, f := range b.Forecast(leads) {
			if f.Unknown || f.To != s.Shop.Today() {
				o.Forecast = append(o.Forecast, f)
			}
		}
		o.List, err = b.Order()
		return err
	})
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

// Offers are the lines of a packing list that may be what was ordered, by number.
func (s *Reader) Offers(shipment string) (map[int]Offer, error) {
	_, offers, err := s.owingWithOffers()
	of := map[int]Offer{}
	for _, o := range offers {
		if o.Line.Shipment == shipment {
			of[o.Line.Number] = o
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
