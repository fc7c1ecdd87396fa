package build

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// Doubt is a question about a list, before it costs an evening. It never corrects: the
// plans govern.
type Doubt struct {
	Sentence string // "6 bolts and 5 nuts of 10-32: is the list whole?"
	Items    []string
	Table    string // the file of assets/standards that it rests on; "" the list itself
	Source   string // what that table names; "" the list itself
	Checked  int    // independent sources seen to agree
	// CannotCheck is set where a row it rests on was seen in no second source: what the
	// list says is then neither doubted nor confirmed.
	CannotCheck bool
}

// fact is something that a doubt rests on.
type fact struct {
	table, source string
	checked       int
}

// The rules that lists are held against, as assets/standards has them.
var (
	ruleSafety    = fact{"rules_reference.csv", "AC 43.13-1B par. 7-38", 1}
	ruleOneWasher = fact{"rules_reference.csv", "trade article", 1}
	ruleMost      = fact{"rules_reference.csv", "aircraft association hardware sheet; builders' forum", 2}
)

// mostWashers is the most in one stack, by ruleMost.
const mostWashers = 3

// listedPart is a line of a list with what the tables know of it.
type listedPart struct {
	item    string
	result  hardware.Result
	n       int64 // pieces
	counted bool  // n is known: neither as required nor by weight
	family  hardware.Family
}

// sheet is a list taken apart by kind.
type sheet struct {
	parts  []listedPart
	doubts []Doubt
}

// Doubts holds the list of a sub-assembly against itself and the published tables:
// bolts against nuts, castle nuts against drilled shanks and pins, self-locking nuts
// against plain shanks, screws against plate nuts, thin nuts, washers, and numbers that
// do not exist.
func Doubts(c *hardware.Catalog, sub SubAssembly) []Doubt {
	families := map[string]hardware.Family{}
	for _, f := range c.Families() {
		families[f.Name] = f
	}
	s := &sheet{}
	for i := range sub.Requirements {
		s.take(c, families, &sub.Requirements[i])
	}
	s.numbers()
	s.repeated(sub)
	s.hands()
	for _, thread := range s.threads() {
		s.pairs(thread)
		s.castles(thread)
		s.thin(thread)
		s.leftHanded(thread)
	}
	s.pins()
	s.washers()
	s.locked()
	return s.doubts
}

// take adds a line of the list. Lines of one item are counted together.
func (s *sheet) take(c *hardware.Catalog, families map[string]hardware.Family, r *Requirement) {
	if r.Kind == Temporary {
		return
	}
	n, counted := r.Needed.Micro/1_000_000, r.Kind == Exact && r.Needed.Unit == measure.Each
	for i := range s.parts {
		if p := &s.parts[i]; p.item == r.Item {
			p.n, p.counted = p.n+n, p.counted && counted
			return
		}
	}
	result := c.Decode(r.Item)
	s.parts = append(s.parts, listedPart{item: r.Item, result: result, n: n, counted: counted, family: families[result.Family]})
}

// ask adds a question that rests on facts; no facts: on the list alone.
func (s *sheet) ask(items []string, facts []fact, format string, args ...any) {
	d := Doubt{Sentence: fmt.Sprintf(format, args...), Items: items}
	var tables, sources []string
	for i, f := range facts {
		if i == 0 || f.checked < d.Checked {
			d.Checked = f.checked
		}
		if !slices.Contains(tables, f.table) {
			tables = append(tables, f.table)
		}
		if !slices.Contains(sources, f.source) {
			sources = append(sources, f.source)
		}
	}
	d.Table, d.Source = strings.Join(tables, ", "), strings.Join(sources, "; ")
	if len(facts) > 0 && d.Checked == 0 {
		d.CannotCheck = true
		d.Sentence = "cannot check " + listed(items) + ": a figure of theirs was seen in no second source"
		if len(items) == 1 {
			d.Sentence = "cannot check " + items[0] + ": a figure of it was seen in no second source"
		}
		if slices.ContainsFunc(s.doubts, func(x Doubt) bool { return x.Sentence == d.Sentence }) {
			return
		}
	}
	s.doubts = append(s.doubts, d)
}

// of are the parts of a kind with a thread; "" for any.
func (s *sheet) of(kind hardware.Kind, thread string) []*listedPart {
	var out []*listedPart
	for i := range s.parts {
		p := &s.parts[i]
		if p.result.Known && p.result.Kind == kind && (thread == "" || p.thread() == thread) {
			out = append(out, p)
		}
	}
	return out
}

func (p *listedPart) thread() string {
	f, _ := p.result.Field(hardware.Thread)
	return f.Text
}

// fact is a field of a part with where it is from.
func (p *listedPart) fact(field string) fact {
	f, _ := p.result.Field(field)
	return fact{p.table(), f.Source, f.Checked}
}

// kindFact is what the part's series is: a castle nut, a lock nut.
func (p *listedPart) kindFact() fact {
	return fact{"series.csv", p.family.Source, p.family.Checked}
}

// table is the file that the figures of a kind stand in.
func (p *listedPart) table() string {
	switch p.result.Kind {
	case hardware.Bolt:
		return "bolts_an3_an20.csv and kin"
	case hardware.Nut:
		return "nuts.csv"
	case hardware.PlateNut:
		return "nuts_plate.csv"
	case hardware.Screw:
		return "screw_sizes.csv"
	case hardware.Washer:
		return "washers_an960.csv"
	case hardware.CotterPin, hardware.ClevisPin:
		return "pins_cotter_pairing.csv"
	}
	return "series.csv"
}

// is reports whether the part is of a sort by the noun of its series: "castle nut".
func (p *listedPart) is(noun string) bool {
	_, name, _ := strings.Cut(strings.ToLower(p.family.Name), ": ")
	return strings.Contains(name, noun)
}

func (p *listedPart) has(field, beginning string) bool {
	f, ok := p.result.Field(field)
	return ok && strings.HasPrefix(f.Text, beginning)
}

// count adds parts up; ok is false where the number of one is not known.
func count(parts []*listedPart) (n int64, ok bool) {
	ok = true
	for _, p := range parts {
		n, ok = n+p.n, ok && p.counted
	}
	return n, ok
}

func items(groups ...[]*listedPart) []string {
	var out []string
	for _, parts := range groups {
		for _, p := range parts {
			out = append(out, p.item)
		}
	}
	return out
}

func facts(field string, groups ...[]*listedPart) []fact {
	var out []fact
	for _, parts := range groups {
		for _, p := range parts {
			out = append(out, p.fact(field))
		}
	}
	return out
}

func some(parts []*listedPart, wanted func(*listedPart) bool) []*listedPart {
	var out []*listedPart
	for _, p := range parts {
		if wanted(p) {
			out = append(out, p)
		}
	}
	return out
}

// threads are those of bolts, screws and nuts, in the order of the list.
func (s *sheet) threads() []string {
	var out []string
	for i := range s.parts {
		switch s.parts[i].result.Kind {
		case hardware.Bolt, hardware.Screw, hardware.Nut, hardware.PlateNut:
			if t := s.parts[i].thread(); t != "" && !slices.Contains(out, t) {
				out = append(out, t)
			}
		}
	}
	return out
}

// numbers asks about designations that the tables do not have.
func (s *sheet) numbers() {
	for i := range s.parts {
		if p := &s.parts[i]; !p.result.Known && p.result.Problem != "" {
			s.doubts = append(s.doubts, Doubt{
				Sentence: fmt.Sprintf("%s: %s", p.item, p.result.Problem), Items: []string{p.item}, Table: "series.csv", Source: "the numbers of the series", Checked: 1,
			})
		}
	}
}

// repeated asks about a number that stands twice for one place.
func (s *sheet) repeated(sub SubAssembly) {
	seen := map[[4]string]bool{}
	for _, r := range sub.Requirements {
		key := [4]string{r.Item, r.Position, r.Callout, r.Joint}
		if seen[key] {
			s.ask([]string{r.Item}, nil, "%s stands twice without another position or callout: is one a repeat?", r.Item)
		}
		seen[key] = true
	}
}

// hands asks about left and right parts that are not as many.
func (s *sheet) hands() {
	for i := range s.parts {
		left := &s.parts[i]
		base, ok := strings.CutSuffix(left.item, "-L")
		if !ok {
			continue
		}
		for k := range s.parts {
			if right := &s.parts[k]; right.item == base+"-R" && left.counted && right.counted && left.n != right.n {
				s.ask([]string{left.item, right.item}, nil, "%d of %s and %d of %s: are left and right meant to differ?", left.n, left.item, right.n, right.item)
			}
		}
	}
}
