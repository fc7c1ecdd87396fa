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
	Breadth  string // how many families there are, and how well they are known; of a whole number, what it is
	None     string // why no family answers; "" where some do
	Families []table.Row
	Chosen   int // index of the family, -1 for none
	Title    string
	Facts    []card.Fact
	Series   []string // of the chosen family
	At       int      // index of the series
	Numbers  []table.Row
	Number   string // the one that was typed whole, "" for none
	Note     string // where there are no numbers to list, or not all
	Card     card.Card
}

// FamilyColumns are those of the families.
func FamilyColumns() []table.Column {
	return []table.Column{{Title: "family", Kind: table.Words}, {Title: "best known by", Kind: table.States, Width: 128}}
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
	known    map[string]int    // how well each is known, by name
	card     loop.Latest       // of the number
}

// NewTablesModel makes the model; show is called with every new state.
func NewTablesModel(s *session.Session, show func(TablesState)) *TablesModel {
	m := &TablesModel{session: s, show: show, all: s.Catalog().Families()}
	var kinds []hardware.Kind
	for _, f := range m.all {
		if !slices.Contains(kinds, f.Kind) {
			kinds = append(kinds, f.Kind)
		}
	}
	slices.SortStableFunc(m.all, func(a, b hardware.Family) int { return slices.Index(kinds, a.Kind) - slices.Index(kinds, b.Kind) })
	m.known = map[string]int{}
	for _, f := range m.all {
		m.known[f.Name] = bestKnown(s.Catalog().Breadth(f.Series...))
	}
	m.Filter("")
	return m
}

// nameOnly is how well a family is known of which no figure is here.
const nameOnly = -1

// bestKnown is how many sources the best known figure of a family has, nameOnly
// where there is none. What it is made of or how its head looks is no figure.
func bestKnown(b hardware.Breadth) int {
	best := nameOnly
	for _, f := range b.Figures {
		switch f.Name {
		case hardware.HeadStyle, hardware.Material, hardware.Finish, hardware.Hand, hardware.CountersinkAngle, hardware.HeadMarking:
		default:
			best = max(best, f.Most)
		}
	}
	return best
}

// knownMark says how well a family is known.
func knownMark(sources int) notice.Mark {
	switch {
	case sources == nameOnly:
		return notice.Mark{Word: "name only", Tone: notice.Quiet}
	case sources == 0:
		return notice.Mark{Word: "memory", Tone: notice.Warn}
	case sources == 1:
		return notice.Mark{Word: "1 source", Tone: notice.Quiet}
	}
	return notice.Mark{Word: fmt.Sprintf("%d sources", sources), Tone: notice.OK}
}

// State is what is shown now.
func (m *TablesModel) State() TablesState { return m.state }

// Filter leaves the families that carry every word that was typed, or those that a
// whole number is of.
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
	m.state = TablesState{Filter: text, Chosen: -1, Breadth: m.breadth()}
	at := 0
	if len(m.families) == 0 {
		at = m.byNumber(text)
	}
	for _, f := range m.families {
		name, what, _ := strings.Cut(f.Name, ": ")
		sub := strings.ToLower(what)
		if f.Style != "" && !strings.Contains(sub, f.Style) {
			sub += ", " + f.Style
		}
		m.state.Families = append(m.state.Families, table.Row{ID: f.Name, Cells: []table.Cell{{Text: name, Sub: sub}, {Mark: knownMark(m.known[f.Name])}}})
	}
	if len(m.families) > 0 {
		m.Choose(0)
		if at > 0 {
			m.ChooseSeries(at)
		}
		return
	}
	m.show(m.state)
}

// breadth says how many families the tables have and how well they are known.
func (m *TablesModel) breadth() string {
	var two, names int
	for _, known := range m.known {
		switch {
		case known > 1:
			two++
		case known == nameOnly:
			names++
		}
	}
	return fmt.Sprintf("%d families: of %d the best known figure has two sources or more, of %d only the name is known here.", len(m.all), two, names)
}

// byNumber leaves the family of a whole number and says which of its series it
// is; of one that the tables refuse it keeps why.
func (m *TablesModel) byNumber(text string) (series int) {
	r := m.session.Catalog().Decode(text)
	m.state.None = "No table answers to that: type fewer letters."
	switch {
	case r.Problem != "":
		m.state.None = wording.Sentence(r.Problem)
		m.state.Breadth = m.state.None
	case r.Known:
		m.state.Number = r.Designation
		m.state.Breadth = r.Designation + ": " + titled(r.Title, r.Mark())
	}
	for _, f := range m.all {
		if r.Family == "" || f.Name != r.Family {
			continue
		}
		m.families = append(m.families, f)
		for i, name := range f.Series {
			if rest, ok := strings.CutPrefix(r.Designation, name); ok && (rest == "" || rest[0] < '0' || rest[0] > '9') {
				series = i
			}
		}
	}
	return series
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
	m.state.Chosen, m.state.Series, m.state.Title = index, f.Series, f.Name
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

// breadthFacts say how the numbers of a family are written, and of each figure from
// how many sources it is known.
func breadthFacts(b hardware.Breadth) []card.Fact {
	facts := []card.Fact{{Name: "written", Text: b.Grammar}}
	open := slices.Clone(b.Unknown)
	for _, f := range b.Figures {
		fact := card.Fact{Name: fieldName(f.Name), Text: sources(f)}
		if f.Least == 0 {
			fact.Mark, fact.Tone = hardware.NotCrossChecked, notice.Warn
			if f.Most > 0 {
				fact.Mark = "some " + hardware.NotCrossChecked
			}
		}
		if i := slices.Index(open, f.Name); i >= 0 {
			fact.Text += ", of some unknown"
			open = slices.Delete(open, i, i+1)
		}
		facts = append(facts, fact)
	}
	for _, name := range open {
		facts = append(facts, card.Fact{Name: fieldName(name), Text: "unknown", Tone: notice.Warn, Source: "no source here gives it"})
	}
	return facts
}

// sources says from how many sources a figure of a family is known.
func sources(f hardware.Figure) string {
	switch {
	case f.Most == 0:
		return "from memory"
	case f.Least == f.Most && f.Most == 1:
		return "1 source"
	case f.Least == f.Most:
		return fmt.Sprintf("%d sources", f.Most)
	}
	return fmt.Sprintf("%d to %d sources", f.Least, f.Most)
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
	case "not known":
		return "are not known here"
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
		m.state.Numbers = append(m.state.Numbers, table.Row{ID: n, Cells: []table.Cell{table.Name(n, wording.Joined("; ", titled(r.Short, r.Mark()), m.session.ConvertedTitle(r)))}})
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
	m.state.Number = designation
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (card.Card, error) { return m.session.PieceCard(designation) }, func(c card.Card, err error) {
		if err != nil {
			return
		}
		m.state.Card = c
		m.show(m.state)
	})
}
