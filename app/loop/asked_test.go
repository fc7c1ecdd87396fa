package loop

import (
	"context"
	"testing"
)

// What a person asked for is waited for, with what it leads to and what begins meanwhile; what
// nobody asked for is not.
func TestAsked(t *testing.T) {
	none := func(bool, error) {}
	work := func() (bool, error) { return true, nil }
	for _, row := range []struct {
		name    string
		do      func(q *Queue)
		waiting bool
		told    int // how often it is said that all has come, once the queue is empty
	}{
		{"nothing", func(*Queue) {}, false, 0},
		{"nobody asked", func(q *Queue) { Do(q.Loop(), work, none) }, false, 0},
		{"asked", func(q *Queue) { q.asked.Ask(func() { Do(q.Loop(), work, none) }) }, true, 1},
		{"asked, and it leads to more", func(q *Queue) {
			q.asked.Ask(func() { Do(q.Loop(), work, func(bool, error) { Do(q.Loop(), work, none) }) })
		}, true, 1},
		{"one replaces another", func(q *Queue) {
			var latest Latest
			read := func(context.Context) (bool, error) { return true, nil }
			q.asked.Ask(func() { DoLatest(q.Loop(), &latest, read, none) })
			DoLatest(q.Loop(), &latest, read, none)
		}, true, 1},
		{"dropped", func(q *Queue) {
			var latest Latest
			q.asked.Ask(func() { DoLatest(q.Loop(), &latest, func(context.Context) (bool, error) { return true, nil }, none) })
			latest.Drop()
		}, true, 1},
		{"given up", func(q *Queue) { q.asked.Ask(func() { Do(q.Loop(), work, none) }); q.asked.GiveUp() }, false, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			q, told := &Queue{}, 0
			q.asked.WhenAnswered(func() { told++ })
			row.do(q)
			if got := q.asked.Waiting(); got != row.waiting {
				t.Errorf("waiting %v, want %v", got, row.waiting)
			}
			q.Drain()
			if q.asked.Waiting() || told != row.told {
				t.Errorf("in the end: waiting %v, told %d times, want %d", q.asked.Waiting(), told, row.told)
			}
		})
	}
}
