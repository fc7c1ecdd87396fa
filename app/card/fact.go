package card

import "stowright/app/notice"

// Fact is one thing that is known, with where it is known from.
type Fact struct {
	Name   string      // "grip"
	Text   string      // "1/4 (0.25)"; drawn bold
	Mark   string      // what must be said beside it: "not cross-checked"; or why it is not known
	Source string      // "NASM3-20, 2 sources agree"
	Tone   notice.Tone // of the mark
}
