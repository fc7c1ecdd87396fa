// Package wording is how texts for people are put together: counts with their nouns,
// sentences, errors, units, days, sizes, how far work is, texts that are cut to fit.
// Every screen and command words them by it.
package wording

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"unicode/utf8"

	"stowright/store"
	"stowright/store/phrase"
)

// Plural is a count with its noun: "1 label", "12 labels".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Joined puts texts together, with that between them; empty ones are left out.
func Joined(between string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(texts), func(t string) bool { return t == "" }), between)
}

// Upper is a text with a capital at its beginning.
func Upper(text string) string { return phrase.Upper(text) }

// Sentence is an error or a note as a person reads it: with a capital and a full
// stop. Nothing stays nothing.
func Sentence(text string) string {
	text = Upper(strings.TrimSpace(text))
	if last, _ := utf8.DecodeLastRuneInString(text); text == "" || strings.ContainsRune(".?!", last) {
		return text
	}
	return text + "."
}

// Error is an error as a person reads it: what the store says to do, or else the
// error itself as a sentence. It is empty for none. What no person can fix is logged with
// its causes.
func Error(err error) string {
	if err == nil {
		return ""
	}
	if kind := store.KindOf(err); (kind == store.Internal || kind == store.Corrupt) && !errors.Is(err, context.Canceled) {
		slog.Error("failed in the window", "kind", string(kind), "err", err)
	}
	var e *store.Error
	if errors.As(err, &e) && e.Message != "" {
		return e.Message
	}
	return Sentence(err.Error())
}

// Progress is how far work is: "copying, 40 %". Done is from 0 to 1, and below 0 where
// it is not known.
func Progress(what string, done float64) string {
	if done < 0 {
		return what
	}
	return fmt.Sprintf("%s, %d %%", what, int(100*done))
}

// Bytes is the size of a file: "812 B", "31 kB", "1.2 MB".
func Bytes(n int64) string {
	switch {
	case n < 1000:
		return fmt.Sprintf("%d B", n)
	case n < 999_500:
		return fmt.Sprintf("%d kB", (n+500)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}
