package operation

import (
	"errors"
	"maps"

	"stowright/store"
)

// Meets is an operation that may bring two lots of an item into one place, and is refused
// with [store.ErrLotsMeet] then, so that a person is asked.
type Meets interface {
	Operation
	// Met is the operation with what is to become of the lots that it was refused for.
	Met(refused error, m store.Meeting) Operation
}

// Met is PutBack with the answer.
func (o PutBack) Met(_ error, m store.Meeting) Operation {
	o.Meeting = m
	return o
}

// Met is Remove with the answer.
func (o Remove) Met(_ error, m store.Meeting) Operation {
	o.Meeting = m
	return o
}

// Met is Found with the answer.
func (o Found) Met(_ error, m store.Meeting) Operation {
	o.Meeting = m
	return o
}

// Met is PutTrayBack with the answer for the item that it was refused for: of another one
// it asks anew.
func (o PutTrayBack) Met(refused error, m store.Meeting) Operation {
	meetings := maps.Clone(o.Meetings)
	if meetings == nil {
		meetings = map[string]store.Meeting{}
	}
	var e *store.Error
	if errors.As(refused, &e) {
		meetings[e.Where] = m
	}
	o.Meetings = meetings
	return o
}
