package unpack

import (
	"cmp"
	"fmt"
	"strings"

	"stowright/app/notice"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/packinglist"
)

// point is something about a list that a person settles, or could have settled differently.
type point struct {
	at    string // where it is: "row 12, column F"
	text  string // one sentence
	more  string // the row that it is about; empty where the ways say enough
	state notice.Mark
	open  bool
	ways  []way
}

// way is one way to settle a point: what it says, and the choice that it makes. Mend
// is the cell to be typed again, where that is the way.
type way struct {
	words  string
	chosen bool
	choose func(*packinglist.Choices)
	mend   *Mending
	take   taken // what the list is beside another one of its order; unsaid: the way is another
	tell   *told // which line of a revised list a line is; nil: the way is another
}

// Mending is a cell that is typed again.
type Mending struct {
	Where string // "row 12, column F"
	Wrong string // what is wrong with it
	Text  string // what stands there
	place packinglist.Place
}

// words are the ways as they are shown; the one that was chosen says so.
func (p point) words() []string {
	var all []string
	for _, w := range p.ways {
		words := w.words
		if w.chosen {
			words += " (chosen)"
		}
		all = append(all, words)
	}
	return all
}

func (p point) tone() notice.Tone {
	if p.open {
		return notice.Stop
	}
	return notice.Quiet
}

// where is the place in front of a sentence.
func (p point) where() string {
	if p.at == "" {
		return ""
	}
	return p.at + ": "
}

// points are what is open about a reading, then its sheets, then what was settled and
// what was left out.
func points(r *packinglist.Reading) []point {
	var open, settled []point
	for _, b := range r.Bad {
		open = append(open, badPoint(r, b))
	}
	for _, q := range r.Questions {
		if p := questionPoint(q); p.open {
			open = append(open, p)
		} else {
			settled = append(settled, p)
		}
	}
	if len(r.Sheets) > 1 {
		for _, s := range r.Sheets {
			open = append(open, sheetPoint(s))
		}
	}
	for _, l := range r.LeftOut {
		settled = append(settled, leftOutPoint(l))
	}
	return append(open, settled...)
}

// badPoint is a row that cannot be read: its first bad cell is typed again, or the row
// is left out.
func badPoint(r *packinglist.Reading, b packinglist.BadRow) point {
	p := b.Problems[0]
	wrong, do, _ := strings.Cut(p.Message, "; ")
	out := point{at: strings.TrimPrefix(p.Where(), p.File+", "), text: wording.Upper(wrong) + ".", more: b.Text, state: notice.Mark{Word: "correct it", Tone: notice.Stop}, open: true}
	if out.at == p.File {
		out.at = ""
	}
	if b.Place.Row == 0 {
		if do != "" {
			out.text = wording.Upper(p.Message) + "."
		}
		return out
	}
	if column, _, ok := packinglist.CellAt(p.Column + "1"); ok {
		at := packinglist.Place{Sheet: b.Place.Sheet, Row: p.Row, Column: column}
		out.ways = append(out.ways, way{words: "Type it again", mend: &Mending{Where: out.at, Wrong: out.text, Text: cellText(r, at), place: at}})
	}
	row := b.Place
	out.ways = append(out.ways, way{words: "Leave the row out", choose: func(c *packinglist.Choices) { c.LeftOut[row] = true }})
	return out
}

// cellText is what stands in a cell of a sheet that is read.
func cellText(r *packinglist.Reading, at packinglist.Place) string {
	for _, s := range r.Sheets {
		if !s.Taken || s.Name != at.Sheet {
			continue
		}
		for _, row := range s.Table.Rows {
			if row.Number == at.Row {
				return row.Cell(at.Column)
			}
		}
	}
	return ""
}

func questionPoint(q packinglist.Question) point {
	p := point{at: q.Places[0].String(), text: wording.Upper(q.Text), open: q.Open(), state: notice.Mark{Word: "unsure", Tone: notice.Stop}}
	if n := len(q.Places); n > 1 {
		p.at += fmt.Sprintf(" and %d more", n-1)
	}
	if !p.open {
		p.state = notice.Mark{Word: "settled", Tone: notice.OK}
	}
	for _, a := range q.Readings {
		p.ways = append(p.ways, way{words: wording.Upper(a.Text), chosen: a.ID == q.Answer, choose: func(c *packinglist.Choices) { c.Answers[q.ID] = a.ID }})
	}
	return p
}

func sheetPoint(s packinglist.SheetReading) point {
	name := s.Name
	if s.Taken {
		return point{
			at: "sheet " + name, text: wording.Plural(s.Lines, "line", "lines") + ".", state: notice.Mark{Word: "read", Tone: notice.OK},
			ways: []way{{words: "Leave the sheet out", choose: func(c *packinglist.Choices) { c.Sheets[name] = false }}},
		}
	}
	return point{
		at: "sheet " + name, text: "Left out: " + s.Why + ".", state: notice.Mark{Word: "left out", Tone: notice.Warn},
		ways: []way{{words: "Read the sheet", choose: func(c *packinglist.Choices) { c.Sheets[name] = true }}},
	}
}

func leftOutPoint(l packinglist.LeftOut) point {
	p := point{at: l.Place.String(), text: "Left out, " + l.Why + ": " + l.Text, state: notice.Mark{Word: "left out", Tone: notice.Quiet}}
	if l.Why == packinglist.ByChoice {
		row := l.Place
		p.ways = []way{{words: "Read the row after all", choose: func(c *packinglist.Choices) { delete(c.LeftOut, row) }}}
	}
	return p
}

// PointColumns are those of what is to be settled and what was.
func PointColumns() []table.Column {
	return []table.Column{{Title: "where", Width: 150}, {Title: "what to settle, and what was left out"}, {Title: "", Kind: table.States, Width: 96}}
}

func pointRows(points []point) []table.Row {
	rows := make([]table.Row, 0, len(points))
	for i, p := range points {
		words := p.words()
		for n := range words {
			words[n] = fmt.Sprintf("%d %s", n+1, words[n])
		}
		rows = append(rows, table.Row{ID: fmt.Sprint(i), Dim: p.state.Tone == notice.Quiet, Cells: []table.Cell{
			table.T(p.at), {Text: p.text, Sub: cmp.Or(p.more, strings.Join(words, " · "))}, {Mark: p.state},
		}})
	}
	return rows
}

// openWords says how much is to be settled: "1 row needs correction, 2 questions are open".
func openWords(points []point) string {
	rows, questions := 0, 0
	for _, p := range points {
		switch {
		case p.open && p.state.Word == "correct it":
			rows++
		case p.open:
			questions++
		}
	}
	var words []string
	if rows > 0 {
		words = append(words, wording.Plural(rows, "row needs", "rows need")+" correction")
	}
	if questions > 0 {
		words = append(words, wording.Plural(questions, "question is", "questions are")+" open")
	}
	if len(words) == 0 {
		return "Nothing is open."
	}
	return strings.Join(words, ", ") + "."
}

// ChoosePoint takes the point with that index in hand.
func (m *ListModel) ChoosePoint(index int) {
	if index < 0 || index >= len(m.points) {
		return
	}
	m.state.Point = index
	m.render()
}

// ShowPoints shows the points in place of the lines, or the lines again.
func (m *ListModel) ShowPoints() {
	if m.reading == nil || m.state.Working != "" {
		return
	}
	m.state.Settle = !m.state.Settle
	m.render()
}

// Settle settles the point in hand in the way with that number, from 1 up. It returns
// the cell that has to be typed again, where that is the way.
func (m *ListModel) Settle(number int) *Mending {
	if m.state.Working != "" || !m.state.Settle || m.state.Point >= len(m.points) {
		return nil
	}
	ways := m.points[m.state.Point].ways
	if number < 1 || number > len(ways) {
		return nil
	}
	w := ways[number-1]
	switch {
	case w.mend != nil:
		return w.mend
	case w.take != unsaid:
		m.taken = w.take
		m.settled()
		return nil
	case w.tell != nil:
		m.tell(*w.tell)
		return nil
	}
	m.again(w.choose)
	return nil
}

// Mend puts another text into a cell and reads the file again with it; the file itself
// is left as it is.
func (m *ListModel) Mend(cell *Mending, text string) {
	if m.state.Working != "" || m.reading == nil {
		return
	}
	m.again(func(c *packinglist.Choices) { c.Cells[cell.place] = strings.TrimSpace(text) })
}
