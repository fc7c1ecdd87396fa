package labels

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden display lists anew")

// dump is a display list as text, in millimetres, for people to review.
func dump(doc Document) string {
	var b strings.Builder
	fmt.Fprintf(&b, "stock %s, module %.3f\n", doc.Stock, doc.Module)
	for n, p := range doc.Pages {
		fmt.Fprintf(&b, "page %d %.2f x %.2f\n", n+1, p.W, p.H)
		for _, c := range p.Cells {
			fmt.Fprintf(&b, " cell %s label %d\n", corner(c.Rect), c.Label)
			dumpItems(&b, "  ", c.Items)
		}
		dumpItems(&b, " ", p.Items)
	}
	for _, n := range doc.Notes {
		fmt.Fprintf(&b, "note %d %s\n", n.Label, n.Text)
	}
	return b.String()
}

func corner(r Rect) string { return fmt.Sprintf("%.2f,%.2f %.2fx%.2f", r.X, r.Y, r.W, r.H) }

func dumpItems(b *strings.Builder, indent string, items []Item) {
	for _, it := range items {
		b.WriteString(indent)
		switch it := it.(type) {
		case Fill:
			fmt.Fprintf(b, "fill %s ink %d\n", corner(it.Rect), it.Ink)
		case Box:
			fmt.Fprintf(b, "box %s radius %.2f pen %.2f\n", corner(it.Rect), it.Radius, it.Pen)
		case Path:
			fmt.Fprintf(b, "path pen %.2f closed %t filled %t dashed %t", it.Pen, it.Closed, it.Filled, it.Dashed)
			for _, p := range it.Points {
				fmt.Fprintf(b, " %.2f,%.2f", p.X, p.Y)
			}
			b.WriteByte('\n')
		case Text:
			fmt.Fprintf(b, "text %.2f,%.2f size %.3f width %.2f %s ink %d %q\n", it.X, it.Y, it.Size, it.Width, it.Face, it.Ink, it.Text)
		case Code:
			fmt.Fprintf(b, "code %.2f,%.2f module %.4f runs %d %q\n", it.X, it.Y, it.Module, len(it.Runs), it.Text)
		}
	}
}

// TestGolden compares display lists with those that were looked at and found
// good. Refresh them with -update and look again.
func TestGolden(t *testing.T) {
	few := samples()
	cases := []struct {
		name  string
		stock string
		list  []Label
		opt   Options
	}{
		{"letter-3x10", "letter-3x10", few, Options{StartAt: 25}},
		{"letter-2x5-cut", "letter-2x5", few[:2], Options{CutMarks: true}},
		{"letter-4x20", "letter-4x20", few, Options{}},
		{"a4-3x8", "a4-3x8", few, Options{}},
		{"a4-5x13", "a4-5x13", few, Options{}},
		{"a4-3x10-no-margin", "a4-3x10", few[:3], Options{}},
		{"crate", "crate-100x62", few, Options{}},
		{"tape", "tape-12", few, Options{}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { compareGolden(t, c.name, mustLayout(t, c.list, c.stock, c.opt)) })
	}
	t.Run("calibration", func(t *testing.T) {
		doc, err := Calibration(Stocks()[0])
		if err != nil {
			t.Fatal(err)
		}
		compareGolden(t, "calibration", doc)
	})
}

func compareGolden(t *testing.T, name string, doc Document) {
	t.Helper()
	path := filepath.Join("..", "testdata", "labels", name+".txt")
	got := dump(doc)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	gotLines, wantLines := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(gotLines), len(wantLines)) {
		g, w := "", ""
		if i < len(gotLines) {
			g = gotLines[i]
		}
		if i < len(wantLines) {
			w = wantLines[i]
		}
		if g != w {
			t.Fatalf("%s line %d:\n got %s\nwant %s", path, i+1, g, w)
		}
	}
}
