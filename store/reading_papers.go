package store

import (
	"stowright/store/build"
)

// readPapers reads which numbers are supplied as which, and what was decided.
func (r *Reader) readPapers(of *build.Reading) error {
	equivalents, err := r.Equivalents()
	if err != nil {
		return err
	}
	for _, q := range equivalents {
		of.Equivalents = append(of.Equivalents, build.Equivalent{Old: q.Old, New: q.New, Source: q.Source, Date: q.Date})
	}
	aircraft, err := r.Aircraft()
	if err != nil {
		return err
	}
	of.Aircraft = map[string]build.Aircraft{}
	for _, a := range aircraft {
		of.Aircraft[a.Name] = build.Aircraft{Name: a.Name, Certificate: a.Certificate}
	}
	decisions, err := r.Decisions()
	if err != nil {
		return err
	}
	for _, d := range decisions {
		of.Decisions = append(of.Decisions, decided(d)...)
	}
	return nil
}

// decided is a decision as the rules see it: one for each requirement and lot. Those that
// change no rule are none.
func decided(d Decision) []build.Decision {
	one := build.Decision{ID: d.Name(), From: d.Day, Withdrawn: d.Withdrawn, Who: d.Who, Paper: d.Paper, Item: d.Item, Until: d.Until}
	switch d.Kind {
	case Alternate, OtherItem, NextSize:
		one.Kind = build.OtherItem
	case Retest:
		one.Kind = build.Retest
	case AnyOrigin:
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
func (r *Reader) itemsAskedFor(f *Following) ([]string, error) {
	var items []string
	for _, sub := range f.Of.SubAssemblies {
		for _, need := range sub.Requirements {
			items = append(items, need.Item)
		}
	}
	for _, d := range f.Of.Decisions {
		if d.Item != "" {
			items = append(items, d.Item)
		}
		for _, x := range d.Extra {
			items = append(items, x.Item)
		}
	}
	for place := range f.Trays {
		contents, err := r.Contents(place)
		if err != nil {
			return nil, err
		}
		for _, h := range contents {
			items = append(items, h.Item)
		}
	}
	return items, nil
}

// buildRecords are what was noted of a sub-assembly besides what was pulled and fitted.
func (r *Reader) buildRecords(sub SubAssembly) (build.Records, error) {
	records := build.Records{Photographs: map[string]int{}, Torqued: map[string]bool{}}
	notes, err := r.Notes(sub.Code)
	if err != nil {
		return records, err
	}
	for _, n := range notes {
		switch n.Kind {
		case TorqueNote:
			records.Torqued[n.Requirement] = true
		case LookNote, InspectionNote:
			records.Looks = append(records.Looks, n.Second)
		}
	}
	photos, err := r.Photos(OfPlace(sub.Place)) // of the tray: they stand for the whole of it
	if err != nil {
		return records, err
	}
	records.Photographs[""] = len(photos)
	lost, err := r.LookedFor(sub.Code)
	for _, l := range lost {
		records.Lost = append(records.Lost, build.Lost{Item: l.Item, Quantity: l.Missing()})
	}
	return records, err
}
