package progress_test

import (
	"context"
	"fmt"
	"testing"

	"stowright/store/progress"
)

func ExampleReport() {
	ctx := progress.With(context.Background(), func(what string, done float64) { fmt.Printf("%s: %.0f %%\n", what, 100*done) })
	progress.Report(ctx, "copying", progress.Share(1, 4))
	progress.Report(context.Background(), "nobody follows", 1)
	// Output: copying: 25 %
}

func TestShare(t *testing.T) {
	for _, row := range []struct {
		done, whole int64
		want        float64
	}{{0, 10, 0}, {5, 10, .5}, {10, 10, 1}, {3, 0, -1}} {
		if got := progress.Share(row.done, row.whole); got != row.want {
			t.Errorf("Share(%d, %d): got %v, want %v", row.done, row.whole, got, row.want)
		}
	}
}

// The last one that asked to follow is the one who hears.
func TestWith(t *testing.T) {
	var heard []string
	follow := func(name string) progress.Func {
		return func(what string, _ float64) { heard = append(heard, name+" "+what) }
	}
	outer := progress.With(context.Background(), follow("outer"))
	progress.Report(progress.With(outer, follow("inner")), "a", 0)
	progress.Report(outer, "b", 0)
	if got := fmt.Sprint(heard); got != "[inner a outer b]" {
		t.Errorf("got %s, want [inner a outer b]", got)
	}
}
