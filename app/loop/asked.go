package loop

import "sync"

// Asked knows whether something that a person asked for is still under way: a page that is
// being read, a question whose answers are looked up, an entry that is being written. Until it
// has come, what is typed is meant for what comes, and must wait.
//
// What Do, DoLatest and DoOnce begin counts when it begins while Ask runs, or while something
// else that was asked for is under way, as what an answer leads to is asked for too. Long
// work (Job) never counts: it shows its progress, and Esc stops it. The zero value is ready; a
// nil Asked counts nothing.
type Asked struct {
	mu       sync.Mutex
	asking   int // how deep in Ask
	pending  int
	telling  bool // all has come, and it is about to be said
	turn     int  // what began in an earlier turn was given up
	answered func()
}

// Ask does what a person asked for; what that begins in the background is waited for. It is
// called on the window's goroutine.
func (a *Asked) Ask(do func()) {
	if a == nil {
		do()
		return
	}
	a.add(1)
	defer a.add(-1)
	do()
}

func (a *Asked) add(n int) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.asking += n
}

// Waiting reports whether something that was asked for is under way.
func (a *Asked) Waiting() bool {
	if a == nil {
		return false
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.waiting()
}

func (a *Asked) waiting() bool { return a.pending > 0 || a.telling }

// GiveUp waits no longer for what is under way.
func (a *Asked) GiveUp() {
	if a == nil {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.pending, a.telling = 0, false
	a.turn++
}

// WhenAnswered has do called on the window's goroutine whenever all that was asked for has
// come, in place of what was called before.
func (a *Asked) WhenAnswered(do func()) {
	if a == nil {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.answered = do
}

// begin counts work that begins, and returns what to call once when its answer has been dealt
// with; nil for work that does not count.
func (a *Asked) begin(post func(func())) (end func()) {
	if a == nil {
		return nil
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.asking == 0 && !a.waiting() {
		return nil
	}
	a.pending++
	turn := a.turn
	return func() {
		if a.end(turn) {
			post(a.tell)
		}
	}
}

// end counts work that has ended, and reports whether it was the last.
func (a *Asked) end(turn int) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	if turn != a.turn || a.pending == 0 {
		return false
	}
	a.pending--
	a.telling = a.pending == 0
	return a.telling
}

// tell says that all has come, unless something was asked for since.
func (a *Asked) tell() {
	a.mu.Lock()
	a.telling = false
	tell, still := a.answered, a.pending > 0
	a.mu.Unlock()
	if tell != nil && !still {
		tell()
	}
}
