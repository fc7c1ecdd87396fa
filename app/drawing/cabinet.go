// Package drawing is how a cabinet and a piece of hardware are drawn, as plain data:
// fronts in rows and columns, lines in millimetres. app/look puts it on the screen.
package drawing

import "fmt"

// Cabinet is a cabinet, shelf or rack as it looks from the front. Drawers are in
// reading order, left to right and top to bottom; a nil slice draws blank fronts.
type Cabinet struct {
	Rows, Cols int
	Drawers    []Drawer
}

// Drawer is one front. Level runs from 0 (empty) to 1 (full) against what the
// drawer usually holds; below 0 no bar is drawn.
type Drawer struct {
	ID          string // what the screen gets when it is tapped; Name when empty
	Name        string // "A-07"
	Designation string // what lies in it; the first of several
	More        int    // how many further kinds lie in it
	Count       string // how much of it there is, "28 ea"; "" where it is not said
	Level       float64
	Empty       bool // nothing in it: a dashed outline
	Lit         bool // the one that is meant
	LookAlike   bool // a look-alike lies within reach: the sign of not-equal
}

// Key is the ID of the drawer, or its name when it has no ID.
func (d Drawer) Key() string {
	if d.ID != "" {
		return d.ID
	}
	return d.Name
}

// Short is the part of the name that tells the drawer from its neighbours on the
// small picture: the digits after the last dash, or the whole name.
func (d Drawer) Short() string {
	for i := len(d.Name) - 1; i > 0; i-- {
		if d.Name[i] == '-' && i+1 < len(d.Name) {
			return d.Name[i+1:]
		}
	}
	return d.Name
}

// Lit is the index of the lit drawer, or -1.
func (c Cabinet) Lit() int {
	for i, d := range c.Drawers {
		if d.Lit {
			return i
		}
	}
	return -1
}

// Blank is a cabinet of rows x cols empty drawers named prefix-01 and on.
func Blank(prefix string, rows, cols int) Cabinet {
	c := Cabinet{Rows: rows, Cols: cols, Drawers: make([]Drawer, rows*cols)}
	for i := range c.Drawers {
		c.Drawers[i] = Drawer{Name: fmt.Sprintf("%s-%02d", prefix, i+1), Empty: true, Level: -1}
	}
	return c
}
