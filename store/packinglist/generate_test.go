package packinglist_test

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"

	"stowright/store/packinglist"
)

// grid is a sheet of a generated list.
type grid struct {
	name   string
	hidden bool
	rows   [][]gridCell
	merged []string
}

// gridCell is a text, or a number with its format where a workbook is written.
type gridCell struct {
	text   string
	number float64
	format string // not empty for a number
}

func words(texts ...string) []gridCell {
	row := make([]gridCell, len(texts))
	for i, s := range texts {
		row[i].text = s
	}
	return row
}

// made is a generated list, with what it says and what has to be answered where it
// is asked.
type made struct {
	shape   string // for a person who looks for a fault
	sheets  []grid
	lines   []packinglist.Line
	answers map[string]string
}

// how the crate and the group of a line are written.
const (
	nowhere     = iota
	inColumns   // on each row
	inThree     // crate, sub-kit, bag on each row
	inRows      // rows that name a crate or a bag
	inMerged    // cells merged downwards
	shownOnce   // blank where it is the same as above: to be asked
	onSheets    // a sheet for each crate
	inBoth      // crate on each row, bags by rows over the whole width
	placesCount // how many ways there are
)

// how a unit is written.
const (
	unitColumn = iota
	unitBehind
	unitFormat // in the number format of a workbook
	unitNone   // pieces alone
	unitCount
)

// maker makes one list.
type maker struct {
	*rand.Rand
	made
	book     bool // a workbook, so that cells hold numbers
	comma    bool // the comma is the decimal mark
	places   int
	units    int
	numbers  bool // lines are numbered
	statuses bool
	owed     bool // a column of what is owed
	total    int  // 0 none, 1 right, 2 wrong
	headings []string
	columns  []string // what stands in each column, by the field
	slashed  bool     // "12/24" stands for 12 of 24, and no fraction is written
	out      *grid
	sum      int64 // millionths, for the total
	crate    string
	group    string
}

func (m *maker) chance(percent int) bool { return m.IntN(100) < percent }

func pick[T any](m *maker, from ...T) T { return from[m.IntN(len(from))] }

// generate makes a list of known content in one of many shapes.
func generate(seed uint64, book bool) made {
	m := &maker{Rand: rand.New(rand.NewPCG(20731, seed)), book: book}
	m.answers = make(map[string]string)
	m.comma = !book && m.chance(25)
	m.places = m.IntN(placesCount)
	if m.places == shownOnce && m.chance(80) || !book && (m.places == inMerged || m.places == onSheets) {
		m.places = inColumns
	}
	m.units = m.IntN(unitCount)
	if m.units == unitFormat && !book {
		m.units = unitBehind
	}
	m.numbers, m.statuses, m.owed = m.chance(50), m.chance(40), false
	if !m.statuses && m.chance(20) {
		m.owed = true
	}
	m.total = pick(m, 0, 0, 0, 1, 1)
	if m.chance(1) {
		m.total = 2
	}
	m.slashed = m.chance(20)
	m.lay()
	m.fill()
	if m.places == onSheets {
		m.numberThrough()
	}
	m.shape = fmt.Sprintf("list %d: book %v, comma %v, places %d, units %d, numbers %v, statuses %v, owed %v, total %d, columns %v", seed, book, m.comma, m.places, m.units, m.numbers, m.statuses, m.owed, m.total, m.columns)
	return m.made
}

// lay chooses the columns and their headings.
func (m *maker) lay() {
	names := map[string][]string{
		"line": {"Line", "Item", "#", "No.", "Pos", "Line No."}, "crate": {"Crate", "Box", "Carton No.", "Box #"}, "kit": {"Sub-kit", "Kit"},
		"bag": {"Bag", "Bag No.", "Group"}, "part": {"Part number", "Part No.", "P/N", "Part", "Stock No."}, "description": {"Description", "Nomenclature", "Desc."},
		"quantity": {"Qty", "Quantity", "Qty shipped", "QTY."}, "unit": {"Unit", "U/M", "UOM"}, "status": {"Status", "Ship status"}, "owed": {"Qty B/O", "Back ordered"},
		"other": {"Checked", "Unit price", "Weight"},
	}
	var columns []string
	if m.numbers {
		columns = append(columns, "line")
	}
	switch m.places {
	case inColumns, inMerged, shownOnce:
		columns = append(columns, "crate", "bag")
	case inThree:
		columns = append(columns, "crate", "kit", "bag")
	case onSheets:
		columns = append(columns, "bag")
	case inBoth:
		columns = append(columns, "crate")
	}
	rest := []string{"part", "description", "quantity"}
	if m.units == unitColumn {
		rest = append(rest, "unit")
	}
	if m.statuses {
		rest = append(rest, "status")
	}
	if m.owed {
		rest = append(rest, "owed")
	}
	if m.chance(30) {
		rest = append(rest, "other")
	}
	if m.chance(40) {
		m.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
	}
	m.columns = append(columns, rest...)
	for _, c := range m.columns {
		m.headings = append(m.headings, pick(m, names[c]...))
	}
}

// start begins a sheet with titles and headings.
func (m *maker) start(name string) {
	m.sheets = append(m.sheets, grid{name: name})
	m.out = &m.sheets[len(m.sheets)-1]
	for range m.IntN(4) {
		m.row(words(pick(m, "OSTERHOLLOW KITWORKS", "Packing slip", "Order: OK-20731", "Tail kit, two crates", "Thank you for your order", ""))...)
	}
	m.heads()
}

// heads writes the headings, in two rows where one of them has two words.
func (m *maker) heads() {
	upper, lower := make([]string, len(m.headings)), make([]string, len(m.headings))
	two := false
	for i, h := range m.headings {
		first, second, found := strings.Cut(h, " ")
		lower[i] = h
		if found && m.columns[i] != "other" {
			upper[i], lower[i], two = first, second, true
		}
	}
	if two && len(m.out.rows) < 5 && m.Uint64()%7 == 0 {
		m.row(words(upper...)...)
		m.row(words(lower...)...)
		return
	}
	m.row(words(m.headings...)...)
}

func (m *maker) row(cells ...gridCell) { m.out.rows = append(m.out.rows, cells) }

// fill writes the lines, crate by crate and group by group.
func (m *maker) fill() {
	if m.places != onSheets {
		m.start("List")
	}
	crates := 1 + m.IntN(3)
	if m.places == nowhere {
		crates = 1
	}
	for c := 1; c <= crates; c++ {
		m.crate = fmt.Sprintf("C%d", c)
		if m.places == onSheets {
			m.crate = fmt.Sprintf("Crate %d", c)
			m.start(m.crate)
		}
		if m.places == inRows {
			m.named(pick(m, "Crate "+m.crate, "CRATE "+m.crate+" of 3", "Crate No. "+m.crate))
		}
		top := len(m.out.rows) + 1
		for g := range 1 + m.IntN(3) {
			m.bag(c, g)
		}
		if m.places == inMerged && len(m.out.rows) > top {
			column := packinglist.ColumnName(m.index("crate") + 1)
			m.out.merged = append(m.out.merged, fmt.Sprintf("%s%d:%s%d", column, top, column, len(m.out.rows)))
		}
		if m.places == onSheets {
			m.foot()
		}
	}
	if m.places != onSheets {
		m.foot()
	}
}

func (m *maker) index(column string) int {
	for i, c := range m.columns {
		if c == column {
			return i
		}
	}
	return -1
}

// named writes a row that names what holds the lines below.
func (m *maker) named(text string) {
	row := make([]gridCell, len(m.columns))
	at := m.IntN(2) * m.index("description")
	if m.places == inBoth {
		at = 0
		if m.book {
			n := len(m.out.rows) + 1
			m.out.merged = append(m.out.merged, fmt.Sprintf("A%d:%s%d", n, packinglist.ColumnName(len(row)), n))
		}
	}
	row[at].text = text
	m.row(row...)
}

// bag writes the lines of one group.
func (m *maker) bag(crate, g int) {
	m.group = fmt.Sprintf("H%d0%d", crate, g+1)
	switch m.places {
	case inRows, inBoth:
		m.named(pick(m, "Bag "+m.group, "Bag No. "+m.group, "BAG "+m.group+" - hardware"))
	case inThree:
		m.group = fmt.Sprintf("SK%d0 / %s", crate, m.group)
	}
	for i := range 2 + m.IntN(5) {
		if !m.book && len(m.out.rows) > 12 && m.chance(3) {
			m.row(words(m.headings...)...)
		}
		if m.chance(2) && m.places != nowhere {
			remark := make([]gridCell, len(m.columns))
			remark[m.index("description")].text = "see the drawing of the assembly, it shows which way round they go on"
			m.row(remark...)
		}
		m.line(i == 0)
	}
	if m.chance(10) {
		m.row()
	}
}

// line writes one line and remembers what it says.
func (m *maker) line(first bool) {
	l := packinglist.Line{Number: len(m.lines) + 1, Designation: m.part(), Description: pick(m, "Bolt", "Fin root rib", "Skin, left", `Angle 3/4"`, "Nut; full", "Flush rivet 3/32")}
	if m.places != nowhere {
		l.Crate, l.Group = m.crate, m.group
	}
	description := l.Description
	text, cell := m.quantity(&l)
	status := ""
	if m.statuses {
		l.Status = packinglist.Status(m.IntN(3))
		status = pick(m, l.Status.Letter(), l.Status.String())
	}
	row := make([]gridCell, len(m.columns))
	for i, c := range m.columns {
		switch c {
		case "line":
			row[i] = m.figure(float64(l.Number), strconv.Itoa(l.Number))
		case "crate":
			if !(m.places == inMerged || m.places == shownOnce) || first && m.newCrate() {
				row[i].text = m.crate
			}
		case "kit":
			row[i].text = strings.Split(m.group, " / ")[0]
		case "bag":
			if m.places != shownOnce || first {
				row[i].text = m.group[strings.LastIndex(m.group, " ")+1:]
			}
		case "part":
			row[i].text = l.Designation
		case "description":
			row[i].text = description
		case "quantity":
			row[i] = cell
			if cell.format == "" {
				row[i].text = text
			}
		case "unit":
			row[i].text = pick(m, string(l.Listed.Unit), strings.ToUpper(string(l.Listed.Unit)))
		case "status":
			row[i].text = status
		case "owed":
			row[i].text = pick(m, "", "0", "")
		}
	}
	m.row(row...)
	m.lines = append(m.lines, l)
	m.sum += l.Listed.Micro
}

// newCrate reports whether the last line was in another crate.
func (m *maker) newCrate() bool {
	return len(m.lines) == 0 || m.lines[len(m.lines)-1].Crate != m.crate
}

func (m *maker) part() string {
	return pick(m, fmt.Sprintf("OQ-%d0-%03d", 1+m.IntN(9), m.IntN(1000)), fmt.Sprintf("AN%d-%dA", 3+m.IntN(4), 3+m.IntN(5)),
		fmt.Sprintf("AN426AD3-%d.5", 3+m.IntN(6)), fmt.Sprintf("MS21042-%d", 3+m.IntN(4)), fmt.Sprintf("%06d", 100000+m.IntN(900000)))
}

// figure is a number of a workbook, or its text.
func (m *maker) figure(n float64, text string) gridCell {
	if m.book && m.chance(90) {
		return gridCell{number: n, format: "General"}
	}
	return gridCell{text: text}
}
