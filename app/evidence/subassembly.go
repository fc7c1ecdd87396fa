package evidence

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/phrase"
)

// part is a sub-assembly with what the chapter on it goes by.
type part struct {
	store.SubAssembly
	needs []store.Requirement
	fits  []store.Fit
	lots  []string // of what was fitted, with what was poured into them
}

func (g *gatherer) part(s store.SubAssembly) part {
	p := part{SubAssembly: s}
	for _, r := range g.requirements {
		if r.SubAssembly == s.Code && !r.Undone {
			p.needs = append(p.needs, r)
		}
	}
	var lots []string
	for _, f := range g.fits {
		if f.SubAssembly == s.Code {
			p.fits, lots = append(p.fits, f), append(lots, f.Lot)
		}
	}
	p.lots = g.withParents(lots)
	return p
}

// need is the requirement of a name.
func (p part) need(name string) (store.Requirement, bool) {
	i := slices.IndexFunc(p.needs, func(r store.Requirement) bool { return r.Name() == name })
	if i < 0 {
		return store.Requirement{}, false
	}
	return p.needs[i], true
}

// has reports whether an item is called or was fitted.
func (p part) has(item string) bool {
	return slices.ContainsFunc(p.needs, func(r store.Requirement) bool { return r.Item == item }) ||
		slices.ContainsFunc(p.fits, func(f store.Fit) bool { return f.Item == item })
}

func (g *gatherer) subAssemblyBook(code string) (Book, error) {
	s, err := g.subAssembly(code)
	if err != nil {
		return Book{}, err
	}
	p := g.part(s)
	if err := g.tell(store.About{SubAssemblies: []string{s.Code}, Lots: p.lots}); err != nil {
		return Book{}, err
	}
	c, err := g.partChapter(p)
	if err != nil {
		return Book{}, err
	}
	return Book{Title: "Evidence: " + strings.TrimSpace(s.Code+" "+s.Name), Under: under, Chapters: []Chapter{c}}, nil
}

// under is what stands below the title of a book.
var under = []string{
	"What this shop file records, in the order of the days, and by whom it was recorded. What was undone is left out; the journal has it.",
	"Plans, the kit maker's instructions and the local authority govern.",
}

// partChapter is all that is known of a sub-assembly.
func (g *gatherer) partChapter(p part) (Chapter, error) {
	c := Chapter{Title: strings.TrimSpace(p.Code + " " + p.Name)}
	c.add(g.head(p))
	c.add(g.fitted(p))
	c.add(g.deliveries("Lots, and the deliveries that they came by", p.lots))
	c.add(g.deviations(p))
	c.add(g.decided(p))
	alerts, err := g.alertSection(p)
	if err != nil {
		return c, err
	}
	c.add(alerts)
	c.add(g.looks(p))
	c.add(g.notes(p))
	c.add(timeline("What was done, in the order of the days", g.partRows(p)))
	open, err := g.open(p)
	if err != nil {
		return c, err
	}
	c.add(open)
	photos, err := g.photographs(p)
	c.add(Section{Heading: "Photographs", Photos: photos})
	return c, err
}

// head says what it is, and begins with what was decided about the origin of what is in it.
func (g *gatherer) head(p part) Section {
	s := Section{Heading: "What it is"}
	for _, d := range g.decisions {
		if d.Kind == store.AnyOrigin && p.concerns(d) {
			s.Texts = append(s.Texts, "Origin by decision: "+decisionWords(d))
		}
	}
	work := "built here"
	if p.Work != store.Build {
		work = string(p.Work)
	}
	if a := p.Assembled; a != nil {
		work = "came assembled by " + a.By + day(", shipped ", a.Shipped) + day(", came ", a.Received) + ": what is inside is not known"
	}
	s.Texts = append(s.Texts, wording.Sentence(wording.Joined(", ", p.Code+" "+p.Name, work)))
	if words := wording.Joined("; ", before("aircraft ", p.Aircraft), before("part of ", p.Parent)); words != "" {
		s.Texts = append(s.Texts, wording.Sentence(words))
	}
	if p.Closed == nil {
		s.Texts = append(s.Texts, "It is open.")
		return s
	}
	s.Texts = append(s.Texts, fmt.Sprintf("Closed on %s by %s.", p.Closed.On, p.Closed.Hand))
	for _, what := range sorted(p.Closed.Answers) {
		s.Texts = append(s.Texts, "Said when it was closed, of "+what+": "+p.Closed.Answers[what])
	}
	return s
}

// fitted is what is in it now, by requirement, item and lot.
func (g *gatherer) fitted(p part) Section {
	s := Section{Heading: "What is fitted", Columns: []Column{
		{Title: "line", Width: 14, Mono: true}, {Title: "called", Width: 40, Mono: true}, {Title: "needed", Width: 20}, {Title: "fitted", Width: 40, Mono: true}, {Title: "how many", Width: 24}, {Title: "lot"},
	}}
	all, err := g.shop.Fitted(p.Code)
	if err != nil {
		s.Texts = []string{wording.Error(err)}
		return s
	}
	for _, f := range all {
		r, _ := p.need(f.Requirement)
		needed := ""
		if r.Number > 0 {
			needed = r.Quantity()
		}
		s.Rows = append(s.Rows, []string{f.Requirement, r.Called, needed, f.Item, f.Amount.String(), g.lotWords(f.Item, f.Lot)})
	}
	return s
}

// deviations are where something else was fitted than is called, more of it, or what is not
// called, and what was answered.
func (g *gatherer) deviations(p part) Section {
	s := Section{Heading: "Where it differs from the list, and what was answered", Columns: []Column{
		{Title: "line", Width: 14, Mono: true}, {Title: "what differs", Width: 84}, {Title: "by what"},
	}}
	for _, f := range p.fits {
		if f.Amount.Quantity.Sign() <= 0 {
			continue
		}
		r, called := p.need(f.Requirement)
		words := fmt.Sprintf("%s %s fitted", f.Amount, f.Item)
		switch {
		case called && r.Called == f.Item && f.Decision == "" && f.Reason == "":
			continue
		case g.extra(f):
			words += ", which the decision asks for besides"
		case called && r.Called != f.Item:
			words = fmt.Sprintf("called %s, fitted %s (%s)", r.Called, f.Item, f.Amount)
		case !called:
			words += ", which no line here calls"
		}
		s.Rows = append(s.Rows, []string{f.Requirement, words, wording.Joined("; ", g.byDecision(f.Decision), g.via(r, f.Item), before("because: ", f.Reason))})
	}
	for _, d := range g.done {
		if d.Reason != "" && len(d.Fits) == 0 && slices.Contains(d.SubAssemblies, p.Code) {
			s.Rows = append(s.Rows, []string{"", fmt.Sprintf("entry %d: %s", d.Seq, d.Text), "because: " + d.Reason})
		}
	}
	return s
}

// extra reports whether what was fitted is what a decision asks for besides its item.
func (g *gatherer) extra(f store.Fit) bool {
	return slices.ContainsFunc(g.decisions, func(d store.Decision) bool {
		return d.Name() == f.Decision && slices.ContainsFunc(d.Extra, func(x store.Extra) bool { return x.Item == f.Item })
	})
}

// byDecision is a decision as it stands by now: "D-1, withdrawn on 1 May 2026 by D-2".
func (g *gatherer) byDecision(name string) string {
	for _, d := range g.decisions {
		if d.Name() == name && name != "" {
			return decisionWords(d)
		}
	}
	return before("", name)
}

// via is by which recorded number an item stands for the one that is called.
func (g *gatherer) via(r store.Requirement, item string) string {
	if r.Item != item || r.Called == item {
		return ""
	}
	var words []string
	for _, q := range r.Via {
		words = append(words, fmt.Sprintf("%s is supplied as %s, %s%s", q.Old, q.New, q.Source, day(", ", q.Date)))
	}
	return strings.Join(words, "; ")
}

func decisionWords(d store.Decision) string {
	words := d.String()
	if !d.Withdrawn.IsZero() {
		words += fmt.Sprintf("; %s withdrawn on %s by %s", d.Name(), d.Withdrawn, d.WithdrawnBy)
	}
	return words
}

// concerns reports whether a decision is about a requirement or a lot of it.
func (p part) concerns(d store.Decision) bool {
	for _, name := range d.Requirements {
		if _, own := p.need(name); own {
			return true
		}
	}
	return len(d.Requirements) == 0 && slices.ContainsFunc(d.Lots, func(l string) bool { return slices.Contains(p.lots, l) })
}

// decided are the decisions on it, with those that withdraw one of them.
func (g *gatherer) decided(p part) Section {
	s := Section{Heading: "Decisions", Columns: []Column{{Title: "day", Width: 30}, {Title: "what was decided"}, {Title: "papers", Width: 50}, {Title: "recorded by", Width: 24}}}
	own := map[string]bool{}
	for _, d := range g.decisions {
		if !p.concerns(d) && !own[d.Withdraws] {
			continue
		}
		own[d.Name()] = true
		s.Rows = append(s.Rows, []string{d.Day.String(), wording.Joined("; ", decisionWords(d), d.Note), g.paperWords(d.Papers), d.Hand})
	}
	return s
}

// looks is who else looked at it.
func (g *gatherer) looks(p part) Section {
	s := Section{Heading: "Who else looked at it", Columns: []Column{
		{Title: "day", Width: 30}, {Title: "entry", Width: 14, Mono: true}, {Title: "who looked", Width: 30}, {Title: "kind", Width: 22}, {Title: "at what"}, {Title: "noted by", Width: 24},
	}}
	g.eachNote(p, func(d store.Done, n store.Note) {
		if n.Kind == store.LookNote || n.Kind == store.InspectionNote {
			s.Rows = append(s.Rows, []string{n.Day.String(), fmt.Sprint(d.Seq), n.Second, string(n.Kind), wording.Joined(", ", n.Requirement, n.Position, n.Text), n.Hand})
		}
	})
	return s
}

// notes are torque, paint and what else was written down.
func (g *gatherer) notes(p part) Section {
	s := Section{Heading: "Torque, paint and other notes", Columns: []Column{
		{Title: "day", Width: 30}, {Title: "entry", Width: 14, Mono: true}, {Title: "kind", Width: 18}, {Title: "what"}, {Title: "tool", Width: 26}, {Title: "seen by", Width: 24}, {Title: "noted by", Width: 24},
	}}
	g.eachNote(p, func(d store.Done, n store.Note) {
		if n.Kind == store.LookNote || n.Kind == store.InspectionNote {
			return
		}
		hours := ""
		if n.Kind == store.HoursNote {
			hours = n.Hours.String()
		}
		s.Rows = append(s.Rows, []string{n.Day.String(), fmt.Sprint(d.Seq), string(n.Kind), wording.Joined(", ", n.Requirement, n.Position, n.Text, hours), n.Tool, n.Second, n.Hand})
	})
	return s
}

func (g *gatherer) eachNote(p part, do func(d store.Done, n store.Note)) {
	for _, d := range g.done {
		for _, n := range d.Notes {
			if n.SubAssembly == p.Code {
				do(d, n)
			}
		}
	}
}

// partRows are what was done, a row for each thing that an entry did to it.
func (g *gatherer) partRows(p part) [][]string {
	var rows [][]string
	for _, d := range g.done {
		told := len(rows)
		for _, f := range d.Fits {
			if f.SubAssembly == p.Code {
				rows = append(rows, g.row(d, fitWords(f), g.lotWords(f.Item, f.Lot)))
			}
		}
		for _, n := range d.Notes {
			if n.SubAssembly == p.Code {
				rows = append(rows, g.row(d, n.Words()))
			}
		}
		for _, made := range d.Decisions {
			if p.concerns(made) {
				rows = append(rows, g.row(d, decisionWords(made)))
			}
		}
		for _, a := range d.Alerts {
			if slices.ContainsFunc(a.Issues, func(i store.Issue) bool { return p.has(i.Item) }) {
				rows = append(rows, g.row(d, d.Text))
			}
		}
		if len(rows) == told && slices.Contains(d.SubAssemblies, p.Code) {
			rows = append(rows, g.row(d, d.Text, g.movedLots(d)...))
		}
	}
	return rows
}

// movedLots are the lots that an entry moved, in words; none where it moved many.
func (g *gatherer) movedLots(d store.Done) []string {
	var words []string
	for _, m := range d.Moved {
		if w := g.lotWords(m.Item, m.Lot); m.Lot != "" && !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	if len(words) > 3 {
		return nil
	}
	return words
}

// fitWords are an event: "6 ea MS21042-3 fitted for R-7, at Rudder / hinge 2".
func fitWords(f store.Fit) string {
	words := f.Amount.String() + " " + f.Item + " fitted"
	if f.Amount.Quantity.Sign() < 0 {
		words = f.Amount.Neg().String() + " " + f.Item + " removed"
	}
	hours := ""
	if f.Hours != nil {
		hours = "at " + f.Hours.String() + before(" of ", f.Aircraft)
	}
	return wording.Joined(", ", wording.Joined(" for ", words, f.Requirement), before("at ", f.Position), before("by ", f.Decision), hours, before("because: ", f.Reason), f.Note)
}

// open is what is not done, or was not noted, as it stands.
func (g *gatherer) open(p part) (Section, error) {
	s := Section{Heading: "Open points"}
	if p.Closed != nil {
		return s, nil
	}
	open, _, err := g.shop.Closing(p.Code, nil)
	for _, o := range open {
		s.Texts = append(s.Texts, wording.Sentence(o.Sentence))
	}
	if len(s.Texts) == 0 {
		s.Texts = []string{"Nothing on its list is open. It was not closed."}
	}
	return s, err
}

// photographs are those of its tray, which stand for the whole, and of its positions.
func (g *gatherer) photographs(p part) ([]store.Photo, error) {
	of := []store.Subject{store.OfPlace(p.Place)}
	note := func(position string) {
		if s := store.OfPosition(store.PositionOf(p.Aircraft, position)); position != "" && !slices.Contains(of, s) {
			of = append(of, s)
		}
	}
	for _, r := range p.needs {
		note(r.Position)
	}
	for _, f := range p.fits {
		note(f.Position)
	}
	g.eachNote(p, func(_ store.Done, n store.Note) { note(n.Position) })
	var all []store.Photo
	for _, s := range of {
		list, err := g.shop.Photos(s)
		if err != nil {
			return nil, err
		}
		all = append(all, list...)
	}
	slices.SortStableFunc(all, func(a, b store.Photo) int { return a.At.Compare(b.At) })
	return all, nil
}

// before is a text with words before it; nothing without the text.
func before(words, text string) string {
	if text == "" {
		return ""
	}
	return words + text
}

// day is a day with words before it; nothing where it is not known.
func day(words string, d store.Date) string {
	if d.IsZero() {
		return ""
	}
	return words + d.String()
}

// openWords are how a sub-assembly stands in a list of them.
func openWords(s store.SubAssembly, open []build.Open) string {
	if s.Closed != nil {
		return "closed on " + s.Closed.On.String()
	}
	if len(open) == 0 {
		return "nothing on its list is open"
	}
	return phrase.Count(len(open), "point open", "points open")
}
