package build

import (
	"slices"
	"strings"

	"stowright/store/hardware"
)

// receivers are the nuts of a thread that a bolt goes into: a check nut goes on top of one.
func (s *sheet) receivers(thread string) []*listedPart {
	return some(s.of(hardware.Nut, thread), func(p *listedPart) bool { return !p.is("check nut") })
}

// pairs asks where bolts and nuts, or screws and plate nuts, are not as many.
func (s *sheet) pairs(thread string) {
	bolts, screws := s.of(hardware.Bolt, thread), s.of(hardware.Screw, thread)
	nuts, plates := s.receivers(thread), s.of(hardware.PlateNut, thread)
	b, okB := count(bolts)
	sc, okS := count(screws)
	n, okN := count(nuts)
	p, okP := count(plates)
	rests := facts(hardware.Thread, bolts, screws, nuts, plates)
	all := items(bolts, screws, nuts, plates)
	switch {
	case b > 0 && len(nuts)+len(plates) == 0:
		s.ask(all, rests, "%d bolts of %s (%s) and no nut or plate nut with that thread: is the list whole?", b, thread, strings.Join(items(bolts), ", "))
	case n > 0 && len(bolts)+len(screws) == 0:
		s.ask(all, rests, "%d nuts of %s (%s) and no bolt or screw with that thread: is the list whole?", n, thread, strings.Join(items(nuts), ", "))
	case !okB || !okS || !okN || !okP:
	case sc > 0 && p > 0 && b+sc != n+p:
		s.ask(all, rests, "%d bolts and screws and %d nuts and plate nuts of %s: is the list whole?", b+sc, n+p, thread)
	case p > 0 && sc == 0 && n != b && n+p != b, p == 0 && b > 0 && n != b && n != b+sc:
		s.ask(all, rests, "%d bolts and %d nuts of %s: is the list whole?", b, n+p, thread)
	case b == 0 && n > 0 && p == 0 && n != sc:
		s.ask(all, rests, "%d screws and %d nuts of %s: is the list whole?", sc, n, thread)
	}
}

// castles asks where castle nuts meet shanks without a hole, or self-locking nuts shanks
// with one.
func (s *sheet) castles(thread string) {
	castle := some(s.of(hardware.Nut, thread), func(p *listedPart) bool { return p.is("castle") && !p.is("self-locking") })
	locking := some(s.of(hardware.Nut, thread), func(p *listedPart) bool { return p.is("lock nut") })
	bolts := s.of(hardware.Bolt, thread)
	drilled := some(bolts, func(p *listedPart) bool { return p.has(hardware.ShankDrilled, "yes") })
	plain := some(bolts, func(p *listedPart) bool { return p.has(hardware.ShankDrilled, "no") })
	if len(drilled)+len(plain) != len(bolts) {
		return // of some nothing is known: either may be meant
	}
	c, okC := count(castle)
	d, okD := count(drilled)
	if !okC || !okD {
		return
	}
	rests := facts(hardware.ShankDrilled, bolts)
	for _, p := range append(slices.Clone(castle), locking...) {
		rests = append(rests, p.kindFact())
	}
	switch {
	case c > d && len(plain) > 0:
		s.ask(items(castle, plain), rests, "%d castle nuts and %d bolts with a cotter-pin hole; %s has none: is a drilled shank meant?", c, d, strings.Join(items(plain), ", "))
	case d > c && len(locking) > 0:
		s.ask(items(drilled, locking), rests, "%s has a cotter-pin hole, and %s locks by itself: is a plain shank meant, or a castle nut?", strings.Join(items(drilled), ", "), strings.Join(items(locking), ", "))
	}
}

// thin asks where a thin nut, which is for shear, meets an ordinary bolt.
func (s *sheet) thin(thread string) {
	thin := some(s.of(hardware.Nut, thread), func(p *listedPart) bool { return p.is("thin") })
	ordinary := some(s.of(hardware.Bolt, thread), func(p *listedPart) bool { return strings.HasSuffix(p.family.Name, ": Bolt") })
	if len(thin) == 0 || len(ordinary) == 0 || len(s.of(hardware.Bolt, thread)) != len(ordinary) {
		return
	}
	var rests []fact
	for _, p := range append(slices.Clone(thin), ordinary...) {
		rests = append(rests, p.kindFact(), p.fact(hardware.Thread))
	}
	s.ask(items(thin, ordinary), rests, "%s is thin, for shear, and %s is no clevis bolt: is the full nut meant?", strings.Join(items(thin), ", "), strings.Join(items(ordinary), ", "))
}

// leftHanded asks about a nut with a left-hand thread: no bolt of the tables has one.
func (s *sheet) leftHanded(thread string) {
	left := some(s.of(hardware.Nut, thread), func(p *listedPart) bool { return p.has(hardware.Hand, "left") })
	bolts := s.of(hardware.Bolt, thread)
	if len(left) > 0 && len(bolts) > 0 {
		s.ask(items(left, bolts), facts(hardware.Hand, left), "%s has a left-hand thread: do the bolts have one?", strings.Join(items(left), ", "))
	}
}

// pins asks where castle nuts, clevis pins and cotter pins are not as many, or a pin is
// not one that is usual with the nut.
func (s *sheet) pins() {
	castle := some(s.of(hardware.Nut, ""), func(p *listedPart) bool { return p.is("castle") && !p.is("self-locking") })
	clevis, cotters := s.of(hardware.ClevisPin, ""), s.of(hardware.CotterPin, "")
	c, okC := count(castle)
	v, okV := count(clevis)
	n, okN := count(cotters)
	rests := []fact{ruleSafety}
	for _, p := range slices.Concat(castle, clevis, cotters) {
		rests = append(rests, p.kindFact())
	}
	all := items(castle, clevis, cotters)
	switch {
	case c+v > 0 && len(cotters) == 0:
		s.ask(all, rests, "%d castle nuts and clevis pins (%s) and no cotter pin: how are they locked?", c+v, strings.Join(items(castle, clevis), ", "))
	case len(cotters) > 0 && len(castle)+len(clevis) == 0:
		s.ask(all, rests, "%d cotter pins (%s) and no castle nut or clevis pin: is the list whole?", n, strings.Join(items(cotters), ", "))
	case okC && okV && okN && n != c+v:
		s.ask(all, rests, "%d cotter pins for %d castle nuts and clevis pins: is the list whole?", n, c+v)
	}
	for _, nut := range castle {
		s.usualPin(nut, cotters)
	}
}

// usualPin asks where none of the pins is one that is usual with the nut. A number from
// memory is enough not to ask, and never enough to ask.
func (s *sheet) usualPin(nut *listedPart, cotters []*listedPart) {
	var usual, checked []string
	var all, rests []fact
	for _, f := range nut.result.Fields {
		if f.Name != hardware.CotterPinField {
			continue
		}
		number, _, _ := strings.Cut(strings.ReplaceAll(f.Text, ",", " "), " ")
		from := fact{nut.pinTable(f.Text), f.Source, f.Checked}
		usual, all = append(usual, number), append(all, from)
		if f.Checked > 0 {
			checked, rests = append(checked, number), append(rests, from)
		}
	}
	if len(usual) == 0 || len(cotters) == 0 || slices.ContainsFunc(cotters, func(pin *listedPart) bool { return pin.isOneOf(usual) }) {
		return
	}
	if len(rests) == 0 {
		rests = all
	}
	s.ask(append([]string{nut.item}, items(cotters)...), rests, "with %s the pin is usually %s, and %s is called: is that meant?", nut.item, strings.Join(checked, " or "), strings.Join(items(cotters), ", "))
}

// isOneOf reports whether a part is one of some numbers, by its old or its new number.
func (p *listedPart) isOneOf(numbers []string) bool {
	return slices.ContainsFunc(numbers, func(u string) bool {
		return p.item == u || successor(p.result) == u || successor(hardware.Decode(u)) == p.item
	})
}

func (p *listedPart) pinTable(text string) string {
	if strings.Contains(text, "seen with") {
		return "pins_cotter_pairing_seen.csv"
	}
	return "pins_cotter_pairing.csv"
}

func successor(r hardware.Result) string {
	if r.SupersededBy == nil {
		return ""
	}
	return r.SupersededBy.Designation
}

// washers asks where bolts have none that fits, not the same number each, or too many.
func (s *sheet) washers() {
	flat := some(s.of(hardware.Washer, ""), func(p *listedPart) bool { return !p.is("lock washer") })
	bolts := some(s.of(hardware.Bolt, ""), func(p *listedPart) bool { return strings.HasSuffix(p.family.Name, ": Bolt") })
	var sizes []string
	for _, p := range bolts {
		if size := p.washerSize(); size != "" && !slices.Contains(sizes, size) {
			sizes = append(sizes, size)
		}
	}
	for _, size := range sizes {
		of := some(bolts, func(p *listedPart) bool { return p.washerSize() == size })
		fit := some(flat, func(p *listedPart) bool { return p.has(hardware.Fits, size+" bolt") })
		b, okB := count(of)
		w, okW := count(fit)
		rests := append(facts(hardware.Fits, fit), facts(hardware.Thread, of)...)
		all := items(of, fit)
		switch {
		case len(fit) == 0 && len(flat) == 0:
			s.ask(all, append(rests, ruleOneWasher), "no washer is called for %s: is the list whole?", strings.Join(items(of), ", "))
		case len(fit) == 0:
			s.ask(items(of, flat), append(rests, facts(hardware.Fits, flat)...), "no washer for a %s bolt (%s); %s is for another size", size, strings.Join(items(of), ", "), strings.Join(items(flat), ", "))
		case !okB || !okW || b == 0:
		case w > mostWashers*b:
			s.ask(all, append(rests, ruleMost), "%d washers for %d bolts of %s: more than %d each", w, b, size, mostWashers)
		case w%b != 0:
			s.ask(all, rests, "%d washers for %d bolts of %s: not the same number for each", w, b, size)
		}
	}
}

// washerSize is the bolt's size as the tables of washers name it: "No. 10", "1/4".
func (p *listedPart) washerSize() string {
	size, _, _ := strings.Cut(p.thread(), "-")
	if size == "10" || size == "8" {
		return "No. " + size
	}
	return size
}

// locked asks about plain nuts with nothing that locks them, and drilled heads without wire.
func (s *sheet) locked() {
	plain := some(s.of(hardware.Nut, ""), func(p *listedPart) bool { return p.is("plain nut") || p.is("machine screw nut") })
	check := some(s.of(hardware.Nut, ""), func(p *listedPart) bool { return p.is("check nut") })
	lock := some(s.of(hardware.Washer, ""), func(p *listedPart) bool { return p.is("lock washer") })
	wire := s.of(hardware.Lockwire, "")
	if len(plain) > 0 && len(check)+len(lock)+len(wire) == 0 {
		rests := []fact{ruleSafety}
		for _, p := range plain {
			rests = append(rests, p.kindFact())
		}
		s.ask(items(plain), rests, "%s does not lock by itself, and nothing that locks it is called: is the list whole?", strings.Join(items(plain), ", "))
	}
	heads := some(s.of(hardware.Bolt, ""), func(p *listedPart) bool { return p.has(hardware.HeadDrilled, "yes") })
	if len(heads) > 0 && len(wire) == 0 {
		s.ask(items(heads), append(facts(hardware.HeadDrilled, heads), ruleSafety), "%s has a head drilled for lockwire, and none is called: is it meant?", strings.Join(items(heads), ", "))
	}
}
