// Package phrase puts names and figures into the sentences of the store.
package phrase

import (
	"fmt"
	"slices"
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

// longestWord is how long a word may be that is not cut, in characters: as long as the longest
// part number.
const longestWord = 64

// Clip is a text of at most so many characters; "…" stands for the words that are left out. A
// number is never cut: where the first word alone is longer it stays, up to that of the longest
// part number.
func Clip(text string, longest int) string {
	r := []rune(text)
	if len(r) <= longest {
		return text
	}
	for end := longest; end > 0; end-- {
		if unicode.IsSpace(r[end]) {
			return strings.TrimSpace(string(r[:end])) + " …"
		}
	}
	end := min(longestWord, len(r))
	if at := slices.IndexFunc(r[:end], unicode.IsSpace); at >= 0 {
		return string(r[:at]) + " …"
	}
	if len(r) <= longestWord {
		return text
	}
	return string(r[:longest]) + "…"
}

// shortText is how much of a foreign text is shown, in characters.
const shortText = 40

// Quote is a text from outside in quotation marks, cut short where it is long, with nothing in it
// that steers a terminal.
func Quote(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, Clip(s, shortText))
	return "“" + s + "”"
}
