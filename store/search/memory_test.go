// The race detector throws away at random what is kept to be used again, so that allocations
// say nothing there.

//go:build !race

package search

import (
	"context"
	"fmt"
	"testing"
)

// A search takes no more memory in a large index than in a small one.
func TestSearchMemory(t *testing.T) {
	allocated := func(n int) float64 {
		x := New(nil)
		docs := make([]Doc, n)
		for i := range docs {
			docs[i] = Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d-5A", i), Words: "bolt tail"}
		}
		if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
			t.Fatal(err)
		}
		return testing.AllocsPerRun(20, func() { x.Search("bolt an", 10) })
	}
	if small, large := allocated(20), allocated(5000); large > small+8 {
		t.Errorf("%v allocations in a small index, %v in a large one", small, large)
	}
}
