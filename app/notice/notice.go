// Package notice is how a state or a warning is shown: a tone, which colour and shape
// follow from, and the words that are always there too. It is plain data; app/look
// draws it.
package notice

// Notice is one boxed sentence. Lead is drawn bold before it.
type Notice struct {
	Tone Tone
	Lead string // "Not AN3-6A"
	Text string // "in A-13: that one is 1/8 longer in the grip."
}

// Tone is how much a state needs attention. Colour and shape follow from it, the
// word is always there too.
type Tone int

// The tones. Quiet is the zero value.
const (
	Quiet Tone = iota // nothing to do, or not looked at yet: a hollow ring
	OK                // as it should be: a tick
	Warn              // look at it: a triangle
	Stop              // stop here: a square on its corner
)

// String is the tone as one stable word.
func (t Tone) String() string {
	switch t {
	case OK:
		return "ok"
	case Warn:
		return "warn"
	case Stop:
		return "stop"
	default:
		return "quiet"
	}
}

// Mark is a state as a word: "all here", "4 short", "+4 over", "to check".
type Mark struct {
	Word string
	Tone Tone
}
