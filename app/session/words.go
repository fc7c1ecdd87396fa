package session

import (
	"errors"

	"stowright/app/wording"
	"stowright/store"
)

// Sentence is an error as a person reads it: what the store says to do, or else the
// error itself. It is empty for none.
func Sentence(err error) string {
	if err == nil {
		return ""
	}
	var e *store.Error
	if errors.As(err, &e) && e.Message != "" {
		return e.Message
	}
	return wording.Sentence(err.Error())
}
