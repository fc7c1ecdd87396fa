package hardware

import (
	"fmt"
	"strconv"
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// Tolerances published with the AN bolt table (NASM3-20): grip plus or minus
// 1/64, length plus 1/32 minus 1/64.
const (
	sixtyFourth = measure.Inch / 64
)

const eighth = measure.Inch / 8

// longestDash is where the dash numbers of the tables end: 6-7/8 in. The
// standard's own end is not published in any source seen.
const longestDash = 67

// shortestDash is the least that the grammar of the dash numbers gives: a
// single digit is 3 to 7 eighths (NASM3-20).
const shortestDash = 3

// eighths turns a dash number into eighths of an inch; 8, 9, 18 and so on are none.
func eighths(dash int) (int, bool) { return dash/10*8 + dash%10, dash%10 < 8 }

// hexBolts reads AN3 to AN20: sizes, the grip and length table of AN3 to AN6,
// and what may be said of the larger ones.
func (ld *loader) hexBolts() {
	constants := map[string]standards.Row{}
	for _, r := range ld.rows("bolts_an3_an20_constants") {
		constants[r.Get("an_number")] = r
	}
	for _, r := range ld.rows("bolts_an3_an20_sizes") {
		s := ld.open(r.Get("an_number"))
		ld.hexSize(s, r)
		s.nums[0] = newCodes()
		s.nums[0].eighths = true
	}
	for _, r := range ld.rows("bolts_an3_an20") {
		s := ld.open(r.Get("an_number"))
		src := from(r)
		g, l := ld.length(r.Get("grip_fraction")), ld.length(r.Get("length_fraction"))
		c := &code{text: r.Get("dash"), words: "grip " + ld.short(g), fields: []Field{ld.gripField(g, src), ld.boltLength(l, src)}, byRule: src.checked == 0}
		s.nums[0].listed = true
		if note := r.Get("note"); strings.HasPrefix(note, "exception") {
			c.warning = s.name + "-" + c.text + " is an exception in the table: " + strings.TrimPrefix(note, "exception: ")
		} else if strings.Contains(note, "misprint") {
			c.warning = s.name + "-" + c.text + ": " + note
		}
		s.nums[0].add(c)
	}
	for _, r := range ld.rows("bolts_an3_an20_sizes") {
		if s := ld.open(r.Get("an_number")); len(s.nums[0].list) == 0 {
			ld.largeHex(s, constants[s.name])
		}
		ld.open(r.Get("an_number")).nums[0].sorted()
	}
}

func (ld *loader) gripField(g measure.Length, src cite) Field {
	f := ld.lengthField(Grip, g, src)
	f.Minus, f.Plus = sixtyFourth, sixtyFourth
	f.Text += " ±1/64"
	return f
}

func (ld *loader) boltLength(l measure.Length, src cite) Field {
	f := ld.lengthField(LengthField, l, src)
	f.Minus, f.Plus = sixtyFourth, 2*sixtyFourth
	f.Text += " +1/32 -1/64"
	return f
}

// hexSize fills what is the same for every dash number of a diameter.
func (ld *loader) hexSize(s *series, r standards.Row) {
	at := func(column string) cite { return cite{r.Source(), r.Checked(column)} }
	thread := r.Get("thread")
	s.size = thread
	d := ld.diameter(thread, ld.length(r.Get("nominal_dia_in")), at("thread_checked"))
	low, high := ld.length(r.Get("shank_dia_min_in")), ld.length(r.Get("shank_dia_max_in"))
	shank := ld.lengthField("shank_diameter", high, at("shank_checked"))
	shank.Minus = high - low
	shank.Text = low.Printed() + " to " + high.Printed()
	s.first = []Field{d, textField(Thread, thread, at("thread_checked")), shank}
	last := s.last
	s.last = nil
	for _, f := range []struct{ name, fraction, checked, why string }{
		{ThreadLength, "thread_length_fraction", "thread_length_checked", "the published figures contradict each other; measure the bolt"},
		{AcrossFlats, "head_across_flats_fraction", "head_af_checked", ""},
		{HeadHeight, "head_height_fraction", "head_height_checked", "no published figure found"},
		{CotterHole, "cotter_hole_dia_min_in", "cotter_hole_checked", ""},
	} {
		text := r.Get(f.fraction)
		if text == "" || f.name == ThreadLength && leadingNumber(s.name) > 60 {
			s.last = append(s.last, unknownField(f.name, f.why, at(f.checked)))
			continue
		}
		s.last = append(s.last, ld.lengthField(f.name, ld.length(text), at(f.checked)))
	}
	s.last = append(s.last, last...)
}

// largeHex fills AN7 to AN20, whose grip no published source gives. AN7 and AN8
// have a length that is not cross-checked; above them only the nominal length
// is known, the real one being a little more.
func (ld *loader) largeHex(s *series, constant standards.Row) {
	src := cite{source: s.src.source}
	excess := constant.Get("length_excess_a_fraction")
	for dash := shortestDash; dash <= longestDash; dash++ {
		n, ok := eighths(dash)
		if !ok {
			continue
		}
		nominal := measure.Length(n) * eighth
		if excess == "" {
			s.nums[0].add(ld.nominalBolt(dash, nominal, src))
			continue
		}
		c := &code{text: strconv.Itoa(dash), byRule: true}
		grip := unknownField(Grip, "no published table; measure the bolt", src)
		if s.name == "AN7" {
			a, b := nominal-9*measure.Inch/16, nominal-5*measure.Inch/8
			if b > 0 {
				grip.Text = "unknown: " + ld.short(a) + " or " + ld.short(b) + " by two rules that disagree; measure the bolt"
			}
		}
		l := nominal + ld.length(excess)
		c.words = "length " + ld.short(l) + ", grip unknown"
		c.fields = []Field{grip, ld.boltLength(l, src)}
		s.nums[0].add(c)
	}
	warning := "grip unknown: no published source of the " + s.name + " grip table was found; measure the bolt or enter the figure from a printed standard"
	for _, c := range s.nums[0].list {
		c.warning = warning
	}
}

// dashOf is a dash number as a source speaks of it.
type dashOf struct {
	dash int
	src  cite
}

// nominalBolt is a number of the sizes of which the nominal length alone is known;
// they say the same of it, so that the first one is kept for the others.
func (ld *loader) nominalBolt(dash int, nominal measure.Length, src cite) *code {
	c, made := ld.nominals[dashOf{dash, src}]
	if !made {
		c = code{
			text: strconv.Itoa(dash), byRule: true, words: "nominal length " + ld.short(nominal) + ", grip unknown", nominal: nominal,
			fields: []Field{
				unknownField(Grip, "no published table; measure the bolt", src),
				unknownField(LengthField, "nominal "+ld.short(nominal)+", the real length is a little more", src),
			},
		}
		ld.nominals[dashOf{dash, src}] = c
	}
	return &c
}

// otherBolts reads the clevis, eye, drilled-head and close-tolerance AN bolts.
func (ld *loader) otherBolts() {
	for _, r := range ld.rows("bolts_other") {
		s := ld.open(r.Get("series"))
		src := from(r)
		s.size = r.Get("thread")
		s.first = ld.threadOrNone(s, src)
		switch {
		case strings.HasPrefix(r.Get("kind"), "clevis"):
			s.first = append(s.first, unknownField(Grip, "no published table of the grip of this series", src))
			s.nums[0] = ld.steps(steps{field: LengthField, low: 4, high: 64, per: 16, words: "% long", src: src})
		case strings.HasPrefix(r.Get("kind"), "drilled"):
			s.last = append(s.last, textField(HeadDrilled, "yes, for lockwire", src))
			fallthrough
		default:
			s.nums[0] = ld.nominalEighths(src)
		}
	}
	ld.coarseDrilled()
}

// threadOrNone is the diameter and thread of a series; where its table has none,
// that both are unknown.
func (ld *loader) threadOrNone(s *series, src cite) []Field {
	if s.size != "" {
		return ld.threaded(s.size, src)
	}
	const why = "no source here gives it for this number, and it is remembered in two ways; measure the bolt"
	return []Field{unknownField(Diameter, why, src), unknownField(Thread, why, src)}
}

// coarseDrilled gives each drilled-head bolt an A of its own: the coarse thread
// of its diameter in place of the fine one.
func (ld *loader) coarseDrilled() {
	for _, r := range ld.rows("bolts_drilled_coarse") {
		s, thread := ld.open(r.Get("series")), r.Get("thread")
		fine := s.slots[0].choices[0].letters[0]
		coarse := &letter{text: fine.text, title: "coarse thread", size: thread, keepsDash: fine.keepsDash, fields: ld.threaded(thread, from(r))}
		coarse.fields[0].Source, coarse.fields[0].Checked = s.first[0].Source, s.first[0].Checked // the diameter is the same
		s.slots[0].choices = []choice{{name: s.slots[0].choices[0].name, letters: []*letter{coarse}, absent: s.slots[0].choices[0].absent}}
	}
}

// nominalEighths is the dash numbers of the series whose grip no source gives;
// those of one source share the table.
func (ld *loader) nominalEighths(src cite) *codes {
	key := steps{field: Grip, per: 8, src: src}
	if cs := ld.tables[key]; cs != nil {
		return cs
	}
	cs := newCodes()
	ld.tables[key] = cs
	cs.eighths = true
	for dash := shortestDash; dash <= longestDash; dash++ {
		n, ok := eighths(dash)
		if !ok {
			continue
		}
		nominal := measure.Length(n) * eighth
		cs.add(&code{
			text: strconv.Itoa(dash), byRule: true, words: "nominal length " + ld.short(nominal), nominal: nominal,
			warning: "grip unknown: no published table of the grip of this series was found",
			fields: []Field{
				unknownField(Grip, "no published table of this series", src),
				unknownField(LengthField, "nominal "+ld.short(nominal)+" by the dash number, the real length is not published here", src),
			},
		})
	}
	return cs.sorted()
}

// nasBolts reads the bolts whose last number is the grip in sixteenths.
func (ld *loader) nasBolts() {
	grips := newCodes()
	for _, r := range ld.rows("bolts_nas_grip") {
		g := ld.length(r.Get("grip_fraction"))
		grips.add(&code{text: r.Get("grip_dash"), byRule: true, words: "grip " + ld.short(g), fields: []Field{ld.lengthField(Grip, g, from(r))}})
	}
	for _, r := range ld.rows("bolts_nas_close_tolerance") {
		s := ld.open(r.Get("series"))
		src := from(r)
		thread := inchThread(r.Get("thread_unjf"))
		s.size, s.nums[0] = thread, grips
		low, high := ld.length(r.Get("shank_dia_min_in")), ld.length(r.Get("shank_dia_max_in"))
		d := ld.threaded(thread, src)
		shank := ld.lengthField("shank_diameter", high, src)
		shank.Minus, shank.Text = high-low, low.Printed()+" to "+high.Printed()
		flats := ld.lengthField(AcrossFlats, ld.length(r.Get("across_flats_max_in")), src)
		flats.Minus = flats.Length - ld.length(r.Get("across_flats_min_in"))
		flats.Text = (flats.Length - flats.Minus).Printed() + " to " + flats.Length.Printed()
		s.first = append(d, shank)
		s.last = append([]Field{
			ld.lengthField(ThreadLength, ld.length(r.Get("thread_length_reference_in")), src), flats,
			ld.lengthField(HeadHeight, ld.length(r.Get("head_height_nominal_in")), src),
			textField(HeadMarking, "triangle", cite{"AC 43.13-1B par. 7-36", 2}),
		}, s.last...)
		if strings.Contains(r.Get("type"), "A286") {
			s.style += ", A286"
		}
	}
	for _, r := range ld.rows("bolts_nas_cotter_hole") {
		s := ld.open(r.Get("series"))
		s.last = append(
			s.last, ld.between(CotterHole, r.Get("cotter_hole_dia_min_in"), r.Get("cotter_hole_dia_max_in"), from(r)),
			ld.between(CotterFromEnd, r.Get("hole_centre_from_end_min_in"), r.Get("hole_centre_from_end_max_in"), from(r)),
		)
	}
	ld.nasByRule(grips)
}

// between is a length that a sheet gives by its limits; its figure is the middle.
func (ld *loader) between(name, low, high string, src cite) Field {
	a, b := ld.length(low), ld.length(high)
	f := ld.lengthField(name, (a+b)/2, src)
	f.Minus, f.Plus = f.Length-a, b-f.Length
	f.Text = a.Printed() + " to " + b.Printed()
	return f
}

// nasByRule opens the series whose diameter follows from the series number:
// its last two digits in sixteenths.
func (ld *loader) nasByRule(grips *codes) {
	for _, base := range []int{6200, 6300, 6400, 6600, 1300} {
		for _, size := range []int{3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20} {
			s := ld.open(fmt.Sprintf("NAS%d", base+size))
			if s.nums[0] != nil {
				continue
			}
			src := cite{source: s.src.source + " (diameter by the series number)"}
			if base == 6400 && size == 3 {
				src.checked = 1
			}
			s.size, s.nums[0] = boltThread(size), grips
			s.first = ld.threaded(s.size, src)
		}
	}
	s := ld.open("NAS464")
	s.nums[0] = newCodes()
	for _, size := range []int{3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16} {
		src := cite{source: s.src.source + " (diameter in sixteenths)", checked: 1}
		s.nums[0].add(&code{text: fmt.Sprint(size), words: boltThread(size), fields: ld.threaded(boltThread(size), src)})
	}
	s.nums[0].sorted()
	s.nums[1] = grips.sorted()
}

// boltThread is the fine thread of a bolt diameter in sixteenths.
// Source: AC 43.13-1B Table 7-1, fine thread series.
func boltThread(sixteenths int) string {
	return map[int]string{
		3: "10-32", 4: "1/4-28", 5: "5/16-24", 6: "3/8-24", 7: "7/16-20", 8: "1/2-20", 9: "9/16-18",
		10: "5/8-18", 12: "3/4-16", 14: "7/8-14", 16: "1-14", 18: "1-1/8-12", 20: "1-1/4-12",
	}[sixteenths]
}

// inchThread writes the decimal thread of a dimension sheet, ".2500-28", as
// people say it, "1/4-28".
func inchThread(text string) string {
	size, pitch, _ := strings.Cut(text, "-")
	for n, thread := range map[string]string{".1900": "10", ".2500": "1/4", ".3125": "5/16", ".3750": "3/8", ".4375": "7/16", ".5000": "1/2", ".5625": "9/16", ".6250": "5/8"} {
		if n == size {
			return thread + "-" + pitch
		}
	}
	return text
}
