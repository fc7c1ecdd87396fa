package loop

import (
	"sync"
	"time"
)

// Queue is a Loop for tests: nothing happens until Step or Drain. Its zero value
// is ready. Step and Drain are called from one goroutine; Post may be called
// from any.
type Queue struct {
	mu    sync.Mutex
	work  []func()
	done  []func()
	later []func()
	asked Asked
	now   time.Time
}

// Loop is the queue as a Loop.
func (q *Queue) Loop() Loop {
	return Loop{Run: q.Run, Post: q.Post, After: q.After, Now: q.Now, Asked: &q.asked}
}

// Now is what the queue's clock says, which only Pass moves.
func (q *Queue) Now() time.Time {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.now
}

// Pass moves the clock on; what waits for a time waits on.
func (q *Queue) Pass(d time.Duration) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.now = q.now.Add(d)
}

// Run queues work.
func (q *Queue) Run(work func()) { q.add(&q.work, work) }

// Post queues what a piece of work brings back.
func (q *Queue) Post(done func()) { q.add(&q.done, done) }

// After queues what waits for a time; Elapse lets it happen.
func (q *Queue) After(_ time.Duration, do func()) { q.add(&q.later, do) }

func (q *Queue) add(to *[]func(), f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	*to = append(*to, f)
}

// take removes the first function of a list.
func (q *Queue) take(from *[]func()) func() {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(*from) == 0 {
		return nil
	}
	f := (*from)[0]
	*from = (*from)[1:]
	return f
}

// Step does the oldest result that came back, or else the oldest piece of work,
// and reports whether there was anything.
func (q *Queue) Step() bool {
	f := q.take(&q.done)
	if f == nil {
		f = q.take(&q.work)
	}
	if f == nil {
		return false
	}
	f()
	return true
}

// Drain steps until nothing is left.
func (q *Queue) Drain() {
	for q.Step() {
	}
}

// Elapse lets everything happen that waits for a time, and what that makes wait in turn,
// then drains.
func (q *Queue) Elapse() {
	for q.Tick() {
	}
	q.Drain()
}

// Tick lets happen what has waited longest for a time, and reports whether there was anything.
func (q *Queue) Tick() bool {
	f := q.take(&q.later)
	if f != nil {
		f()
	}
	return f != nil
}

// Waiting is how many pieces of work have not been done yet.
func (q *Queue) Waiting() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return len(q.work)
}
