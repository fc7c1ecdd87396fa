package packinglist

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"stowright/store/packinglist/pdftext"
)

// openPDF reads the texts of a PDF as a table: where they stand says which column and
// which row they are of.
func openPDF(ctx context.Context, b *Book, data []byte) error {
	pages, err := pdftext.Read(ctx, data)
	if err != nil {
		return err
	}
	rows, furniture := layOut(pages)
	if len(rows) == 0 {
		return errors.New("is a PDF without text, as a scan is; ask for the list as XLSX or CSV, or type it into a spreadsheet, one line a row")
	}
	words := "PDF, 1 page"
	if len(pages) > 1 {
		words = fmt.Sprintf("PDF, %d pages", len(pages))
	}
	if furniture > 0 {
		words += ", heads and feet of pages left out"
	}
	b.Format = words
	t := b.newTable(words, "")
	for i, cells := range rows {
		if p := t.addRow(Row{Number: i + 1, Cells: cells}); p != nil {
			return p
		}
	}
	b.add(Sheet{Table: t})
	return nil
}

// printedLine is the texts of a page that stand beside each other, from left to right.
type printedLine struct {
	page        int
	top, bottom float64
	texts       []pdftext.Text
}

func (l printedLine) height() float64 { return l.bottom - l.top }

func (l printedLine) text() string {
	var words []string
	for _, t := range l.texts {
		words = append(words, t.Text)
	}
	return fold(strings.Join(words, " "))
}

// fewestCells is how many texts a line of a table has at least; a title or a wrapped cell
// has fewer.
const fewestCells = 3

// layOut makes rows of cells of the texts, and counts the lines that are heads and feet of
// pages.
func layOut(pages []pdftext.Page) (rows [][]string, furniture int) {
	var lines []printedLine
	for i, p := range pages {
		lines = append(lines, linesOf(i, p.Texts)...)
	}
	lines, furniture = withoutFurniture(lines, len(pages))
	bands := bandsOf(lines)
	between := gapOfRows(lines)
	var last printedLine // the line that the last row ends with
	for _, l := range lines {
		cells := make([]string, len(bands))
		for _, t := range l.texts {
			i := bandAt(bands, t)
			cells[i] = strings.TrimSpace(cells[i] + " " + t.Text)
		}
		if n := len(rows); n > 0 && goesOn(rows[n-1], cells, l, last, between) {
			for i, c := range cells {
				rows[n-1][i] = joinWrapped(rows[n-1][i], c)
			}
		} else {
			rows = append(rows, cells)
		}
		last = l
	}
	return rows, furniture
}

// linesOf puts the texts of a page into lines, from the top.
func linesOf(page int, texts []pdftext.Text) []printedLine {
	texts = slices.DeleteFunc(slices.Clone(texts), func(t pdftext.Text) bool {
		return fold(t.Text) == "" || !(t.Right >= t.Left && t.Bottom > t.Top) // not a number, too
	})
	middle := func(t pdftext.Text) float64 { return (t.Top + t.Bottom) / 2 }
	slices.SortStableFunc(texts, func(a, b pdftext.Text) int { return cmp.Compare(middle(a), middle(b)) })
	var lines []printedLine
	for _, t := range texts {
		n := len(lines) - 1
		if n >= 0 {
			l := &lines[n]
			common := min(l.bottom, t.Bottom) - max(l.top, t.Top)
			if common > 0.5*min(l.height(), t.Bottom-t.Top) {
				l.texts = append(l.texts, t)
				l.top, l.bottom = min(l.top, t.Top), max(l.bottom, t.Bottom)
				continue
			}
		}
		lines = append(lines, printedLine{page, t.Top, t.Bottom, []pdftext.Text{t}})
	}
	for i := range lines {
		lines[i].texts = joined(lines[i].texts)
	}
	return lines
}

// joined orders the texts of a line from the left, and makes one of those that are no
// column apart: the words of a cell whose letters change.
func joined(texts []pdftext.Text) []pdftext.Text {
	slices.SortStableFunc(texts, func(a, b pdftext.Text) int { return cmp.Compare(a.Left, b.Left) })
	var out []pdftext.Text
	for _, t := range texts {
		t.Text = fold(t.Text)
		n := len(out) - 1
		if n < 0 {
			out = append(out, t)
			continue
		}
		high := max(t.Bottom-t.Top, out[n].Bottom-out[n].Top)
		gap := t.Left - out[n].Right
		if gap > 0.35*high {
			out = append(out, t)
			continue
		}
		if gap > 0.08*high {
			out[n].Text += " "
		}
		out[n].Text += t.Text
		out[n].Right = max(out[n].Right, t.Right)
		out[n].Top, out[n].Bottom = min(out[n].Top, t.Top), max(out[n].Bottom, t.Bottom)
	}
	return out
}

// pageNumber is a line that numbers a page.
var pageNumber = regexp.MustCompile(`(?i)^(- ?)?(page|sheet)? ?\d+ ?((of|/) ?\d+)?( ?-)?$`)

// withoutFurniture leaves out what stands on several pages at the same height and differs by
// figures at most, and the numbers of pages. It is short: the headings of a table are not
// meant, which the reader knows by their words.
func withoutFurniture(lines []printedLine, pages int) (kept []printedLine, left int) {
	type at struct {
		text string
		y    int
	}
	where := func(l printedLine) at {
		text := strings.Map(func(r rune) rune {
			if unicode.IsDigit(r) {
				return '#'
			}
			return r
		}, l.text())
		return at{text, int(l.top+0.5) / 3}
	}
	outside := outsideTables(lines)
	on := map[at]map[int]bool{}
	for i, l := range lines {
		if outside[i] {
			if on[where(l)] == nil {
				on[where(l)] = map[int]bool{}
			}
			on[where(l)][l.page] = true
		}
	}
	numbers := regexp.MustCompile(`(?i)page|sheet|of|/|-`)
	for i, l := range lines {
		short := outside[i]
		numbered := short && pageNumber.MatchString(l.text()) && numbers.MatchString(l.text())
		if numbered || short && pages > 1 && len(on[where(l)]) == pages {
			left++
			continue
		}
		kept = append(kept, l)
	}
	return kept, left
}

// outsideTables are the lines that stand clear of the table of their page, above it or
// below it: a cell that goes on below the last row is still of the table.
func outsideTables(lines []printedLine) []bool {
	first, last := map[int]int{}, map[int]int{} // by page, lines of the table
	for i, l := range lines {
		if len(l.texts) < fewestCells {
			continue
		}
		if _, seen := first[l.page]; !seen {
			first[l.page] = i
		}
		last[l.page] = i
	}
	outside := make([]bool, len(lines))
	for i, l := range lines {
		from, table := first[l.page]
		to := last[l.page]
		outside[i] = len(l.texts) < fewestCells && (!table || i < from || i > to && l.top-lines[i-1].bottom > 1.5*l.height())
		if i > to && table && outside[i-1] && lines[i-1].page == l.page { // what follows a foot
			outside[i] = len(l.texts) < fewestCells
		}
	}
	return outside
}

// band is a column on paper.
type band struct{ left, right float64 }

// bandsOf are the columns: what the lines of the table leave white between them. Where a
// long cell reaches over its neighbour, the headings say where the columns are.
func bandsOf(lines []printedLine) []band {
	var all []band
	var headings []pdftext.Text
	for _, l := range lines {
		if len(l.texts) < fewestCells {
			continue
		}
		row := Row{Number: 1}
		for _, t := range l.texts {
			all = append(all, band{t.Left + 0.3, t.Right - 0.3})
			row.Cells = append(row.Cells, t.Text)
		}
		if _, found := guessRow(row, nil); found >= minHeadings && len(l.texts) > len(headings) {
			headings = l.texts
		}
	}
	if len(all) == 0 { // no table: all of it is one column
		return []band{{0, 1e9}}
	}
	slices.SortFunc(all, func(a, b band) int { return cmp.Compare(a.left, b.left) })
	bands := []band{all[0]}
	for _, b := range all[1:] {
		if last := &bands[len(bands)-1]; b.left <= last.right {
			last.right = max(last.right, b.right)
			continue
		}
		bands = append(bands, b)
	}
	if len(bands) >= len(headings) && !shared(bands, headings) {
		return bands[:min(len(bands), MaxColumns)]
	}
	bands = nil
	for _, h := range headings {
		bands = append(bands, band{h.Left, h.Right})
	}
	for i := 1; i < len(bands); i++ {
		middle := (bands[i-1].right + bands[i].left) / 2
		bands[i-1].right, bands[i].left = middle, middle
	}
	return bands[:min(len(bands), MaxColumns)]
}

// shared reports whether two headings stand over one column.
func shared(bands []band, headings []pdftext.Text) bool {
	over := map[int]bool{}
	for _, h := range headings {
		at := bandAt(bands, h)
		if over[at] {
			return true
		}
		over[at] = true
	}
	return false
}

// bandAt is the index of the column that a text is in: that which it has most in common
// with, or else the nearest.
func bandAt(bands []band, t pdftext.Text) int {
	best, most := 0, -1e18
	for i, b := range bands {
		if common := min(b.right, t.Right) - max(b.left, t.Left); common > most {
			best, most = i, common
		}
	}
	return best
}

// gapOfRows is how much white is between rows of the table, as half of them have at most; 0
// where there are none.
func gapOfRows(lines []printedLine) float64 {
	var gaps []float64
	for i := 1; i < len(lines); i++ {
		if l := lines[i]; len(l.texts) >= fewestCells && lines[i-1].page == l.page {
			gaps = append(gaps, l.top-lines[i-1].bottom)
		}
	}
	if len(gaps) == 0 {
		return 0
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// goesOn reports whether a line is more of the cells above it: fewer cells, all of them
// under filled ones, clearly nearer than rows are to each other.
func goesOn(above, cells []string, l, last printedLine, between float64) bool {
	if l.page != last.page || l.top-last.bottom > 0.6*between || between <= 0 {
		return false
	}
	filled, under, first := 0, 0, true
	for i, c := range cells {
		if above[i] != "" {
			under++
		}
		if c == "" {
			first = first && above[i] == ""
			continue
		}
		if above[i] == "" || first { // the first column of a row numbers or names it
			return false
		}
		filled++
	}
	return filled > 0 && under >= fewestCells && 2*filled <= under
}

// joinWrapped puts a cell together that goes over two lines; a number that was parted at its
// dash stays one.
func joinWrapped(above, below string) string {
	if below == "" {
		return above
	}
	if strings.HasSuffix(above, "-") {
		return above + below
	}
	return above + " " + below
}
