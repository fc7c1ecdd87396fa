package build

import (
	"fmt"
	"slices"
)

// Resolve is the number that what the plans call is kept under, with the rows that
// lead to it. Rows are followed one way only, from old to new; a row from memory leads
// nowhere. Where two rows lead to different numbers nothing is chosen: the error says
// between which a person has to.
func Resolve(called string, rows []Equivalent) (item string, via []Equivalent, err error) {
	item = called
	seen := []string{called}
	for {
		next := -1
		for i, row := range rows {
			if row.Old != item || row.FromMemory {
				continue
			}
			if next >= 0 && rows[next].New != row.New {
				return called, nil, fmt.Errorf("%s is %s by %s and %s by %s: say which of them is meant", item, rows[next].New, rows[next].Source, row.New, row.Source)
			}
			next = i
		}
		if next < 0 {
			return item, via, nil
		}
		item = rows[next].New
		if slices.Contains(seen, item) {
			return called, nil, fmt.Errorf("%s leads back to itself by %s: see the equivalent numbers", called, rows[next].Source)
		}
		seen, via = append(seen, item), append(via, rows[next])
	}
}

// way is how a called number leads to an item, as far as the rows of a reading say.
func (r *Reading) way(called, item string) []Equivalent {
	if called == item {
		return nil
	}
	to, via, err := Resolve(called, r.Equivalents)
	if err != nil || to != item {
		return nil
	}
	return via
}
