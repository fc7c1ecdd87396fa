package hardware

// Result is what a designation means.
type Result struct {
	Input       string // as it was given
	Designation string // canonical writing; "" when it is not hardware
	// Known says that the tables hold the piece. When it is false and Problem is
	// "", the text is not hardware at all (a kit part number, say).
	Known  bool
	Kind   Kind
	Family string // "AN3 to AN20: hex head bolts"
	Title  string // "Bolt, steel, hex head, 10-32, grip 1/4, no cotter-pin hole"
	Short  string // "Bolt, 10-32, grip 1/4"
	Fields []Field
	// SupersededBy is the newer number, nil where none is known. It runs one
	// way and never means that the two may replace each other.
	SupersededBy *Successor
	LookAlikes   []LookAlike
	Warnings     []string
	Problem      string   // one sentence saying what is wrong and what is near
	Nearest      []string // real designations next to one that does not exist

	// remembered says that the family is known from memory alone and its numbers
	// are in no table, so that no figure carries the mark.
	remembered bool
}

// Successor is the number that took the place of an older one.
type Successor struct {
	Designation string
	Note        string
	Source      string
	Checked     int
}

// LookAlike is a piece that is easily taken for another.
type LookAlike struct {
	Designation string
	Difference  string // how it differs: "1/8 longer in the grip"
}

// Field returns the fact of that name.
func (r Result) Field(name string) (Field, bool) {
	for i := range r.Fields {
		if r.Fields[i].Name == name {
			return r.Fields[i], true
		}
	}
	return Field{}, false
}

// Mark is what must be shown beside the piece wherever its figures are printed:
// NotCrossChecked when a figure that its numbers stand for was seen in no
// published source, BuildersOwn when the builder entered one, or "". What it
// fits counts where no size of its own is known.
func (r Result) Mark() string {
	mark, fits, sized := "", "", false
	if r.remembered {
		mark = NotCrossChecked
	}
	for i := range r.Fields {
		f := &r.Fields[i]
		switch f.Name {
		case Diameter, Thread, Grip, LengthField, Thickness, InsideDiameter, OutsideDiameter, TubeDiameter, Material, ShankDrilled,
			CrossSection, Hand, CableDiameter, PipeSize, HoseSize, Size:
			if m := f.Mark(); m == BuildersOwn {
				return m
			} else if m != "" {
				mark = m
			}
			sized = sized || f.Length != 0 || f.Name == Thread
		case Fits:
			fits = f.Mark()
		}
	}
	if !sized && fits != "" {
		return fits
	}
	return mark
}
