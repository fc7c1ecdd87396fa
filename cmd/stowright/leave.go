package main

import (
	"os"
	"sync"
	"time"
)

// leaving is how the window is left. Once in a hundred times or so Fyne (2.8.1) waits
// for ever after its last window has closed: what it hands to its own loop can come
// when that has looked for the last time. The program would stay without a window, and
// keep the shop file from being opened again.
type leaving struct {
	ended    chan struct{} // closed when the window's loop has returned
	patience time.Duration // that the loop has to return from when it was told to
	close    func() error  // closes the shop; may be called again
	exit     func(code int)
	once     sync.Once
}

// leavePatience is several times what leaving takes on a machine that is busy.
const leavePatience = 3 * time.Second

func newLeaving(closeShop func() error) *leaving {
	return &leaving{ended: make(chan struct{}), patience: leavePatience, close: sync.OnceValue(closeShop), exit: os.Exit}
}

// begin is called when the window's loop is asked to end, from any goroutine. Where it
// does not return, the shop is closed and the program ended without it.
func (l *leaving) begin() {
	l.once.Do(func() { go l.watch() })
}

func (l *leaving) watch() {
	timer := time.NewTimer(l.patience)
	defer timer.Stop()
	select {
	case <-l.ended:
	case <-timer.C:
		code := exitDone
		if err := l.close(); err != nil {
			code = report(os.Stderr, false, err)
		}
		l.exit(code)
	}
}

// end is called when the window's loop has returned; it closes the shop.
func (l *leaving) end() error {
	close(l.ended)
	return l.close()
}
