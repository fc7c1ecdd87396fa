// Package phrase puts names and figures into the sentences of the store.
package phrase

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// List is "C1, C2 and C3".
func List(names []string) string {
	text := ""
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			text += " and "
		default:
			text += ", "
		}
		text += n
	}
	return text
}

// Crate is a crate within a sentence: "crate C1", and "Crate 1" where its own name says what
// it is.
func Crate(name string) string {
	if strings.HasPrefix(strings.ToLower(name), "crate") {
		return name
	}
	return "crate " + name
}

// Upper is a text with a capital at its beginning.
func Upper(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// Count is "1 line", or "3 lines".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// shortText is how much of a foreign text is shown, in characters.
const shortText = 40

// Quote is a text from outside in quotation marks, cut short where it is long, with nothing in it
// that steers a terminal.
func Quote(s string) string {
	if r := []rune(s); len(r) > shortText {
		s = string(r[:shortText]) + "…"
	}
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
	return "“" + s + "”"
}
