package pdftext

import (
	"bytes"
	"errors"
	"math"
	"testing"

	"github.com/jung-kurt/gofpdf"
)

// What is written in a box is the letters that reach into it, in their order, with a blank
// where there was one or where the line is another.
func TestTextInABox(t *testing.T) {
	// Three lines of 40 letters, 10 points apart; each letter is 4 wide, and its box may be
	// given from either side.
	var page run
	for line := range 3 {
		for i := range 40 {
			letter := rune('a' + (line*40+i)%26)
			if i == 5 {
				letter = ' '
			}
			x, y := float64(5*i), float64(100-10*line)
			b := box{x, x + 4, y, y + 6}
			if i%2 == 1 {
				b = box{x + 4, x, y + 6, y}
			}
			page = append(page, run{{letter, b, y}}...)
		}
	}
	page = append(page, run{{0, box{300, 304, 100, 106}, 100}}...)
	blocks := page.blocks()
	for _, row := range []struct {
		name string
		in   box
		want string
	}{
		{"one letter", box{0, 4, 100, 106}, "a"},
		{"from the other side", box{4, 0, 106, 100}, "a"},
		{"what only touches is outside", box{4, 5, 100, 106}, ""},
		{"above the line", box{0, 200, 106, 110}, ""},
		{"over a blank", box{20, 34, 100, 106}, "e g"},
		{"a blank between what is in and what is not", box{20, 24, 90, 106}, "e s"},
		{"over the end of a block", box{150, 174, 100, 106}, "efghi"},
		{"two lines", box{0, 9, 90, 106}, "ab op"},
		{"three lines", box{0, 4, 80, 106}, "a o c"},
		{"without a sign", box{300, 304, 100, 106}, ""},
		{"nothing", box{500, 600, 500, 600}, ""},
	} {
		if got := page.in(row.in, blocks); got != row.want {
			t.Errorf("%s: got %q, want %q", row.name, got, row.want)
		}
	}
}

// A box on a page of 600 by 800 points stands upright by quarter turns clockwise; what was at
// its left is at its top after one.
func TestUprightBoxes(t *testing.T) {
	b := box{100, 160, 700, 712} // from the bottom left corner
	for turns, want := range []Text{
		{Left: 100, Right: 160, Top: 88, Bottom: 100},
		{Left: 700, Right: 712, Top: 100, Bottom: 160},
		{Left: 440, Right: 500, Top: 700, Bottom: 712},
		{Left: 88, Right: 100, Top: 440, Bottom: 500},
	} {
		for _, given := range []box{b, {b[right], b[left], b[top], b[bottom]}} {
			if got := upright(given, turns, 600, 800); got != want {
				t.Errorf("%v turned %d times: got %+v, want %+v", given, turns, got, want)
			}
		}
	}
}

// A letter at an angle is turned by the quarters that bring it nearest to upright.
func TestTurned(t *testing.T) {
	for degrees, want := range map[float64]int{0: 0, 44: 0, 46: 3, 90: 3, 134: 3, 136: 2, 180: 2, 270: 1, 314: 1, 316: 0, 359: 0} {
		if got := turned(degrees * math.Pi / 180); got != want {
			t.Errorf("at %v degrees: %d quarters, want %d", degrees, got, want)
		}
	}
}

// A PDF with a password says so, and the next one is read.
func TestLocked(t *testing.T) {
	doc := gofpdf.New("P", "pt", "A4", "")
	doc.SetProtection(gofpdf.CnProtectPrint, "open", "own")
	doc.AddPage()
	doc.SetFont("Helvetica", "", 12)
	doc.Text(50, 50, "OQ-1")
	var buf bytes.Buffer
	if err := doc.Output(&buf); err != nil {
		t.Fatal(err)
	}
	if pages, err := shared.Read(t.Context(), buf.Bytes()); !errors.Is(err, ErrLocked) {
		t.Errorf("%d pages, %v, want %v", len(pages), err, ErrLocked)
	}
	if pages, err := shared.Read(t.Context(), made(t, 0, 1)); err != nil || len(pages) != 1 {
		t.Errorf("the next one: %d pages, %v", len(pages), err)
	}
}
