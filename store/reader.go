package store

import (
	"time"

	"stowright/store/disk"
)

// Reader reads a shop: all reading methods are its own, and a Shop has them through it.
// What a Shop reads is what the file says at that moment, each call by itself; the
// Reader that Read hands out reads the same state in every call, whatever is changed
// meanwhile. So whatever shows more than one record together is read in one Read.
type Reader struct {
	in    func(do func(tx *disk.Tx) error) error
	clock func() time.Time
}

// Read calls do with a Reader of one state of the shop: the newest one, or, of a Reader
// that has one, its own. That Reader is good until do returns, on its own goroutine.
//
// As long as do goes on, the file cannot let go of what it has replaced, and a change
// that makes it grow waits. So do reads and returns: what is slow, as drawing is, comes
// after it. Within it nothing is changed and nothing read through the Shop itself, which
// may wait for such a change: the change and do would wait for each other for ever.
func (r *Reader) Read(do func(r *Reader) error) error {
	return r.view(func(tx *disk.Tx) error { return do(readerOf(tx, r.clock)) })
}

// readerOf reads what a transaction sees.
func readerOf(tx *disk.Tx, clock func() time.Time) *Reader {
	return &Reader{in: func(do func(tx *disk.Tx) error) error { return do(tx) }, clock: clock}
}

// view does something in the transaction of the reader, or in one for it alone.
func (r *Reader) view(do func(tx *disk.Tx) error) error { return r.in(do) }

// Newest is the number of the newest entry in the state that is read; 0 where there is none.
func (r *Reader) Newest() (seq uint64, err error) {
	err = r.view(func(tx *disk.Tx) error {
		end, err := tx.End()
		seq = end.Seq
		return err
	})
	return seq, err
}

// Now is the time by the shop's clock.
func (r *Reader) Now() time.Time { return r.clock() }

// Today is the day by the shop's clock.
func (r *Reader) Today() Date { return DateOf(r.clock()) }
