package packinglist

import "fmt"

// columns asks which of several columns is meant, where their headings name the
// same thing and what stands in them differs.
func (rd *sheetReader) columns() {
	heading := rd.headingCells()
	for _, f := range []Field{Designation, Quantity} {
		rivals := rd.rivals(heading, f)
		if len(rivals) < 2 || rd.cols.hand[f] {
			continue
		}
		q := Question{ID: map[Field]string{Designation: "part-column", Quantity: "quantity-column"}[f], Text: fmt.Sprintf("which column holds the %s?", f)}
		for _, c := range rivals {
			q.Readings = append(q.Readings, Answer{ColumnName(c), fmt.Sprintf("column %s, %q", ColumnName(c), clip(heading.Cell(c)))})
		}
		answer := rd.asked.ask(q, Place{Sheet: rd.table.Sheet, Row: rd.cols.Heading, Column: rivals[1]})
		for _, c := range rivals {
			if ColumnName(c) == answer {
				rd.cols.at[f] = c
			}
		}
	}
	if c := rd.cols.at[Quantity]; rd.cols.sure[Quantity] == Likely && recognisedAsOrdered(heading.Cell(c)) {
		rd.asked.ask(Question{
			ID:       "ordered",
			Text:     fmt.Sprintf("the column %q says what was ordered: was all of it sent?", clip(heading.Cell(c))),
			Readings: []Answer{{"sent", "yes, what was ordered is in this delivery"}},
		}, Place{Sheet: rd.table.Sheet, Row: rd.cols.Heading, Column: c})
	}
}

// recognisedAsOrdered reports whether a heading names what was ordered.
func recognisedAsOrdered(heading string) bool {
	switch words(heading) {
	case "qty ordered", "quantity ordered", "ordered", "order qty":
		return true
	}
	return false
}

// headingCells is the row of headings, two rows as one.
func (rd *sheetReader) headingCells() Row {
	var last Row
	for _, r := range rd.table.Rows {
		if r.Number == rd.cols.Heading {
			if rd.cols.above {
				return rd.table.joined(last, r)
			}
			return r
		}
		last = r
	}
	return Row{}
}

// rivals are the columns whose headings name the field as surely as that of the
// column taken, as far as they are shown and differ from it.
func (rd *sheetReader) rivals(heading Row, f Field) []int {
	var below []Row
	for _, r := range rd.table.Rows {
		if r.Number > rd.cols.Heading {
			below = append(below, r)
		}
	}
	taken := rd.cols.at[f]
	if taken == 0 {
		return nil
	}
	rivals := []int{taken}
	for i, cell := range heading.Cells {
		c := i + 1
		named, sure, ok := recognise(cell, contents{below, c})
		if !ok || named != f || sure < rd.cols.sure[f] || c == taken || rd.table.hiddenColumns[c] && !rd.table.hiddenColumns[taken] {
			continue
		}
		for _, r := range below {
			if r.Cell(c) != r.Cell(taken) && !rd.repeatsHeadings(r) {
				rivals = append(rivals, c)
				break
			}
		}
	}
	return rivals
}
