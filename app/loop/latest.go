package loop

import "context"

// Latest drops late answers: of several requests only the newest counts. Its zero
// value is ready. It belongs to a model and is used on the window's goroutine only,
// as are the requests that it starts.
type Latest struct {
	number int // of the newest request
	cancel context.CancelFunc
	end    func() // of what a person may wait for; nil for nothing
}

// Start begins a request and makes the one before it out of date: its context is
// cancelled and its answer does not count any more.
func (l *Latest) Start() Request {
	l.Drop()
	ctx, cancel := context.WithCancel(context.Background())
	l.cancel = cancel
	return Request{ctx: ctx, of: l, number: l.number}
}

// Drop cancels the newest request, if one waits: no answer to it counts any more.
func (l *Latest) Drop() {
	l.number++
	if l.cancel != nil {
		l.cancel()
		l.cancel = nil
	}
	l.ended()
}

// ended says that nobody waits for the newest request any more.
func (l *Latest) ended() {
	if end := l.end; end != nil {
		l.end = nil
		end()
	}
}

// Waiting reports whether the newest request has no answer yet.
func (l *Latest) Waiting() bool { return l.cancel != nil }

// Request is one request of a Latest. The zero value is never current.
type Request struct {
	ctx    context.Context
	of     *Latest
	number int
}

// Context is cancelled when the request is out of date. It may be used on any goroutine.
func (r Request) Context() context.Context { return r.ctx }

// Current reports whether the request is still the newest, so that its answer counts.
func (r Request) Current() bool { return r.of != nil && r.number == r.of.number }

// answered notes that the answer is there, and reports whether it counts.
func (r Request) answered() bool {
	if !r.Current() {
		return false
	}
	r.of.cancel()
	r.of.cancel = nil
	return true
}

// DoLatest does work in the background and brings its result back if no newer request
// was started, and none dropped, meanwhile. Work that has not begun by then is never
// begun; work that has begun may end early by its context. So it must only read:
// what changes something is for Do, Once or Job.
func DoLatest[T any](l Loop, latest *Latest, work func(context.Context) (T, error), back func(T, error)) {
	end := l.begin() // before the request that this one replaces ends: somebody may wait for that
	request := latest.Start()
	latest.end = end
	l.Run(func() {
		if request.ctx.Err() != nil {
			return
		}
		v, err := work(request.ctx)
		l.Post(func() {
			if request.answered() {
				end := latest.end
				latest.end = nil // back may ask anew
				defer end()
				back(v, err)
			}
		})
	})
}
