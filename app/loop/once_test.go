package loop

import (
	"slices"
	"testing"
)

func TestOnce(t *testing.T) {
	var once Once
	if once.Busy() {
		t.Error("the zero value: got busy, want not")
	}
	if !once.Begin() || !once.Busy() {
		t.Error("the first Begin: want it taken, and busy")
	}
	if once.Begin() {
		t.Error("a second Begin while the first runs: got true, want false")
	}
	once.End()
	if once.Busy() || !once.Begin() {
		t.Error("after End: want it free, and Begin taken")
	}
}

// A second Enter while the shop is written to writes nothing, a third one after it does.
func TestDoOnce(t *testing.T) {
	var q Queue
	var once Once
	var written, back []string
	write := func(what string) bool {
		return DoOnce(q.Loop(), &once, func() (string, error) {
			written = append(written, what)
			return what, nil
		}, func(v string, _ error) {
			if once.Busy() {
				t.Errorf("%s is back: got busy, want free for the next", v)
			}
			back = append(back, v)
		})
	}
	if !write("first") {
		t.Error("first: got refused, want begun")
	}
	if write("second") {
		t.Error("second, before the first began: got begun, want refused")
	}
	q.Step()
	if write("third") || !once.Busy() {
		t.Error("third, before the first is back: got begun, want refused")
	}
	q.Drain()
	if !write("fourth") {
		t.Error("fourth, after the first is back: got refused, want begun")
	}
	q.Drain()
	want := []string{"first", "fourth"}
	if !slices.Equal(written, want) || !slices.Equal(back, want) {
		t.Errorf("written %q, back %q, want %q", written, back, want)
	}
}

// What comes back may begin the next piece of work.
func TestDoOnceChained(t *testing.T) {
	var q Queue
	var once Once
	count := 0
	var again func(int, error)
	again = func(n int, _ error) {
		count = n
		if n < 3 && !DoOnce(q.Loop(), &once, func() (int, error) { return n + 1, nil }, again) {
			t.Errorf("work %d: got refused, want begun", n+1)
		}
	}
	again(0, nil)
	q.Drain()
	if count != 3 || once.Busy() {
		t.Errorf("got %d pieces of work and busy %v, want 3 and not", count, once.Busy())
	}
}
