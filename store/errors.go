package store

import (
	"errors"
	"fmt"
)

// Kind sorts errors by what a caller can do about them.
type Kind string

// The kinds of error.
const (
	Invalid  Kind = "invalid"   // the request makes no sense: say it differently
	NotFound Kind = "not found" // the thing named is not in this shop
	Conflict Kind = "conflict"  // the shop has changed, or stock would go below zero
	Busy     Kind = "busy"      // another program has the file open
	Corrupt  Kind = "corrupt"   // the file is damaged or not a shop
	Internal Kind = "internal"  // a fault of the program or the disk
)

// Error is the one error type of the store. Message is a whole sentence for a
// person that says what is wrong and what to do; Where names the file, record or
// tag it is about; Err is the cause, if there is one.
type Error struct {
	Kind    Kind
	Message string
	Where   string
	Err     error
}

func (e *Error) Error() string {
	if e.Err != nil {
		return e.Message + " (" + e.Err.Error() + ")"
	}
	return e.Message
}

func (e *Error) Unwrap() error { return e.Err }

// KindOf is the kind of the store's error in err's chain, and Internal for any other error.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

func fail(kind Kind, where, format string, args ...any) *Error {
	return &Error{Kind: kind, Where: where, Message: fmt.Sprintf(format, args...)}
}
