package hardware

import (
	"fmt"
	"slices"
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// screws reads the machine screws whose second number is the length in
// sixteenths. The sizes of six series are in a table; the size numbers of the
// others follow the same grammar and are not cross-checked.
func (ld *loader) screws() {
	rules := map[string]cite{}
	for _, r := range ld.rows("screws_grammar") {
		rules[r.Get("series")] = from(r)
	}
	for _, r := range ld.rows("screw_sizes") {
		s := ld.open(r.Get("series"))
		src := from(r)
		if s.nums[0] == nil {
			s.nums[0] = newCodes()
		}
		s.nums[0].add(&code{text: r.Get("size"), words: r.Get("thread"), fields: ld.threaded(r.Get("thread"), src)})
		s.nums[1] = ld.steps(steps{field: LengthField, low: 3, high: 48, per: 16, words: "%", src: rules[s.name]})
	}
	for i, r := range ld.words {
		if Kind(r.Get("kind")) != Screw {
			continue
		}
		for _, name := range ld.spans[i].names() {
			ld.screwHead(ld.open(name))
		}
	}
}

// screwHead adds what the style of a screw says: the angle of its head, and
// that it has a grip which no table gives.
func (ld *loader) screwHead(s *series) {
	if s.nums[0] != nil {
		s.nums[0].sorted()
	}
	for _, angle := range []string{"100", "82"} {
		if strings.HasPrefix(s.style, angle+" degree") {
			s.last = append(s.last, Field{Name: CountersinkAngle, Text: angle, Unit: "deg", Source: s.src.source, Checked: s.src.checked})
		}
	}
	if strings.Contains(s.style, "with grip") {
		s.last = append(s.last, unknownField(Grip, "no published table of the grip of this series", s.src))
	}
}

// structuralScrews gives MS27039 its two-digit lengths and the NAS screws
// their grips in sixteenths.
func (ld *loader) structuralScrews() {
	s := ld.open("MS27039")
	s.nums[1] = ld.steps(steps{field: LengthField, low: 4, high: 48, per: 16, width: 2, words: "%", src: s.src})
	for n := 4; n <= 32; n++ {
		l := s.nums[1].index[fmt.Sprintf("%02d", n)]
		c := &code{text: "08" + l.text, alone: true, words: "8-32 by " + l.words, fields: append(ld.threaded("8-32", s.src), l.fields...)}
		s.nums[0].add(c)
	}
	s.nums[0].sorted()
	for _, name := range []string{"NAS517", "NAS5315"} {
		s := ld.open(name)
		s.nums[1] = ld.steps(steps{field: Grip, low: 1, high: 64, per: 16, words: "grip %", src: s.src})
	}
}

// clampsAndWire reads cushioned clamps and lockwire.
func (ld *loader) clampsAndWire() {
	s := ld.open("MS21919")
	s.nums[0] = newCodes()
	for _, r := range ld.rows("clamps_ms21919_sizes") {
		d := ld.length(r.Get("clamp_inside_dia_fraction"))
		s.nums[0].add(&code{text: r.Get("dash"), words: "for " + ld.short(d), fields: []Field{
			ld.lengthField(InsideDiameter, d, from(r)), textField(Fits, "tube or bundle of "+ld.short(d), from(r)),
		}})
	}
	s.nums[0].sorted()
	w := ld.open("MS20995")
	w.nums[0], w.noDash = newCodes(), true
	for _, r := range ld.rows("wire_ms20995") {
		d := ld.length(r.Get("dia_in"))
		w.nums[0].add(&code{text: strings.TrimPrefix(r.Get("part_number"), "MS20995"), words: r.Get("material") + ", " + r.Get("dia_in"), fields: []Field{
			ld.lengthField(Diameter, d, from(r)), textField(Material, r.Get("material"), from(r)),
		}})
	}
	w.nums[0].sorted()
}

// rings reads O-rings. The standards share the dash numbers of AS568, MS28775 a
// part of them.
func (ld *loader) rings() {
	all, some := newCodes(), newCodes()
	for _, r := range ld.rows("orings_as568") {
		text := strings.TrimPrefix(r.Get("as568_dash"), "-")
		tables := []*codes{all}
		if r.Get("ms28775_dash") != "" {
			tables = append(tables, some)
		}
		for _, cs := range tables {
			cs.alias(strings.TrimLeft(text, "0"), cs.add(ld.ring(text, r)))
		}
	}
	all.sorted()
	some.sorted()
	for _, name := range []string{"AS568", "MS28775", "MS29513", "M83248/1", "M83248/2"} {
		s := ld.open(name)
		s.revised = name == "AS568"
		if s.nums[0] = all; name == "MS28775" {
			s.nums[0] = some
		}
	}
}

// ring is one size of O-ring. The 900 numbers seal the boss of a tube, whose
// sixteenths are their last two digits, but for 901.
func (ld *loader) ring(text string, r standards.Row) *code {
	section := ld.length(r.Get("cross_section_in"))
	c := &code{text: text, words: "inside unknown, section " + section.Printed(), fields: []Field{
		unknownField(InsideDiameter, "no published figure here; measure it", from(r)), ld.lengthField(CrossSection, section, from(r)),
	}}
	if inside := r.Get("inside_dia_in"); inside != "" {
		id := ld.length(inside)
		c.words = "inside " + id.Printed() + ", section " + section.Printed()
		c.fields[0] = ld.lengthField(InsideDiameter, id, from(r))
	}
	if n := leadingNumber(text) / 10; n > 901 {
		tube := measure.Inches(int64(n-900), 16)
		c.fields = append(c.fields, textField(Fits, "boss of a straight thread fitting for "+ld.short(tube)+" tube", cite{"NAVEDTRA 14105 ch. 7 (900 numbers of AS568)", 1}))
	}
	return c
}

// grommets reads AN931, whose first number counts sixteenths of the inside. What
// the second counts, the outside or the hole of the panel, sources leave open.
func (ld *loader) grommets() {
	s := ld.open("AN931")
	s.nums[0] = ld.steps(steps{field: InsideDiameter, low: 2, high: 40, per: 16, words: "inside %", src: s.src})
	s.nums[1], s.optional = ld.openNumbers(s, ""), true
	s.nums[1].unknown = []Field{unknownField(OutsideDiameter, "whether the second number is the outside or the hole of the panel is not known here: measure before you drill", s.src)}
}

// cable reads the cable parts whose number is the cable in 32nds.
func (ld *loader) cable() {
	for _, r := range ld.words {
		if r.Get("rule") != "32nds of cable" {
			continue
		}
		s := ld.open(r.Get("series"))
		src := cite{source: s.name + " (number in 32nds of cable, from memory)"}
		s.nums[0] = ld.steps(steps{field: CableDiameter, low: 1, high: 12, per: 32, words: "for % cable", src: src})
		if s.name == "MS21251" {
			s.nums[0] = barrels(s.nums[0])
		}
	}
}

// barrels are the numbers of MS21251, with the letter of brass bodies in front
// or without. One of them is in a published list.
func barrels(cable *codes) *codes {
	out := newCodes()
	for _, letter := range []string{"", "B"} {
		for _, c := range cable.list {
			n := &code{text: letter + c.text, words: c.words, fields: slices.Clone(c.fields), byRule: true}
			if n.text == "B3" {
				n.fields[0].Source, n.fields[0].Checked, n.byRule = "MS21251-B3S in a published list of turnbuckle parts", 1, false
			}
			if letter == "B" {
				n.fields = append(n.fields, textField(Material, "brass", cite{source: "MS21251 (letter B from memory)"}))
			}
			out.add(n)
		}
	}
	return out.sorted()
}
