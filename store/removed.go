package store

import (
	"fmt"

	"stowright/store/build"
)

// removedLot is the lot of what came out of an aircraft that the shop knows: one of its own,
// with that aircraft for its origin, out of the lot that it was. So the origin is asked about
// before it goes into another one, and an alert on the lot that it was still finds it.
func (w *writer) removedLot(sub SubAssembly, f Fitted, went Amount) (string, error) {
	if sub.Aircraft == "" {
		return f.Lot, nil
	}
	hours, err := w.hoursOf(sub.Aircraft)
	if err != nil {
		return "", err
	}
	from := sub.Aircraft + ", hours not known"
	if hours != nil {
		from = fmt.Sprintf("%s at %d.%d h", sub.Aircraft, *hours/10, *hours%10)
	}
	lot, err := w.newLot(Lot{
		Item: f.Item, Kind: RemovedLot, Date: DateOf(w.at), Came: went, Parents: []Portion{{f.Lot, went}},
		Facts: LotFacts{Origin: build.FromAircraft, From: from},
	})
	return lot.Name(), err
}

// hoursOf is the total time of an aircraft now, as far as it was recorded.
func (w *writer) hoursOf(aircraft string) (*build.Hours, error) {
	if aircraft == "" {
		return nil, nil
	}
	a, found, err := lookup[Aircraft](w.ledger, tableAircraft, aircraft)
	if err != nil || !found {
		return nil, err
	}
	reading, ok := a.HoursOn(DateOf(w.at))
	if !ok {
		return nil, nil
	}
	return &reading.Hours, nil
}
