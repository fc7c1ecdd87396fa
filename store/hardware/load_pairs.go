package hardware

import "strings"

// More names of fields.
const (
	CotterPinField = "cotter_pin" // the pin usual with a castle nut
	Hole           = "hole"       // the hole that a bolt goes through
)

// pairs reads what goes with what: the cotter pin of a castle nut, as a
// table has it and as real assemblies have it, and the hole of a bolt.
func (ld *loader) pairs() {
	for _, r := range ld.rows("pins_cotter_pairing") {
		f := textField(CotterPinField, r.Get("usual_older_number")+", "+r.Get("cotter_dia_fraction")+" thick", from(r))
		for nut := range strings.SplitSeq(r.Get("nut"), " / ") {
			ld.pair(nut, f)
		}
	}
	for _, r := range ld.rows("pins_cotter_pairing_seen") {
		ld.pair(r.Get("nut"), textField(CotterPinField, r.Get("cotter_pin")+" seen with "+strings.Trim(r.Get("bolt"), "()"), from(r)))
	}
	for _, r := range ld.rows("holes_for_an_bolts") {
		f := ld.between(Hole, r.Get("hole_min_in"), r.Get("hole_max_in"), from(r))
		for bolt := range strings.SplitSeq(r.Get("bolt"), " or ") {
			if s := ld.c.series[bolt]; s != nil {
				s.last = append(s.last, f)
			}
		}
	}
}

// pair adds a fact to one number such as AN310-3.
func (ld *loader) pair(designation string, f Field) {
	name, number, _ := strings.Cut(designation, "-")
	if s := ld.c.series[name]; s != nil && s.nums[0] != nil {
		if c := s.nums[0].index[number]; c != nil {
			c.fields = append(c.fields, f)
		}
	}
}

// cautionTable reads what must be said of a series wherever it is shown.
func (ld *loader) cautionTable() {
	for _, r := range ld.rows("cautions") {
		text := r.Get("text") + " (" + r.Source() + ")"
		sp := spanOf(r.Get("series"))
		for _, name := range ld.c.names {
			if sp.covers(name) {
				s := ld.c.series[name]
				s.cautions = append(s.cautions, caution{r.Get("number"), r.Get("letter"), text})
			}
		}
	}
}
