package card

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
)

// Photographs is the page of the photographs of one thing, which is not in the rail.
// About is what photos.About says of it.
const Photographs = "photographs"

// Copies is the page of safe copies, which is not in the rail.
const Copies = "copies"
