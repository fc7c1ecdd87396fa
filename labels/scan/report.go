package scan

import "time"

// Point is a place in a picture in pixels, x to the right and y down. The
// picture's corner is its Bounds().Min, so the middle of its first pixel lies
// half a pixel further right and down.
type Point struct{ X, Y float64 }

// How says how a code's text is known.
type How uint8

const (
	// Read means the text was decoded from the symbol itself; if it is a tag of
	// ours its check character is right. It is good enough to book stock by.
	Read How = iota
	// Recognised means the symbol could not be decoded, but looks like one of the
	// issued tags and like no other. It is good enough to light a drawer, never
	// to book stock.
	Recognised
)

func (h How) String() string {
	if h == Recognised {
		return "recognised"
	}
	return "read"
}

// Code is one symbol in a picture.
type Code struct {
	// Text is what the symbol says.
	Text string
	// Tag says that Text has the form of a tag of ours, check character and all.
	Tag bool
	// How says how Text is known.
	How How
	// Corners are those of the symbol without its quiet zone, as it was printed:
	// top left, top right, bottom right, bottom left.
	Corners [4]Point
	// Margin says how far the reading was from going wrong, from 0 (barely) to 1
	// (not a doubt): 0 for foreign codes, of which it is not known.
	Margin float64
	// Mended is how many of the 26 codewords of a tag that was Read were read
	// wrong and mended. More than 8 is beyond what the code's algebra can do.
	Mended int
}

// Stages are the times that the parts of one reading took.
type Stages struct {
	Grey      time.Duration // the picture to brightness values
	Find      time.Duration // looking for finder patterns and grouping them
	Fit       time.Duration // laying the grid on each symbol
	Decode    time.Duration // modules to text
	Recognise time.Duration // comparing with the issued tags
	Foreign   time.Duration // reading codes that are not tags of ours
}

// Total is the sum of all stages.
func (s Stages) Total() time.Duration {
	return s.Grey + s.Find + s.Fit + s.Decode + s.Recognise + s.Foreign
}

// Report is what was found in one picture.
type Report struct {
	// Codes are the symbols, from top to bottom and then left to right by their
	// middles, each once. The slice is the caller's to keep.
	Codes []Code
	// Partial says that the time budget ran out, so more may be in the picture.
	Partial bool
	// Stages says where the time went.
	Stages Stages
}

// DefaultBudget is the time a picture may take when Options names none: with opening
// its file, a large one is answered within a second.
const DefaultBudget = 750 * time.Millisecond

// Options are the wishes for one reading. The zero value reads everything.
type Options struct {
	// Issued are the tags that exist, made once by Issue; nil when not known.
	// With them a symbol too poor to be decoded may still be recognised.
	Issued *Issued
	// Budget is the time the picture may take; 0 means DefaultBudget.
	Budget time.Duration
	// TagsOnly leaves out codes that are not tags of ours, which saves time.
	TagsOnly bool
}
