package loop

import "context"

// Progress is how far long work is. Its zero value says that there is none under way.
type Progress struct {
	Title string  // what is done: "Making a safe copy"
	Words string  // which part of it: "copying the photos"
	Done  float64 // of that part, from 0 to 1; below 0 where it is not known
}

// Job does one piece of long work at a time, shows how far it is, and can stop it. It
// belongs to a model and is used on the window's goroutine only.
type Job struct {
	loop     Loop
	changed  func()
	progress Progress
	running  Latest
}

// NewJob makes a job; changed is called whenever its progress has changed.
func NewJob(l Loop, changed func()) *Job { return &Job{loop: l, changed: changed} }

// Progress is how far the work is.
func (j *Job) Progress() Progress { return j.progress }

// Busy reports whether work is under way.
func (j *Job) Busy() bool { return j.running.Waiting() }

// Stop cancels the context of the work. The work ends by that, and its result comes
// back as that of any other.
func (j *Job) Stop() {
	if j.Busy() {
		j.running.cancel()
	}
}

// Tell is called by long work, from any goroutine, to say how far it is: which part
// of it is done, and how much of that from 0 to 1, below 0 where it is not known.
type Tell func(words string, done float64)

// DoJob does long work in the background and brings its result back. It reports
// whether the work was begun: while other work is under way it is not. Back may begin
// the next.
func DoJob[T any](j *Job, title string, work func(context.Context, Tell) (T, error), back func(T, error)) bool {
	if j.Busy() {
		return false
	}
	request := j.running.Start()
	j.progress = Progress{Title: title, Words: "starting", Done: -1}
	j.changed()
	tell := EachPercent(func(words string, done float64) {
		j.loop.Post(func() {
			if request.Current() && j.Busy() {
				j.progress.Words, j.progress.Done = words, done
				j.changed()
			}
		})
	})
	j.loop.Run(func() {
		v, err := work(request.ctx, tell)
		j.loop.Post(func() {
			request.answered()
			j.progress = Progress{}
			back(v, err)
		})
	})
	return true
}

// EachPercent passes on progress when the part or its whole percent has changed:
// work tells far more often than anybody can see.
func EachPercent(tell Tell) Tell {
	part, percent := "", -1
	return func(words string, done float64) {
		now := -1
		if done >= 0 {
			now = int(100 * done)
		}
		if words == part && now == percent {
			return
		}
		part, percent = words, now
		tell(words, done)
	}
}
