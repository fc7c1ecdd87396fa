package packinglist

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// nest follows in which crate, sub-kit and bag the rows are: by columns, by rows
// that name one for all below, by cells merged over several rows, and by cells
// left blank because they are the same as above.
type nest struct {
	crate  string // by rows that name one
	groups [groupLevels]string
	above  map[int]string // by column: the last cell that was filled
	marker map[int]bool   // columns with rows in which they alone are filled
	again  map[int]bool   // columns that say the same on two lines running, so that a blank cell is none of it
	named  bool           // a row names a crate or a group
}

// groupLevels is how deep groups nest by rows: a sub-kit, a bag in it.
const groupLevels = 2

// nameRow is a row that names what holds the lines below: "Crate C1", "Bag No. H101
// (in SK10)". A name has a digit in it, or is a single letter.
var nameRow = regexp.MustCompile(`^(?i:(crate|box|carton|case|container|pallet|sub-?\s?kit|kit|assembly|section|group|bag|bundle|packet|pouch))(?i:\s+(?:no\.?|number))?\s*[:#]*\s*([A-Za-z0-9][A-Za-z0-9./-]{0,15})(?i: of \d{1,3})?(?:\s*[-–—:,(].*)?$`)

// nameLevels is where in the nest a word of nameRow stands: 0 is the crate.
var nameLevels = map[string]int{
	"crate": 0, "box": 0, "carton": 0, "case": 0, "container": 0, "pallet": 0,
	"subkit": 1, "kit": 1, "assembly": 1, "section": 1, "group": 1,
	"bag": 2, "bundle": 2, "packet": 2, "pouch": 2,
}

// named is the level and the name in a text such as "Bag H101".
func named(text string) (level int, name string, ok bool) {
	m := nameRow.FindStringSubmatch(hyphens.Replace(text))
	if m == nil {
		return 0, "", false
	}
	name = m[2]
	digits := strings.IndexFunc(name, unicode.IsDigit) >= 0
	if !digits && len(name) > 1 {
		return 0, "", false
	}
	word := strings.ToLower(strings.NewReplacer("-", "", " ", "").Replace(m[1]))
	if strings.IndexFunc(name, unicode.IsLetter) < 0 {
		name = strings.ToUpper(m[1][:1]) + strings.ToLower(m[1][1:]) + " " + name
	}
	return nameLevels[word], name, true
}

// columns are those that say where a line is, the outermost first.
func (n *nest) columns(rd *sheetReader) []int {
	var columns []int
	if c := rd.cols.at[Crate]; c > 0 {
		columns = append(columns, c)
	}
	return append(columns, rd.cols.groups()...)
}

// look finds what the columns are like as a whole.
func (n *nest) look(rd *sheetReader) {
	*n = nest{crate: n.crate, groups: n.groups, above: make(map[int]string), marker: make(map[int]bool), again: make(map[int]bool)}
	last := make(map[int]string)
	columns := n.columns(rd)
	for _, r := range rd.table.Rows {
		if !rd.isBelow(r) || rd.repeatsHeadings(r) {
			continue
		}
		if rd.wordsOnly(r) {
			if _, _, ok := named(soleText(r)); ok {
				n.named = true
			}
			for _, c := range columns {
				n.marker[c] = n.marker[c] || r.filled() == 1 && r.Cell(c) != ""
			}
			clear(last)
			continue
		}
		for _, c := range columns {
			n.again[c] = n.again[c] || r.Cell(c) != "" && r.Cell(c) == last[c]
			last[c] = r.Cell(c)
		}
	}
}

// soleColumn is the 1-based column of the only filled cell of a row, 0 where there
// are more.
func soleColumn(r Row) int {
	if r.filled() != 1 {
		return 0
	}
	return len(r.Cells)
}

// soleText is the text of the only filled cell.
func soleText(r Row) string { return r.Cell(soleColumn(r)) }

// wordsOnly reports whether a row has none of what makes a line.
func (rd *sheetReader) wordsOnly(r Row) bool {
	return rd.blank(r, Designation, Quantity, LineNumber, Owed) || rd.wordsAlone(r)
}

// wordsAlone reports whether a row has one cell, which names what holds the lines
// below, or is plain words in the column of part numbers or of line numbers.
func (rd *sheetReader) wordsAlone(r Row) bool {
	text := soleText(r)
	if _, _, ok := named(text); ok {
		return true
	}
	if text == "" || strings.IndexFunc(text, unicode.IsDigit) >= 0 {
		return false
	}
	amount := text == rd.text(r, Quantity) || text == rd.text(r, Owed)
	return strings.Contains(text, " ") || !amount && strings.IndexFunc(text, unicode.IsLower) >= 0
}

// words leaves a row without a line out; where it names a crate or a group, that
// is where the lines below are.
func (rd *sheetReader) words(i int) {
	r, n := rd.table.Rows[i], &rd.nest
	text := soleText(r)
	columns := n.columns(rd)
	switch column := soleColumn(r); {
	case n.take(rd, text):
	case column > 0 && slices.Contains(columns, column):
		n.enter(columns, column, text)
	case text == "" || n.named || len(rd.cols.groups()) > 0 || !rd.beforeLine(i) || len(text) > maxShort:
		rd.leaveOut(r, "words among the lines")
		return
	case rd.asksGroup(r) == "group":
		n.groups = [groupLevels]string{text}
	default:
		rd.leaveOut(r, "words among the lines")
		return
	}
	rd.leaveOut(r, "names where the lines below are")
}

// take reports whether a text names a crate or a group that no column names, and
// if so, that is where the lines below are.
func (n *nest) take(rd *sheetReader, text string) bool {
	level, name, ok := named(text)
	switch {
	case ok && level == 0 && rd.cols.at[Crate] == 0:
		n.crate, n.groups = name, [groupLevels]string{}
	case ok && level > 0 && len(rd.cols.groups()) == 0:
		n.groups[level-1] = name
		clear(n.groups[level:])
	default:
		return false
	}
	return true
}

// asksGroup asks what a row of plain words between the lines is.
func (rd *sheetReader) asksGroup(r Row) string {
	return rd.asked.ask(Question{
		ID:       "word-rows",
		Text:     "do rows with words alone, such as \"" + clip(soleText(r)) + "\", name the group of the lines below?",
		Readings: []Answer{{"group", "yes, they name a bag or a sub-kit"}, {"remark", "no, they are remarks"}},
	}, rd.at(r, 0))
}

// beforeLine reports whether the next row is a line.
func (rd *sheetReader) beforeLine(i int) bool {
	return i+1 < len(rd.table.Rows) && !rd.wordsOnly(rd.table.Rows[i+1]) && !rd.isTotal(rd.table.Rows[i+1])
}

// enter fills a column for the rows below and forgets what was nested in it.
func (n *nest) enter(columns []int, column int, text string) {
	n.above[column] = text
	inside := false
	for _, c := range columns {
		if inside {
			delete(n.above, c)
		}
		inside = inside || c == column
	}
}

// place is the crate and the group of a line.
func (n *nest) place(rd *sheetReader, r Row) (crate, group string) {
	columns := n.columns(rd)
	crate = n.crate
	if c := rd.cols.at[Crate]; c > 0 {
		crate = n.cell(rd, r, columns, c, "crate-blank")
	}
	var groups []string
	for _, c := range rd.cols.groups() {
		if s := n.cell(rd, r, columns, c, "group-blank"); s != "" {
			groups = append(groups, s)
		}
	}
	if len(rd.cols.groups()) == 0 {
		for _, s := range n.groups {
			if s != "" {
				groups = append(groups, s)
			}
		}
	}
	group = strings.Join(groups, " / ")
	if len(crate) > maxShort {
		rd.add(r, Crate, "the crate is longer than %d characters; shorten it", maxShort)
	}
	if len(group) > maxShort {
		rd.add(r, Group, "the group is longer than %d characters; shorten it", maxShort)
	}
	return crate, group
}

// cell is what a column says of a row, which may stand in a row above.
func (n *nest) cell(rd *sheetReader, r Row, columns []int, column int, id string) string {
	if text := r.Cell(column); text != "" {
		if text != n.above[column] {
			n.enter(columns, column, text)
		}
		return text
	}
	above := n.above[column]
	if above == "" || marked(rd.table.under, r.Number, column) || n.marker[column] {
		return above
	}
	if n.again[column] {
		return ""
	}
	answer := rd.ask(Question{
		ID:       id,
		Text:     "is a blank cell in the column of the " + strings.TrimSuffix(id, "-blank") + " the same as the cell above it?",
		Readings: []Answer{{"above", "yes, " + clip(above) + " goes on"}, {"none", "no, it names none"}},
	}, r, column)
	if answer == "none" {
		return ""
	}
	return above
}
