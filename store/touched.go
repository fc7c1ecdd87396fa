package store

import (
	"slices"
	"strings"
)

// Items are the designations whose record, stock or numbers an entry changed,
// each once.
func (e Entry) Items() []string {
	var items []string
	for _, c := range e.Changes {
		var item string
		switch c.Table {
		case tableItems:
			item = c.Key
		case tableStock:
			k, _ := parseStockKey(c.Key)
			item = k.Item
		case tableFitted:
			_, item, _, _ = parseFittedKey(c.Key)
		case tableEquivalents:
			for _, side := range [][]byte{c.Before, c.After} {
				if q, err := decode[Equivalent](side); err == nil {
					item = q.New
				}
			}
		}
		if item != "" && !slices.Contains(items, item) {
			items = append(items, item)
		}
	}
	return items
}

// Places are the ids of the places that an entry made, changed or took away, each once.
func (e Entry) Places() []string {
	var places []string
	for _, c := range e.Changes {
		if c.Table == tablePlaces && !slices.Contains(places, c.Key) {
			places = append(places, c.Key)
		}
	}
	return places
}

// Shipments says whether the entry changed a shipment or one of its lines.
func (e Entry) Shipments() bool { return len(e.Lists()) > 0 }

// Lists are the ids of the shipments of which an entry changed the record or a
// line, each once.
func (e Entry) Lists() []string {
	var lists []string
	for _, c := range e.Changes {
		if c.Table != tableShipments && c.Table != tableLines {
			continue
		}
		id, _, _ := strings.Cut(c.Key, keySeparator)
		if !slices.Contains(lists, id) {
			lists = append(lists, id)
		}
	}
	return lists
}
