package store

// eachTouched are what the changes of an entry are about, as about takes it from each:
// each once, in the order in which the entry came to them. What cannot be read of a
// change is left out: reading the record itself gives the error.
func eachTouched[T comparable](e Entry, about func(touched) T) []T {
	var list []T
	var none T
	seen := map[T]bool{none: true}
	for _, c := range e.Changes {
		t, err := tableOf(c.Table)
		if err != nil {
			continue
		}
		is, err := t.touches(c)
		if what := about(is); err == nil && !seen[what] {
			seen[what] = true
			list = append(list, what)
		}
	}
	return list
}

// Items are the designations whose record, stock or numbers an entry changed,
// each once.
func (e Entry) Items() []string {
	return eachTouched(e, func(t touched) string { return t.item })
}

// Places are the ids of the places that an entry made, changed or took away, each once.
func (e Entry) Places() []string {
	return eachTouched(e, func(t touched) string { return t.place })
}

// Shipments reports whether the entry changed a shipment or one of its lines.
func (e Entry) Shipments() bool { return len(e.Lists()) > 0 }

// Lists are the ids of the shipments of which an entry changed the record or a
// line, each once.
func (e Entry) Lists() []string {
	return eachTouched(e, func(t touched) string { return t.shipment })
}

// Figures are the designations whose own figures an entry changed, each once.
func (e Entry) Figures() []string {
	return eachTouched(e, func(t touched) string { return t.figures })
}

// Photos are what an entry added, took away or described photographs of, each once.
func (e Entry) Photos() []Subject {
	return eachTouched(e, func(t touched) Subject { return t.photos })
}
