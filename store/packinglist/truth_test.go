package packinglist_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/store/measure"
	"stowright/store/packinglist"
)

// quantity draws how much of it there is, and writes it in one of the ways it is written.
func (m *maker) quantity(l *packinglist.Line) (string, gridCell) {
	unit, micro := measure.Each, int64(1+m.IntN(200))*1_000_000
	if m.units != unitNone && m.chance(35) {
		unit = pick(m, measure.Pound, measure.Feet, measure.InchUnit, measure.Quart)
		micro = int64(1+m.IntN(400)) * 50_000
	} else if m.chance(5) {
		micro = int64(1000+m.IntN(9000)) * 1_000_000
	}
	l.Listed = measure.Quantity{Micro: micro, Unit: unit}
	text := l.Listed.Plain()
	figure := gridCell{number: float64(micro) / 1e6, format: pick(m, "General", "0.00", "#,##0.00")}
	if unit.Whole() {
		figure.format = pick(m, "General", "0", "#,##0")
	}
	behind := pick(m, " ", "") + pick(m, string(unit), strings.ToUpper(string(unit)))
	switch {
	case m.chance(1) && m.doubtful(l, &text, behind):
		return text, gridCell{}
	case m.book && m.units == unitFormat:
		figure.format = `0.00" ` + strings.ToUpper(string(unit)) + `"`
		return "", figure
	case m.book && m.units != unitBehind:
		if m.chance(3) && unit == measure.Pound {
			l.Listed.Micro, figure.number, figure.format = 250_000, 0.25, "# ?/?"
		}
		return "", figure
	case m.chance(5) && unit == measure.Pound && !m.slashed:
		l.Listed.Micro, text = 250_000, "1/4"
	case m.chance(20) && unit == measure.Each && micro >= 1_000_000_000:
		text = l.Listed.Number()
	}
	return m.marked(text) + map[bool]string{true: behind}[m.units == unitBehind || m.units == unitFormat], gridCell{}
}

// marked writes a number with the decimal mark of the list.
func (m *maker) marked(text string) string {
	mark := "point"
	if m.comma {
		text = strings.NewReplacer(",", ".", ".", ",").Replace(text)
		mark = "comma"
	}
	m.answers["decimal-mark"] = mark
	return text
}

// doubtful writes a quantity that can be read in two ways, and knows which is right.
func (m *maker) doubtful(l *packinglist.Line, text *string, behind string) bool {
	switch m.IntN(3) {
	case 0:
		if m.slashed && (m.units == unitNone || m.units == unitColumn) {
			l.Listed.Micro, l.Listed.Unit = 12_000_000, measure.Each
			*text, m.answers["fraction"] = "12/24", "sent"
			return true
		}
		return false
	case 1:
		if m.units != unitBehind {
			return false
		}
		l.Listed = measure.Of(72, measure.InchUnit)
		l.Description += " (2 @ 36 IN)"
		*text, m.answers["times-length"] = "2 @ 36 IN", "total"
		return true
	default:
		if m.units == unitColumn {
			return false
		}
		l.Listed = measure.Of(1, measure.Each)
		l.Description += " (as required)"
		*text, m.answers["as-required"] = "A/R", "one"
		return true
	}
}

// foot writes a total and remarks below the lines.
func (m *maker) foot() {
	if m.places == onSheets {
		m.total = 0
	}
	if m.total > 0 {
		row := make([]gridCell, len(m.columns))
		at := 0
		if m.index("quantity") == 0 {
			at = m.index("part")
		}
		row[at].text = pick(m, "Total", "TOTAL:", "Total pieces", "Grand total")
		sum := measure.Quantity{Micro: m.sum}
		if m.total == 2 {
			sum.Micro += 3_000_000
			m.answers["total"] = "lines"
		}
		row[m.index("quantity")].text = m.marked(sum.Plain())
		m.row(row...)
	}
	if m.chance(20) {
		m.row(words("")...)
		m.row(words("Packed by hand, looked over twice")...)
	}
	if m.places == shownOnce {
		m.answers["crate-blank"], m.answers["group-blank"] = "above", "above"
	}
	if m.book && m.chance(5) {
		m.sheets = append(m.sheets, grid{name: fmt.Sprint("Old ", len(m.sheets)), hidden: true, rows: [][]gridCell{words("Part number", "Qty"), words("OQ-OLD", "99")}})
	}
}

// numberThrough is how lines of several sheets are numbered: on each sheet they go
// on from the one before, as they were made.
func (m *maker) numberThrough() {
	for i := range m.lines {
		m.lines[i].Number = i + 1
	}
}

// asText writes the list by encoding/csv.
func (g made) asText(t testing.TB, sep rune) []byte {
	t.Helper()
	var rows [][]string
	for _, r := range g.sheets[0].rows {
		row := []string{""}
		for i, c := range r {
			if i == 0 {
				row = row[:0]
			}
			row = append(row, c.text)
		}
		rows = append(rows, row)
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = sep
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// asBook writes the list by excelize.
func (g made) asBook(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	styles := make(map[string]int)
	for _, s := range g.sheets {
		_, err := f.NewSheet(s.name)
		must(err)
		for i, r := range s.rows {
			for j, c := range r {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				must(err)
				if c.format == "" {
					if c.text != "" {
						must(f.SetCellStr(s.name, at, c.text))
					}
					continue
				}
				if _, known := styles[c.format]; !known {
					styles[c.format], err = f.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
					must(err)
				}
				must(f.SetCellStyle(s.name, at, at, styles[c.format]))
				must(f.SetCellValue(s.name, at, c.number))
			}
		}
		for _, area := range s.merged {
			from, to, _ := strings.Cut(area, ":")
			must(f.MergeCell(s.name, from, to))
		}
	}
	must(f.DeleteSheet("Sheet1"))
	for _, s := range g.sheets {
		must(f.SetSheetVisible(s.name, !s.hidden))
	}
	buf, err := f.WriteToBuffer()
	must(err)
	return buf.Bytes()
}

// TestTheTruthByCount writes lists of known content by writers that are not ours,
// reads each back, and wants every line equal or asked about, and equal with the
// right answers. Fewer than one list in ten may be asked about.
func TestTheTruthByCount(t *testing.T) {
	lists := uint64(500)
	if testing.Short() {
		lists = 100
	}
	asked, lines := make(map[string]int), 0
	folder := t.TempDir()
	var office []string
	known := make(map[string]made)
	for seed := range lists {
		book := seed%3 == 0
		g := generate(seed, book)
		lines += len(g.lines)
		name, data := fmt.Sprintf("list-%d.csv", seed), []byte(nil)
		if book {
			name = fmt.Sprintf("list-%d.xlsx", seed)
			data = g.asBook(t)
			if seed%15 == 0 {
				path := filepath.Join(folder, name)
				if err := os.WriteFile(path, data, 0o600); err != nil {
					t.Fatal(err)
				}
				office, known[strings.TrimSuffix(name, ".xlsx")] = append(office, path), g
			}
		} else if sep := ','; g.answers["decimal-mark"] == "comma" {
			data = g.asText(t, ';')
		} else {
			if seed%5 == 0 {
				sep = '\t'
			}
			data = g.asText(t, sep)
		}
		g.compare(t, name, data, asked)
	}
	t.Logf("%d lists with %d lines; asked about: %v", lists, lines, asked)
	if asked["lists"]*10 > int(lists) {
		t.Errorf("%d of %d lists are asked about, want fewer than one in ten: %v", asked["lists"], lists, asked)
	}
	if !testing.Short() {
		if n := throughOffice(t, folder, office, known); n > 0 {
			t.Logf("%d lists through LibreOffice", n)
		}
	}
}

// compare reads a list as it comes, and again with the right answers.
func (g made) compare(t *testing.T, name string, data []byte, asked map[string]int) {
	t.Helper()
	book, err := packinglist.Open(name, data)
	if err != nil {
		t.Errorf("%s: %v", g.shape, err)
		return
	}
	r := book.Read(packinglist.Choices{})
	if open := r.Open(); len(open) > 0 {
		asked["lists"]++
		for _, q := range open {
			if _, right := g.answers[q.ID]; !right {
				t.Errorf("%s\nasks %s, which is not in doubt: %s\n%s", g.shape, q.ID, q.Text, readable(data))
			}
			asked[q.ID]++
		}
	} else {
		g.same(t, r, data)
	}
	g.same(t, book.Read(packinglist.Choices{Answers: maps.Clone(g.answers)}), data)
}

// readable is the start of a text, and nothing of a workbook.
func readable(data []byte) []byte {
	if bytes.HasPrefix(data, []byte("PK")) {
		return nil
	}
	return data[:min(len(data), 700)]
}

// same wants the very lines that are known.
func (g made) same(t *testing.T, r *packinglist.Reading, data []byte) {
	t.Helper()
	list, problems := r.List()
	if len(problems) > 0 {
		t.Errorf("%s\ncannot be read: %v\n%.700q", g.shape, &problems[0], readable(data))
		return
	}
	if len(list.Lines) != len(g.lines) {
		t.Errorf("%s\n%d lines, want %d\n%.700q", g.shape, len(list.Lines), len(g.lines), readable(data))
		return
	}
	for i, got := range list.Lines {
		got.Row, got.Sheet = 0, ""
		if got != g.lines[i] {
			t.Errorf("%s\nline %d: got %+v\nwant %+v\n%.700q", g.shape, i+1, got, g.lines[i], readable(data))
			return
		}
	}
}

// throughOffice has LibreOffice write some of the lists again, where it is there, and
// returns how many were read back.
func throughOffice(t *testing.T, folder string, files []string, known map[string]made) int {
	t.Helper()
	read := 0
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Log("LibreOffice is not here: its files were not tried")
		return 0
	}
	for _, format := range []string{"ods", "xlsx"} {
		out := filepath.Join(folder, format)
		args := append([]string{"-env:UserInstallation=file://" + filepath.Join(folder, "profile"), "--headless", "--convert-to", format, "--outdir", out}, files...)
		if said, err := exec.Command(office, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, said)
		}
		for name, g := range known {
			data, err := os.ReadFile(filepath.Join(out, name+"."+format))
			if err != nil {
				t.Fatal(err)
			}
			g.shape += ", through LibreOffice as " + format
			g.compare(t, name+"."+format, data, map[string]int{})
			read++
		}
	}
	return read
}
