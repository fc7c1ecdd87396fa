package packinglist

import "slices"

// Shape is how a supplier writes lists: the row of headings, and the columns that a person
// chose for them, so that the next list of that shape is read so at once.
type Shape struct {
	Headings []string
	Columns  map[string]int // by name of the field, 1-based; 0 for none
}

// ShapeOf is the shape of a table that a person chose columns of; ok is false where nobody
// did, or where it has no headings to know it by.
func ShapeOf(t *Table, c Columns) (s Shape, ok bool) {
	for _, r := range t.Rows {
		if r.Number == c.Heading && c.Heading > 0 {
			s.Headings = slices.Clone(r.Cells)
		}
	}
	if len(s.Headings) == 0 || !c.byHand() {
		return Shape{}, false
	}
	s.Columns = map[string]int{}
	for f, chosen := range c.hand {
		if chosen {
			s.Columns[fieldNames[f]] = c.at[f]
		}
	}
	return s, true
}

// Fit are the columns of a table of that shape: as they are guessed, but for those that a
// person chose. It is of the shape where a row near its top has the very same headings.
func (s Shape) Fit(t *Table) (Columns, bool) {
	c := Guess(t)
	at := slices.IndexFunc(t.Rows, func(r Row) bool { return r.Number <= headingDepth && slices.Equal(r.Cells, s.Headings) })
	if at < 0 || len(s.Headings) == 0 {
		return Columns{}, false
	}
	if c.Heading != t.Rows[at].Number {
		c = Columns{Heading: t.Rows[at].Number}
	}
	for f, name := range fieldNames {
		if column, chosen := s.Columns[name]; chosen && column >= 0 && column <= MaxColumns {
			c = c.With(Field(f), column)
		}
	}
	return c, true
}
