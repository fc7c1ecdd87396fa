package loop

import (
	"context"
	"errors"
	"slices"
	"testing"
)

// jobBench is a job whose progress is noted whenever it changes.
type jobBench struct {
	queue Queue
	job   *Job
	shown []Progress
}

func newJobBench() *jobBench {
	b := &jobBench{}
	b.job = NewJob(b.queue.Loop(), func() { b.shown = append(b.shown, b.job.Progress()) })
	return b
}

func TestJobProgress(t *testing.T) {
	b := newJobBench()
	var result string
	begun := DoJob(b.job, "Copying", func(_ context.Context, tell Tell) (string, error) {
		tell("writing", 0)
		tell("writing", 0.5)
		tell("syncing", -1)
		return "done", nil
	}, func(v string, _ error) {
		result = v
		if b.job.Busy() || b.job.Progress() != (Progress{}) {
			t.Error("when the result is back: want nothing under way")
		}
	})
	if !begun || !b.job.Busy() {
		t.Error("DoJob: want it begun, and busy")
	}
	b.queue.Drain()
	want := []Progress{
		{"Copying", "starting", -1},
		{"Copying", "writing", 0},
		{"Copying", "writing", 0.5},
		{"Copying", "syncing", -1},
	}
	if !slices.Equal(b.shown, want) {
		t.Errorf("progress:\n got %v\nwant %v", b.shown, want)
	}
	if result != "done" {
		t.Errorf("result: got %q, want done", result)
	}
}

func TestJobOneAtATime(t *testing.T) {
	b := newJobBench()
	work := func(context.Context, Tell) (int, error) { return 0, nil }
	back := func(int, error) {}
	if !DoJob(b.job, "first", work, back) {
		t.Error("first: got refused, want begun")
	}
	if DoJob(b.job, "second", work, back) {
		t.Error("second while the first runs: got begun, want refused")
	}
	if got := b.job.Progress().Title; got != "first" {
		t.Errorf("title: got %q, want that of the first", got)
	}
	b.queue.Drain()
	if !DoJob(b.job, "third", work, back) {
		t.Error("third after the first: got refused, want begun")
	}
}

// Stop cancels the context; until the work has ended by it, nothing else begins, and
// its result comes back.
func TestJobStop(t *testing.T) {
	b := newJobBench()
	b.job.Stop() // nothing under way: nothing happens
	var got error
	DoJob(b.job, "long", func(ctx context.Context, _ Tell) (int, error) { return 0, ctx.Err() }, func(_ int, err error) { got = err })
	b.job.Stop()
	if !b.job.Busy() {
		t.Error("stopped, not ended: got free, want busy")
	}
	b.queue.Drain()
	if !errors.Is(got, context.Canceled) || b.job.Busy() {
		t.Errorf("got %v and busy %v, want a cancelled context and not busy", got, b.job.Busy())
	}
}

// What work tells after its result is back changes nothing, not even where other work
// is under way by then.
func TestJobLateTell(t *testing.T) {
	b := newJobBench()
	var late Tell
	DoJob(b.job, "first", func(_ context.Context, tell Tell) (int, error) { late = tell; return 0, nil }, func(int, error) {})
	b.queue.Drain()
	late("too late", 0.9)
	b.queue.Drain()
	if got := b.job.Progress(); got != (Progress{}) {
		t.Errorf("after the work: got %+v, want nothing under way", got)
	}
	DoJob(b.job, "second", func(context.Context, Tell) (int, error) { return 0, nil }, func(int, error) {})
	late("far too late", 0.1)
	b.queue.Step() // the second piece of work waits behind what was posted
	if got := b.job.Progress(); got.Words != "starting" || got.Title != "second" {
		t.Errorf("during the second: got %+v, want it starting", got)
	}
}

func TestEachPercent(t *testing.T) {
	type told struct {
		words string
		done  float64
	}
	for _, row := range []struct {
		name     string
		in, want []told
	}{
		{"the same percent", []told{{"a", 0.101}, {"a", 0.109}, {"a", 0.11}}, []told{{"a", 0.101}, {"a", 0.11}}},
		{"another part with the same percent", []told{{"a", 0.5}, {"b", 0.5}}, []told{{"a", 0.5}, {"b", 0.5}}},
		{"parts of unknown length", []told{{"a", -1}, {"a", -1}, {"b", -1}}, []told{{"a", -1}, {"b", -1}}},
		{"known after unknown", []told{{"a", -1}, {"a", 0}}, []told{{"a", -1}, {"a", 0}}},
		{"to the end", []told{{"a", 0.995}, {"a", 1}}, []told{{"a", 0.995}, {"a", 1}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []told
			tell := EachPercent(func(words string, done float64) { got = append(got, told{words, done}) })
			for _, in := range row.in {
				tell(in.words, in.done)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}
