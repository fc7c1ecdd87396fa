package loop

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"
)

// answerer asks numbered questions of a Latest and notes what came back.
type answerer struct {
	queue  Queue
	latest Latest
	begun  []int
	got    []int
}

func (a *answerer) ask(question int) {
	DoLatest(a.queue.Loop(), &a.latest, func(context.Context) (int, error) {
		a.begun = append(a.begun, question)
		return question, nil
	}, func(answer int, _ error) { a.got = append(a.got, answer) })
}

func (a *answerer) check(t *testing.T, begun, got []int, waiting bool) {
	t.Helper()
	if !slices.Equal(a.begun, begun) {
		t.Errorf("work begun: got %v, want %v", a.begun, begun)
	}
	if !slices.Equal(a.got, got) {
		t.Errorf("answers: got %v, want %v", a.got, got)
	}
	if a.latest.Waiting() != waiting {
		t.Errorf("Waiting: got %v, want %v", a.latest.Waiting(), waiting)
	}
}

func TestLatest(t *testing.T) {
	for _, row := range []struct {
		name       string
		do         func(a *answerer)
		begun, got []int
		waiting    bool
	}{
		{"nothing asked", func(*answerer) {}, nil, nil, false},
		{"asked, not begun", func(a *answerer) { a.ask(1) }, nil, nil, true},
		{"worked, not back yet", func(a *answerer) { a.ask(1); a.queue.Step() }, []int{1}, nil, true},
		{"answered", func(a *answerer) { a.ask(1); a.queue.Drain() }, []int{1}, []int{1}, false},
		{"one after the other", func(a *answerer) { a.ask(1); a.queue.Drain(); a.ask(2); a.queue.Drain() }, []int{1, 2}, []int{1, 2}, false},
		{"asked again before the work began", func(a *answerer) { a.ask(1); a.ask(2); a.queue.Drain() }, []int{2}, []int{2}, false},
		{"asked again before the answer was back", func(a *answerer) { a.ask(1); a.queue.Step(); a.ask(2); a.queue.Drain() }, []int{1, 2}, []int{2}, false},
		{"a late answer leaves the newer one waiting", func(a *answerer) { a.ask(1); a.queue.Step(); a.ask(2); a.queue.Step() }, []int{1}, nil, true},
		{"dropped before the work began", func(a *answerer) { a.ask(1); a.latest.Drop(); a.queue.Drain() }, nil, nil, false},
		{"dropped before the answer was back", func(a *answerer) { a.ask(1); a.queue.Step(); a.latest.Drop(); a.queue.Drain() }, []int{1}, nil, false},
		{"dropped when it was answered already", func(a *answerer) { a.ask(1); a.queue.Drain(); a.latest.Drop() }, []int{1}, []int{1}, false},
		{"asked after a drop", func(a *answerer) { a.ask(1); a.latest.Drop(); a.ask(2); a.queue.Drain() }, []int{2}, []int{2}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			var a answerer
			row.do(&a)
			a.check(t, row.begun, row.got, row.waiting)
		})
	}
}

// An answer may ask the next question.
func TestLatestAsksOn(t *testing.T) {
	var q Queue
	var latest Latest
	var got []string
	DoLatest(q.Loop(), &latest, func(context.Context) (string, error) { return "first", nil }, func(v string, _ error) {
		got = append(got, v)
		DoLatest(q.Loop(), &latest, func(context.Context) (string, error) { return "second", nil }, func(v string, _ error) {
			got = append(got, v)
		})
		if !latest.Waiting() {
			t.Error("Waiting while the second is asked: got false, want true")
		}
	})
	q.Drain()
	if want := []string{"first", "second"}; !slices.Equal(got, want) {
		t.Errorf("answers: got %q, want %q", got, want)
	}
}

// The context of a request ends with the next one, with Drop and with its answer, so
// that nothing holds on to it.
func TestLatestContext(t *testing.T) {
	var q Queue
	var latest Latest
	var contexts []context.Context
	ask := func() {
		DoLatest(q.Loop(), &latest, func(ctx context.Context) (int, error) {
			contexts = append(contexts, ctx)
			return 0, ctx.Err()
		}, func(_ int, err error) {
			if err != nil {
				t.Errorf("an answer that counts came with %v", err)
			}
		})
		for before := len(contexts); len(contexts) == before && q.Step(); { // not yet what it brings back
		}
	}
	ended := func(which int, want bool) {
		t.Helper()
		if got := contexts[which].Err() != nil; got != want {
			t.Errorf("context %d ended: got %v, want %v", which, got, want)
		}
	}
	ask()
	ended(0, false)
	ask()
	ended(0, true)
	ended(1, false)
	q.Drain()
	ended(1, true)
	ask()
	ended(2, false)
	latest.Drop()
	ended(2, true)
}

func TestRequest(t *testing.T) {
	var latest, other Latest
	var zero Request
	if zero.Current() {
		t.Error("the zero request: got current, want not")
	}
	first := latest.Start()
	if !first.Current() || !latest.Waiting() {
		t.Error("after Start: want the request current and waiting")
	}
	other.Start()
	if !first.Current() {
		t.Error("a request of another Latest put this one out of date")
	}
	second := latest.Start()
	if first.Current() || first.Context().Err() == nil {
		t.Error("after the next Start: want the first out of date and cancelled")
	}
	if !second.Current() || second.Context().Err() != nil {
		t.Error("after its Start: want the second current and not cancelled")
	}
	latest.Drop()
	if second.Current() || latest.Waiting() || !errors.Is(second.Context().Err(), context.Canceled) {
		t.Error("after Drop: want nothing current, nothing waiting, all cancelled")
	}
	latest.Drop() // again does no harm
}

// Work and its errors come back on the loop, in order.
func TestDo(t *testing.T) {
	var q Queue
	wrong := errors.New("wrong")
	var got []error
	Do(q.Loop(), func() (int, error) { return 1, nil }, func(v int, err error) {
		if v != 1 {
			t.Errorf("value: got %d, want 1", v)
		}
		got = append(got, err)
	})
	Do(q.Loop(), func() (int, error) { return 0, wrong }, func(_ int, err error) { got = append(got, err) })
	if len(got) != 0 {
		t.Error("something came back before the loop ran")
	}
	q.Drain()
	if want := []error{nil, wrong}; !slices.Equal(got, want) {
		t.Errorf("errors: got %v, want %v", got, want)
	}
}

// Real goroutines: only the newest answer comes back, on whatever goroutine posts.
func TestLatestOnGoroutines(t *testing.T) {
	posts := make(chan func(), 100)
	l := Loop{Run: func(work func()) { go work() }, Post: func(done func()) { posts <- done }}
	var latest Latest
	var got []int
	for question := range 20 {
		DoLatest(l, &latest, func(context.Context) (int, error) { return question, nil }, func(answer int, _ error) { got = append(got, answer) })
	}
	limit := time.After(10 * time.Second)
	for latest.Waiting() {
		select {
		case done := <-posts:
			done()
		case <-limit:
			t.Fatal("no answer to the newest question in 10 s")
		}
	}
	if want := []int{19}; !slices.Equal(got, want) {
		t.Errorf("answers: got %v, want %v", got, want)
	}
}
