package store

import (
	"fmt"
	"strings"
	"time"

	"stowright/store/measure"
)

// Item is one kind of thing. Its designation is its key: as printed on the plans
// or the packing list, in its canonical spelling.
type Item struct {
	Designation string           `json:"designation"`
	Title       string           `json:"title,omitempty"` // plain words
	Unit        measure.Unit     `json:"unit"`
	Minimum     measure.Quantity `json:"minimum,omitzero"` // order more below this
	Note        string           `json:"note,omitempty"`
	Archived    bool             `json:"archived,omitempty"`
	SingleUse   bool             `json:"single_use,omitempty"` // what came out of an aircraft is never used again
	Sample      *measure.Sample  `json:"sample,omitempty"`     // what pieces of it weighed last; nil: none were weighed
}

// Equivalent says that an old number is now supplied as a new one. It holds one
// way only, and says who says so: it never means that one may replace the other.
type Equivalent struct {
	Old    string `json:"old"`
	New    string `json:"new"`
	Source string `json:"source"`
	Date   Date   `json:"date,omitzero"`
}

func (q Equivalent) key() string { return q.Old + keySeparator + q.New }

// PlaceKind says what sort of place it is.
type PlaceKind string

// The kinds of place. Crates and bags come with a shipment; a sub-assembly is the
// place of what was pulled for it.
const (
	Room            PlaceKind = "room"
	Rack            PlaceKind = "rack"
	Shelf           PlaceKind = "shelf"
	Cabinet         PlaceKind = "cabinet"
	Drawer          PlaceKind = "drawer"
	Bin             PlaceKind = "bin"
	Tub             PlaceKind = "tub"
	Crate           PlaceKind = "crate"
	Bag             PlaceKind = "bag"
	SubAssemblyKind PlaceKind = "sub-assembly"
)

// Storage reports whether the kind is furniture of the shop, and not a crate, a bag or a sub-assembly.
func (k PlaceKind) Storage() bool { return k != Crate && k != Bag && k != SubAssemblyKind }

// Place is where things can be. Places nest.
type Place struct {
	ID      string    `json:"id"`
	Parent  string    `json:"parent,omitempty"` // id; empty at the top
	Kind    PlaceKind `json:"kind"`
	Name    string    `json:"name"`
	Tag     Tag       `json:"tag"`
	Rows    int       `json:"rows,omitempty"` // of a cabinet: its drawers from top to bottom
	Columns int       `json:"columns,omitempty"`
	Row     int       `json:"row,omitempty"` // of a drawer: where it is in its cabinet, from 1 at the top
	Column  int       `json:"column,omitempty"`
	Retired bool      `json:"retired,omitempty"`
}

// Condition is whether stock may be used.
type Condition string

// The conditions of stock.
const (
	Good     Condition = ""
	Damaged  Condition = "damaged"
	SetApart Condition = "set apart" // wrong item or revision: not to be used until somebody has asked
	Removed  Condition = "removed"   // came out of an aircraft: not to be used until somebody has looked at it
)

// StockKey names one heap of stock: an item of a lot, in a condition, in a place.
type StockKey struct {
	Item      string    `json:"item"`
	Place     string    `json:"place"`
	Lot       string    `json:"lot,omitempty"`
	Condition Condition `json:"condition,omitempty"`
}

const keySeparator = "\x00"

func (k StockKey) key() string {
	return strings.Join([]string{k.Item, k.Place, k.Lot, string(k.Condition)}, keySeparator)
}

func parseStockKey(s string) (StockKey, error) {
	item, rest, _ := strings.Cut(s, keySeparator)
	place, rest, _ := strings.Cut(rest, keySeparator)
	lot, condition, ok := strings.Cut(rest, keySeparator)
	if !ok || strings.Contains(condition, keySeparator) {
		return StockKey{}, fmt.Errorf("%q is no key of stock", s)
	}
	return StockKey{Item: item, Place: place, Lot: lot, Condition: Condition(condition)}, nil
}

// Holding is one heap of stock and how much it is.
type Holding struct {
	StockKey
	Amount Amount
}

// Counted is when and by whom a heap was last counted.
type Counted struct {
	At    time.Time `json:"at"` // zero where it was counted blind alone, and not settled
	Hand  string    `json:"hand"`
	Blind *Blind    `json:"blind,omitempty"` // counts by several hands; nil for none
}

// Settings are what the shop knows of itself.
type Settings struct {
	Title     string           `json:"title,omitempty"`
	Hands     []string         `json:"hands,omitempty"`     // who works here
	ScaleStep measure.Quantity `json:"scale_step,omitzero"` // of the scale that was used last
}

// tagRecord is what a tag names. A tag outlives what it names, as a retired one.
type tagRecord struct {
	Place   string `json:"place"`
	Retired bool   `json:"retired,omitempty"`
}
