// Package progress lets long work say how far it is, through the context that it is
// given: whoever starts the work follows it, and nothing between them has to know.
package progress

import (
	"context"
	"io"
)

// Func is told now and then how far long work is: what is being done, in words that end
// a sentence, and from 0 to 1 how much of that; below 0 where it is not known. It is
// called on the goroutine that works.
type Func func(what string, done float64)

type key struct{}

// With has work that is given the context report to f; nil is nobody.
func With(ctx context.Context, f Func) context.Context {
	if f == nil {
		return ctx
	}
	return context.WithValue(ctx, key{}, f)
}

// Report tells whoever follows the work how far it is. It does nothing where nobody does.
func Report(ctx context.Context, what string, done float64) {
	if f, ok := ctx.Value(key{}).(Func); ok {
		f(what, done)
	}
}

// Share is how much of a whole is done; below 0 where the whole is not known.
func Share[T int | int64 | uint64](done, whole T) float64 {
	if whole == 0 {
		return -1
	}
	return float64(done) / float64(whole)
}

// NewWriter returns a writer to another one that fails once the context is done, and
// reports how much of the whole was written, in bytes; a whole of 0 is not known.
func NewWriter(ctx context.Context, to io.Writer, what string, whole int64) io.Writer {
	return &writer{ctx: ctx, to: to, what: what, whole: whole}
}

type writer struct {
	ctx         context.Context
	to          io.Writer
	what        string
	done, whole int64
}

func (w *writer) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.to.Write(p)
	w.done += int64(n)
	Report(w.ctx, w.what, Share(w.done, w.whole))
	return n, err
}
