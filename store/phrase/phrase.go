// Package phrase puts names and figures into the sentences of the store.
package phrase

import "fmt"

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

// Count is "1 line", or "3 lines".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
