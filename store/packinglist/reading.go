package packinglist

import "fmt"

// Reading is what was made of a file: lines, what was left out and why, rows that
// cannot be read, and what has to be asked. It becomes a List when nothing of
// that is open.
type Reading struct {
	File      string
	Format    string // for people
	Order     string // order number, where a row above the headings gives one
	Sheets    []SheetReading
	Lines     []Line // those that could be read; see Line.Doubt
	LeftOut   []LeftOut
	Bad       []BadRow
	Questions []Question // settled ones too
}

// SheetReading is what was made of a sheet.
type SheetReading struct {
	Name    string
	Hidden  bool
	Taken   bool    // its lines are part of the reading
	Why     string  // for people: why it was not taken; empty where it was
	Columns Columns // those recognised, or chosen
	Table   *Table  // with the cells that a person mended
	Lines   int
}

// ByChoice is why a row is left out that a person left out.
const ByChoice = "left out by choice"

// LeftOut is a row that is no line. It is shown to a person, so that nothing is
// dropped unseen.
type LeftOut struct {
	Place Place
	Text  string // of the row
	Why   string // for people: "a total, 19: the sum of the lines above"
}

// BadRow is a row that cannot be read before it is mended or left out. A sheet
// that breaks off has one with row 0.
type BadRow struct {
	Place    Place
	Text     string    // of the row
	Problems []Problem // at least one
}

// Open are the questions that wait for an answer.
func (r *Reading) Open() []Question {
	var open []Question
	for _, q := range r.Questions {
		if q.Open() {
			open = append(open, q)
		}
	}
	return open
}

// List is the list when it is settled whole. Else it is empty, and every bad row
// and every open question is a problem, up to MaxProblems and one that counts
// the rest.
func (r *Reading) List() (List, []Problem) {
	ps := problems{file: r.File}
	for _, bad := range r.Bad {
		for _, p := range bad.Problems {
			ps.take(p)
		}
	}
	for _, q := range r.Open() {
		ps.take(r.doubt(q))
	}
	if len(ps.list) == 0 && len(r.Lines) == 0 {
		ps.take(Problem{File: r.File, Sheet: r.soleSheet(), Message: "there are no lines below the headings; check that this is the right file and sheet"})
	}
	if found := ps.done(); len(found) > 0 {
		return List{}, found
	}
	list := List{File: r.File, Order: r.Order, Lines: r.Lines, LeftOut: r.LeftOut}
	return list, nil
}

// soleSheet is the name of the sheet that was taken, empty where there are several.
func (r *Reading) soleSheet() string {
	name, n := "", 0
	for _, s := range r.Sheets {
		if s.Taken {
			name, n = s.Name, n+1
		}
	}
	if n != 1 {
		return ""
	}
	return name
}

// doubt is an open question as a problem at its first place.
func (r *Reading) doubt(q Question) Problem {
	at := q.Places[0]
	p := Problem{File: r.File, Sheet: at.Sheet, Row: at.Row, Column: ColumnName(at.Column)}
	p.Message = fmt.Sprintf("%s (%s: %s)", q.Text, q.ID, readings(q))
	return p
}

// readings is the answers of a question in a row: "point = ..., comma = ...".
func readings(q Question) string {
	s := ""
	for i, a := range q.Readings {
		if i > 0 {
			s += "; "
		}
		s += a.ID + " = " + a.Text
	}
	return s
}
