package main

import (
	"errors"
	"testing"
	"time"

	"stowright/store"
)

// leave makes a leaving whose exits and closings are sent to channels.
func leave(patience time.Duration, problem error) (l *leaving, closed chan struct{}, exited chan int) {
	closed, exited = make(chan struct{}, 9), make(chan int, 9)
	l = newLeaving(func() error { closed <- struct{}{}; return problem })
	l.patience, l.exit = patience, func(code int) { exited <- code }
	return l, closed, exited
}

// A loop that never returns does not keep the program: the shop is closed once, and
// then the program ended.
func TestLeaveWithoutTheLoop(t *testing.T) {
	for _, row := range []struct {
		name    string
		problem error
		code    int
	}{
		{"closed well", nil, exitDone},
		{"not closed well", &store.Error{Kind: store.Corrupt, Message: "damaged"}, exitDamaged},
	} {
		t.Run(row.name, func(t *testing.T) {
			l, closed, exited := leave(0, row.problem)
			l.begin()
			l.begin() // the window is closed, and Ctrl+C comes too
			if code := <-exited; code != row.code || len(closed) != 1 {
				t.Errorf("ended with %d after %d closings, want %d after one", code, len(closed), row.code)
			}
		})
	}
}

// A loop that returns ends the program as usual.
func TestLeaveWithTheLoop(t *testing.T) {
	problem := errors.New("the disk is full")
	l, closed, exited := leave(time.Hour, problem)
	l.begin()
	if err := l.end(); !errors.Is(err, problem) || len(closed) != 1 || len(exited) != 0 {
		t.Errorf("got %v, %d closings and %d exits, want the problem, one and none", err, len(closed), len(exited))
	}
}
