package aircraft

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
)

// data is what was read for a list.
type data struct {
	note   string
	things []thing
	first  string // the aircraft that is meant where none is named: the only one; "" for none
}

// thing is one of a list with what is shown of it. What it is, is the one that is not nil.
type thing struct {
	row       table.Row
	card      card.Card
	aircraft  *store.Aircraft
	component *store.Component
	due       *store.Due
	position  *position
}

// shop is what the lists are made of.
type shop struct {
	*session.Reader
	aircraft []store.Aircraft
	dues     session.Dues
}

// read reads a list.
func read(r *session.Reader, part string) (d data, err error) {
	s := shop{Reader: r}
	if s.aircraft, err = r.Shop.Aircraft(); err != nil {
		return d, err
	}
	if s.dues, err = r.Dues(); err != nil {
		return d, err
	}
	if len(s.aircraft) == 1 {
		d.first = s.aircraft[0].Name
	}
	switch part {
	case ComponentPart:
		d.things, err = s.components()
		d.note = wording.Plural(len(d.things), "piece", "pieces") + " with a serial number"
	case DuePart:
		d.things = s.due()
		d.note = "The next first."
	case PositionPart:
		d.things, err = s.positions()
		d.note = "What went in where."
	default:
		d.things = s.craft()
		d.note = "With their total time as it was read last."
	}
	return d, err
}

// craft are the aircraft.
func (s shop) craft() (list []thing) {
	for _, a := range s.aircraft {
		t := thing{aircraft: &a, card: card.Card{Designation: a.Name, Title: "Aircraft, certificate " + certificate(a), Known: "no total time is recorded", Mark: s.nextOf(func(d store.Due) bool { return d.Aircraft == a.Name })}}
		total := "–"
		if n := len(a.Hours); n > 0 {
			last := a.Hours[n-1]
			total = last.Hours.String()
			t.card.Quantity, t.card.Unit, t.card.Known = bare(last.Hours), "hours", "read on "+last.Day.String()+" by "+last.Hand
			for _, r := range a.Hours[max(0, n-mostReadings):] {
				t.card.Tallies = append(t.card.Tallies, card.Tally{Words: r.Day.String(), Figure: r.Hours.String()})
			}
		}
		for _, p := range a.Inspectors {
			t.card.Notes = append(t.card.Notes, fmt.Sprintf("may inspect it: %s, by %s", p.Who, p.Paper))
		}
		t.card.Notes = append(t.card.Notes, s.dueNotes(func(d store.Due) bool { return d.Aircraft == a.Name })...)
		t.row = table.Row{ID: a.Name, Cells: []table.Cell{table.Name(a.Name, ""), table.T(certificate(a)), table.T(total), {Mark: t.card.Mark}}}
		list = append(list, t)
	}
	return list
}

// mostReadings is how many readings of hours or events a card lists, and mostStretches how
// many times on an aircraft.
const (
	mostReadings  = 6
	mostStretches = 4
)

func certificate(a store.Aircraft) string { return cmp.Or(string(a.Certificate), "none yet") }

// bare are hours without their unit: "148.1".
func bare(h build.Hours) string { return strings.TrimSuffix(h.String(), " h") }

// known are hours in a list, a dash where nobody knows them.
func known(h *build.Hours) string {
	if h == nil {
		return "–"
	}
	return h.String()
}

// components are the pieces with a serial number.
func (s shop) components() (list []thing, err error) {
	for _, c := range s.dues.Pieces {
		ran, sinceNew := s.dues.Times.Component(c.Name())
		of := func(d store.Due) bool { return d.Component == c.Name() }
		t := thing{component: &c, card: card.Card{Designation: c.Item, Title: "serial " + c.Serial + ", " + c.Name(), Known: "how long it ran is not known", Mark: s.nextOf(of)}}
		if ran != nil {
			t.card.Quantity, t.card.Unit, t.card.Known = bare(*ran), "hours", "on aircraft here"
		}
		if sinceNew != nil {
			t.card.Tallies = append(t.card.Tallies, card.Tally{Words: "since new", Figure: sinceNew.String()})
		}
		where, at := "on no aircraft", ""
		if on, mounted := c.On(); mounted {
			where, at = "on "+on.Aircraft, on.Position
			t.card.Place = wording.Joined(", ", where, at)
		} else if n := len(c.Stretches); n > 0 {
			if at, err = s.went(c.Stretches[n-1]); err != nil {
				return nil, err
			}
			t.card.Place = wording.Joined(", ", "on no aircraft", at)
		}
		first := max(0, len(c.Stretches)-mostStretches)
		for i, x := range c.Stretches[first:] {
			t.card.Tallies = append(t.card.Tallies, stretchTallies(first+i+1, x)...)
		}
		t.card.Notes = append(componentNotes(c), s.dueNotes(of)...)
		t.row = table.Row{ID: c.Name(), Cells: []table.Cell{
			table.Name(c.Item, "serial "+c.Serial+", "+c.Name()), {Text: where, Sub: at}, table.T(known(ran)), {Mark: t.card.Mark},
		}}
		list = append(list, t)
	}
	return list, err
}

// went is where a component went when it came off.
func (s shop) went(x store.Stretch) (string, error) {
	if x.Place == "" {
		return "", nil
	}
	p, err := s.Shop.Place(x.Place)
	return "in " + p.Name, err
}

// stretchTallies are a time on an aircraft: "1: on T, 1 May 2027" and "1: off, 1 March 2028"
// with its hours.
func stretchTallies(n int, x store.Stretch) []card.Tally {
	list := []card.Tally{{Words: fmt.Sprintf("%d: on %s, %s", n, x.Aircraft, x.On.Day), Figure: x.On.Hours.String()}}
	if x.Off != nil {
		list = append(list, card.Tally{Words: fmt.Sprintf("%d: off, %s", n, x.Off.Day), Figure: x.Off.Hours.String()})
	}
	return list
}

func componentNotes(c store.Component) (notes []string) {
	if c.SinceNew != nil || c.SinceOverhaul != nil {
		var had []string
		for _, h := range []struct {
			what  string
			hours *build.Hours
		}{{"since new", c.SinceNew}, {"since overhaul", c.SinceOverhaul}} {
			if h.hours != nil {
				had = append(had, h.hours.String()+" "+h.what)
			}
		}
		notes = append(notes, "when it came it had "+strings.Join(had, ", ")+", by "+c.Known)
	}
	if c.Lot != "" {
		notes = append(notes, "it came with "+c.Lot)
	}
	if c.Note != "" {
		notes = append(notes, c.Note)
	}
	return notes
}

// position is a position on an aircraft, recorded or only named by a list or a fit.
type position struct {
	store.Position
	recorded bool
	fits     []store.Fit
	asked    []string // lines that name it: "R-31"
}

// positions are those that are recorded, that lists name, and that something went in at.
func (s shop) positions() ([]thing, error) {
	all, err := s.namedPositions()
	if err != nil {
		return nil, err
	}
	photos, err := s.Shop.AllPhotos()
	if err != nil {
		return nil, err
	}
	var list []thing
	for _, p := range all {
		var of []store.Photo
		for _, x := range photos {
			if x.Of == store.OfPosition(p.Position) {
				of = append(of, x)
			}
		}
		list = append(list, p.thing(of))
	}
	return list, nil
}

// namer puts together what names a position.
type namer struct {
	known    map[store.Position]*position
	aircraft map[string]string // of a sub-assembly, by its code
}

func (n namer) at(aircraft, name string) *position {
	key := store.PositionOf(aircraft, name)
	if n.known[key] == nil {
		n.known[key] = &position{Position: key}
	}
	return n.known[key]
}

func (s shop) namedPositions() ([]*position, error) {
	n := namer{map[store.Position]*position{}, map[string]string{}}
	recorded, err := s.Shop.Positions()
	if err != nil {
		return nil, err
	}
	for _, p := range recorded {
		is := n.at(p.Aircraft, p.Name)
		is.Position, is.recorded = p, true
	}
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return nil, err
	}
	for _, sub := range subs {
		n.aircraft[sub.Code] = sub.Aircraft
	}
	needs, err := s.Shop.Requirements("")
	if err != nil {
		return nil, err
	}
	for _, r := range needs {
		if r.InForce() && r.Position != "" {
			is := n.at(n.aircraft[r.SubAssembly], r.Position)
			is.asked = append(is.asked, r.Name())
		}
	}
	fits, err := s.Shop.Fits("")
	if err != nil {
		return nil, err
	}
	return n.with(fits), nil
}

// with are the positions in order, each with what went in there and came out again.
func (n namer) with(fits []store.Fit) (all []*position) {
	for _, f := range fits {
		if f.Position != "" {
			n.at(n.aircraft[f.SubAssembly], f.Position)
		}
	}
	for _, p := range n.known {
		for _, f := range fits {
			if n.aircraft[f.SubAssembly] == p.Aircraft && p.Covers(f.Position) {
				p.fits = append(p.fits, f)
			}
		}
		all = append(all, p)
	}
	slices.SortFunc(all, func(a, b *position) int {
		return cmp.Or(strings.Compare(a.Aircraft, b.Aircraft), strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)), strings.Compare(a.Name, b.Name))
	})
	return all
}

// nextOf is the mark of what of some dues comes first; the zero mark for none.
func (s shop) nextOf(of func(store.Due) bool) (next notice.Mark) {
	order := map[notice.Tone]int{notice.Stop: 3, notice.Warn: 2, notice.Quiet: 1}
	rank := 0
	for _, d := range s.dues.InOrder() {
		if d.Ended != nil || !of(d) {
			continue
		}
		if m := s.dues.Mark(d); order[m.Tone] > rank {
			next, rank = m, order[m.Tone]
		}
	}
	return next
}

// dueNotes are what is due, as lines of a card.
func (s shop) dueNotes(of func(store.Due) bool) (notes []string) {
	for _, d := range s.dues.InOrder() {
		if d.Ended == nil && of(d) {
			notes = append(notes, fmt.Sprintf("%s %s: %s", d.Name(), d.What, s.dues.Mark(d).Word))
		}
	}
	return notes
}
