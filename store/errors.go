package store

import "stowright/store/fault"

// Kind sorts errors by what a caller can do about them.
type Kind = fault.Kind

// The kinds of error.
const (
	Invalid  = fault.Invalid  // the request makes no sense: say it differently
	NotFound = fault.NotFound // the thing named is not in this shop
	Conflict = fault.Conflict // the shop has changed, or stock would go below zero
	Busy     = fault.Busy     // another program has the file open
	Corrupt  = fault.Corrupt  // the file is damaged or not a shop
	Internal = fault.Internal // a fault of the program or the disk
)

// One sentinel a kind, for errors.Is: it reports whether an Error of that kind is in a chain.
var (
	ErrInvalid  = fault.ErrInvalid
	ErrNotFound = fault.ErrNotFound
	ErrConflict = fault.ErrConflict
	ErrBusy     = fault.ErrBusy
	ErrCorrupt  = fault.ErrCorrupt
	ErrInternal = fault.ErrInternal
)

// Error is the one error type of the store. Message is a whole sentence for a
// person that says what is wrong and what to do; Where names the file, record or
// tag it is about; Err is the cause, if there is one.
type Error = fault.Error

// KindOf is the kind of the store's error in err's chain, and Internal for any other error.
func KindOf(err error) Kind { return fault.KindOf(err) }

func fail(kind Kind, where, format string, args ...any) *Error {
	return fault.New(kind, where, format, args...)
}
