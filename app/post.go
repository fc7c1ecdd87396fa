package app

import (
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app/loop"
)

// Loop is the loop of the running program: goroutines for work, Fyne's own
// goroutine for what comes back. This is the only file that calls fyne.Do; it is
// called only from goroutines that Run or After started.
//
// Stop is called as the program begins to leave, from any goroutine. What comes back later is
// not done any more: once its own loop has ended, Fyne would do it on whatever goroutine brings
// it. Its hook for that moment comes too late, or never.
func Loop() (l loop.Loop, stop func()) {
	var stopped atomic.Bool
	post := func(do func()) {
		if !stopped.Load() {
			fyne.Do(do)
		}
	}
	return loop.Loop{
		Run:   func(work func()) { go work() },
		Post:  post,
		After: func(wait time.Duration, do func()) { time.AfterFunc(wait, func() { post(do) }) },
		Asked: &loop.Asked{},
	}, func() { stopped.Store(true) }
}
