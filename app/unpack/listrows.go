package unpack

import (
	"fmt"
	"strings"

	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/packinglist"
)

// ColumnColumns are those of the fields with the columns they were found in.
func ColumnColumns() []table.Column {
	return []table.Column{
		{Title: "what we need", Width: 108}, {Title: "column of the file", Kind: table.Words}, {Title: "how sure", Kind: table.States, Width: 190},
	}
}

// PreviewColumns are those of the lines as they were read.
func PreviewColumns() []table.Column {
	return []table.Column{
		{Title: "line", Kind: table.Faint, Width: 30},
		{Title: "crate, bag", Width: 84},
		{Title: "on the list", Kind: table.Names},
		{Title: "listed", Kind: table.Plain, Width: 62},
		{Title: "status", Width: 104},
	}
}

// headings says which row was taken for the headings.
func headings(c packinglist.Columns) string {
	if c.Heading == 0 {
		return "no headings: lines from the first row"
	}
	return fmt.Sprintf("headings in row %d", c.Heading)
}

// width is how many columns the table has.
func width(t *packinglist.Table) int {
	n := 0
	for _, r := range t.Rows {
		n = max(n, len(r.Cells))
	}
	return n
}

// columnRows are the fields with the column each was found in, and samples of it.
func columnRows(t *packinglist.Table, c packinglist.Columns) []table.Row {
	var rows []table.Row
	for _, f := range packinglist.Fields() {
		column := c.Column(f)
		found := table.Cell{Text: "no column"}
		mark := notice.Mark{Word: "not needed"}
		if f.Required() {
			mark = notice.Mark{Word: "missing", Tone: notice.Stop}
		}
		if column > 0 {
			heading, samples := sample(t, c, column)
			found = table.Cell{Text: packinglist.ColumnName(column) + ": " + heading, Sub: samples}
			mark = notice.Mark{Word: "likely", Tone: notice.Warn}
			if c.Confidence(f) == packinglist.Certain {
				mark = notice.Mark{Word: "certain", Tone: notice.OK}
			}
		}
		rows = append(rows, table.Row{ID: f.String(), Cells: []table.Cell{table.T(f.String()), found, {Mark: mark}}})
	}
	return rows
}

// samples is how many values of a column are shown.
const samples = 3

// sample is the heading of a column and its first different values.
func sample(t *packinglist.Table, c packinglist.Columns, column int) (heading, values string) {
	var list []string
	for _, r := range t.Rows {
		text := r.Cell(column)
		switch {
		case r.Number == c.Heading:
			heading = text
		case r.Number > c.Heading && text != "" && len(list) < samples && !strings.Contains(strings.Join(list, "\n")+"\n", text+"\n"):
			list = append(list, text)
		}
	}
	return heading, strings.Join(list, ", ")
}

// previewRows are the lines as they will be brought in, each number that is doubted
// with why. One that hangs on an open question shows one reading of several, and says
// so.
func previewRows(lines []packinglist.Line, doubts []session.ListDoubt) []table.Row {
	doubted := map[int]string{}
	for _, d := range doubts {
		doubted[d.Line] = d.Problem
	}
	rows := make([]table.Row, 0, len(lines))
	for _, line := range lines {
		where := strings.Trim(line.Crate+", "+line.Group, ", ")
		state := table.T(line.Status.String())
		if line.Doubt != "" {
			state = table.T("unsure")
		}
		rows = append(rows, table.Row{ID: fmt.Sprint(line.Number), Dim: line.Status != packinglist.Shipped, Cells: []table.Cell{
			table.T(fmt.Sprint(line.Number)), table.T(where), table.Name(line.Designation, line.Description),
			{Text: line.Listed.Number(), Sub: string(line.Listed.Unit)},
			state,
		}})
		if doubt := doubted[line.Number]; doubt != "" {
			last := &rows[len(rows)-1]
			last.Cells[2] = table.Name(line.Designation, strings.Trim(doubt+" · "+line.Description, " ·"))
			if line.Doubt == "" {
				last.Cells[4] = table.State("look at it", notice.Warn)
			}
		}
	}
	return rows
}

// summary is "60 lines in 3 crates and 14 bags".
func summary(lines []packinglist.Line) string {
	crates, bags := map[string]bool{}, map[string]bool{}
	for _, line := range lines {
		crates[line.Crate] = true
		if line.Group != "" {
			bags[line.Crate+"\n"+line.Group] = true
		}
	}
	if len(lines) == 0 {
		return "no line could be read"
	}
	words := wording.Plural(len(lines), "line", "lines") + " in " + wording.Plural(len(crates), "crate", "crates")
	if len(bags) > 0 {
		words += " and " + wording.Plural(len(bags), "bag", "bags")
	}
	return words
}
