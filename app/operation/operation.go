// Package operation is what a person does to a shop, one type an operation: Count, Move,
// Stow, Take, Fit, and so on. The window, the commands and whatever else takes a person's
// word fill its fields in and call Do, which reads and checks them, does one verb of the
// store, and says in words what was done.
//
// Fields hold what was typed: amounts are texts in the unit that the item is kept by,
// items are part numbers in any spelling, places are ids, tags or names. What cannot be
// read, and what can be read in two ways, is refused with a *store.Error that is a
// sentence for a person; then nothing was changed.
package operation

import (
	"context"

	"stowright/app/loop"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Operation is one thing to be done.
type Operation interface {
	// Do does it, whole or not at all. It works on the shop file, so a window calls it in
	// the background, as Start does.
	Do(ctx context.Context, s *session.Session) (Result, error)
}

// Result is what was done.
type Result struct {
	Entry    store.Entry       // in the journal; the last one where there are several
	Place    store.Place       // that was made; its ID is empty for none
	Photos   []store.Photo     // that were brought in or described
	Weighing *measure.Weighing // that was recorded
	Doubt    string            // why a part number that was taken as it is may be none; "" for no doubt
}

// Words say what was done: "counted AN3-5A in A-12: 27 ea".
func (r Result) Words() string { return r.Entry.Text }

// did is the result of a verb that makes nothing.
func did(e store.Entry, err error) (Result, error) { return Result{Entry: e}, err }

// Start does an operation in the background of a window, unless one that was started with
// the same Once has not ended, and reports whether it was started; without a Once it always
// is. Back is called on the window's goroutine.
func Start(s *session.Session, once *loop.Once, o Operation, back func(Result, error)) bool {
	if once == nil {
		once = new(loop.Once)
	}
	return loop.DoOnce(s.Loop, once, func() (Result, error) { return o.Do(context.Background(), s) }, back)
}
