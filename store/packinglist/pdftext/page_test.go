package pdftext

import "testing"

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
