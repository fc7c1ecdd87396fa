package hardware

import (
	"fmt"
	"math"
	"slices"

	"stowright/store/measure"
)

// quantity is something that can be measured: how it is read, which field
// holds it, and the tolerance taken where the table gives none (common
// practice; the published ones of the tables take their place).
type quantity struct {
	of         func(*Readings) *measure.Length
	field      string
	words      string
	under      measure.Length // below the figure
	over       measure.Length // above it
	tolerances measure.Length // what one tolerance is
}

const (
	thou = measure.Inch / 1000
	// shankField holds the published band of a bolt's shank.
	shankField = "shank_diameter"
)

var quantities = [...]quantity{
	{func(r *Readings) *measure.Length { return &r.Diameter }, Diameter, "diameter", 5 * thou, thou, 3 * thou},
	{func(r *Readings) *measure.Length { return &r.Inside }, InsideDiameter, "inside diameter", 5 * thou, 10 * thou, 8 * thou},
	{func(r *Readings) *measure.Length { return &r.Outside }, OutsideDiameter, "outside diameter", 10 * thou, 10 * thou, 8 * thou},
	{func(r *Readings) *measure.Length { return &r.Grip }, Grip, "grip", sixtyFourth, sixtyFourth, sixtyFourth},
	{func(r *Readings) *measure.Length { return &r.Length }, LengthField, "length", sixtyFourth, sixtyFourth, sixtyFourth},
	{func(r *Readings) *measure.Length { return &r.AcrossFlats }, AcrossFlats, "width across the flats", 12 * thou, 3 * thou, 6 * thou},
	{func(r *Readings) *measure.Length { return &r.Thickness }, Thickness, "thickness", 5 * thou, 5 * thou, 4 * thou},
}

// fieldOf is the field that holds the quantity for a kind: how thick a nut is
// is its height, and an O-ring its section.
func (q *quantity) fieldOf(k Kind) (field, words string) {
	if q.field == Thickness {
		switch k {
		case Nut:
			return Height, "height"
		case ORing:
			return CrossSection, "section"
		}
	}
	return q.field, q.words
}

// measurable says which quantities a kind has at all: a washer has no grip, and
// a reading of one rules every washer out.
var measurable = map[Kind][]string{
	Bolt:       {Diameter, Grip, LengthField, AcrossFlats},
	Screw:      {Diameter, Grip, LengthField, AcrossFlats},
	Rivet:      {Diameter, LengthField},
	BlindRivet: {Diameter, Grip, LengthField},
	Nut:        {Diameter, AcrossFlats, Height},
	PlateNut:   {Diameter},
	Washer:     {InsideDiameter, OutsideDiameter, Thickness},
	CotterPin:  {Diameter, LengthField},
	ClevisPin:  {Diameter, LengthField},
	Clamp:      {InsideDiameter},
	Lockwire:   {Diameter},
	ORing:      {InsideDiameter, OutsideDiameter, CrossSection},
	Hinge:      {Thickness},
	CablePart:  {Diameter},
	Fitting:    {Diameter},
	RivetNut:   {Diameter},
	TaperPin:   {Diameter, LengthField},
	SpringPin:  {Diameter, LengthField},
	RodEnd:     {Diameter},
	Grommet:    {InsideDiameter, OutsideDiameter},
	Insert:     {Diameter},
	Bushing:    {InsideDiameter, OutsideDiameter, LengthField},
	DowelPin:   {Diameter, LengthField},
	QuickPin:   {Diameter, Grip},
	BackUpRing: {InsideDiameter, OutsideDiameter, Thickness},
}

func (s *series) has(q *quantity) bool {
	field, _ := q.fieldOf(s.kind)
	return slices.Contains(measurable[s.kind], field)
}

// band is where a good piece measures; both 0 where no figure is known.
type band struct{ low, high measure.Length }

// entry is one row of the tables as identification sees it.
type entry struct {
	s     *series
	nums  [2]*code
	order int
	size  measure.Length // of its thread
	tpi   int
	open  bool // it has a thread that no source gives
	// another is the thread that a letter gives it in place of that, 0 for none.
	another struct {
		size measure.Length
		tpi  int
	}
	bands [len(quantities)]band
	has   [len(quantities)]bool // the kind has the quantity
}

// asking is one reading that was taken.
type asking struct {
	q    int
	read measure.Length
}

// asked lists the readings that were taken and checks them.
func (r *Readings) asked() ([]asking, error) {
	var out []asking
	for i, q := range quantities {
		switch l := *q.of(r); {
		case l < 0 || l > 100*measure.Inch:
			return nil, fmt.Errorf("%s %s is not a size of hardware", q.words, l)
		case l > 0:
			out = append(out, asking{i, l})
		}
	}
	if r.ThreadPitch > 0 && r.ThreadsPerInch == 0 {
		r.ThreadsPerInch = int((measure.Inch + r.ThreadPitch/2) / r.ThreadPitch)
	}
	if len(out) == 0 && r.ThreadsPerInch == 0 && r.Head == "" && r.Marking == "" {
		return nil, ErrNoReadings
	}
	if r.ThreadsPerInch < 0 || r.ThreadsPerInch > 200 {
		return nil, fmt.Errorf("%d threads per inch is not a thread of any hardware", r.ThreadsPerInch)
	}
	return out, nil
}

// entries is the index over every row, made when it is first asked for.
func (c *Catalog) entries() []entry {
	c.indexOnce.Do(func() {
		for order, name := range c.names {
			s := c.series[name]
			if s.free || s.nums[0] == nil {
				continue
			}
			from := len(c.index)
			for _, first := range s.nums[0].list {
				p := piece{s: s, nums: [2]*code{first}}
				if s.nums[1] == nil || first.alone {
					c.index = append(c.index, newEntry(&p, order))
					continue
				}
				c.addGroup(&from)
				if s.optional {
					c.index = append(c.index, newEntry(&p, order))
				}
				for _, second := range s.nums[1].list {
					p.nums[1] = second
					c.index = append(c.index, newEntry(&p, order))
				}
				c.addGroup(&from)
			}
			c.addGroup(&from)
		}
	})
	return c.index
}

func newEntry(p *piece, order int) entry {
	e := entry{s: p.s, nums: p.nums, order: order}
	if f := p.fact(Thread); f != nil {
		e.size, e.tpi = threadOf(f.Text)
		e.open = f.Unknown
	}
	if l := p.s.resizing(); l != nil {
		e.another.size, e.another.tpi = threadOf(l.size)
	}
	for i, q := range quantities {
		e.bands[i], e.has[i] = bandOf(p, &q), p.s.has(&q)
	}
	return e
}

// resizing is the letter that gives pieces of the series another thread, nil for none.
func (s *series) resizing() *letter {
	for _, ch := range s.slots[0].choices {
		for _, l := range ch.letters {
			if l.size != "" {
				return l
			}
		}
	}
	return nil
}

// bandOf is where the quantity of the piece may measure.
func bandOf(p *piece, q *quantity) band {
	field, _ := q.fieldOf(p.s.kind)
	f := p.fact(field)
	if f == nil && q.field == OutsideDiameter && p.s.kind == ORing {
		return ringOutside(p, q)
	}
	if q.field == LengthField && (f == nil || f.Length == 0) {
		return reckonedLength(p)
	}
	if f == nil || f.Length == 0 {
		return band{}
	}
	switch shank := p.fact(shankField); {
	case q.field == Diameter && shank != nil:
		return band{shank.Length - shank.Minus, max(f.Length, shank.Length)}
	case f.Minus != 0 || f.Plus != 0:
		return band{f.Length - f.Minus, f.Length + f.Plus}
	}
	return q.usual(f, p.s.kind)
}

// usual is where a figure without a published tolerance may measure.
func (q *quantity) usual(f *Field, kind Kind) band {
	switch {
	case f.Name == Height:
		// The heights of the tables are greatest heights (common practice: a nut
		// is up to 0.020 lower).
		return band{f.Length - 20*thou, f.Length + q.over}
	case f.Name == LengthField && kind == Rivet:
		// Half sizes are 1/32 apart; rivets are cut to 0.010 (common practice).
		return band{f.Length - 10*thou, f.Length + 10*thou}
	}
	return band{f.Length - q.under, f.Length + q.over}
}

// ringOutside is where the outside of an O-ring measures: its inside and twice
// its section.
func ringOutside(p *piece, q *quantity) band {
	inside, section := p.figure(InsideDiameter), p.figure(CrossSection)
	if inside == 0 || section == 0 {
		return band{}
	}
	return band{inside + 2*section - q.under, inside + 2*section + q.over}
}

// reckonedLength is where a bolt may end whose length no table gives: the
// nominal length and "a little more", up to 5/64 to 7/64 in the sizes whose
// excess is known; or grip and thread together, where the sheets give the
// thread for reference.
func reckonedLength(p *piece) band {
	if n := p.nums[0].nominal; n != 0 {
		return band{n, n + 3*measure.Inch/16}
	}
	if l := p.bodyLength(); l != 0 {
		return band{l - 2*sixtyFourth, l + 2*sixtyFourth}
	}
	return band{}
}

// away is how many tolerances a reading lies outside the band.
func (q *quantity) away(b band, read measure.Length) Tolerances {
	out := max(b.low-readingError-read, read-b.high-readingError, 0)
	if out == 0 {
		return 0
	}
	return Tolerances((10*out + q.tolerances - 1) / q.tolerances)
}

// Weights of what cannot be counted in tolerances.
const (
	unknownFigure Tolerances = 5 // no figure to compare with: behind those that have one
	wrongFeature  Tolerances = 100
	kept                     = 40 // entries looked at closely
	keptOfKind               = 4  // of each kind, where nothing was measured and no kind is known
)

// nearest finds the rows that come nearest to the readings. Where only a head or a marking
// was seen, some of each kind that has it, so that a rivet is not lost behind bolts. More
// says that rows were left out of which nothing that was read rules out.
func (c *Catalog) nearest(r *Readings, asked []asking) (near []*entry, more bool) {
	type scored struct {
		e     *entry
		score Tolerances
	}
	best := make([]scored, 0, kept+1)
	limit := Tolerances(1 << 30)
	looks, ofKind := map[*series]Tolerances{}, map[Kind]int{}
	all, dropped := c.entries(), limit
	most := r.mostOfKind(asked)
	for i, g := 0, -1; i < len(all); i++ {
		if g+1 < len(c.groups) && c.groups[g+1].from == i {
			if g++; c.groups[g].passed(r, asked, limit, looks) {
				i = c.groups[g].to - 1
				continue
			}
		}
		e := &all[i]
		score := e.score(r, asked, limit)
		if score < limit {
			score += r.seen(e.s, looks)
		}
		if score >= limit || score <= fit && ofKind[e.s.kind] >= most {
			dropped = min(dropped, score)
			continue
		}
		if score <= fit {
			ofKind[e.s.kind]++
		}
		at, _ := slices.BinarySearchFunc(best, score, func(s scored, t Tolerances) int {
			if s.score <= t {
				return -1
			}
			return 1
		})
		best = slices.Insert(best, at, scored{e, score})
		if len(best) > kept {
			dropped = min(dropped, best[kept].score)
			best = best[:kept]
			limit = best[kept-1].score
		}
	}
	near = make([]*entry, len(best))
	for i := range best {
		near[i] = best[i].e
	}
	return near, len(best) > 0 && dropped <= fit && dropped == best[0].score
}

// group is rows of the index that lie together and have figures in common: the
// sizes of one series, or the lengths of one size.
type group struct {
	from, to int
	like     entry                 // the first of them
	same     [len(quantities)]bool // all have its band
	thread   bool                  // all have its thread
}

// addGroup makes a group of the rows that were added last.
func (c *Catalog) addGroup(from *int) {
	rows := c.index[*from:]
	if len(rows) == 0 {
		return
	}
	g := group{from: *from, to: len(c.index), like: rows[0], thread: true}
	for q := range g.same {
		g.same[q] = !slices.ContainsFunc(rows, func(e entry) bool { return e.bands[q] != g.like.bands[q] })
	}
	for i := range rows {
		g.thread = g.thread && rows[i].size == g.like.size && rows[i].tpi == g.like.tpi && rows[i].open == g.like.open
	}
	c.groups = append(c.groups, g)
	*from = len(c.index)
}

// passed says that no row of the group is wanted: of another kind, or further from
// the readings by what they have in common than the last that is kept.
func (g *group) passed(r *Readings, asked []asking, limit Tolerances, looks map[*series]Tolerances) bool {
	if r.Kind != "" && g.like.s.kind != r.Kind {
		return true
	}
	score, worst := Tolerances(0), Tolerances(0)
	for _, a := range asked {
		switch b := g.like.bands[a.q]; {
		case !g.same[a.q]:
		case b.high == 0:
			score += unknownFigure
		default:
			away := quantities[a.q].away(b, a.read)
			score, worst = score+away, max(worst, away)
		}
	}
	if g.thread {
		score += g.like.threadScore(r)
	}
	if score+worst*4 > limit {
		return true
	}
	return score+worst*4+r.seen(g.like.s, looks) > limit
}

// mostOfKind is how many rows that fit are looked at of one kind.
func (r *Readings) mostOfKind(asked []asking) int {
	if len(asked) == 0 && r.Kind == "" {
		return keptOfKind
	}
	return math.MaxInt
}

// seen is how far a series is from what was seen of the head, kept in looks.
func (r *Readings) seen(s *series, looks map[*series]Tolerances) Tolerances {
	if r.Head == "" && r.Marking == "" {
		return 0
	}
	look, known := looks[s]
	if !known {
		look = r.looks(s)
		looks[s] = look
	}
	return look
}

// looks is how far the head of a series is from what was seen of it.
func (r *Readings) looks(s *series) Tolerances {
	out := Tolerances(0)
	if r.Head != "" && !headMatches(s, r.Head) {
		out += wrongFeature
	}
	if r.Marking != "" {
		out += r.marks(s)
	}
	return out
}

// marks is how far the marking that was seen is from those of a series.
func (r *Readings) marks(s *series) Tolerances {
	known := false
	has := func(fields []Field) bool {
		for i := range fields {
			if fields[i].Name == HeadMarking {
				known = true
				if fields[i].marked(r.Marking) {
					return true
				}
			}
		}
		return false
	}
	if has(s.first) || has(s.last) {
		return 0
	}
	for i := range s.slots {
		for _, ch := range s.slots[i].choices {
			for _, l := range append([]*letter{ch.absent}, ch.letters...) {
				if l != nil && has(l.fields) {
					return 0
				}
			}
		}
	}
	if known || !headed(s.kind) {
		return wrongFeature
	}
	return unknownFigure
}

// headed reports whether pieces of a kind have a head that could be marked, or a
// face that is, as that of a nut.
func headed(k Kind) bool {
	switch k {
	case Bolt, Screw, Rivet, BlindRivet, ClevisPin, Nut:
		return true
	}
	return false
}

// score adds the tolerances of all readings, the worst counting most.
func (e *entry) score(r *Readings, asked []asking, limit Tolerances) Tolerances {
	score, worst := Tolerances(0), Tolerances(0)
	blank := 0
	for _, a := range asked {
		b := e.bands[a.q]
		if b.high == 0 {
			score += unknownFigure
			blank++
			if !e.has[a.q] {
				score += wrongFeature
			}
			continue
		}
		away := quantities[a.q].away(b, a.read)
		score, worst = score+away, max(worst, away)
		if score+worst*4 >= limit {
			return limit
		}
	}
	switch {
	case blank < len(asked) || r.ThreadsPerInch != 0 && !e.open, len(asked) == 0 && r.ThreadsPerInch == 0:
	case e.open:
		return limit // its series is named among those that are not ruled out
	default:
		score += 10 * wrongFeature // nothing to compare: a near miss says more
	}
	return score + e.threadScore(r) + worst*4
}

// threadScore is how far the thread of a row is from the one that was read.
func (e *entry) threadScore(r *Readings) Tolerances {
	switch {
	case r.ThreadsPerInch == 0, r.sameThread(e.size, e.tpi), r.sameThread(e.another.size, e.another.tpi):
		return 0
	case e.open:
		return unknownFigure
	}
	return wrongFeature
}
