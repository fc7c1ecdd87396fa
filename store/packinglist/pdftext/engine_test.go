package pdftext

import (
	"context"
	"errors"
	"testing"

	"stowright/store/progress"
)

// with reads a file with a reader that may go so many steps.
func with(t *testing.T, w work, data []byte) ([]Page, error) {
	t.Helper()
	before := shared.work
	shared.work = w
	defer func() { shared.work = before }()
	return shared.Read(t.Context(), data)
}

// The same file takes the same steps, each time and on each machine, and those of a page of
// a list are a small part of what it may.
func TestSteps(t *testing.T) {
	one, many := pagesOf(1, deflated(lines(30), 1, "")), pagesOf(10, deflated(lines(30), 1, ""))
	var steps []int64
	for _, data := range [][]byte{one, one, many} {
		if _, err := shared.Read(t.Context(), data); err != nil {
			t.Fatal(err)
		}
		steps = append(steps, shared.gone)
	}
	if steps[0] != steps[1] {
		t.Errorf("%d steps, and %d the second time", steps[0], steps[1])
	}
	if page := (steps[2] - steps[0]) / 9; page < 3000 || page > patience.page/4 {
		t.Errorf("%d steps for a page of 3,000 letters, want at least one a letter, and at most a quarter of %d", page, patience.page)
	}
}

// An engine that went all its steps is ended, and the next file has another one.
func TestWorkIsBounded(t *testing.T) {
	data := pagesOf(10, deflated(lines(30), 1, ""))
	if _, err := shared.Read(t.Context(), data); err != nil {
		t.Fatal(err)
	}
	need := shared.gone
	for _, row := range []struct {
		name string
		work work
		want error
	}{
		{"none", work{}, ErrEndless},
		{"half of them", work{need / 2, 0, need}, ErrEndless},
		{"more at first", work{need + slice, 0, need + slice}, nil},
		{"a share with each page", work{slice, need / 9, 2 * need}, nil},
		{"a share that is too small", work{slice, need / 20, 2 * need}, ErrEndless},
		{"never more than most", work{slice, need, need / 2}, ErrEndless},
	} {
		pages, err := with(t, row.work, data)
		if !errors.Is(err, row.want) || row.want == nil && len(pages) != 10 {
			t.Errorf("%s: %d pages, %v, want %v", row.name, len(pages), err, row.want)
		}
		if shared.gone > max(row.work.most, row.work.first)+slice {
			t.Errorf("%s: ended after %d steps", row.name, shared.gone)
		}
	}
	if pages, err := shared.Read(t.Context(), data); err != nil || len(pages) != 10 {
		t.Errorf("the next file: %d pages, %v", len(pages), err)
	}
}

// Whoever reads along hears of each page, and can stop between any two and within one.
func TestStopped(t *testing.T) {
	data := pagesOf(5, deflated(lines(30), 1, ""))
	var told []float64
	ctx, stop := context.WithCancel(t.Context())
	pages, err := shared.Read(progress.With(ctx, func(_ string, done float64) {
		if told = append(told, done); len(told) == 2 {
			stop()
		}
	}), data)
	if len(pages) != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d pages, %v, want %v", len(pages), err, context.Canceled)
	}
	if len(told) != 2 || told[0] != 0.2 || told[1] != 0.4 {
		t.Errorf("told %v, want a fifth and two", told)
	}
	if _, err := shared.Read(ctx, pagesOf(1, deflated("/X Do ", 1000, ""))); !errors.Is(err, context.Canceled) {
		t.Errorf("a page without end: %v, want %v", err, context.Canceled)
	}
}

// What all pages come to is bounded, and not only each.
func TestTheWholeIsBounded(t *testing.T) {
	for _, row := range []struct {
		name string
		read content
		want string
	}{
		{"a page like others", content{}, ""},
		{"too many objects before it", content{objects: mostObjects}, ErrEndless.Error()},
		{"too many letters before it", content{letters: mostLetters}, ErrEndless.Error()},
		{"too many texts before it", content{texts: mostTexts}, "is a PDF with more than 200000 texts, too many for a packing list; save the pages of the list alone"},
	} {
		t.Run(row.name, func(t *testing.T) {
			e, err := shared.machine.begin(t.Context(), patience.first)
			if err != nil {
				t.Fatal(err)
			}
			defer e.close()
			row.read.engine = e
			got := ""
			doc, err := e.open(made(t, 0, 1))
			if err != nil {
				t.Fatal(err)
			}
			if _, err := row.read.page(doc, 0); err != nil {
				got = err.Error()
			}
			if got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}
