package hardware

import (
	"slices"
	"strconv"
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// Ways of counting of the series table that this file reads.
const (
	byTables   = "numbers"                    // number_rules and number_rows have them
	openOnce   = "number of a table not here" // any number is read and nothing said of it
	openTwice  = openOnce + " twice"          // two numbers, the second optional
	wholeRange = "whole number"               // the standard number is the piece
	openWhy    = "no published table here of the numbers of this series"
)

// byData opens the series whose numbers are in the tables of numbers, or in no
// table at all.
func (ld *loader) byData() {
	for _, r := range ld.words {
		name := r.Get("series")
		switch r.Get("rule") {
		case byTables:
			ld.open(name)
		case openOnce, openTwice:
			s := ld.open(name)
			s.nums[0] = ld.openNumbers(s, LengthField)
			if r.Get("rule") == openTwice {
				s.nums[1], s.optional = ld.openNumbers(s, ""), true
			}
		case wholeRange:
			ld.wholeSeries(name)
		}
	}
	ld.numberRules()
	ld.numberRows()
}

// openNumbers reads any number of up to four digits and says that it is in no
// table here.
func (ld *loader) openNumbers(s *series, field string) *codes {
	cs := newCodes()
	cs.open = true
	if field != "" {
		cs.unknown = []Field{unknownField(Size, openWhy+"; measure the piece, or enter its figures from a printed standard", s.src)}
	}
	return cs
}

// wholeSeries makes a range of standard numbers known of which each is a piece.
func (ld *loader) wholeSeries(label string) {
	low, high, _ := strings.Cut(label, "-")
	s := ld.open(low)
	s.whole = true
	s.first = append(s.first, unknownField(Size, openWhy+"; measure the piece", s.src))
	ld.c.ranges = append(ld.c.ranges, seriesRange{frontLetters(low), leadingNumber(low) / 10, leadingNumber(high) / 10, s})
}

// seriesRange is standard numbers that are pieces of one kind.
type seriesRange struct {
	prefix    string
	low, high int
	s         *series
}

// inRange is the series of a standard number within a range, nil for none.
func (c *Catalog) inRange(prefix string, number []byte) *series {
	if len(c.ranges) == 0 || len(number) < 5 {
		return nil
	}
	n, err := strconv.Atoi(string(number))
	for _, r := range c.ranges {
		if err == nil && prefix == r.prefix && n >= r.low && n <= r.high {
			s := *r.s
			s.name = prefix + string(number)
			return &s
		}
	}
	return nil
}

// numbersOf is the table of one place of a series, made when first asked for.
func (ld *loader) numbersOf(r standards.Row) *codes {
	s := ld.open(r.Get("series"))
	slot := r.Checked("slot") - 1
	if s.nums[slot] == nil {
		s.nums[slot] = newCodes()
	}
	return s.nums[slot]
}

// numberRules reads the numbers that count parts of an inch.
func (ld *loader) numberRules() {
	for _, r := range ld.rows("number_rules") {
		s := ld.open(r.Get("series"))
		slot := r.Checked("slot") - 1
		if r.Get("kind") == "open" {
			s.nums[slot] = ld.openNumbers(s, "")
			s.nums[slot].unknown = []Field{unknownField(r.Get("field"), openWhy, s.src)}
			continue
		}
		s.nums[slot] = ld.steps(steps{
			field: r.Get("field"), low: r.Checked("low"), high: r.Checked("high"), per: int64(r.Checked("per")), width: r.Checked("width"),
			words: r.Get("words"), src: from(r),
		})
	}
}

// numberRows reads the numbers that a table lists, one fact a row.
func (ld *loader) numberRows() {
	made := map[*codes]bool{}
	for _, r := range ld.rows("number_rows") {
		cs := ld.numbersOf(r)
		made[cs] = true
		c := cs.index[r.Get("code")]
		if c == nil {
			c = cs.add(&code{text: r.Get("code"), words: r.Get("words"), byRule: true})
		}
		switch field, value := r.Get("field"), r.Get("value"); field {
		case Thread:
			c.fields = append(c.fields, ld.threaded(value, from(r))...)
		case Diameter, LengthField, Grip, InsideDiameter, OutsideDiameter, Thickness, TubeDiameter:
			c.fields = append(c.fields, ld.lengthField(field, ld.length(value), from(r)))
		default:
			c.fields = append(c.fields, textField(field, value, from(r)))
		}
	}
	for cs := range made {
		cs.sorted()
	}
}

// openCode is a number that is in no table.
func (cs *codes) openCode(text string) *code {
	return &code{text: text, value: leadingNumber(text), words: "number " + text + " (table not here)", fields: cs.unknown}
}

// turnbuckleWire says with which wire a turnbuckle is safetied, by the cable.
func (ld *loader) turnbuckleWire() {
	var parts []string
	var src cite
	for _, r := range ld.rows("turnbuckle_safety_wire") {
		parts = append(parts, r.Get("cable")+" cable: "+r.Get("wrap")+" wrap of "+r.Get("wire_dia_in")+" "+r.Get("material"))
		src = from(r)
	}
	f := textField("safety_wire", strings.Join(parts, "; "), src)
	for _, name := range []string{"AN130", "AN135", "AN140", "AN146", "AN147", "AN150", "AN155"} {
		s := ld.c.series[name]
		s.last = append(s.last, f)
	}
}

// trueShanks says of the bulbed rivets that their shank is not the nominal one,
// and of flush blind rivets which countersink they take.
func (ld *loader) trueShanks() {
	for _, name := range []string{"NAS1738", "NAS1739"} {
		s := ld.c.series[name]
		s.last = append(s.last, unknownField(shankField, "the number is the nominal size; the true shank of a bulbed rivet is larger (from memory), no page seen", s.src))
	}
}

// sunkBlind is which countersink a flush blind rivet takes, by its diameter.
func (ld *loader) sunkBlind() map[measure.Length]Field {
	out := map[measure.Length]Field{}
	for _, r := range ld.rows("rivets_blind_countersink_diameter") {
		out[ld.length(r.Get("rivet_dia"))] = ld.between("countersink_diameter", r.Get("csk_dia_min_in"), r.Get("csk_dia_max_in"), from(r))
	}
	return out
}

// openFamily says that nothing is known of the numbers of a series.
func (s *series) openFamily() bool {
	return s.free || s.whole || slices.ContainsFunc(s.nums[:], func(cs *codes) bool { return cs != nil && cs.open && len(cs.list) == 0 })
}
