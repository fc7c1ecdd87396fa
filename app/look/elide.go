package look

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2/canvas"
)

// dots stand for the words that gave way. They stand apart from the word before them: what
// stands in sight is whole.
const dots = "…"

// squeezed is how much smaller a text is set before any of its words gives way.
const squeezed = 0.84

// squeeze sets a text a little smaller where that makes it fit, never below the smallest size
// of the family, and reports whether it fits.
func squeeze(t *canvas.Text, width float32) bool {
	wanted := t.TextSize
	if least := min(wanted, max(wanted*squeezed, Px(sizeTiny))); !within(t, width) {
		t.TextSize = max(least, wanted*width/t.MinSize().Width)
		for t.TextSize > least && !within(t, width) {
			t.TextSize = max(least, t.TextSize-0.25)
		}
	}
	if within(t, width) {
		return true
	}
	t.TextSize = wanted
	return false
}

func within(t *canvas.Text, width float32) bool {
	return t.Text == "" || t.MinSize().Width <= width+0.5
}

// elide makes a text fit a width: a little smaller, and else without its last words, which
// three dots stand for. Half a number is a wrong number, so no word with a figure in it is ever
// cut: where not even the first one fits, it is set as small as it must be.
func elide(t *canvas.Text, width float32) {
	if squeeze(t, width) {
		return
	}
	words := strings.Fields(t.Text)
	low, high := 0, len(words)-1
	for low < high {
		mid := (low + high + 1) / 2
		if t.Text = strings.Join(words[:mid], " ") + " " + dots; within(t, width) {
			low = mid
		} else {
			high = mid - 1
		}
	}
	if low > 0 {
		t.Text = strings.Join(words[:low], " ") + " " + dots
		return
	}
	first := words[0]
	if len(words) > 1 {
		first += " " + dots
	}
	if t.Text = first; within(t, width) {
		return
	}
	if !strings.ContainsFunc(words[0], unicode.IsDigit) {
		cut(t, words[0], width)
		return
	}
	for t.TextSize > 1 && !within(t, width) {
		t.TextSize = max(1, min(t.TextSize-0.25, t.TextSize*width/t.MinSize().Width))
	}
	if !within(t, width) {
		t.Text = dots
	}
}

// cut ends a word without figures where it must.
func cut(t *canvas.Text, word string, width float32) {
	runes := []rune(word)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if t.Text = string(runes[:mid]) + dots; within(t, width) {
			low = mid
		} else {
			high = mid - 1
		}
	}
	t.Text = string(runes[:low]) + dots
}
