package unpack

import (
	"cmp"
	"fmt"

	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// BagColumns are those of the crates and bags.
func BagColumns() []table.Column {
	return []table.Column{{Title: "crate, bag", Kind: table.Names, Width: 78}, {Title: "done", Kind: table.Plain, Width: 70}}
}

// LineColumns are those of the packing list lines.
func LineColumns() []table.Column {
	return []table.Column{
		{Title: "line", Kind: table.Faint, Width: 34},
		{Title: "on the list", Kind: table.Names},
		{Title: "listed", Kind: table.Plain, Width: 52},
		{Title: "found", Kind: table.Figure, Width: 52},
		{Title: "state", Kind: table.States, Width: 146},
	}
}

// render shows the state as it is now.
func (m *Model) render() {
	s := State{Loading: m.state.Loading, Error: m.state.Error, Shipment: m.data.ship.ID, Line: -1}
	if m.prompt != nil {
		p := m.prompt.Prompt
		s.Prompt = &p
	}
	line := m.state.Side // of the line in hand
	switch {
	case s.Loading:
	case s.Shipment == "":
		s.Nothing, s.NextPart = "No packing list is in this shop yet", ListPart
		s.Next = "Bring in the list that came with the crates, as a spreadsheet or CSV file. Then say which crates came, and check them off line by line."
	case len(m.data.ship.Deliveries) == 0:
		s.Nothing, s.NextPart = "The packing list is in", ArrivalPart
		s.Next = "Now say which of its crates came, and on which day. The claim clocks start there, and the lines can be checked off."
	default:
		m.renderBags(&s)
		m.renderLines(&s)
		s.Before, s.Shoot = m.said(), "Photograph"
		if l := m.photographed(); l != nil && l.ID != m.current {
			s.Shoot += " " + l.Designation
		}
		s.Title, s.Note = m.data.heading(m.scope)
		s.Progress, s.Side = m.data.shown.progress, m.data.shown.side
		s.Side.Stow, s.Side.Lies, s.Side.Photos = line.Stow, line.Lies, line.Photos
		s.Side.Crate = m.data.cratePhotoWords(m.scope.crate)
	}
	m.state = s
	m.show(s)
}

func (m *Model) renderBags(s *State) {
	s.Bags = m.data.shown.bagRows
	for i, sc := range m.data.shown.scopes {
		if sc == m.scope {
			s.Bag = i
		}
	}
}

func (m *Model) renderLines(s *State) {
	for i, l := range m.data.within(m.scope) {
		s.Lines = append(s.Lines, m.data.shown.lineRows[l.ID])
		if l.ID == m.current {
			s.Line = i
			s.Current = m.data.currentLine(l, m.looked[l.ID])
		}
	}
}

// cratePhotoWords is what the way to the photographs of a crate says; empty where it has
// not come.
func (d delivery) cratePhotoWords(crate string) string {
	if _, come := d.ship.Delivery(crate); !come {
		return ""
	}
	name := phrase.Crate(crate)
	if n := len(d.crates[crate]); n > 0 {
		return wording.Plural(n, "photograph", "photographs") + " of " + name
	}
	return "Photograph " + name
}

// bagRow is a crate or bag with how many of its lines are checked.
func (d delivery) bagRow(s scope) table.Row {
	lines := d.within(s)
	due, done, here := 0, 0, s.crate == ""
	for _, l := range lines {
		here = here || d.arrived(l)
		switch d.state(l) {
		case store.BackOrder, store.NotArrived, store.OffList, store.NeverChecked:
		case store.ToCheck:
			due++
		default:
			due++
			done++
		}
	}
	name, sub := cmp.Or(s.group, s.crate, "All"), "lines"
	switch {
	case !here:
		sub = "to come"
	case s.group != "":
		sub = phrase.Crate(s.crate)
	case s.crate != "":
		sub = "whole crate"
	}
	figure := fmt.Sprintf("%d/%d", done, due)
	if due > 0 && done == due {
		figure = "✓ " + figure
	}
	if due == 0 {
		figure = ""
	}
	return table.Row{ID: s.crate + "/" + s.group, Dim: !here, Cells: []table.Cell{table.Name(name, sub), table.T(figure)}}
}

// lineRow is a packing list line.
func (d delivery) lineRow(l store.Line) table.Row {
	var found table.Cell
	if l.Finding != nil {
		found = table.T(l.Finding.Found.Number())
		if l.Finding.Weighing != nil {
			found.Sub = "about"
		}
	}
	listed := table.Cell{Text: l.Listed.Number(), Sub: wording.ShortUnit(l.Listed.Unit)}
	if l.Extra {
		listed = table.Cell{}
	}
	sub := d.titles[l.Designation]
	switch {
	case l.Finding != nil && l.Finding.Came != nil:
		sub = fmt.Sprintf("%s came: %s %s", sub, l.Finding.Came.Quantity.Number(), l.Finding.Came.Designation)
	case l.Finding != nil && l.Finding.Weighing != nil:
		sub = cmp.Or(sub, l.Title) + " · " + l.Finding.Amount().Figure() + " by weight"
	case d.toStow(l):
		sub += " · to stow"
	}
	if n := len(d.photos[l.ID]); n > 0 {
		sub += " · " + wording.Plural(n, "photograph", "photographs")
	}
	mark := d.mark(l)
	return table.Row{ID: fmt.Sprint(l.ID), Dim: !d.receivable(l), Cells: []table.Cell{
		table.T(fmt.Sprint(l.Number())), table.Name(l.Designation, sub), listed, found, {Mark: mark},
	}}
}

// mark is the state of a line as a word with its tone.
func (d delivery) mark(l store.Line) notice.Mark {
	state := d.state(l)
	if state == store.OffList {
		return notice.Mark{Word: string(state), Tone: notice.Quiet}
	}
	if l.Extra {
		return notice.Mark{Word: "not on the list", Tone: notice.Warn}
	}
	if partial(l) {
		return notice.Mark{Word: "to check, " + l.Finding.Found.Number() + " here", Tone: notice.Quiet}
	}
	return notice.Mark{Word: l.Describe(d.arrived(l)), Tone: tone(state)}
}

func tone(s store.State) notice.Tone {
	switch s {
	case store.AllHere:
		return notice.OK
	case store.Over:
		return notice.Warn
	case store.Short, store.DamagedState, store.WrongRevision:
		return notice.Stop
	}
	return notice.Quiet
}

// heading names a scope and says when it came.
func (d delivery) heading(s scope) (title, note string) {
	order := "packing list " + d.ship.File
	if d.ship.Order != "" {
		order = "order " + d.ship.Order
	}
	if s.crate == "" {
		return "All lines", order
	}
	if title = s.crate; phrase.Crate(title) != title {
		title = crateWords(title)
	}
	if s.group != "" {
		title += " · bag " + s.group
	}
	if came, ok := d.ship.Delivery(s.crate); ok {
		return title, order + ", came " + came.Arrived.String()
	}
	return title, order + ", not come yet"
}

// title is a line in plain words: as the tables say, or as the list does.
func (d delivery) title(l store.Line) string {
	return session.Title(store.Item{Title: l.Title}, d.catalog.Decode(l.Designation))
}
