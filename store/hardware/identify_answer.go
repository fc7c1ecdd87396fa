package hardware

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// answer cuts the list to what is shown and says what it does not decide.
func (c *Catalog) answer(list []Candidate, r *Readings, asked []asking) Identification {
	id := Identification{}
	if len(list) == 0 {
		id.CannotTell = "nothing in the tables comes near these readings: measure again"
		return id
	}
	fits := slices.IndexFunc(list, func(k Candidate) bool { return !k.Fits || k.blank })
	if fits < 0 {
		fits = len(list)
	}
	id.LookAlikes = c.lookAlikes(&list[0].piece)
	if fits == 0 && list[0].blank {
		id.Candidates = slices.Clone(list[:min(len(list), maxShown/2)])
		id.CannotTell = "the tables have no figure to compare these readings with: measure something else as well"
		return id
	}
	if fits == 0 {
		id.Candidates = slices.Clone(list[:min(len(list), maxShown/2)])
		id.CannotTell = "nothing in the tables fits within its tolerance; the nearest is " + list[0].Designation + ": " + list[0].RuledOut
		return id
	}
	complete := list[:fits]
	if i := slices.IndexFunc(complete, func(k Candidate) bool { return k.Incomplete && !k.InShop }); i > 0 {
		id.NotExcluded = notExcluded(complete[i:])
		id.Candidates = slices.Clone(complete[:min(i+maxOpen, fits, maxShown)])
		complete = complete[:i]
	} else {
		id.Candidates = slices.Clone(complete[:min(fits, maxShown)])
	}
	c.addRuledOut(&id, r, asked)
	if len(complete) > 1 {
		id.CannotTell = undecided(complete, r)
	}
	return id
}

// addRuledOut lists the look-alikes of the first candidate that the readings
// speak against.
func (c *Catalog) addRuledOut(id *Identification, r *Readings, asked []asking) {
	for _, l := range id.LookAlikes {
		known := slices.ContainsFunc(id.Candidates, func(k Candidate) bool {
			return k.Designation == l.Designation || slices.Contains(k.Also, l.Designation)
		})
		if p, no := c.parse(l.Designation); no == nil && !known {
			if k := judge(p, r, asked); !k.Fits {
				id.Candidates = append(id.Candidates, k)
			}
		}
	}
}

// notExcluded names the series whose figures are missing.
func notExcluded(open []Candidate) string {
	var names []string
	for _, k := range open {
		if !slices.Contains(names, k.piece.s.name) {
			names = append(names, k.piece.s.name)
		}
	}
	if len(names) > 6 {
		names = append(names[:6], "others")
	}
	return "not excluded, because the tables lack a figure that was measured: " + strings.Join(names, ", ")
}

// undecided says what separates the pieces that all fit.
func undecided(list []Candidate, r *Readings) string {
	count := fmt.Sprintf("%d pieces fit", len(list))
	if len(list) == 2 {
		count = list[0].Designation + " and " + list[1].Designation + " both fit"
	}
	if d, ok := alike(&list[0].piece, &list[1].piece); ok && len(list) <= 3 {
		return count + "; " + list[1].Designation + " differs: " + d
	}
	if next := r.next(list); next != "" {
		return count + ": " + next
	}
	return count + ": these readings cannot separate them; compare with a known piece"
}

// next is what to measure or look at next: the reading, not yet taken, in which
// the candidates differ most.
func (r *Readings) next(list []Candidate) string {
	best, most := "", 1
	for _, q := range quantities {
		if *q.of(r) != 0 {
			continue
		}
		n := distinct(list, func(p *piece) string {
			if l := p.figure(q.field); l != 0 {
				return l.Decimal()
			}
			return ""
		})
		if n > most {
			best, most = "measure the "+q.words+" next", n
		}
	}
	if best != "" {
		return best
	}
	for _, f := range []struct {
		name, ask string
		open      bool
	}{
		{HeadStyle, "say what shape the head has", r.Head == ""},
		{ShankDrilled, "look for a cotter-pin hole", r.ShankDrilled == NotLooked},
		{Material, "look at the marking on the head and try a magnet", r.Marking == "" || r.Magnetic == NotLooked},
		{HeadDrilled, "look for a lockwire hole in the head", r.HeadDrilled == NotLooked},
		{Thread, "count the threads per inch", r.ThreadsPerInch == 0},
	} {
		if f.open && distinct(list, func(p *piece) string { return cmp.Or(p.saying(f.name), "not said") }) > 1 {
			return f.ask
		}
	}
	return ""
}

// distinct counts the different values among the candidates, empty ones left out.
func distinct(list []Candidate, value func(*piece) string) int {
	seen := map[string]bool{}
	for i := range list {
		if v := value(&list[i].piece); v != "" {
			seen[v] = true
		}
	}
	return len(seen)
}

// saying is what the piece says by that name, in its letters or its figures.
func (p *piece) saying(name string) string {
	if l := p.word(name); l != nil {
		return l.field(name).Text
	}
	if f := p.fact(name); f != nil {
		return f.Text
	}
	return ""
}

// HeadStyles lists the words that may be given as a head style for a kind.
func (c *Catalog) HeadStyles(kind Kind) []string {
	var out []string
	for _, name := range c.names {
		if s := c.series[name]; s.kind == kind && s.style != "" && !slices.Contains(out, s.style) {
			out = append(out, s.style)
		}
	}
	return out
}

// headMatches says that the style carries the words that were given.
func headMatches(s *series, words string) bool {
	return strings.Contains(strings.ToLower(s.style), strings.ToLower(strings.TrimSpace(words)))
}
