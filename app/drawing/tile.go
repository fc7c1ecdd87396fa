package drawing

import "stowright/app/notice"

// Square is one thing that is needed, as one square of a tile. The four differ in shape,
// so that they are told apart in black and white too.
type Square int

// The squares.
const (
	InHand    Square = iota // filled: it is there, or in the tray, or fitted
	Estimated               // half filled: it may be there; counting tells
	Missing                 // an outline
	Awaited                 // a dashed outline: owed, or not unpacked yet
)

// Tile is a sub-assembly as one looks at it from two metres away.
type Tile struct {
	ID      string
	Code    string // large: "SA-10"
	Name    string // "Fin"
	Corner  string // quiet, at the top right: "20 h"
	Squares []Square
	Mark    notice.Mark // how it stands: "ready", "weigh 2 drawers"
	Taken   bool        // goes along on the next walk
	New     bool        // no sub-assembly: the place of the next one; Name is what it says
}
