package store

import "context"

// Progress is told now and then how far long work is: what is being done, in words
// that end a sentence, and from 0 to 1 how much of that; below 0 where it is not
// known. It is called on the goroutine that works.
type Progress func(what string, done float64)

type progressKey struct{}

// WithProgress has long work that is given the context tell how far it is.
func WithProgress(ctx context.Context, p Progress) context.Context {
	return context.WithValue(ctx, progressKey{}, p)
}

// tellProgress tells whoever follows the work how far it is.
func tellProgress(ctx context.Context, what string, done float64) {
	if p, ok := ctx.Value(progressKey{}).(Progress); ok {
		p(what, done)
	}
}

// share is how much of a whole is done; below 0 where the whole is not known.
func share[T int64 | uint64](done, whole T) float64 {
	if whole == 0 {
		return -1
	}
	return float64(done) / float64(whole)
}
