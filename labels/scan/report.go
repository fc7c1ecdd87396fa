package scan

import "time"

// Point is a place in a picture in pixels, x to the right and y down. The
// picture's corner is its Bounds().Min, so the middle of its first pixel lies
// half a pixel further right and down.
type Point struct{ X, Y float64 }

// How says how a code's text is known.
type How uint8

const (
	// Read means that the text was decoded from the symbol itself; the check
	// character of a tag of ours is right. Stock may be booked by it.
	Read How = iota
	// Recognised means that the symbol could not be decoded, but matches one of the
	// issued tags far better than any other. A drawer may be highlighted by it;
	// stock must never be booked by it.
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
	// Tag reports whether Text is a well-formed tag of ours with the right check
	// character.
	Tag bool
	// How is how Text was obtained.
	How How
	// Corners are those of the symbol without its quiet zone, as it was printed:
	// top left, top right, bottom right, bottom left.
	Corners [4]Point
	// Margin is the confidence of the reading above the acceptance limit, from 0
	// (just accepted) to 1 (certain). It is 0 for codes that are not our tags, for
	// which it is not measured.
	Margin float64
	// Mended is how many of the 26 codewords of a tag that was Read were wrong and
	// were corrected. Algebraic decoding corrects 8 at most; this decoder can
	// correct more.
	Mended int
}

// Stages is how long each part of one reading took.
type Stages struct {
	Grey      time.Duration // converting the picture to grey levels
	Find      time.Duration // detecting finder patterns and grouping them
	Fit       time.Duration // fitting a grid to each symbol
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
	// Codes are the symbols, row by row from the top and in a row from left to right by
	// their middles, each once. The slice is the caller's to keep.
	Codes []Code
	// Partial reports whether the time budget ran out: there may be more codes in
	// the picture.
	Partial bool
	// Stages is how long each part took.
	Stages Stages
}

// DefaultBudget is the time limit for a picture when Options gives none. Together with
// opening the file, a large picture is answered within a second.
const DefaultBudget = 750 * time.Millisecond

// Options configure one reading. The zero value reads all codes.
type Options struct {
	// Issued are the tags that exist, prepared once by Issue; nil when not known.
	// With them, a symbol that cannot be decoded may still be recognised.
	Issued *Issued
	// Budget is the time limit for the picture; 0 means DefaultBudget.
	Budget time.Duration
	// TagsOnly leaves out codes that are not tags of ours, which saves time.
	TagsOnly bool
}
