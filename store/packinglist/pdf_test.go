package packinglist_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jung-kurt/gofpdf"

	"stowright/assets/demo"
	"stowright/store/packinglist"
	"stowright/store/packinglist/pdftext"
)

// printed is a list as a writer of PDFs that is not ours prints it.
type printed struct {
	name     string
	wrapped  bool    // descriptions go over lines
	headings bool    // repeated on each page
	feet     bool    // pages are numbered, under a title on each
	turned   bool    // pages on their side
	grid     bool    // lines around the cells
	size     float64 // of the letters, in points
	long     string  // behind the description of each line
}

func shapes() []printed {
	return []printed{
		{name: "plain", size: 9},
		{name: "grid", size: 9, grid: true, headings: true},
		{name: "wrapped", size: 9, wrapped: true, headings: true, long: ", for the left side of the aeroplane as drawn"},
		{name: "wrapped in a grid", size: 10, wrapped: true, grid: true, headings: true, feet: true, long: ", for the left side of the aeroplane as drawn"},
		{name: "heads and feet", size: 9, headings: true, feet: true},
		{name: "on its side", size: 9, turned: true, headings: true, feet: true},
		{name: "small", size: 6, headings: true},
	}
}

// pdf prints the rows of the demo's list; the first is the headings.
func (p printed) pdf(t testing.TB, rows [][]string) []byte {
	t.Helper()
	orientation := "P"
	if p.turned {
		orientation = "L"
	}
	doc := gofpdf.New(orientation, "pt", "A4", "")
	doc.SetAutoPageBreak(false, 0)
	widths := []float64{32, 36, 48, 104, 130, 50, 40, 45} // line, crate, group, part, description, listed, unit, status
	high := 1.3 * p.size
	page := 0
	var y float64
	row := func(cells []string) {
		lines := 1
		split := [][]byte{}
		if p.wrapped {
			split = doc.SplitLines([]byte(cells[4]), widths[4])
			lines = max(1, len(split))
		}
		x := 40.0
		for i, c := range cells[:8] {
			doc.SetXY(x, y)
			border, align := "", "L"
			if p.grid {
				border = "1"
			}
			if i == 5 {
				align = "R"
			}
			switch {
			case i == 4 && p.wrapped:
				if p.grid {
					doc.Rect(x, y, widths[i], float64(lines)*high+8, "D")
				}
				for k, l := range split {
					doc.SetXY(x, y+4+float64(k)*high)
					doc.CellFormat(widths[i], high, string(l), "", 0, "L", false, 0, "")
				}
			case p.wrapped:
				doc.SetXY(x, y+4)
				doc.CellFormat(widths[i], high, c, "", 0, align, false, 0, "")
			default:
				doc.CellFormat(widths[i], high+6, c, border, 0, align, false, 0, "")
			}
			x += widths[i]
		}
		y += float64(lines-1)*high + high + 8
	}
	begin := func() {
		doc.AddPage()
		page++
		doc.SetFont("Helvetica", "", p.size)
		y = 60
		if p.feet {
			doc.Text(40, 40, "Osterhollow Kitworks")
			_, h := doc.GetPageSize()
			doc.Text(260, h-20, fmt.Sprintf("Page %d of 4", page))
		}
		if p.headings || page == 1 {
			row(rows[0])
		}
	}
	begin()
	for _, cells := range rows[1:] {
		cells = append([]string(nil), cells...)
		cells[4] += p.long
		_, h := doc.GetPageSize()
		if y+5*high > h-40 {
			begin()
		}
		row(cells)
	}
	var buf bytes.Buffer
	if err := doc.Output(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// A list that is printed is read back line by line, over pages, with wrapped cells and
// repeated headings, turned pages, and heads and feet that are no lines.
func TestPDF(t *testing.T) {
	rows, err := csv.NewReader(bytes.NewReader(demo.PackingList(demo.PackingListCSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for len(rows) > 0 && !strings.Contains(strings.ToLower(strings.Join(rows[0], " ")), "part") {
		rows = rows[1:]
	}
	for _, shape := range shapes() {
		t.Run(shape.name, func(t *testing.T) {
			book, err := packinglist.Open("list.pdf", shape.pdf(t, rows))
			if err != nil {
				t.Fatal(err)
			}
			reading := book.Read(packinglist.Choices{})
			for _, q := range reading.Questions {
				t.Errorf("asked: %+v", q)
			}
			for _, bad := range reading.Bad {
				t.Errorf("a bad row: %+v", bad)
			}
			var got, want []string
			for _, l := range reading.Lines {
				got = append(got, fmt.Sprint(l.Number, l.Crate, l.Group, l.Designation, l.Description, l.Listed, l.Status))
			}
			for _, l := range demoLines(t) {
				want = append(want, fmt.Sprint(l.Number, l.Crate, l.Group, l.Designation, l.Description+shape.long, l.Listed, l.Status))
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s: the lines differ (-printed +read):\n%s", book.Format, d)
			}
			if !strings.HasPrefix(book.Format, "PDF, ") || strings.Contains(book.Format, "heads and feet") != shape.feet {
				t.Errorf("the format is %q", book.Format)
			}
		})
	}
}

// demoLines are those of the demo's list as text.
func demoLines(t testing.TB) []packinglist.Line {
	t.Helper()
	book, err := packinglist.Open("list.csv", demo.PackingList(demo.PackingListCSV))
	if err != nil {
		t.Fatal(err)
	}
	return book.Read(packinglist.Choices{}).Lines
}

// A scan says that it has no text and what to do; a file that does not hold together is
// refused at once.
func TestPDFRefused(t *testing.T) {
	scan := gofpdf.New("P", "pt", "A4", "")
	scan.AddPage()
	scan.Rect(20, 20, 300, 400, "F")
	var buf bytes.Buffer
	if err := scan.Output(&buf); err != nil {
		t.Fatal(err)
	}
	for name, row := range map[string]struct {
		data []byte
		want string
	}{
		"a scan":  {buf.Bytes(), "is a PDF without text, as a scan is; ask for the list as XLSX or CSV, or type it into a spreadsheet, one line a row"},
		"garbage": {append([]byte("%PDF-1.7\n"), bytes.Repeat([]byte("\x00\xff%%EOF"), 1<<20)...), pdftext.ErrDamaged.Error()},
	} {
		_, err := packinglist.Open("list.pdf", row.data)
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", name, err, row.want)
		}
	}
}
