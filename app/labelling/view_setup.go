package labelling

import (
	"slices"
	"strconv"

	"stowright/app/look"
	"stowright/app/table"
	"stowright/labels"
)

// setupForm is the question for what is rarely changed: copies, cut marks, a size of one's
// own and what was measured of the printer.
type setupForm struct {
	page   *Page
	dialog *look.Dialog
	marks  *look.Choices

	copies, size, wrong       *look.Entry
	forCopies, forSize, forIt *look.Field
}

// setup asks it.
func (p *Page) setup() {
	now := p.model.State().Setup
	f := &setupForm{page: p, copies: look.NewEntry("1"), size: look.NewEntry(labels.StockExample), wrong: look.NewEntry("0 0"), marks: look.NewChoices(0, "none", "at each corner")}
	f.copies.SetText(strconv.Itoa(now.Copies))
	f.wrong.SetText(p.model.ErrorOf(now.Printer))
	if now.CutMarks {
		f.marks.Mark(1)
	}
	f.forCopies = look.NewField("Copies of each label", f.copies, "")
	f.forSize = look.NewField("A size of your own", f.size, "in millimetres, and kept; a roll is written 40 mm roll, or 57 x 32")
	f.forIt = look.NewField("The printer prints too far right, and too low", f.wrong, "two numbers of millimetres, as measured on the test print; kept for this printer")
	for _, e := range []*look.Entry{f.copies, f.size, f.wrong} {
		e.OnSubmitted = func(string) { f.take() }
	}
	f.dialog = look.NewDialog("Copies, size, printer",
		look.Rows(12, f.forCopies, look.NewField("Cut marks", f.marks, "for plain paper"), f.forSize, f.forIt),
		look.NewKeyButton("Cancel", "Esc", func() { f.dialog.Close() }), look.NewPrimary("Like that", "Enter", f.take))
	p.asked = f
	p.host.Ask(f.dialog, f.copies)
}

// take takes what was typed, or says beside each field what is wrong with it.
func (f *setupForm) take() {
	m := f.page.model
	bad := m.TakeSetup(Typed{
		Copies: f.copies.Text, CutMarks: f.marks.Chosen() == 1, Size: f.size.Text,
		Printer: m.State().Setup.Printer, Error: f.wrong.Text,
	})
	f.forCopies.SetProblem(bad.Copies)
	f.forSize.SetProblem(bad.Size)
	f.forIt.SetProblem(bad.Error)
	if bad == (Refused{}) {
		f.dialog.Close()
	}
}

// askStock asks what is printed on.
func (p *Page) askStock() {
	list := look.NewRowList(table.Column{Title: "printed on", Kind: table.Words})
	state := p.model.State()
	rows := make([]table.Row, 0, len(state.Stocks))
	for _, stock := range state.Stocks {
		rows = append(rows, table.Row{ID: stock.Name, Cells: []table.Cell{table.T(stock.String())}})
	}
	list.SetRows(rows)
	list.Mark(state.Stock)
	var dialog *look.Dialog
	take := func() {
		row, ok := list.Chosen()
		dialog.Close()
		if at := slices.IndexFunc(state.Stocks, func(s labels.Stock) bool { return s.Name == row.ID }); ok && at >= 0 {
			p.model.SetStock(at)
		}
	}
	list.OnOpened = func(int, table.Row) { take() }
	dialog = look.NewDialog("What is printed on?", list,
		look.NewKeyButton("Leave it", "Esc", func() { dialog.Close() }), look.NewPrimary("Print on it", "Enter", take))
	p.host.Ask(dialog, list)
}

// askPrinter asks for one of several printers.
func (p *Page) askPrinter(names []string, take func(name string)) {
	list := look.NewRowList(table.Column{Kind: table.Names})
	rows := make([]table.Row, 0, len(names))
	for _, name := range names {
		rows = append(rows, table.Row{ID: name, Cells: []table.Cell{table.Name(name, "")}})
	}
	list.SetRows(rows)
	list.Mark(0)
	var dialog *look.Dialog
	choose := func() {
		if row, ok := list.Chosen(); ok {
			dialog.Close()
			take(row.ID)
		}
	}
	list.OnOpened = func(int, table.Row) { choose() }
	dialog = look.NewDialog("On which printer?", look.Fill(12, look.NewQuiet("It is remembered, with what you measured of it."), list),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("Print", "Enter", choose))
	p.host.Ask(dialog, list)
}
