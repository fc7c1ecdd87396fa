// Package routes names the pages of the window, so that screens lead to each other
// without knowing each other.
package routes

// Route names a page of the window: a screen and, within it, what it is about.
// It is a plain value, kept in the history and handed to the page factory.
type Route struct {
	Screen string // one of the names below
	About  string // a tag, an item, a query, a crate; "" for the screen's own first page
	Part   string // which page of the screen, where it has several: "measure"
}

// The screens, by the names that routes use, in the order of the rail.
const (
	Today    = "today"
	Unpack   = "unpack"
	Find     = "find"
	Places   = "places"
	Labels   = "labels"
	Build    = "build"
	Order    = "order"
	Handbook = "handbook"
	// Alerts are those of bulletins and makers, and the lots with their dates.
	Alerts = "alerts"
)

// The pages that are not on the rail.
const (
	// Photos are those of one thing. About is what photos.About says of it.
	Photos = "photographs"
	// Aircraft are the aircraft, their components, what is due and the positions on them.
	Aircraft = "aircraft"
	// Copies are the safe copies.
	Copies = "copies"
	// Camera reads the codes in what a camera sees, or in a picture. About is the path
	// of a camera or a picture, or the address of a stream; empty for the usual camera. Part
	// is the item that is looked for, if one is.
	Camera = "camera"
)
