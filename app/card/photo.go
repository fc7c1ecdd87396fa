package card

import "image"

// Photo is a photograph as it is shown among others.
type Photo struct {
	Name    string      // "P-17"
	Caption string      // what is on it
	When    string      // "14 Mar 2026, Partner"
	Picture image.Image // small; nil where it cannot be read
}
