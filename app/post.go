package app

import (
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app/loop"
)

// Loop is the loop of the running program: goroutines for work, Fyne's own
// goroutine for what comes back. This is the only file that calls fyne.Do; it is
// called only from goroutines that Run or After started. Once the program has stopped,
// Fyne would do what is due later on any goroutine: then it is not done.
func Loop() loop.Loop {
	var stopped atomic.Bool
	fyne.CurrentApp().Lifecycle().SetOnStopped(func() { stopped.Store(true) })
	return loop.Loop{
		Run:  func(work func()) { go work() },
		Post: func(done func()) { fyne.Do(done) },
		After: func(wait time.Duration, do func()) {
			time.AfterFunc(wait, func() {
				if !stopped.Load() {
					fyne.Do(do)
				}
			})
		},
		Asked: &loop.Asked{},
	}
}
