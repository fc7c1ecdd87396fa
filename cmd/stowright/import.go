package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/packinglist"
)

// importCommand brings a packing list into a shipment.
type importCommand struct {
	File     string            `arg:"" help:"The packing list." type:"path"`
	DryRun   bool              `help:"Show what is read, left out and asked, and bring nothing in."`
	Sheet    []string          `help:"Read only this sheet of a workbook; may be given more than once (default: all that are lists and not hidden)." sep:"none"`
	Column   map[string]int    `help:"Which column holds what, where the headings do not tell: --column quantity=6." placeholder:"NAME=NUMBER"`
	Assume   map[string]string `help:"Settle one question about the list: --assume decimal-mark=point." placeholder:"QUESTION=ANSWER"`
	Set      map[string]string `help:"What a cell should say, where it cannot be read: --set F12=24, or with the sheet 'C2!F12=24'." placeholder:"CELL=TEXT" mapsep:"none"`
	Line     map[int]string    `help:"Which line of a revised list a line is, where more than one may be meant: --line 49=50, or --line 49=none." placeholder:"LINE=LINE"`
	LeaveOut []string          `help:"Leave this row out: --leave-out 12, or with the sheet 'C2!12'." placeholder:"ROW" sep:"none"`
	Order    string            `help:"The order number."`
	Supplier string            `help:"Who sent it."`
}

// importLine is a line in the JSON answer.
type importLine struct {
	Line        int    `json:"line"`
	Crate       string `json:"crate"`
	Group       string `json:"group"`
	Designation string `json:"designation"`
	Description string `json:"description"`
	Quantity    string `json:"quantity"`
	Unit        string `json:"unit"`
	Status      string `json:"status"`
	Sheet       string `json:"sheet"`
	Row         int    `json:"row"`
	Unsure      string `json:"unsure"` // id of the open question that the line hangs on
}

// importProblem is a reason in the JSON answer why nothing was brought in.
type importProblem struct {
	Sheet   string `json:"sheet"`
	Row     int    `json:"row"`
	Column  string `json:"column"`
	Message string `json:"message"`
}

// importReading is one way to read what a question is about.
type importReading struct {
	Answer string `json:"answer"`
	Means  string `json:"means"`
}

// importDoubt is a number in the JSON answer that no table has, as decode says it.
type importDoubt struct {
	Line        int    `json:"line"`
	Designation string `json:"designation"`
	Message     string `json:"message"`
}

// importQuestion is a question in the JSON answer. Answer is empty while it is open.
type importQuestion struct {
	Question string          `json:"question"`
	Text     string          `json:"text"`
	Places   []string        `json:"places"`
	Readings []importReading `json:"readings"`
	Answer   string          `json:"answer"`
}

// importLeftOut is a row or a sheet that is no part of the list.
type importLeftOut struct {
	Sheet string `json:"sheet"`
	Row   int    `json:"row"` // 0 for the whole sheet
	Text  string `json:"text"`
	Why   string `json:"why"`
}

// importAnswer is the JSON answer. Shipment is empty where nothing was brought in.
type importAnswer struct {
	Shipment  string           `json:"shipment"`
	New       bool             `json:"new"`
	Lines     []importLine     `json:"lines"`
	LeftOut   []importLeftOut  `json:"leftOut"`
	Questions []importQuestion `json:"questions"`
	Problems  []importProblem  `json:"problems"`
	Doubts    []importDoubt    `json:"doubts"`
	ColumnsOf string           `json:"columnsOf"` // the list for which the columns were chosen before; empty: they are recognised, or given
	Revision  *importRevision  `json:"revision"`  // against another list of the order that the shop has; null where there is none
}

// Run brings the list in, or says what is wrong with every bad row and what is
// still to be asked.
func (c *importCommand) Run(p *program) error {
	var book *packinglist.Book
	if err := p.long(func(ctx context.Context) (err error) {
		book, err = packinglist.OpenFile(ctx, c.File)
		return err
	}); err != nil {
		return err
	}
	var columns map[string]packinglist.Columns
	var as string
	k, err := p.know(func(shop *store.Shop) (err error) {
		columns, as, err = session.ColumnsBefore(shop, book)
		return err
	})
	if err != nil {
		return err
	}
	reading, err := c.read(book, columns)
	if err != nil {
		return err
	}
	answer := answerOf(reading)
	answer.ColumnsOf = as
	for i := range answer.Lines {
		answer.Lines[i].Designation = session.Canonical(k.Catalog, answer.Lines[i].Designation)
	}
	for _, d := range session.ListDoubts(k.Catalog, packinglist.List{Lines: reading.Lines}) {
		answer.Doubts = append(answer.Doubts, importDoubt{d.Line, d.Designation, d.Problem})
	}
	refused := openPoint(reading)
	if refused == nil {
		if refused, err = c.bringIn(p, k, reading, &answer); err != nil {
			return err
		}
	}
	if err := p.emit(answer, func(w io.Writer) error { return c.print(w, answer, refused) }); err != nil {
		return err
	}
	return refused
}

// read reads the file by the choices on the command line, and by the columns that were
// chosen for a list of that shape before.
func (c *importCommand) read(book *packinglist.Book, columns map[string]packinglist.Columns) (*packinglist.Reading, error) {
	choices := packinglist.Choices{Answers: c.Assume, Sheets: c.sheets(book), Columns: columns}
	if err := c.places(book.Read(choices), &choices); err != nil {
		return nil, err
	}
	reading := book.Read(choices)
	if len(c.Column) > 0 {
		var err error
		if choices.Columns, err = c.columns(reading); err != nil {
			return nil, err
		}
		reading = book.Read(choices)
	}
	if c.Order != "" {
		reading.Order = c.Order
	}
	return reading, c.assumed(reading)
}

// sheets are those to be read and those to be left out, nil where none is named.
func (c *importCommand) sheets(book *packinglist.Book) map[string]bool {
	if len(c.Sheet) == 0 {
		return nil
	}
	chosen := make(map[string]bool)
	for _, s := range book.Sheets {
		chosen[s.Name] = false
	}
	for _, name := range c.Sheet {
		chosen[name] = true
	}
	return chosen
}

// places adds the cells and the rows of the command line to the choices.
func (c *importCommand) places(first *packinglist.Reading, choices *packinglist.Choices) error {
	choices.Cells, choices.LeftOut = make(map[packinglist.Place]string), make(map[packinglist.Place]bool)
	for at, text := range c.Set {
		sheet, cell := sheetAnd(at)
		column, row, ok := packinglist.CellAt(cell)
		if !ok {
			return &usageError{fmt.Errorf("--set: %q is not a cell such as F12", cell)}
		}
		place, err := placed(first, packinglist.Place{Sheet: sheet, Row: row, Column: column})
		if err != nil {
			return &usageError{fmt.Errorf("--set %s: %w", at, err)}
		}
		choices.Cells[place] = text
	}
	for _, at := range c.LeaveOut {
		sheet, row := sheetAnd(at)
		n, err := strconv.Atoi(row)
		if err != nil || n < 1 {
			return &usageError{fmt.Errorf("--leave-out: %q is not the number of a row", row)}
		}
		place, err := placed(first, packinglist.Place{Sheet: sheet, Row: n})
		if err != nil {
			return &usageError{fmt.Errorf("--leave-out %s: %w", at, err)}
		}
		choices.LeftOut[place] = true
	}
	return nil
}

// placed is a place with its sheet, which may be left out where only one is read.
func placed(first *packinglist.Reading, at packinglist.Place) (packinglist.Place, error) {
	var taken []packinglist.SheetReading
	for _, s := range first.Sheets {
		if s.Taken && (at.Sheet == "" || at.Sheet == s.Name) {
			taken = append(taken, s)
		}
	}
	if len(taken) != 1 {
		return at, errors.New("say which sheet, as in 'C2!F12'")
	}
	at.Sheet = taken[0].Name
	for _, r := range taken[0].Table.Rows {
		if r.Number == at.Row {
			return at, nil
		}
	}
	return at, fmt.Errorf("row %d is blank", at.Row)
}

// sheetAnd parts "C2!F12" as spreadsheets write it.
func sheetAnd(at string) (sheet, rest string) {
	if i := strings.LastIndexByte(at, '!'); i >= 0 {
		return at[:i], at[i+1:]
	}
	return "", at
}

// columns are those recognised with the ones of the command line in their place.
func (c *importCommand) columns(reading *packinglist.Reading) (map[string]packinglist.Columns, error) {
	all := make(map[string]packinglist.Columns)
	for _, s := range reading.Sheets {
		if !s.Taken {
			continue
		}
		columns := s.Columns
		for _, name := range slices.Sorted(maps.Keys(c.Column)) {
			field, ok := fieldOf(name)
			if !ok {
				return nil, &usageError{fmt.Errorf("--column: %q is not one of %s", name, fieldWords())}
			}
			columns = columns.With(field, c.Column[name])
		}
		all[s.Name] = columns
	}
	return all, nil
}

// fieldWords are the names of all fields in a row.
func fieldWords() string {
	var names []string
	for _, f := range packinglist.Fields() {
		names = append(names, f.String())
	}
	return strings.Join(names, ", ")
}

func fieldOf(name string) (packinglist.Field, bool) {
	for _, f := range packinglist.Fields() {
		if f.String() == name {
			return f, true
		}
	}
	return 0, false
}

// assumed refuses an answer to what was not asked, and one that is no answer: it
// would settle nothing, and nobody would know.
func (c *importCommand) assumed(reading *packinglist.Reading) error {
	for _, id := range slices.Sorted(maps.Keys(c.Assume)) {
		if id == "order" && (c.Assume[id] == beside || c.Assume[id] == revises) {
			continue // asked of the shop, see bringIn
		}
		i := slices.IndexFunc(reading.Questions, func(q packinglist.Question) bool { return q.ID == id })
		if i < 0 {
			return &usageError{fmt.Errorf("--assume %s: this list does not ask that", id)}
		}
		if q := reading.Questions[i]; q.Open() {
			return &usageError{fmt.Errorf("--assume %s: %q is not an answer to it; %s", id, c.Assume[id], settle(q))}
		}
	}
	return nil
}

// settle says how the command line answers a question.
func settle(q packinglist.Question) string {
	var ways []string
	for _, a := range q.Readings {
		ways = append(ways, fmt.Sprintf("--assume %s=%s (%s)", q.ID, a.ID, a.Text))
	}
	return "settle it by " + strings.Join(ways, " or ")
}

// openPoint is why the list cannot be brought in, nil where it can.
func openPoint(reading *packinglist.Reading) error {
	_, problems := reading.List()
	if len(problems) == 0 {
		return nil
	}
	first := problems[0]
	if open := reading.Open(); len(reading.Bad) == 0 && len(open) > 0 {
		first.Message = open[0].Text + " " + strings.ToUpper(settle(open[0])[:1]) + settle(open[0])[1:]
		if len(open) > 1 {
			first.Message += fmt.Sprintf("; %d more questions are open, see --dry-run", len(open)-1)
		}
	}
	return fmt.Errorf("nothing was brought in: %w", &first)
}

func answerOf(reading *packinglist.Reading) importAnswer {
	a := importAnswer{Lines: []importLine{}, LeftOut: []importLeftOut{}, Questions: []importQuestion{}, Problems: []importProblem{}, Doubts: []importDoubt{}}
	for _, l := range reading.Lines {
		a.Lines = append(a.Lines, importLine{
			Line: l.Number, Crate: l.Crate, Group: l.Group, Designation: l.Designation, Description: l.Description, Quantity: l.Listed.Plain(),
			Unit: string(l.Listed.Unit), Status: l.Status.String(), Sheet: l.Sheet, Row: l.Row, Unsure: l.Doubt,
		})
	}
	for _, s := range reading.Sheets {
		if !s.Taken {
			a.LeftOut = append(a.LeftOut, importLeftOut{Sheet: s.Name, Why: s.Why})
		}
	}
	for _, l := range reading.LeftOut {
		a.LeftOut = append(a.LeftOut, importLeftOut{Sheet: l.Place.Sheet, Row: l.Place.Row, Text: l.Text, Why: l.Why})
	}
	for _, q := range reading.Questions {
		asked := importQuestion{Question: q.ID, Text: q.Text, Answer: q.Answer, Places: []string{}, Readings: []importReading{}}
		for _, p := range q.Places {
			asked.Places = append(asked.Places, p.String())
		}
		for _, r := range q.Readings {
			asked.Readings = append(asked.Readings, importReading{Answer: r.ID, Means: r.Text})
		}
		a.Questions = append(a.Questions, asked)
	}
	for _, b := range reading.Bad {
		for _, p := range b.Problems {
			a.Problems = append(a.Problems, importProblem{Sheet: p.Sheet, Row: p.Row, Column: p.Column, Message: p.Message})
		}
	}
	return a
}

func (c *importCommand) print(w io.Writer, a importAnswer, refused error) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, l := range a.Lines {
		unsure := ""
		if l.Unsure != "" {
			unsure = "unsure: " + l.Unsure
		}
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s %s\t%s\t%s\n", l.Line, l.Crate, l.Group, l.Designation, l.Description, l.Quantity, l.Unit, l.Status, unsure)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	c.printRest(w, a)
	a.Revision.print(w)
	switch {
	case refused != nil:
		fmt.Fprintln(w, "Nothing was brought in.")
	case c.DryRun:
		fmt.Fprintf(w, "%d lines; nothing was brought in.\n", len(a.Lines))
	case a.New && c.Assume["order"] == revises && a.Revision != nil:
		fmt.Fprintf(w, "%d lines brought in, in place of %s.\n", len(a.Lines), a.Revision.Of)
	case a.New:
		fmt.Fprintf(w, "%d lines brought in.\n", len(a.Lines))
	default:
		fmt.Fprintln(w, "The shop has this list already: nothing was changed.")
	}
	return nil
}

// printRest prints what is no line: what was left out, what is bad, what is asked.
func (c *importCommand) printRest(w io.Writer, a importAnswer) {
	if a.ColumnsOf != "" {
		fmt.Fprintf(w, "The columns are as they were chosen for %s; --column says otherwise.\n", a.ColumnsOf)
	}
	for _, l := range a.LeftOut {
		switch {
		case l.Row == 0:
			fmt.Fprintf(w, "Sheet %s left out: %s.\n", l.Sheet, l.Why)
		default:
			fmt.Fprintf(w, "%s left out, %q: %s.\n", packinglist.Place{Sheet: l.Sheet, Row: l.Row}, l.Text, l.Why)
		}
	}
	for _, d := range a.Doubts {
		fmt.Fprintf(w, "Look at line %d: %s\n", d.Line, d.Message)
	}
	for _, b := range a.Problems {
		where := packinglist.Place{Sheet: b.Sheet, Row: b.Row}.String()
		if b.Column != "" {
			where += ", column " + b.Column
		}
		if where == "" { // of the whole list
			fmt.Fprintln(w, wording.Sentence(b.Message))
			continue
		}
		fmt.Fprintf(w, "%s: %s.\n", where, b.Message)
	}
	for _, q := range a.Questions {
		fmt.Fprintf(w, "Question %s: %s\n", q.Question, q.Text)
		for _, r := range q.Readings {
			mark := " "
			if r.Answer == q.Answer {
				mark = "*"
			}
			fmt.Fprintf(w, "  %s --assume %s=%s: %s\n", mark, q.Question, r.Answer, r.Means)
		}
		places := q.Places
		if len(places) > 8 {
			places = append(slices.Clone(places[:8]), fmt.Sprintf("and %d more", len(q.Places)-8))
		}
		fmt.Fprintf(w, "    at %s\n", strings.Join(places, "; "))
	}
}
