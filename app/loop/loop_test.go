package loop

import (
	"slices"
	"testing"
	"time"
)

// What came back is shown before new work is started, in the order it was queued.
func TestQueueOrder(t *testing.T) {
	var q Queue
	var got []string
	say := func(s string) func() { return func() { got = append(got, s) } }
	loop := q.Loop()
	loop.Run(func() { got = append(got, "work 1"); loop.Post(say("done 1")) })
	loop.Run(func() { got = append(got, "work 2"); loop.Post(say("done 2")) })
	loop.After(time.Hour, say("later"))
	if q.Waiting() != 2 {
		t.Errorf("Waiting: got %d, want 2", q.Waiting())
	}
	q.Drain()
	q.Elapse()
	want := []string{"work 1", "done 1", "work 2", "done 2", "later"}
	if !slices.Equal(got, want) {
		t.Errorf("order: got %q, want %q", got, want)
	}
	if q.Step() {
		t.Error("Step on an empty queue: got true, want false")
	}
}
