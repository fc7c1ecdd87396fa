package store

import "strings"

// positionOf writes a position as words on the aircraft, from the large to the small:
// "Tailplane / left / hinge 2".
func positionOf(text string) string {
	var words []string
	for part := range strings.SplitSeq(text, "/") {
		if part = strings.TrimSpace(part); part != "" {
			words = append(words, part)
		}
	}
	return strings.Join(words, " / ")
}
