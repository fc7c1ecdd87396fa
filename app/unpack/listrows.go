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
		{Title: "what we need", Width: 108}, {Title: "column of the file", Kind: table.Words}, {Title: "how sure", Kind: table.States, Width: 112},
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

// ProblemColumns are those of what is wrong with a list.
func ProblemColumns() []table.Column {
	return []table.Column{{Title: "where", Width: 150}, {Title: "what is wrong, and what to do"}}
}

// format is the kind of file, with the sheet where there are several.
func format(t *packinglist.Table) string {
	if len(t.Sheets) < 2 {
		return t.Format
	}
	return fmt.Sprintf("%s, sheet %s, one of %d", t.Format, t.Sheet, len(t.Sheets))
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
// with why.
func previewRows(l packinglist.List, doubts []session.ListDoubt) []table.Row {
	doubted := map[int]string{}
	for _, d := range doubts {
		doubted[d.Line] = d.Problem
	}
	rows := make([]table.Row, 0, len(l.Lines))
	for _, line := range l.Lines {
		where := strings.Trim(line.Crate+", "+line.Group, ", ")
		tone := notice.OK
		if line.Status != packinglist.Shipped {
			tone = notice.Quiet
		}
		rows = append(rows, table.Row{ID: fmt.Sprint(line.Number), Dim: tone == notice.Quiet, Cells: []table.Cell{
			table.T(fmt.Sprint(line.Number)), table.T(where), table.Name(line.Designation, line.Description),
			{Text: line.Listed.Number(), Sub: string(line.Listed.Unit)},
			table.T(line.Status.String()),
		}})
		if doubt := doubted[line.Number]; doubt != "" {
			last := &rows[len(rows)-1]
			last.Cells[2] = table.Name(line.Designation, strings.Trim(doubt+" · "+line.Description, " ·"))
			last.Cells[4] = table.State("look at it", notice.Warn)
		}
	}
	return rows
}

func problemRows(problems []packinglist.Problem) []table.Row {
	rows := make([]table.Row, 0, len(problems))
	for _, p := range problems {
		where := strings.TrimPrefix(p.Where(), p.File+", ")
		wrong, do, _ := strings.Cut(p.Message, "; ")
		rows = append(rows, table.Row{ID: p.Where(), Cells: []table.Cell{table.T(where), {Text: wrong, Sub: do}}})
	}
	return rows
}

// summary is "60 lines in 3 crates and 14 bags".
func summary(l packinglist.List) string {
	crates, bags := map[string]bool{}, map[string]bool{}
	for _, line := range l.Lines {
		crates[line.Crate] = true
		if line.Group != "" {
			bags[line.Crate+"\n"+line.Group] = true
		}
	}
	if l.Empty() {
		return "no line could be read"
	}
	words := wording.Plural(len(l.Lines), "line", "lines") + " in " + wording.Plural(len(crates), "crate", "crates")
	if len(bags) > 0 {
		words += " and " + wording.Plural(len(bags), "bag", "bags")
	}
	return words
}
