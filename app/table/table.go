// Package table is rows, cells and columns of a list as plain data, already worded
// and formatted; app/look draws them.
package table

import (
	"slices"

	"stowright/app/notice"
)

// Row is one line of a list. Cells follow the list's columns by index; missing
// ones are blank.
type Row struct {
	ID    string // what the screen gets when the row is chosen
	Cells []Cell
	Dim   bool // drawn quiet: archived, not in the shop
}

// Texts are the texts of the row in their order, without blank ones.
func (r Row) Texts() []string {
	var texts []string
	for _, c := range r.Cells {
		for _, text := range []string{c.Text, c.Sub, c.Mark.Word} {
			if text != "" {
				texts = append(texts, text)
			}
		}
	}
	return texts
}

// Cell is one column of a row. Which fields count depends on the column: a name
// column draws Text in mono with Sub under it, a state column draws Mark.
type Cell struct {
	Text string
	Sub  string
	Mark notice.Mark
}

// T is a cell of plain text.
func T(text string) Cell { return Cell{Text: text} }

// Name is a cell with a designation or another name and a quiet line under it.
func Name(text, sub string) Cell { return Cell{Text: text, Sub: sub} }

// State is a cell that holds a state mark.
func State(word string, tone notice.Tone) Cell {
	return Cell{Mark: notice.Mark{Word: word, Tone: tone}}
}

// Kind is how a column draws its cells.
type Kind int

// The kinds of column.
const (
	Words  Kind = iota // text, with Sub quiet under it
	Names              // designation in bold mono, with Sub quiet under it
	Figure             // right-aligned bold number, with Sub (the unit) quiet under it
	Plain              // right-aligned number of regular weight: what a list says
	Faint              // quiet text: line numbers, times
	States             // a state mark
)

// Column is one column of a list. Width is in points at normal size; 0 shares
// what is left with the other columns of width 0.
type Column struct {
	Title string
	Kind  Kind
	Width float32
}

// InHand is the row of a list that is in hand, by its id: so it stays in hand when the list is
// read again and it stands elsewhere in it. The zero InHand is the first row.
type InHand struct{ ID string }

// In is its index in rows. Where it is not among them the first is taken in hand; -1: there
// is none.
func (h *InHand) In(rows []Row) int {
	if len(rows) == 0 {
		return -1
	}
	i := max(0, slices.IndexFunc(rows, func(r Row) bool { return r.ID == h.ID }))
	h.ID = rows[i].ID
	return i
}

// Take takes the row of an index in hand, and reports whether that is another one.
func (h *InHand) Take(rows []Row, index int) bool {
	if index < 0 || index >= len(rows) || rows[index].ID == h.ID {
		return false
	}
	h.ID = rows[index].ID
	return true
}

// Arrow is the index of the row that an arrow key leads to from the chosen one. From the first
// row, or none, Up leads out of the list: ok is false for it and for any other key.
func Arrow(key string, chosen int) (to int, ok bool) {
	switch {
	case key == "Down":
		return chosen + 1, true
	case key == "Up" && chosen > 0:
		return chosen - 1, true
	}
	return chosen, false
}
