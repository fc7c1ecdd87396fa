package unpack

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// BagColumns are those of the crates and bags.
func BagColumns() []card.Column {
	return []card.Column{{Title: "crate, bag", Kind: card.Names, Width: 78}, {Title: "done", Kind: card.Plain, Width: 70}}
}

// LineColumns are those of the packing list lines.
func LineColumns() []card.Column {
	return []card.Column{
		{Title: "line", Kind: card.Faint, Width: 28},
		{Title: "on the list", Kind: card.Names},
		{Title: "listed", Kind: card.Plain, Width: 52},
		{Title: "found", Kind: card.Figure, Width: 52},
		{Title: "state", Kind: card.States, Width: 146},
	}
}

// render shows the state as it is now.
func (m *Model) render() {
	s := State{Loading: m.state.Loading, Error: m.state.Error, Shipment: m.data.ship.ID, Line: -1}
	if m.prompt != nil {
		p := m.prompt.Prompt
		s.Prompt = &p
	}
	stow, lies := m.state.Side.Stow, m.state.Side.Lies
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
		s.Title, s.Note = m.data.heading(m.scope)
		s.Progress = m.data.progress()
		s.Side = m.data.side()
		s.Side.Stow, s.Side.Lies = stow, lies
	}
	m.state = s
	m.show(s)
}

func (m *Model) renderBags(s *State) {
	for i, sc := range m.data.scopes() {
		s.Bags = append(s.Bags, m.data.bagRow(sc))
		if sc == m.scope {
			s.Bag = i
		}
	}
}

func (m *Model) renderLines(s *State) {
	for i, l := range m.data.within(m.scope) {
		s.Lines = append(s.Lines, m.data.lineRow(l))
		if l.Number == m.current {
			s.Line = i
			s.Current = m.data.currentLine(l, m.looked[l.Number])
		}
	}
}

// bagRow is a crate or bag with how many of its lines are checked.
func (d delivery) bagRow(s scope) card.Row {
	lines := d.within(s)
	due, done, here := 0, 0, s.crate == ""
	for _, l := range lines {
		here = here || d.arrived(l)
		switch d.state(l) {
		case store.BackOrder, store.NotArrived:
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
		sub = "not come yet"
	case s.group != "":
		sub = "crate " + s.crate
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
	return card.Row{ID: s.crate + "/" + s.group, Dim: !here, Cells: []card.Cell{card.Name(name, sub), card.T(figure)}}
}

// lineRow is a packing list line.
func (d delivery) lineRow(l store.Line) card.Row {
	found := ""
	if l.Finding != nil {
		found = l.Finding.Found.Number()
	}
	listed := card.Cell{Text: l.Listed.Number(), Sub: unitShort(l.Listed.Unit)}
	if l.Extra {
		listed = card.Cell{}
	}
	sub := d.titles[l.Designation]
	switch {
	case l.Finding != nil && l.Finding.Came != nil:
		sub = fmt.Sprintf("%s came: %s %s", sub, l.Finding.Came.Quantity.Number(), l.Finding.Came.Designation)
	case d.toStow(l):
		sub += " · to stow"
	}
	mark := d.mark(l)
	return card.Row{ID: fmt.Sprint(l.Number), Dim: !d.receivable(l), Cells: []card.Cell{
		card.T(fmt.Sprint(l.Number)), card.Name(l.Designation, sub), listed, card.T(found), {Mark: mark},
	}}
}

// mark is the state of a line as a word with its tone.
func (d delivery) mark(l store.Line) card.Mark {
	state := d.state(l)
	if l.Extra {
		return card.Mark{Word: "not on the list", Tone: card.Warn}
	}
	if partial(l) {
		return card.Mark{Word: "to check, " + l.Finding.Found.Number() + " here", Tone: card.Quiet}
	}
	return card.Mark{Word: l.Describe(d.arrived(l)), Tone: tone(state)}
}

func tone(s store.State) card.Tone {
	switch s {
	case store.AllHere:
		return card.OK
	case store.Over:
		return card.Warn
	case store.Short, store.DamagedState, store.WrongRevision:
		return card.Stop
	}
	return card.Quiet
}

// currentLine is the line in hand with what can be done with it.
func (d delivery) currentLine(l store.Line, lookedAt bool) Current {
	c := Current{
		Number: l.Number, Designation: l.Designation, Title: d.titles[l.Designation], Mark: d.mark(l),
		Listed: fmt.Sprintf("listed %s %s", l.Listed.Number(), unitWord(l.Listed.Unit)), Hint: d.hint(l),
	}
	counted := l.Finding != nil && l.Finding.Counted
	c.Ticks = tick("counted", counted) + " · " + tick("looked at", lookedAt || l.Finding != nil && l.Finding.Looked)
	off := !d.receivable(l)
	chosen := ""
	if counted {
		chosen = chosenKey(*l.Finding, l)
	}
	for _, a := range []card.Action{
		{ID: "A", Label: "All here"},
		{ID: "S", Label: "Some"},
		{ID: "N", Label: "None"},
		{ID: "D", Label: "Damaged"},
		{ID: "W", Label: "Wrong item"},
		{ID: "X", Label: "Split bag"},
	} {
		a.Key, a.Off, a.Primary = a.ID, off, a.ID == chosen
		if a.Primary && a.ID == "S" {
			a.Label = "Some: " + l.Finding.Found.Number()
		}
		c.Actions = append(c.Actions, a)
	}
	return c
}

// chosenKey is the key that says what was found of a line.
func chosenKey(f store.Finding, l store.Line) string {
	switch {
	case f.Came != nil:
		return "W"
	case !f.Damaged.IsZero():
		return "D"
	case f.Found.IsZero():
		return "N"
	case f.Found == l.Listed:
		return "A"
	}
	return "S"
}

func tick(word string, on bool) string {
	if on {
		return "✓ " + word
	}
	return "○ not " + word + " yet"
}

// hint says what to know of a line: what came instead, what is damaged, where to
// look for what is missing.
func (d delivery) hint(l store.Line) string {
	var words []string
	if f := l.Finding; f != nil {
		if f.Came != nil {
			words = append(words, fmt.Sprintf("%s %s came instead.", f.Came.Quantity.Number(), f.Came.Designation))
		}
		if f.Note != "" {
			words = append(words, strings.ToUpper(f.Note[:1])+f.Note[1:]+".")
		}
	}
	switch d.state(l) {
	case store.Short:
		words = append(words, l.Describe(true)+" so far. Look first: "+d.lookFirst(l)+".")
	case store.BackOrder:
		words = append(words, "The list says back-ordered: it comes later and is not claimed. Enter it when it comes.")
	case store.NotArrived:
		words = append(words, "Crate "+l.Crate+" has not come.")
	}
	if d.apart[bagged{l.Place, l.Designation}] {
		words = append(words, "Damaged ones stay set apart in the bag.")
	}
	return strings.Join(words, " ")
}

// hollow are words of parts that others are packed inside of.
var hollow = []string{"skin", "tube", "tank", "box", "fairing", "cowl"}

// lookFirst is where what is missing of a line may be: hardware in the other bags
// of its crate, those with look-alikes first; parts inside larger parts.
func (d delivery) lookFirst(l store.Line) string {
	var inside, bags []string
	add := func(list *[]string, s string) {
		if s != "" && !strings.Contains(strings.Join(*list, ", ")+",", s+",") && len(*list) < 3 {
			*list = append(*list, s)
		}
	}
	piece := hardware.Decode(l.Designation).Known
	for _, o := range d.lines {
		if o.Crate != l.Crate || o.Number == l.Number {
			continue
		}
		if _, like := hardware.Alike(l.Designation, o.Designation); (like || o.Designation == l.Designation) && o.Place != l.Place {
			add(&bags, o.Group)
		}
		if !piece && o.Group == l.Group && holdsParts(o.Title) {
			add(&inside, fmt.Sprintf("the %s (line %d)", strings.ToLower(o.Title), o.Number))
		}
	}
	if piece {
		for _, o := range d.lines {
			if o.Crate == l.Crate && o.Place != l.Place && hardware.Decode(o.Designation).Known {
				add(&bags, o.Group)
			}
		}
	}
	switch {
	case len(inside) > 0:
		return "inside " + strings.Join(inside, ", ") + ", and in the packing"
	case len(bags) > 0:
		return "in the wrong bag, such as " + strings.Join(bags, ", ") + ", and among its look-alikes"
	}
	return "inside other parts of " + l.Crate + ", and in the packing"
}

func holdsParts(title string) bool {
	for _, word := range hollow {
		if strings.Contains(strings.ToLower(title), word) {
			return true
		}
	}
	return false
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
	title = "Crate " + s.crate
	if s.group != "" {
		title += " · bag " + s.group
	}
	if came, ok := d.ship.Delivery(s.crate); ok {
		return title, order + ", came " + came.Arrived.String()
	}
	return title, order + ", not come yet"
}

// progress is how far the lines that are due are checked.
func (d delivery) progress() Progress {
	n := map[card.Tone]int{}
	due := 0
	for _, l := range d.lines {
		s := d.state(l)
		if l.Extra || s == store.BackOrder || s == store.NotArrived {
			continue
		}
		due++
		n[tone(s)]++
	}
	return Progress{
		Words:  fmt.Sprintf("%d of %d lines", due-n[card.Quiet], due),
		Shares: []Share{{n[card.OK], card.OK}, {n[card.Warn], card.Warn}, {n[card.Stop], card.Stop}, {n[card.Quiet], card.Quiet}},
	}
}

// states are the states in the order in which totals are shown.
var states = []store.State{
	store.AllHere, store.Short, store.Over, store.DamagedState, store.WrongRevision, store.BackOrder, store.NotArrived, store.ToCheck,
}

// side is the claim clocks and the totals of a shipment.
func (d delivery) side() Side {
	side := Side{Clocks: clockNotices(d.ship.Clocks(d.today)), Others: d.next != ""}
	n := map[store.State]int{}
	extras := 0
	for _, l := range d.lines {
		if l.Extra {
			extras++
			continue
		}
		n[d.state(l)]++
	}
	for _, s := range states {
		side.Tallies = append(side.Tallies, card.Tally{Words: string(s), Figure: fmt.Sprint(n[s])})
	}
	if extras > 0 {
		side.Tallies = append(side.Tallies, card.Tally{Words: "not listed", Figure: fmt.Sprint(extras)})
	}
	if missing := d.notCome(); len(missing) > 0 {
		side.Crates = strings.Join(missing, ", ")
	}
	if w := d.waitingToStow(); w > 0 {
		side.Waiting = plural(w, "line", "lines") + " to stow"
	}
	return side
}

// notCome are the crates that have not come.
func (d delivery) notCome() []string {
	var names []string
	for _, c := range d.ship.Crates {
		if _, ok := d.ship.Delivery(c.Name); !ok {
			names = append(names, c.Name)
		}
	}
	return names
}

// soon is how many days before its end a claim clock begins to warn.
const soon = 7

// clockNotices are claim clocks as sentences.
func clockNotices(clocks []store.Clock) []card.Notice {
	var out []card.Notice
	for _, c := range clocks {
		lead := "Damage:"
		if c.For == store.ForShortage {
			lead = "Shortages:"
		}
		n := card.Notice{Lead: lead, Text: fmt.Sprintf("by %s, %s", day(c.Due), daysLeft(c.DaysLeft))}
		if len(clocks) > 2 {
			n.Lead = strings.Join(c.Crates, ", ") + " " + strings.ToLower(lead)
		}
		switch {
		case c.DaysLeft <= 0:
			n.Tone = card.Stop
		case c.DaysLeft <= soon:
			n.Tone = card.Warn
		}
		out = append(out, n)
	}
	return out
}

// day is a date with its weekday, without the year: "Thu 19 March".
func day(d store.Date) string {
	return fmt.Sprintf("%s %d %s", weekday(d), d.Day, d.Month)
}

func daysLeft(n int) string {
	switch {
	case n < 0:
		return plural(-n, "day", "days") + " past"
	case n == 0:
		return "last day today"
	}
	return plural(n, "day", "days") + " left"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func unitShort(u measure.Unit) string {
	if u == measure.Each {
		return ""
	}
	return string(u)
}

// unitAfter is a unit between a figure and a number; pieces need none.
func unitAfter(u measure.Unit) string {
	if u == measure.Each {
		return ""
	}
	return string(u) + " "
}

// unitWord is a unit in words: "each" reads as pieces here.
func unitWord(u measure.Unit) string {
	if u == measure.Each {
		return "pieces"
	}
	return session.UnitWord(u)
}

// title is a line in plain words: as the tables say, or as the list does.
func title(l store.Line) string {
	return session.Title(store.Item{Title: l.Title}, hardware.Decode(l.Designation))
}

// difference is how what came differs from what was listed, where the tables know.
func difference(listed, came string) string {
	words, _ := hardware.Alike(listed, came)
	return words
}

func weekday(d store.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday().String()[:3]
}
