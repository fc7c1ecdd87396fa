package building

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// ChangesState is what is shown of the changes of the plans: all of them, or one with what
// it did line by line.
type ChangesState struct {
	Loading bool
	Title   string
	Note    string
	Rows    []table.Row
	Chosen  int // index of the chosen row; -1 for none
	Card    card.Card
	One     bool // the rows are the lines of one change
	None    bool // no change was applied
	Problem string
}

// ChangesColumns are those of the changes, or of the lines of one.
func ChangesColumns(one bool) []table.Column {
	if one {
		return []table.Column{{Title: "for", Kind: table.Names, Width: 80}, {Title: "line", Kind: table.Names, Width: 70}, {Title: "calls", Kind: table.Names}, {Title: "", Kind: table.States, Width: 240}}
	}
	return []table.Column{{Title: "change", Kind: table.Names, Width: 80}, {Title: "paper", Kind: table.Words}, {Title: "of", Kind: table.Words, Width: 96}, {Title: "what it did", Kind: table.Words, Width: 250}}
}

// ChangesModel decides what that page shows. Its methods are called on the window's
// goroutine.
type ChangesModel struct {
	session *session.Session
	show    func(ChangesState)
	code    string // of the sub-assembly whose changes are shown; "" for all
	name    string // of the change that is opened; "" for the list of them
	chosen  string // id of the chosen row
	state   ChangesState
	data    changesRead
	reading loop.Latest
}

// NewChangesModel makes the model of the changes of a sub-assembly, "" for all, or, with a
// name such as C-2, of one change.
func NewChangesModel(s *session.Session, code, name string, show func(ChangesState)) *ChangesModel {
	return &ChangesModel{session: s, code: code, name: name, show: show, state: ChangesState{Loading: true, Chosen: -1, Title: "What changed the plans", One: name != ""}}
}

// State is what is shown now.
func (m *ChangesModel) State() ChangesState { return m.state }

// changesRead are the changes that were read, the newest first.
type changesRead struct {
	changes []changeRead
}

// changeRead is a change with what it did.
type changeRead struct {
	store.PlanChange
	of    []string // sub-assemblies, by their codes
	lines []changeLine
}

// changeLine is one line that a change was about, or that it left as it was.
type changeLine struct {
	is     store.Requirement // after the change; of what was dropped, as it was
	was    store.Requirement // what it took the place of; its number is 0 for none
	does   string            // "adds", "drops", "replaces"; "" where it stays as it was
	fitted store.Amount      // for what was dropped or replaced, when the change was applied
}

// Load reads the changes.
func (m *ChangesModel) Load() {
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (changesRead, error) {
		return session.Answer(m.session, readChanges)
	}, func(d changesRead, err error) {
		if err != nil {
			m.state.Loading, m.state.Problem = false, wording.Error(err)
			m.show(m.state)
			return
		}
		m.data = d
		m.render()
	})
}

func readChanges(r *session.Reader) (d changesRead, err error) {
	all, err := r.Shop.PlanChanges()
	if err != nil {
		return d, err
	}
	listed, err := r.Shop.Requirements("")
	if err != nil {
		return d, err
	}
	named := map[string]store.Requirement{}
	for _, x := range listed {
		named[x.Name()] = x
	}
	fits, err := r.Shop.Fits("")
	if err != nil {
		return d, err
	}
	for _, c := range slices.Backward(all) {
		is := changeRead{PlanChange: c}
		for _, x := range c.Replaced {
			is.lines = append(is.lines, changeLine{named[x.New], named[x.Old], "replaces", fittedThen(fits, x.Old, c)})
		}
		for _, name := range c.Ended {
			is.lines = append(is.lines, changeLine{is: named[name], does: "drops", fitted: fittedThen(fits, name, c)})
		}
		for _, name := range c.Added {
			is.lines = append(is.lines, changeLine{is: named[name], does: "adds"})
		}
		for _, name := range c.Left {
			is.lines = append(is.lines, changeLine{is: named[name]})
		}
		for _, l := range is.lines {
			if !slices.Contains(is.of, l.is.SubAssembly) {
				is.of = append(is.of, l.is.SubAssembly)
			}
		}
		slices.Sort(is.of)
		slices.SortStableFunc(is.lines, func(a, b changeLine) int { return strings.Compare(a.is.SubAssembly, b.is.SubAssembly) })
		d.changes = append(d.changes, is)
	}
	return d, nil
}

// fittedThen is what was fitted for a line when a change was applied.
func fittedThen(fits []store.Fit, name string, c store.PlanChange) (sum store.Amount) {
	for _, f := range fits {
		if f.Requirement != name || f.At.After(c.At) {
			continue
		}
		if with, err := sum.Add(f.Amount); err == nil { // two units of one item are not added
			sum = with
		}
	}
	return sum
}

func (m *ChangesModel) render() {
	m.state = ChangesState{Title: "What changed the plans", Chosen: -1, One: m.name != ""}
	s := &m.state
	if s.One {
		m.renderOne()
	} else {
		changes := m.shown()
		s.Note = wording.Plural(len(changes), "change", "changes") + ", the newest first"
		if m.code != "" {
			s.Title = "What changed the list of " + m.code
		}
		s.None = len(changes) == 0
		for _, c := range changes {
			s.Rows = append(s.Rows, c.row())
		}
	}
	s.Chosen = slices.IndexFunc(s.Rows, func(r table.Row) bool { return r.ID == m.chosen })
	if s.Chosen < 0 && len(s.Rows) > 0 {
		s.Chosen = 0
	}
	if s.Chosen >= 0 {
		m.chosen = s.Rows[s.Chosen].ID
		if !s.One {
			s.Card = m.shown()[s.Chosen].card()
		}
	}
	m.show(m.state)
}

// renderOne shows the lines of the change that is opened.
func (m *ChangesModel) renderOne() {
	s := &m.state
	i := slices.IndexFunc(m.data.changes, func(c changeRead) bool { return strings.EqualFold(c.Name(), m.name) })
	if i < 0 {
		s.Problem = fmt.Sprintf("There is no change %s of the plans: it was undone.", m.name)
		return
	}
	c := m.data.changes[i]
	s.Title, s.Note, s.Card = c.Name()+" "+c.Title, wording.Sentence(c.did()+c.leftWords()), c.card()
	for _, l := range c.lines {
		s.Rows = append(s.Rows, l.row())
	}
}

// shown are the changes of the list.
func (m *ChangesModel) shown() []changeRead {
	if m.code == "" {
		return m.data.changes
	}
	var of []changeRead
	for _, c := range m.data.changes {
		if slices.Contains(c.of, m.code) {
			of = append(of, c)
		}
	}
	return of
}

// did is "2 added, 1 dropped".
func (c changeRead) did() string {
	var words []string
	for _, n := range []struct {
		of   int
		what string
	}{{len(c.Replaced), "replaced"}, {len(c.Ended), "dropped"}, {len(c.Added), "added"}} {
		if n.of > 0 {
			words = append(words, fmt.Sprintf("%d %s", n.of, n.what))
		}
	}
	return strings.Join(words, ", ")
}

func (c changeRead) leftWords() string {
	if len(c.Left) == 0 {
		return ""
	}
	return "; " + wording.Plural(len(c.Left), "line stays as it was", "lines stay as they were")
}

func (c changeRead) row() table.Row {
	return table.Row{ID: c.Name(), Cells: []table.Cell{
		table.Name(c.Name(), ""), {Text: c.Title, Sub: wording.Joined(", ", c.Day.String(), c.Paper)}, table.T(strings.Join(c.of, ", ")), {Text: c.did(), Sub: strings.TrimPrefix(c.leftWords(), "; ")},
	}}
}

// card is a change as a card: by sub-assembly, with its paper and who applied it.
func (c changeRead) card() card.Card {
	is := card.Card{Designation: c.Name(), Title: c.Title, Place: c.Day.String()}
	for _, code := range c.of {
		touched, left := 0, 0
		for _, l := range c.lines {
			switch {
			case l.is.SubAssembly != code:
			case l.does == "":
				left++
			default:
				touched++
			}
		}
		is.Tallies = append(is.Tallies, card.Tally{Words: code + ", changed", Figure: fmt.Sprint(touched)}, card.Tally{Words: code + ", left as they were", Figure: fmt.Sprint(left)})
	}
	if c.Paper != "" {
		is.Notes = append(is.Notes, "from: "+c.Paper)
	}
	is.Notes = append(is.Notes, fmt.Sprintf("applied on %s by %s", store.DateOf(c.At), c.Hand))
	for _, l := range c.lines {
		if words := l.stays(); words != "" {
			is.Notes = append(is.Notes, words)
		}
	}
	return is
}

// stays says what of a line was fitted already; it is empty for nothing.
func (l changeLine) stays() string {
	if l.fitted.Sign() <= 0 {
		return ""
	}
	called := l.was.Called
	if l.does == "drops" {
		called = l.is.Called
	}
	return fmt.Sprintf("%s %s fitted before it: stays so", l.fitted, called)
}

// row is a line of a change as a row.
func (l changeLine) row() table.Row {
	mark := notice.Mark{Word: "as it was", Tone: notice.Quiet}
	sub := wording.Joined(", ", l.is.Quantity(), l.is.Callout.String(), l.is.Position)
	switch l.does {
	case "adds":
		mark = notice.Mark{Word: "added", Tone: notice.OK}
	case "drops":
		mark = notice.Mark{Word: "dropped", Tone: notice.Warn}
	case "replaces":
		mark = notice.Mark{Word: "in place of " + l.was.Name(), Tone: notice.OK}
		sub += "; was " + l.was.Called + ", " + wording.Joined(", ", l.was.Quantity(), l.was.Callout.String(), l.was.Position)
	}
	if l.fitted.Sign() > 0 {
		mark = notice.Mark{Word: l.fitted.Figure() + " fitted before: stays so", Tone: notice.Warn}
	}
	return table.Row{ID: l.is.Name(), Dim: l.does == "", Cells: []table.Cell{table.Name(l.is.SubAssembly, ""), table.Name(l.is.Name(), ""), table.Name(l.is.Called, sub), {Mark: mark}}}
}

// Choose chooses a row, by index.
func (m *ChangesModel) Choose(index int) {
	if index >= 0 && index < len(m.state.Rows) && index != m.state.Chosen {
		m.chosen = m.state.Rows[index].ID
		m.render()
	}
}

// Key does what a key is for and reports whether it is one of this page's.
func (m *ChangesModel) Key(key string) bool {
	to, ok := table.Arrow(key, m.state.Chosen)
	if ok {
		m.Choose(to)
	}
	return ok
}

// Opens is the name of the change that Enter opens, "" for none.
func (m *ChangesModel) Opens() string {
	if m.state.One || m.state.Chosen < 0 {
		return ""
	}
	return m.shown()[m.state.Chosen].Name()
}
