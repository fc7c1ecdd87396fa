package places

import (
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// asked is a question of this screen while it is open.
type asked struct {
	page   *Page
	dialog *look.Dialog
	field  *look.Field // which shows what is wrong
	change *Change
}

func (p *Page) ask(field *look.Field) *asked {
	a := &asked{page: p, field: field}
	a.change = NewChange(p.session, a.done)
	return a
}

func (a *asked) done(words string, err error) {
	if err != nil {
		a.field.SetProblem(wording.Error(err))
		a.dialog.Refresh()
		return
	}
	a.dialog.Close()
	a.page.host.Say(stockdialog.Done(words))
}

func (a *asked) cancel() *look.KeyButton {
	return look.NewKeyButton("Cancel", "Esc", func() { a.dialog.Close() })
}

// askPlace asks for a new place in the one that is looked into.
func (p *Page) askPlace() {
	kinds := Kinds()
	words := make([]string, 0, len(kinds))
	for _, k := range kinds {
		words = append(words, string(k))
	}
	parent := p.model.State().Place
	first := FirstKind(parent.Kind)
	name := look.NewEntry(Example(kinds[first]))
	a := p.ask(look.NewField("Its name", name, "short, as you would say it aloud"))
	choice := look.NewChoices(first, words...)
	choice.OnChosen = func(i int) { name.SetPlaceHolder(Example(kinds[i])) }
	add := func() { a.change.Add(parent.ID, kinds[choice.Chosen()], name.Text) }
	name.OnSubmitted = func(string) { add() }
	a.dialog = look.NewDialog("New place", look.Rows(12, look.NewField("What is it?", choice, ""), a.field), a.cancel(), look.NewPrimary("Make it", "Enter", add))
	p.host.Ask(a.dialog, name)
}

// askCabinet asks for a cabinet with all its drawers.
func (p *Page) askCabinet() {
	open := p.model.State().Place
	session.Do(p.session, func() (CabinetForm, error) { return NextCabinet(p.session, open) }, p.cabinetDialog)
}

func (p *Page) cabinetDialog(form CabinetForm, err error) {
	if err != nil {
		p.host.Say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
		return
	}
	entries := map[*string]*look.Entry{}
	field := func(label, hint string, of *string) *look.Field {
		e := look.NewEntry("")
		e.SetText(*of)
		entries[of] = e
		return look.NewField(label, e, hint)
	}
	name := field("Its name", "", &form.Name)
	a := p.ask(name)
	stands := destinationList(form.Stands)
	stands.Mark(form.In)
	stands.SetHeight(standsHeight)
	where := look.NewField("Where does it stand?", stands, "")
	body := look.Rows(12, name, field("Letter of the drawers", "they are numbered "+form.Prefix+"-01 and on, along each row from the top", &form.Prefix),
		look.Line(field("Rows", "", &form.Rows), field("Columns", "", &form.Columns)), where)
	add := func() {
		in, ok := stands.Chosen()
		if !ok {
			where.SetProblem("Choose where it stands.")
			a.dialog.Refresh()
			look.FocusOn(stands)
			return
		}
		for to, e := range entries {
			*to = e.Text
		}
		a.change.AddCabinet(in.ID, form)
	}
	stands.OnOpened = func(int, table.Row) { add() }
	for _, e := range entries {
		e.OnSubmitted = func(string) { add() }
	}
	a.dialog = look.NewDialog("New cabinet", body, a.cancel(), look.NewPrimary("Make it", "Enter", add))
	p.host.Ask(a.dialog, entries[&form.Name])
	entries[&form.Name].SelectAll()
}

// askMove asks where a place goes with all that is in it.
func (p *Page) askMove(moved store.Place) {
	session.Do(p.session, func() ([]Destination, error) { return Destinations(p.session, moved) },
		func(d []Destination, err error) { p.moveDialog(moved, d, err) })
}

func (p *Page) moveDialog(moved store.Place, destinations []Destination, err error) {
	if err != nil {
		p.host.Say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
		return
	}
	if len(destinations) == 0 {
		p.host.Say(notice.Notice{Tone: notice.Warn, Lead: "Nowhere to move it:", Text: "make the room it goes to first (N)."})
		return
	}
	list := destinationList(destinations)
	list.Mark(0)
	a := p.ask(look.NewField("", look.NewQuiet("Choose where it goes. All that is in it goes along, and its labels stay good."), ""))
	move := func() {
		if to, ok := list.Chosen(); ok {
			a.change.Move(moved.ID, to.ID)
		}
	}
	list.OnOpened = func(int, table.Row) { move() }
	a.dialog = look.NewDialog("Move "+moved.Name, look.Fill(12, a.field, list), a.cancel(), look.NewPrimary("Move it", "Enter", move))
	p.host.Ask(a.dialog, list)
}

// choiceRow is the height of a place to choose, and standsHeight that of the list of where a
// cabinet may stand: points at normal size.
const (
	choiceRow    = 44
	standsHeight = 2*choiceRow + 2
)

// destinationList lists places to choose among.
func destinationList(destinations []Destination) *look.RowList {
	list := look.NewRowList(table.Column{Kind: table.Names}, table.Column{Kind: table.Words})
	list.SetRowHeight(choiceRow)
	rows := make([]table.Row, 0, len(destinations))
	for _, d := range destinations {
		rows = append(rows, table.Row{ID: d.ID, Cells: []table.Cell{table.Name(d.Name, ""), table.T(d.Path)}})
	}
	list.SetRows(rows)
	return list
}

// askRename asks for another name.
func (p *Page) askRename(place store.Place) {
	name := look.NewEntry("")
	name.SetText(place.Name)
	a := p.ask(look.NewField("Its name", name, "the code on its label stays good; print a new one for the name"))
	rename := func() { a.change.Rename(place.ID, name.Text) }
	name.OnSubmitted = func(string) { rename() }
	a.dialog = look.NewDialog("Rename "+place.Name, a.field, a.cancel(), look.NewPrimary("Rename", "Enter", rename))
	p.host.Ask(a.dialog, name)
	name.SelectAll()
}

// askRetire asks whether a place goes out of use.
func (p *Page) askRetire(place store.Place) {
	a := p.ask(look.NewField("", look.NewText("It must be empty. Its tag stays known as retired, so take the label off."), ""))
	a.dialog = look.NewDialog("Take "+place.Name+" out of use?", a.field, a.cancel(),
		look.NewPrimary("Take it out of use", "Enter", func() { a.change.Retire(place.ID) }))
	p.host.Ask(a.dialog, nil)
}
