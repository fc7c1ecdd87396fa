// Package wording is how texts for people are put together: counts with their nouns,
// sentences, units, texts that are cut to fit. Every screen and command words by it.
package wording

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Plural is a count with its noun: "1 label", "12 labels".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Sentence is an error or a note as a person reads it: with a capital and a full
// stop. Nothing stays nothing.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(first)) + text[size:]
	if last, _ := utf8.DecodeLastRuneInString(text); strings.ContainsRune(".?!", last) {
		return text
	}
	return text + "."
}
