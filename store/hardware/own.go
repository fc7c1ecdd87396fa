package hardware

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"stowright/store/measure"
)

// OwnRow is figures that the builder took from a printed standard: one
// designation without its letters, the source they name, and the lengths.
type OwnRow struct {
	Designation string      `json:"designation"` // "AN7-10"
	Source      string      `json:"source"`      // as they name it, never empty
	Figures     []OwnFigure `json:"figures"`
	Line        int         `json:"line,omitempty"` // in the file it came from
}

// OwnFigure is one length of it.
type OwnFigure struct {
	Name   string         `json:"name"` // one of OwnFigures
	Length measure.Length `json:"in"`
}

// OwnFigures are the facts that a builder may enter, by the names of fields;
// they are the columns of a CSV beside "designation" and "source".
func OwnFigures() []string {
	return []string{Grip, LengthField, Diameter, ThreadLength, AcrossFlats, HeadHeight, Height, Thickness, InsideDiameter, OutsideDiameter, CotterHole, CotterFromEnd}
}

// Bounds of what is read.
const (
	maxOwnRows  = 20_000
	maxOwnBytes = 4 << 20
	maxSource   = 200
)

// OwnError says what is wrong with a row and where.
type OwnError struct {
	File   string // "" for typed rows
	Line   int    // 0 for typed rows
	Column string // "" for the row as a whole
	Value  string
	Reason string // what is wrong and what to do
}

func (e *OwnError) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File + ": ")
	}
	if e.Line > 0 {
		fmt.Fprintf(&b, "row %d: ", e.Line)
	}
	if e.Column != "" {
		b.WriteString("column " + e.Column + ": ")
	}
	if e.Value != "" {
		fmt.Fprintf(&b, "%q ", e.Value)
	}
	return b.String() + e.Reason
}

// ReadOwn reads rows from a CSV with a header: designation, source and any of
// OwnFigures, in any order; lengths as fractions, decimals or with mm. Either
// every row is read, or none and what is wrong with each is returned.
func ReadOwn(r io.Reader, file string) ([]OwnRow, []error) {
	reader := csv.NewReader(io.LimitReader(r, maxOwnBytes+1))
	reader.FieldsPerRecord = -1
	reader.TrimLeadingSpace = true
	header, err := reader.Read()
	if err != nil {
		return nil, []error{&OwnError{File: file, Line: 1, Reason: "the header could not be read: begin with a line such as designation,grip,length,source"}}
	}
	columns, errs := ownHeader(header, file)
	if len(errs) > 0 {
		return nil, errs
	}
	var rows []OwnRow
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, append(errs, ownReadError(err, file))
		}
		line, _ := reader.FieldPos(0)
		if reader.InputOffset() > maxOwnBytes || len(rows) == maxOwnRows {
			return nil, append(errs, &OwnError{File: file, Line: line, Reason: fmt.Sprintf("the file is too long: at most %d rows", maxOwnRows)})
		}
		row, bad := ownRow(cells, columns, &OwnError{File: file, Line: line})
		rows, errs = append(rows, row), append(errs, bad...)
		if len(errs) > 50 {
			break
		}
	}
	switch {
	case len(errs) > 0:
		return nil, errs
	case len(rows) == 0:
		return nil, []error{&OwnError{File: file, Reason: "it holds no rows below the header"}}
	}
	return rows, nil
}

func ownReadError(err error, file string) error {
	var at *csv.ParseError
	if errors.As(err, &at) {
		return &OwnError{File: file, Line: at.Line, Reason: "the row is not CSV: " + at.Err.Error()}
	}
	return &OwnError{File: file, Reason: "it could not be read to its end: " + err.Error()}
}

// ownHeader names the columns.
func ownHeader(header []string, file string) ([]string, []error) {
	allowed := append([]string{"designation", "source"}, OwnFigures()...)
	columns := make([]string, len(header))
	var errs []error
	for i, h := range header {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))), " ", "_")
		name = strings.TrimSuffix(name, "_in")
		columns[i] = name
		switch {
		case !slices.Contains(allowed, name):
			errs = append(errs, &OwnError{File: file, Line: 1, Column: h, Reason: "is not a column: use " + strings.Join(allowed, ", ")})
		case slices.Contains(columns[:i], name):
			errs = append(errs, &OwnError{File: file, Line: 1, Column: h, Reason: "is there twice"})
		}
	}
	for _, must := range allowed[:2] {
		if !slices.Contains(columns, must) {
			errs = append(errs, &OwnError{File: file, Line: 1, Column: must, Reason: "is missing"})
		}
	}
	return columns, errs
}

// ownRow reads the cells of one row; at carries file and line.
func ownRow(cells, columns []string, at *OwnError) (OwnRow, []error) {
	row := OwnRow{Line: at.Line}
	var errs []error
	fail := func(column, value, reason string) {
		errs = append(errs, &OwnError{File: at.File, Line: at.Line, Column: column, Value: value, Reason: reason})
	}
	if len(cells) != len(columns) {
		fail("", "", fmt.Sprintf("has %d cells, the header %d", len(cells), len(columns)))
		return row, errs
	}
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		switch name := columns[i]; name {
		case "designation":
			row.Designation = cell
		case "source":
			row.Source = cell
		default:
			if cell == "" {
				continue
			}
			l, err := measure.ParseLength(cell)
			if err != nil || l <= 0 {
				fail(name, cell, "is not a length: write it like 7/16, .438 or 11.1 mm")
				continue
			}
			row.Figures = append(row.Figures, OwnFigure{name, snap(l)})
		}
	}
	return row, errs
}

// snap takes a decimal that is a 64th rounded to three places for the 64th:
// printed tables write .438 for 7/16.
func snap(l measure.Length) measure.Length {
	nearest := (l + sixtyFourth/2) / sixtyFourth * sixtyFourth
	if off := nearest - l; max(off, -off) <= thou/2 {
		return nearest
	}
	return l
}

// figure is the length of that name in the row, 0 where it has none.
func (r *OwnRow) figure(name string) measure.Length {
	for _, f := range r.Figures {
		if f.Name == name {
			return f.Length
		}
	}
	return 0
}

// With is the catalog with the builder's rows in it: decoding, identification
// and choosing use them as they use ours, marked as the builder's own. The
// catalog itself stays as it is. It refuses rows that CheckOwn finds wrong.
func (c *Catalog) With(rows []OwnRow) (*Catalog, error) {
	if errs := c.CheckOwn(rows); len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	out := &Catalog{series: maps.Clone(c.series), names: c.names, ranges: c.ranges, alloys: c.alloys, pulled: c.pulled, torques: c.torques, shopHeads: c.shopHeads}
	copied := map[string]bool{}
	for i := range rows {
		s, text, _ := c.ownPlace(rows[i].Designation)
		if !copied[s.name] {
			out.series[s.name] = s.clone()
			copied[s.name] = true
		}
		out.series[s.name].own(text, &rows[i])
	}
	for name := range copied {
		out.series[name].nums[0].sorted().placeAll()
	}
	return out, nil
}

// clone copies the series with its numbers, so that they can be changed.
func (s *series) clone() *series {
	out := *s
	out.nums[0] = codesFor(len(s.nums[0].list))
	out.nums[0].eighths, out.nums[0].listed = s.nums[0].eighths, s.nums[0].listed
	out.nums[0].open, out.nums[0].unknown = s.nums[0].open, s.nums[0].unknown
	fresh := make(map[*code]*code, len(s.nums[0].list))
	for _, old := range s.nums[0].list {
		dash := *old
		fresh[old] = &dash
		out.nums[0].list = append(out.nums[0].list, &dash)
	}
	for text, old := range s.nums[0].index {
		out.nums[0].index[text] = fresh[old]
	}
	return &out
}

// own puts the figures of a row into the number.
func (s *series) own(text string, row *OwnRow) {
	dash := s.nums[0].index[text]
	if dash == nil {
		dash = s.nums[0].add(&code{text: text})
	}
	fields := make([]Field, 0, len(dash.fields)+len(row.Figures))
	for _, f := range dash.fields {
		if row.figure(f.Name) == 0 {
			fields = append(fields, f)
		}
	}
	for _, f := range row.Figures {
		own := lengthField(f.Name, f.Length, cite{row.Source, 0})
		own.Own = true
		if f.Name == Grip || f.Name == LengthField {
			own.Minus, own.Plus = sixtyFourth, sixtyFourth
		}
		fields = append(fields, own)
	}
	dash.fields = fields
	switch g, l := row.figure(Grip), row.figure(LengthField); {
	case g != 0:
		dash.words, dash.warning = "grip "+short(g), ""
	case l != 0:
		dash.words = "length " + short(l) + ", grip unknown"
	}
	if row.figure(LengthField) != 0 {
		dash.nominal = 0
	}
}
