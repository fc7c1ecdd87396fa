// Package loop lets a model work in the background without knowing the window: it is
// handed one function that starts work and one that brings results back to the
// window's own goroutine. The window binds the real ones; tests bind a Queue and
// decide themselves what happens when.
//
// A model seldom calls those two itself. It uses
//   - Do for work whose result always counts,
//   - Latest for a question that is asked again and again, such as a search while
//     somebody types: only the answer to the newest one counts,
//   - Once for what must not be started twice, such as writing to the shop,
//   - Job for long work that shows its progress and can be stopped.
package loop

import "time"

// Loop is what a model needs to work in the background. Models and widgets change
// only on the window's goroutine: work started by Run must not touch them, what
// it hands to Post may.
type Loop struct {
	Run   func(work func())                   // starts work in the background
	Post  func(done func())                   // does done on the window's goroutine, soon
	After func(wait time.Duration, do func()) // does do there, after that long
	// Now is what the clock says; nil for the computer's own.
	Now func() time.Time
	// Asked counts what a person asked for and waits for; nil counts nothing.
	Asked *Asked
}

// Clock is what the clock of the loop says.
func (l Loop) Clock() time.Time {
	if l.Now == nil {
		return time.Now()
	}
	return l.Now()
}

// begin counts work that a person may have asked for; end is to be called once, when what it
// brought back has been dealt with.
func (l Loop) begin() (end func()) {
	if end := l.Asked.begin(l.Post); end != nil {
		return end
	}
	return func() {}
}

// Do does work in the background and brings its result back.
func Do[T any](l Loop, work func() (T, error), back func(T, error)) {
	end := l.begin()
	l.Run(func() {
		v, err := work()
		l.Post(func() {
			defer end()
			back(v, err)
		})
	})
}
