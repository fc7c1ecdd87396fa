package labelling

import (
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
