package handbook

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
	"stowright/store/hardware"
)

// TablesState is what the part shows: the families, and the numbers of one.
type TablesState struct {
	Filter   string
	Families []table.Row
	Chosen   int // index of the family, -1 for none
	Facts    []card.Fact
	Series   []string // of the chosen family
	At       int      // index of the series
	Numbers  []table.Row
	Note     string // where there are no numbers to list, or not all
	Card     card.Card
}

// FamilyColumns are those of the families.
func FamilyColumns() []table.Column {
	return []table.Column{{Title: "what the tables know", Kind: table.Words}}
}

// NumberColumns are those of the numbers.
func NumberColumns() []table.Column {
	return []table.Column{{Title: "number", Kind: table.Names}}
}

// maxNumbers is how many numbers of a series are listed: further ones are looked up.
const maxNumbers = 2000

// TablesModel browses the tables.
type TablesModel struct {
	session  *session.Session
	show     func(TablesState)
	state    TablesState
	all      []hardware.Family
	families []hardware.Family // that the filter leaves
	card     loop.Latest       // of the number
}

// NewTablesModel makes the model; show is called with every new state.
func NewTablesModel(s *session.Session, show func(TablesState)) *TablesModel {
	m := &TablesModel{session: s, show: show, all: s.Catalog().Families()}
	m.Filter("")
	return m
}

// State is what is shown now.
func (m *TablesModel) State() TablesState { return m.state }

// Filter leaves the families that carry every word that was typed.
func (m *TablesModel) Filter(text string) {
	m.families = nil
	words := strings.Fields(strings.ToLower(text))
	for _, f := range m.all {
		if carries(f, words) {
			m.families = append(m.families, f)
		}
	}
	// A family of that name or kind comes before one whose shape is described so.
	slices.SortStableFunc(m.families, func(a, b hardware.Family) int { return named(b, words) - named(a, words) })
	m.state = TablesState{Filter: text, Chosen: -1}
	for _, f := range m.families {
		name, what, _ := strings.Cut(f.Name, ": ")
		sub := strings.ToLower(what)
		if f.Style != "" && !strings.Contains(sub, f.Style) {
			sub += ", " + f.Style
		}
		if f.Checked == 0 {
			sub += " (" + hardware.NotCrossChecked + ")"
		}
		m.state.Families = append(m.state.Families, table.Row{ID: f.Name, Cells: []table.Cell{{Text: name, Sub: sub}}})
	}
	if len(m.families) > 0 {
		m.Choose(0)
		return
	}
	m.show(m.state)
}

// named is 1 for a family that is called by the words, else 0.
func named(f hardware.Family, words []string) int {
	f.Style = ""
	f.Name, _, _ = strings.Cut(f.Name, ": ")
	if kind, rest, ok := strings.Cut(string(f.Kind), " "); ok && len(words) == 1 && words[0] == rest {
		f.Kind = hardware.Kind(kind) // "nut" is no plate nut
	}
	if carries(f, words) {
		return 1
	}
	return 0
}

func carries(f hardware.Family, words []string) bool {
	text := strings.ToLower(strings.Join(append([]string{f.Name, string(f.Kind), f.Style}, f.Series...), " "))
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// Choose shows a family.
func (m *TablesModel) Choose(index int) {
	if index < 0 || index >= len(m.families) {
		return
	}
	f := m.families[index]
	m.state.Chosen, m.state.Series = index, f.Series
	m.state.Facts = []card.Fact{
		{Name: "kind", Text: wording.Upper(string(f.Kind)), Source: sourceWords(f.Source, f.Checked)},
		{Name: "its numbers", Text: countWords(f.Counts)},
	}
	if f.Checked == 0 {
		m.state.Facts[0].Mark, m.state.Facts[0].Tone = hardware.NotCrossChecked, notice.Warn
	}
	m.state.Facts = append(m.state.Facts, breadthFacts(m.session.Catalog().Breadth(f.Series...))...)
	m.ChooseSeries(0)
}

// breadthFacts say how the numbers of a family are written, which figures are
// known from how many sources, and what is unknown.
func breadthFacts(b hardware.Breadth) []card.Fact {
	facts := []card.Fact{{Name: "written", Text: b.Grammar}}
	var figures, unknown []string
	for _, f := range b.Figures {
		figures = append(figures, f.String())
	}
	for _, name := range b.Unknown {
		unknown = append(unknown, fieldName(name))
	}
	if len(figures) > 0 {
		facts = append(facts, card.Fact{Name: "known", Text: strings.Join(figures, ", "), Source: "in brackets: independent published sources that agree"})
	}
	if len(unknown) > 0 {
		facts = append(facts, card.Fact{Name: "unknown", Text: strings.Join(unknown, ", "), Tone: notice.Warn})
	}
	return facts
}

// countWords says how the numbers of a family count.
func countWords(counts string) string {
	switch counts {
	case "eighths":
		return "count eighths of an inch"
	case "table number":
		return "stand in a table"
	case "numbers":
		return "stand in tables here"
	}
	return counts
}

// ChooseSeries lists the numbers of a series of the family.
func (m *TablesModel) ChooseSeries(index int) {
	if index < 0 || index >= len(m.state.Series) {
		return
	}
	m.state.At, m.state.Numbers, m.state.Note, m.state.Card = index, nil, "", card.Card{}
	m.card.Drop()
	catalog := m.session.Catalog()
	numbers := catalog.Numbers(m.state.Series[index], "")
	switch {
	case len(numbers) == 0:
		m.state.Note = "Known by its name only: no table of its numbers is here."
	case len(numbers) > maxNumbers:
		m.state.Note = fmt.Sprintf("The first %d of %d numbers. Look up any other.", maxNumbers, len(numbers))
		numbers = numbers[:maxNumbers]
	}
	for _, n := range numbers {
		r := catalog.Decode(n)
		m.state.Numbers = append(m.state.Numbers, table.Row{ID: n, Cells: []table.Cell{table.Name(n, titled(r.Short, r.Mark()))}})
	}
	m.show(m.state)
}

// TablesPlace is where one is in the tables, for the way back.
type TablesPlace struct {
	Filter         string
	Family, Series int
}

// Place is where one is.
func (m *TablesModel) Place() TablesPlace {
	return TablesPlace{m.state.Filter, m.state.Chosen, m.state.At}
}

// GoTo goes back to where one was.
func (m *TablesModel) GoTo(p TablesPlace) {
	m.Filter(p.Filter)
	m.Choose(p.Family)
	m.ChooseSeries(p.Series)
}

// Show shows the card of a number.
func (m *TablesModel) Show(designation string) {
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (card.Card, error) { return m.session.PieceCard(designation) }, func(c card.Card, err error) {
		if err != nil {
			return
		}
		m.state.Card = c
		m.show(m.state)
	})
}
