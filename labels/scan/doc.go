// Package scan turns a picture into the codes that are in it: what each one
// says, where its four corners are, and how that is known.
//
// It is made for small labels in poor pictures: a wall of drawers in one
// webcam frame, tilted, in uneven light. Our own tags (QR version 1, level H)
// are its business; QR codes of any other make are read too, and told apart.
//
// It guarantees that a text it calls Read was decoded from the symbol and, for
// a tag of ours, that its check character is right; that no picture makes it
// panic or run much over the budget the caller sets; and that it keeps no
// state between packages or goroutines. It does not know what a tag means: a
// text is a text.
package scan
