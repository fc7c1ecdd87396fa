package store

import (
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
)

// lineNumbers looks for lines of one shipment that people would know by one number, and for
// lots that came by another line than they say.
func (c *checker) lineNumbers(*disk.Tx) error {
	keys := map[string]string{} // of the line that has a number of a shipment
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableLines])) {
		l, err := decode[Line](c.replayed[tableLines][key])
		if err != nil {
			continue // that was said already
		}
		named := fmt.Sprint(l.Shipment, keySeparator, l.Number())
		if first, taken := keys[named]; taken {
			err := c.problem("%s: it is line %d, as %s is", disk.RecordName(tableLines, key), l.Number(), disk.RecordName(tableLines, first))
			if err != nil {
				return err
			}
		}
		keys[named] = key
	}
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableLots])) {
		lot, err := decode[Lot](c.replayed[tableLots][key])
		if err != nil || lot.Receipt == nil || lot.Undone {
			continue
		}
		r := *lot.Receipt
		line, there, err := lookup[Line](c.replayed, tableLines, lineKey(r.Shipment, r.Line))
		if err != nil || !there || line.Number() == r.Number() {
			continue
		}
		err = c.problem("%s: it says line %d, and that line is %d", disk.RecordName(tableLots, key), r.Number(), line.Number())
		if err != nil {
			return err
		}
	}
	return nil
}
