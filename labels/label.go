// Package labels turns labels into sheets: a label as data, its layout on stock
// as a display list in millimetres, its QR code, a picture of the sheet and a
// PDF that is true to size.
//
// One display list is used for the PDF, the picture on the screen and the tests, so
// what is seen is what is printed. The package depends on neither the store nor the
// window: a tag is any text that fits its code. It guarantees that nothing is drawn
// outside its cell, that no text is truncated without an ellipsis and a note, and that
// the same labels give the same bytes. It does not print.
package labels

import (
	"fmt"
	"strings"
)

// Caution is the line that every sheet carries where its margin has room.
const Caution = "Plans and the kit maker's instructions govern. Check look-alikes by hand."

// Label is one label as data. Every field may be empty; an empty Tag prints no
// code. Text is UTF-8 in one line: control characters become spaces.
type Label struct {
	// Tag is what the code says and is printed under it in plain characters.
	// It must fit a version 1 code at level H: at most ten of 0-9, A-Z, space
	// and $%*+-./: (ISO/IEC 18004, table 5).
	Tag string
	// Name is the designation or the short name, as large as the stock allows.
	Name string
	// Title is what it is, in plain words.
	Title string
	// Place is the short code of a drawer or shelf, such as "A-12", in a box.
	Place string
	// PlacePath is where Place is, in words. A path with a room in it becomes wrong
	// when the cabinet is moved; a path within the cabinet does not. It is left out on
	// small stock.
	PlacePath string
	// Beware names the look-alike.
	Beware Beware
	// Piece is the outline of the thing, drawn at its true size where it fits.
	Piece *Drawing
	// Lines are further facts, most important first. What does not fit is left
	// out with a note.
	Lines []string
	// Due is a deadline and what it is for, in bold at the foot of a large label.
	Due string
	// Later follows Due in regular type.
	Later string
}

// Beware is a look-alike: its designation and one sentence that tells it apart.
type Beware struct {
	Name string // designation of the look-alike, "AN3-6A"
	Why  string // what is different, "that one is 1/8 longer"
}

// Point is a place on a page or in a drawing, in millimetres, X to the right
// and Y down.
type Point struct{ X, Y float64 }

// Drawing is the outline of a piece at its true size, in millimetres. Where its
// origin lies does not matter. Pens are in millimetres on paper: they do not
// shrink with the drawing.
type Drawing struct{ Strokes []Path }

// Bounds is the smallest upright rectangle around the points of all strokes.
func (d *Drawing) Bounds() Rect {
	var points []Point
	for _, s := range d.Strokes {
		points = append(points, s.Points...)
	}
	return boundsOf(points)
}

// LabelError is a label that cannot be printed, and why.
type LabelError struct {
	Index  int    // position in the labels given, from 0
	Tag    string // its tag
	Reason string // what is wrong and what to do
}

func (e *LabelError) Error() string {
	return fmt.Sprintf("label %d (tag %q): %s", e.Index+1, e.Tag, e.Reason)
}

// SpacedTag is a tag as it is printed and read aloud: ten characters in groups
// of two, four and four ("SP 7K3M 9QXD"), any other text as it is.
func SpacedTag(tag string) string {
	if len(tag) != 10 || strings.ContainsAny(tag, " -") {
		return tag
	}
	return tag[:2] + " " + tag[2:6] + " " + tag[6:]
}
