// Package search is the index behind Find: it holds short descriptions of the
// things in a shop in memory and answers, while a person types, which of them
// the typing means.
//
// Every word typed must match somewhere: anywhere inside a designation or an
// old number (dashes, spaces and case do not count), at the start of a word of
// the description or a place, inside one where three letters or more were
// typed, or as a dimension. Dimensions are
// compared as exact lengths, not as text, so 3/16, .1875 and 0.1875 in are one
// thing. Only where that finds next to nothing is one typing error forgiven.
//
// The package knows no store and no window. It does not understand
// designations beyond their characters: what a dash number means is told to it
// in [Doc.Dims].
package search

import "stowright/store/measure"

// Kind is what a document describes. Among equally good answers the kinds come
// in the order in which they are declared.
type Kind uint8

// The kinds of things that can be found.
const (
	Item Kind = iota
	Place
	Bag
	Crate
	SubAssembly
	Shipment
)

// kindNames are the words for the kinds, in their order.
var kindNames = [...]string{"item", "place", "bag", "crate", "sub-assembly", "shipment"}

// String is the kind in the words of the shop.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "thing"
}

// Role is what a dimension is the measure of.
type Role uint8

// The roles of dimensions. AnyRole is a dimension of which only the size is
// known; it answers to every role that is asked for.
const (
	AnyRole Role = iota
	Grip
	OverallLength
	Diameter
	Thread
	Thickness
	Width
)

// roleNames are the words by which a role is found when it is typed alone.
var roleNames = [...]string{"", "grip", "length", "diameter", "thread", "thickness", "width"}

// String is the role in one word; AnyRole is "".
func (r Role) String() string {
	if int(r) < len(roleNames) {
		return roleNames[r]
	}
	return ""
}

// Dim is one dimension of a thing.
type Dim struct {
	Role   Role
	Length measure.Length
	// PerInch is the number of threads per inch where Role is Thread; 0 is
	// unknown. Length is then the thread's major diameter: 10-32 is #10 and 32.
	PerInch uint16
}

// Doc is one thing that can be found. The index copies what it needs.
type Doc struct {
	// ID names the thing for the caller and is unique in the index. It is not
	// searched.
	ID   string
	Kind Kind
	// Name is the designation (AN3-5A) or the name of a place.
	Name string
	// Aliases are other numbers by which the thing may be asked for, such as
	// the old number that plans still use.
	Aliases []string
	// Words are title, description and notes. Dimensions written in them
	// ("Rod-end 3/16", "Angle 3/4x3/4x1/8") are found as dimensions too.
	Words string
	Dims  []Dim
	// Places are the paths of the places where the thing is.
	Places []string
	// InShop says that there is some of it: it then comes before what there is
	// none of.
	InShop bool
}

// Class is how well a thing answers what was typed, the best first. Within one
// class what is in the shop comes first, then the order of [Kind], then the
// natural order of names, in which AN3-5A comes before AN3-10A.
type Class uint8

// The classes in the order in which they are ranked.
const (
	// Exact is the very name that was typed.
	Exact Class = iota
	// ExactOld is an old number, typed in full.
	ExactOld
	// Starts is a name or an old number that starts with the typing.
	Starts
	// Inside is a name or an old number with the typing inside it.
	Inside
	// Words is where every word that was typed is in a number, starts a word or
	// is a dimension.
	Words
	// WordsInside is Words, but some typed word is only the inside of a word.
	WordsInside
	// Near is a name or an old number that is one typing error away.
	Near
	// NearInside is where the typing, with one error mended, is inside a number
	// or a word.
	NearInside
)

// Field is the part of a document in which something matched.
type Field uint8

// The fields of a document.
const (
	FieldName Field = iota
	FieldAlias
	FieldWords
	FieldDim
	FieldPlace
)

// Match is a stretch of a field that answers the typing and is worth showing
// bold. Start and End are byte offsets into the field as the document gave it.
type Match struct {
	Field Field
	// Index is which of the aliases, dimensions or places; 0 for other fields.
	Index      int
	Start, End int // both 0 where Field is FieldDim
}

// Hit is one answer.
type Hit struct {
	ID    string
	Kind  Kind
	Name  string
	Class Class
	// Matches are in order of field, index and start and do not overlap.
	// A hit with a typing error has none.
	Matches []Match
	// Why is said where the name alone does not show why the thing was found:
	// "old number AN960-10", "close to MS21024-3".
	Why string
}

// Result is what a search found.
type Result struct {
	Hits []Hit // the best first
	More bool  // there are more than were asked for
}
