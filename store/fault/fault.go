// Package fault is the one error type of the store and what is below it. It lies below
// every other package of the store and imports none of them.
package fault

import (
	"errors"
	"fmt"
	"strings"
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

// One sentinel a kind, for errors.Is: it reports whether an Error of that kind is in a chain.
var (
	ErrInvalid  error = sentinel(Invalid)
	ErrNotFound error = sentinel(NotFound)
	ErrConflict error = sentinel(Conflict)
	ErrBusy     error = sentinel(Busy)
	ErrCorrupt  error = sentinel(Corrupt)
	ErrInternal error = sentinel(Internal)
)

type sentinel Kind

func (s sentinel) Error() string { return string(s) }

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

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Is reports whether target is the sentinel of the error's kind.
func (e *Error) Is(target error) bool {
	s, ok := target.(sentinel)
	return ok && Kind(s) == e.Kind
}

// KindOf is the kind of the first Error in err's chain, and Internal for any other error.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// Known reports whether there is an Error in err's chain: one that has its sentence already.
func Known(err error) bool {
	var e *Error
	return errors.As(err, &e)
}

// New makes an error without a cause.
func New(kind Kind, where, format string, args ...any) *Error {
	return &Error{Kind: kind, Where: where, Message: fmt.Sprintf(format, args...)}
}

// Wrap makes an error with a cause, which may be nil.
func Wrap(cause error, kind Kind, where, format string, args ...any) *Error {
	return &Error{Kind: kind, Where: where, Message: fmt.Sprintf(format, args...), Err: cause}
}

// Rename is err in which a name stands for another one wherever it is shown: for work on a
// file under a hidden name. It is of the same kind and has the same causes; nil for nil.
func Rename(err error, hidden, shown string) error {
	if err == nil || !strings.Contains(err.Error(), hidden) {
		return err
	}
	cause := renamed{err, hidden, shown}
	var e *Error
	if !errors.As(err, &e) {
		return cause
	}
	out := &Error{Kind: e.Kind, Message: strings.ReplaceAll(e.Message, hidden, shown), Where: strings.ReplaceAll(e.Where, hidden, shown)}
	if e.Err != nil {
		out.Err = renamed{e.Err, hidden, shown}
	}
	return out
}

type renamed struct {
	error
	hidden, shown string
}

func (r renamed) Error() string { return strings.ReplaceAll(r.error.Error(), r.hidden, r.shown) }

func (r renamed) Unwrap() error { return r.error }
