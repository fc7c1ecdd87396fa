package hardware

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
)

// answer cuts the list to what is shown and says what it does not decide. More
// says that the tables have more rows that come as near as those of the list.
func (c *Catalog) answer(list []Candidate, r *Readings, asked []asking, more bool) (id Identification) {
	defer func() { id.NotExcluded = joined("; ", id.NotExcluded, c.notRuledOut(r, asked, list), orNone(r, list)) }()
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
		if i == 0 {
			id.NotExcluded = notExcluded(complete)
		}
		id.Candidates = slices.Clone(complete[:min(fits, maxShown)])
	}
	c.addRuledOut(&id, r, asked)
	if len(complete) > 1 {
		id.CannotTell = undecided(complete, r, more)
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

// notRuledOut names the families that the piece could be of and of which the
// tables have no figures at all.
func (c *Catalog) notRuledOut(r *Readings, asked []asking, list []Candidate) string {
	kind := r.Kind
	if kind == "" && len(list) > 0 && list[0].Fits {
		kind = list[0].piece.s.kind
	}
	var names []string
	for _, name := range c.names {
		s := c.series[name]
		if s.kind != kind || !s.openFamily() && !s.lacks(r, asked, list) || r.Head != "" && !headMatches(s, r.Head) || r.wrongPitch(s) {
			continue
		}
		could := !slices.ContainsFunc(asked, func(a asking) bool { return !s.has(&quantities[a.q]) })
		label, _, _ := strings.Cut(s.family, ":")
		if !s.openFamily() {
			label = s.name // others of its family have the figure
		}
		if could && !slices.Contains(names, label) {
			names = append(names, label)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "not ruled out: no published table here of the numbers of " + strings.Join(names, ", ")
}

// lacks says that the tables have none of the figures that a series would be told
// by, and that it is not among the candidates.
func (s *series) lacks(r *Readings, asked []asking, list []Candidate) bool {
	unknown := func(field string) bool {
		return slices.ContainsFunc(s.first, func(f Field) bool { return f.Name == field && f.Unknown })
	}
	lacking := r.ThreadsPerInch != 0 && unknown(Thread)
	for _, a := range asked {
		field, _ := quantities[a.q].fieldOf(s.kind)
		lacking = lacking || unknown(field)
	}
	return lacking && !slices.ContainsFunc(list, func(k Candidate) bool { return k.Fits && k.piece.s == s })
}

// wrongPitch says that the threads that were counted are not those of a family
// of coarse or of fine thread. Source of the pitches: AC 43.13-1B Table 7-1 and,
// below No. 8, ASME B1.1.
func (r *Readings) wrongPitch(s *series) bool {
	coarse, fine := strings.Contains(s.style, "coarse thread"), strings.Contains(s.style, "fine thread")
	if r.ThreadsPerInch == 0 || r.across() == 0 || !coarse && !fine {
		return false
	}
	for _, t := range [...]struct {
		low, high    measure.Length
		coarse, fine int
	}{
		{105 * thou, 114 * thou, 40, 48},
		{130 * thou, 140 * thou, 32, 40},
		{155 * thou, 166 * thou, 32, 36},
		{180 * thou, 192 * thou, 24, 32},
		{240 * thou, 252 * thou, 20, 28},
		{302 * thou, 315 * thou, 18, 24},
		{365 * thou, 377 * thou, 16, 24},
	} {
		if d := r.across(); d >= t.low && d <= t.high {
			return coarse && r.ThreadsPerInch != t.coarse || fine && r.ThreadsPerInch != t.fine
		}
	}
	return false
}

// across is the diameter of the thread, measured or by its size.
func (r *Readings) across() measure.Length { return cmp.Or(r.ThreadSize, r.Diameter) }

// orNone reminds that a piece of trade hardware measures the same, where the
// marking of the head would tell and was not given, or was one of no table.
func orNone(r *Readings, list []Candidate) string {
	if r.Marking != "" && (len(list) == 0 || list[0].Incomplete || !list[0].Fits) {
		return "or no aircraft piece at all: no piece of these measures in the tables here has a head marked so"
	}
	if r.Marking != "" || len(list) == 0 || !list[0].Fits {
		return ""
	}
	if p := &list[0].piece; p.word(HeadMarking) == nil && p.fact(HeadMarking) == nil {
		return ""
	}
	return "or no aircraft piece at all: look for the marking on the head"
}

// joined puts the parts together that are not empty.
func joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), by)
}

// undecided says what separates the pieces that all fit.
func undecided(list []Candidate, r *Readings, more bool) string {
	verb := "fit"
	if list[0].Incomplete && !list[0].InShop {
		verb = "cannot be excluded" // no figure shows that any of them fits
	}
	count := fmt.Sprintf("%d pieces %s", len(list), verb)
	switch {
	case more:
		count = fmt.Sprintf("more than %d pieces %s", len(list), verb)
	case len(list) == 2:
		count = list[0].Designation + " and " + list[1].Designation + " both fit"
		if verb != "fit" {
			count = "neither " + list[0].Designation + " nor " + list[1].Designation + " can be excluded"
		}
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
			field, _ := q.fieldOf(p.s.kind)
			if l := p.figure(field); l != 0 {
				return l.Decimal()
			}
			return ""
		})
		if n > most {
			_, words := q.fieldOf(list[0].piece.s.kind)
			best, most = "measure the "+words+" next", n
		}
	}
	if best != "" {
		return best
	}
	for _, f := range []struct {
		name, ask string
		open      bool
	}{
		{HeadStyle, "say what shape the head has", r.Head == "" && slices.Contains(measurable[list[0].piece.s.kind], LengthField)},
		{ShankDrilled, "look for a cotter-pin hole", r.ShankDrilled == NotLooked},
		{Material, materialAdvice(list[0].piece.s.kind), r.Marking == "" || r.Magnetic == NotLooked},
		{HeadDrilled, "look for a lockwire hole in the head", r.HeadDrilled == NotLooked},
		{Thread, "count the threads per inch", r.ThreadsPerInch == 0},
	} {
		if f.open && distinct(list, func(p *piece) string { return cmp.Or(p.saying(f.name), "not said") }) > 1 {
			return f.ask
		}
	}
	return ""
}

// materialAdvice is how to tell the materials of a kind apart by hand.
func materialAdvice(k Kind) string {
	switch k {
	case Bolt, Rivet:
		return "look at the marking on the head and try a magnet"
	case Clamp:
		return "look at the colour of the cushion and the metal of the band: no figure tells one cushion from another"
	case ORing:
		return "look at the marking of its bag: no figure tells one rubber from another"
	}
	return "try a magnet and look at the colour of the metal"
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

// headMatches says that the style, or what the piece is called, carries the words
// that were given: "clevis" is in the name of a bolt and not in that of its head.
func headMatches(s *series, words string) bool {
	words = strings.ToLower(strings.TrimSpace(words))
	begins := func(text string) bool { // a word of it, so that an expander has no pan head
		text = strings.ToLower(text)
		for at := 0; at < len(text); at++ {
			if strings.HasPrefix(text[at:], words) && (at == 0 || strings.ContainsRune(" -,", rune(text[at-1]))) {
				return true
			}
		}
		return false
	}
	return begins(s.style) || begins(s.noun)
}
