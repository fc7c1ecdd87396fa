package copies

import (
	"context"

	"stowright/app/loop"
	"stowright/store/progress"
)

// work does long work of the store, which shows how far it is and can be stopped. It
// reports whether it was begun: something else may be under way.
func work[T any](job *loop.Job, title string, do func(context.Context) (T, error), back func(T, error)) bool {
	return loop.DoJob(job, title, func(ctx context.Context, tell loop.Tell) (T, error) {
		return do(progress.With(ctx, progress.Func(tell)))
	}, back)
}
