package hardware

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// loader builds a catalog and keeps the first error.
type loader struct {
	c       *Catalog
	words   []standards.Row
	spans   []span         // of the words, in their order
	label   map[string]int // of the words that stand for one series, their first line
	ranged  []int          // of the words, the lines that stand for a range
	groups  map[string][3]slot
	lengths map[string]measure.Length
	tables  map[steps]*codes             // number tables are shared by the series that count alike
	texts   map[measure.Length][2]string // a length at length and briefly
	namings map[string][]span            // the standards that a source names
	// nominals are the bolts of which the nominal length alone is known.
	nominals map[dashOf]code
	err      error
}

func load() (*Catalog, error) {
	ld := &loader{
		c:       &Catalog{series: make(map[string]*series, 512)},
		groups:  map[string][3]slot{},
		lengths: make(map[string]measure.Length, 512),
		tables:  map[steps]*codes{},
		texts:   make(map[measure.Length][2]string, 512),
		namings: map[string][]span{}, nominals: map[dashOf]code{},
	}
	ld.words = ld.rows("series")
	ld.label = make(map[string]int, len(ld.words))
	for i, r := range ld.words {
		ld.spans = append(ld.spans, spanOf(r.Get("series")))
		if ld.spans[i].prefix != "" {
			ld.ranged = append(ld.ranged, i)
		}
		if _, twice := ld.label[ld.spans[i].label]; !twice {
			ld.label[ld.spans[i].label] = i
		}
	}
	ld.letters()
	for _, part := range []func(){
		ld.hexBolts, ld.otherBolts, ld.nasBolts, ld.nuts, ld.plateNuts, ld.washers, ld.nas1149, ld.pins,
		ld.rivets, ld.screws, ld.structuralScrews, ld.fittings, ld.clampsAndWire, ld.rings, ld.grommets, ld.cable, ld.byName, ld.byData, ld.turnbuckleWire, ld.trueShanks, ld.stockTable, ld.pairs, ld.cautionTable,
		ld.torqueTable, ld.torqueFacts, ld.sayUnlisted, ld.credits, ld.doubleNames, ld.supersede, ld.counterparts,
		ld.shopHeadTable, ld.seamTable,
	} {
		part()
		if ld.err != nil {
			return nil, ld.err
		}
	}
	return ld.c, nil
}

func (ld *loader) fail(err error) {
	if ld.err == nil {
		ld.err = err
	}
}

func (ld *loader) rows(table string) []standards.Row {
	t, err := standards.Read(table)
	if err != nil {
		ld.fail(err)
		return nil
	}
	return t.Rows
}

// length reads a length, keeping what was read: figures repeat all over.
func (ld *loader) length(text string) measure.Length {
	if l, ok := ld.lengths[text]; ok {
		return l
	}
	l, err := measure.ParseLength(text)
	if err != nil {
		ld.fail(err)
	}
	ld.lengths[text] = l
	return l
}

func from(r standards.Row) cite { return cite{r.Source(), r.Checked("checked")} }

// letters reads the letter grammar into groups of slots.
func (ld *loader) letters() {
	for _, r := range ld.rows("letters") {
		slots := ld.groups[r.Get("group")]
		n := r.Checked("slot") - 1
		if n < 0 || n >= len(slots) {
			ld.fail(fmt.Errorf("table letters line %d: slot %q is not 1 to 3", r.Line, r.Get("slot")))
			return
		}
		name, required := strings.CutSuffix(r.Get("choice"), "!")
		slots[n].add(name, required, r)
		ld.groups[r.Get("group")] = slots
	}
}

// add puts one row of the letter grammar into the slot.
func (s *slot) add(name string, required bool, r standards.Row) {
	var ch *choice
	for i := range s.choices {
		if s.choices[i].name == name {
			ch = &s.choices[i]
		}
	}
	if ch == nil {
		s.choices = append(s.choices, choice{name: name, required: required})
		ch = &s.choices[len(s.choices)-1]
	}
	text := r.Get("letter")
	var l *letter
	if text == "" {
		if ch.absent == nil {
			ch.absent = &letter{keepsDash: true}
		}
		l = ch.absent
	} else {
		for _, known := range ch.letters {
			if known.text == text {
				l = known
			}
		}
		if l == nil {
			l = &letter{text: text}
			ch.letters = append(ch.letters, l)
		}
		l.keepsDash = l.keepsDash || r.Get("keeps_dash") == "yes"
	}
	if l.title == "" {
		l.title = r.Get("title")
	}
	if f := r.Get("field"); f != "" {
		said := textField(f, r.Get("text"), from(r))
		said.Unknown = strings.HasPrefix(said.Text, "unknown: ")
		l.fields = append(l.fields, said)
	}
}

// open makes the series of that name by its line of the series table, or
// returns the one that was made before.
func (ld *loader) open(name string) *series {
	if s := ld.c.series[name]; s != nil {
		return s
	}
	i := ld.lineOf(name)
	if i < 0 {
		ld.fail(fmt.Errorf("series %q has no line in the table series", name))
		return &series{}
	}
	r := ld.words[i]
	s := &series{
		name: name, kind: Kind(r.Get("kind")), noun: r.Get("noun"), style: r.Get("style"),
		family: strings.Replace(ld.spans[i].label, "-", " to ", 1) + ": " + r.Get("noun"), src: from(r),
		look: r.Get("look"), tell: r.Get("tell"), counts: r.Get("rule"),
		slots: ld.groups[r.Get("letters")],
	}
	switch s.kind {
	case Bolt, Rivet, BlindRivet, Screw, ClevisPin:
		if s.style != "" {
			s.last = append(s.last, textField(HeadStyle, s.style, s.src))
		}
	}
	if s.counts == "eighths" {
		s.rule = "dash numbers count eighths of an inch, 3 to 7, then 10 to 17, 20 to 27 and so on"
	}
	ld.c.series[name] = s
	ld.c.names = append(ld.c.names, name)
	return s
}

// lineOf is the line of the series table that takes a series in, -1 for none: the
// first of its own and those of ranges.
func (ld *loader) lineOf(name string) int {
	own, ok := ld.label[name]
	for _, i := range ld.ranged {
		if ld.spans[i].covers(name) && !(ok && own < i) {
			return i
		}
	}
	if !ok {
		return -1
	}
	return own
}

// span is the standards that a label such as "AN3-AN20" or "AN310" takes in.
type span struct {
	label     string
	prefix    string // "" for a label that is not a range
	low, high int
}

func spanOf(label string) span {
	sp := span{label: label}
	if low, high, ranged := strings.Cut(label, "-"); ranged {
		sp.prefix, sp.low, sp.high = frontLetters(low), leadingNumber(low), leadingNumber(high)
	}
	return sp
}

// names lists the standards that the label takes in.
func (sp *span) names() []string {
	if sp.prefix == "" {
		return []string{sp.label}
	}
	var out []string
	for n := sp.low / 10; n <= sp.high/10; n++ {
		out = append(out, sp.prefix+strconv.Itoa(n))
	}
	return out
}

// covers says that the label takes in the series name.
func (sp *span) covers(name string) bool {
	if sp.label == name {
		return true
	}
	if sp.prefix == "" || !strings.HasPrefix(name, sp.prefix) || len(name) == len(sp.prefix) || !digit(name[len(sp.prefix)]) {
		return false
	}
	n := leadingNumber(name)
	return n >= sp.low && n <= sp.high
}

// covers says that a label such as "AN3-AN20" takes in the series name.
func covers(label, name string) bool {
	sp := spanOf(label)
	return sp.covers(name)
}

// byName opens the series that are known by name only.
func (ld *loader) byName() {
	for i, r := range ld.words {
		if r.Get("rule") != "not known" {
			continue
		}
		for _, name := range ld.spans[i].names() {
			s := ld.open(name)
			s.free, s.slots = true, [3]slot{}
			s.first = append(s.first, unknownField(Size, "no cross-checked table of its numbers", s.src))
		}
	}
}

// supersede reads which series took the place of which, one way.
func (ld *loader) supersede() {
	for _, r := range ld.rows("supersession") {
		olds, news := strings.Split(r.Get("old_number"), ", "), strings.Split(r.Get("new_number"), ", ")
		for i, old := range olds {
			s := ld.c.series[old]
			if s == nil {
				continue
			}
			next := Successor{Designation: news[0], Note: r.Get("note"), Source: r.Source(), Checked: r.Checked("checked")}
			if len(news) == len(olds) {
				next.Designation = news[i]
			}
			if number, rest, ok := strings.Cut(next.Designation, " ("); ok {
				next.Designation, next.Note = number, next.Note+" ("+rest
			}
			to := ld.c.series[next.Designation]
			s.successor, s.sameNumbers = &next, to != nil && !to.free && to.kind == s.kind && sameGrammar(s, to)
		}
	}
}

func sameGrammar(a, b *series) bool {
	for i := range a.nums {
		if (a.nums[i] == nil) != (b.nums[i] == nil) {
			return false
		}
		if a.nums[i] == nil {
			continue
		}
		for text := range a.nums[i].index {
			if b.nums[i].index[text] == nil {
				return false
			}
		}
	}
	return true
}

// sayUnlisted words what goes with numbers that are read by rule alone.
func (ld *loader) sayUnlisted() {
	for _, name := range ld.c.names {
		s := ld.c.series[name]
		if n := s.nums[1]; n != nil && len(n.list) > 0 && n.list[0].field(Grip) != nil {
			s.last = slices.DeleteFunc(s.last, func(f Field) bool { return f.Name == Grip && f.Unknown }) // its number tells it
		}
		s.unlisted = unknownField(Listed, "no source here lists which numbers of "+name+" are made", s.src)
	}
}

// doubleNames makes the NASM names of the MS series known: identical parts may
// carry either (a published structural repair manual).
func (ld *loader) doubleNames() {
	for _, name := range ld.c.names {
		if number, ok := strings.CutPrefix(name, "MS"); ok {
			twin := *ld.c.series[name]
			twin.name = "NASM" + number
			ld.c.series[twin.name] = &twin
		}
	}
}

// parseThread reads the diameter and threads per inch of "10-32 UNF",
// "1/4-28", ".3125-24 UNJF" and "1-1/8-12"; zero where there are none.
func (ld *loader) parseThread(text string) (measure.Length, int) {
	text, _, _ = strings.Cut(text, " ")
	i := strings.LastIndexByte(text, '-')
	if i < 0 {
		return 0, 0
	}
	size, tpi := text[:i], leadingNumber(text[i+1:])/10
	if len(size) <= 2 && leadingNumber(size)/10 <= 14 && size != "1" {
		size = "#" + size
	}
	return ld.length(size), tpi
}

// threaded is the diameter and thread fields of a thread.
func (ld *loader) threaded(thread string, src cite) []Field {
	d, _ := ld.parseThread(thread)
	return []Field{ld.diameter(thread, d, src), textField(Thread, thread, src)}
}

// diameter is the diameter field, in screw numbers where the thread is one.
func (ld *loader) diameter(thread string, d measure.Length, src cite) Field {
	f := ld.lengthField(Diameter, d, src)
	if n, _, ok := strings.Cut(strings.TrimPrefix(thread, "No. "), "-"); ok && len(n) <= 2 && n != "1" {
		f.Text = "No. " + n + " (" + d.Printed() + ")"
	}
	return f
}

// steps is a table of whole numbers that count parts of an inch.
type steps struct {
	field  string
	low    int
	high   int
	per    int64 // parts to the inch
	width  int   // digits at least
	words  string
	halves bool
	src    cite
}

// said is a length as a person reads it, at length and briefly, kept since steps
// of all series pass the same lengths.
func (ld *loader) said(l measure.Length) [2]string {
	if t, ok := ld.texts[l]; ok {
		return t
	}
	t := [2]string{l.String(), short(l)}
	if ld.texts != nil {
		ld.texts[l] = t
	}
	return t
}

// short is a length briefly, from those that are kept.
func (ld *loader) short(l measure.Length) string { return ld.said(l)[1] }

// lengthField is the fact of a length, its text from those that are kept.
func (ld *loader) lengthField(name string, l measure.Length, from cite) Field {
	return Field{Name: name, Length: l, Text: ld.said(l)[0], Unit: "in", Source: from.source, Checked: from.checked}
}

func (ld *loader) steps(st steps) *codes {
	if cs := ld.tables[st]; cs != nil {
		return cs
	}
	count := max(0, st.high-st.low+1)
	if st.halves {
		count *= 2
	}
	cs := codesFor(count)
	ld.tables[st] = cs
	made := make([]code, count) // and their fields, in one piece each
	facts := make([]Field, count)
	for n := st.low; n <= st.high; n++ {
		for half := int64(0); half < 2; half++ {
			if half == 1 && !st.halves {
				break
			}
			text := strconv.Itoa(n)
			if len(text) < st.width {
				text = "0" + text
			}
			if half == 1 {
				text += ".5"
			}
			l := measure.Inches(2*int64(n)+half, 2*st.per)
			said := ld.said(l)
			at := len(cs.list)
			facts[at] = Field{Name: st.field, Length: l, Text: said[0], Unit: "in", Source: st.src.source, Checked: st.src.checked}
			words := said[1]
			if st.words != "%" {
				words = strings.Replace(st.words, "%", words, 1)
			}
			made[at] = code{text: text, byRule: true, words: words, fields: facts[at : at+1 : at+1]}
			c := cs.add(&made[at])
			cs.alias(strings.TrimLeft(text, "0"), c)
		}
	}
	return cs.sorted()
}
