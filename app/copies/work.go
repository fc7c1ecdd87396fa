package copies

import (
	"context"

	"stowright/app/loop"
	"stowright/store"
)

// Job is long work under way, as it is shown; its title is empty when there is none.
type Job struct {
	Title string
	Words string
	Done  float64 // from 0 to 1; below 0 where it is not known
}

// worker does one piece of long work at a time, and can stop it.
type worker struct {
	loop   loop.Loop
	show   func() // the job has changed
	job    Job
	cancel context.CancelFunc
	number int // of the work, so that what a stopped one brings back is dropped
}

func (w *worker) busy() bool { return w.cancel != nil }

// stop ends the work; what it had begun is left as if it had not.
func (w *worker) stop() {
	if w.busy() {
		w.cancel()
	}
}

// work does long work away from the window and brings its result back. It reports
// whether it was begun: something else may be under way.
func work[T any](w *worker, title string, do func(context.Context) (T, error), back func(T, error)) bool {
	if w.busy() {
		return false
	}
	ctx, cancel := context.WithCancel(context.Background())
	w.number++
	number := w.number
	w.cancel, w.job = cancel, Job{Title: title, Words: "starting", Done: -1}
	w.show()
	told := -1
	ctx = store.WithProgress(ctx, func(what string, done float64) {
		if percent := int(done * 100); percent != told {
			told = percent
			w.loop.Post(func() {
				if w.number == number && w.busy() {
					w.job.Words, w.job.Done = what, done
					w.show()
				}
			})
		}
	})
	w.loop.Run(func() {
		v, err := do(ctx)
		w.loop.Post(func() {
			w.cancel, w.job = nil, Job{}
			cancel()
			back(v, err)
		})
	})
	return true
}
