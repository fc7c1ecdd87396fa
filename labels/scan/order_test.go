package scan

import (
	"strings"
	"testing"
)

// Codes of one row stand from left to right though their middles differ by a part of a
// pixel, and rows from top to bottom.
func TestReadingOrder(t *testing.T) {
	at := func(text string, x, y float64) Code {
		return Code{Text: text, Corners: [4]Point{{x, y}, {x + 40, y}, {x + 40, y + 40}, {x, y + 40}}}
	}
	codes := []Code{at("f", 300, 141), at("b", 200, 10.2), at("c", 300, 9.8), at("d", 20, 121), at("a", 100, 10.4), at("e", 100, 139)}
	inReadingOrder(codes)
	got := ""
	for _, c := range codes {
		got += c.Text
	}
	if want := "abcdef"; got != want {
		t.Errorf("read in the order %s, want %s", strings.Join(strings.Split(got, ""), " "), want)
	}
}
