package loop

// Once refuses a second start while the first one runs: a second Enter, while the shop
// is being written to, must not write again. Its zero value is ready. It belongs to a
// model and is used on the window's goroutine only.
type Once struct{ busy bool }

// Begin notes that something is begun, and reports whether it may: false while what
// was begun before has not ended.
func (o *Once) Begin() bool {
	if o.busy {
		return false
	}
	o.busy = true
	return true
}

// End notes that what was begun has ended.
func (o *Once) End() { o.busy = false }

// Busy reports whether something was begun that has not ended.
func (o *Once) Busy() bool { return o.busy }

// DoOnce does work in the background and brings its result back, unless something that
// was begun by the same Once has not ended. It reports whether the work was begun.
// Back may begin the next.
func DoOnce[T any](l Loop, once *Once, work func() (T, error), back func(T, error)) bool {
	if !once.Begin() {
		return false
	}
	Do(l, work, func(v T, err error) {
		once.End()
		back(v, err)
	})
	return true
}
