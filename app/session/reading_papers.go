package session

import (
	"stowright/store"
	"stowright/store/build"
)

// readPapers reads which numbers are supplied as which, and what was decided.
func (s *Reader) readPapers(r *build.Reading) error {
	equivalents, err := s.Shop.Equivalents()
	if err != nil {
		return err
	}
	for _, q := range equivalents {
		r.Equivalents = append(r.Equivalents, build.Equivalent{Old: q.Old, New: q.New, Source: q.Source, Date: q.Date})
	}
	aircraft, err := s.Shop.Aircraft()
	if err != nil {
		return err
	}
	r.Aircraft = map[string]build.Aircraft{}
	for _, a := range aircraft {
		r.Aircraft[a.Name] = build.Aircraft{Name: a.Name, Certificate: a.Certificate}
	}
	decisions, err := s.Shop.Decisions()
	if err != nil {
		return err
	}
	for _, d := range decisions {
		r.Decisions = append(r.Decisions, decided(d)...)
	}
	return nil
}

// decided is a decision as the rules see it: one for each requirement and lot. Those that
// change no rule are none.
func decided(d store.Decision) []build.Decision {
	one := build.Decision{ID: d.Name(), From: d.Day, Withdrawn: d.Withdrawn, Who: d.Who, Paper: d.Paper, Item: d.Item, Until: d.Until}
	switch d.Kind {
	case store.Alternate, store.OtherItem, store.NextSize:
		one.Kind = build.OtherItem
	case store.Retest:
		one.Kind = build.Retest
	case store.AnyOrigin:
		one.Kind = build.AnyOrigin
	default:
		return nil
	}
	for _, x := range d.Extra {
		one.Extra = append(one.Extra, build.Extra{Called: x.Called, Item: x.Item, Quantity: x.Quantity})
	}
	var all []build.Decision
	for _, requirement := range orNone(d.Requirements) {
		for _, lot := range orNone(d.Lots) {
			one.Requirement, one.Lot = requirement, lot
			all = append(all, one)
		}
	}
	return all
}

// orNone is a list, or one with nothing in it where it is empty.
func orNone(list []string) []string {
	if len(list) == 0 {
		return []string{""}
	}
	return list
}

// itemsAskedFor are the items whose stock the rules look at: those that requirements and
// decisions name, and what lies in trays.
func (s *Reader) itemsAskedFor(r *build.Reading, subs []store.SubAssembly) ([]string, error) {
	var items []string
	for _, sub := range r.SubAssemblies {
		for _, need := range sub.Requirements {
			items = append(items, need.Item)
		}
	}
	for _, d := range r.Decisions {
		if d.Item != "" {
			items = append(items, d.Item)
		}
		for _, x := range d.Extra {
			items = append(items, x.Item)
		}
	}
	for _, sub := range subs {
		contents, err := s.Shop.Contents(sub.Place)
		if err != nil {
			return nil, err
		}
		items = append(items, itemsOf(contents)...)
	}
	return items, nil
}

// BuildRecords are what was noted of a sub-assembly besides what was pulled and fitted.
func (s *Reader) BuildRecords(code string) (build.Records, error) {
	records := build.Records{Photographs: map[string]int{}, Torqued: map[string]bool{}}
	notes, err := s.Shop.Notes(code)
	if err != nil {
		return records, err
	}
	for _, n := range notes {
		switch n.Kind {
		case store.TorqueNote:
			records.Torqued[n.Requirement] = true
		case store.LookNote, store.InspectionNote:
			records.Looks = append(records.Looks, n.Second)
		}
	}
	if records.Photographs[""], err = s.photographsOf(code); err != nil {
		return records, err
	}
	lost, err := s.Shop.LookedFor(code)
	for _, l := range lost {
		records.Lost = append(records.Lost, build.Lost{Item: l.Item, Quantity: l.Missing()})
	}
	return records, err
}

// photographsOf is how many photographs are of the tray of a sub-assembly, which stand for
// the whole of it.
func (s *Reader) photographsOf(code string) (int, error) {
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return 0, err
	}
	sub, err := SubAssemblyNamed(subs, code)
	if err != nil {
		return 0, err
	}
	photos, err := s.Shop.Photos(store.OfPlace(sub.Place))
	return len(photos), err
}

// Closing is everything that is open on a sub-assembly, and whether it may be closed with
// the answers that are given, by [build.Open.Key].
func (s *Reader) Closing(code string, answers map[string]string) (open []build.Open, may bool, err error) {
	records, err := s.BuildRecords(code)
	if err != nil {
		return nil, false, err
	}
	records.Answers = answers
	err = s.board(func(k *kept) error {
		open, may, err = k.board.Closing(code, records)
		return err
	})
	return open, may, err
}

// Home is the place that something in a tray was pulled from, or, where nobody knows any
// more, the only one that holds more of it; found is false where there is none.
func (s *Reader) Home(tray store.StockKey) (home store.Place, found bool, err error) {
	id, found, err := s.Shop.PulledFrom(tray)
	if err != nil {
		return home, false, err
	}
	if !found {
		if id, found, err = s.onlyPlace(tray); err != nil || !found {
			return home, false, err
		}
	}
	home, err = s.Shop.Place(id)
	return home, err == nil && !home.Retired, err
}

// onlyPlace is the one place of storage that holds good stock of the same lot.
func (s *Reader) onlyPlace(tray store.StockKey) (id string, found bool, err error) {
	heaps, err := s.Shop.Holdings(tray.Item)
	if err != nil {
		return "", false, err
	}
	for _, h := range heaps {
		p, err := s.Shop.Place(h.Place)
		if err != nil {
			return "", false, err
		}
		if h.Lot != tray.Lot || h.Condition != store.Good || !p.Kind.Storage() {
			continue
		}
		if found {
			return "", false, nil
		}
		id, found = h.Place, true
	}
	return id, found, nil
}
