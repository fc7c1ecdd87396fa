package hardware

import (
	"slices"
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// nuts reads the nuts of every series with a table.
func (ld *loader) nuts() {
	flats := map[string]standards.Row{}
	for _, r := range ld.rows("nuts_nasm21083_dimensions") {
		flats[r.Get("dash")] = r
	}
	for _, r := range ld.rows("nuts") {
		name := strings.TrimSuffix(r.Get("series"), "N")
		s := ld.open(name)
		// The R of AN315-3R is a letter of the grammar, the hand of the thread.
		ld.nutCode(s, strings.TrimSuffix(strings.TrimLeft(r.Get("dash"), "-"), "R"), r)
		if d, ok := flats[r.Get("dash")]; ok && name == "MS21083" {
			ld.nutFlats(s.nums[0].index[r.Get("dash")], d)
		}
	}
	heights := ld.rows("nut_heights")
	for _, name := range ld.c.names {
		if s := ld.c.series[name]; s.kind == Nut {
			s.nums[0].sorted()
			ld.nutHeights(s, heights)
		}
	}
}

// nutHeights adds the height of the full-height lock and castle nuts.
func (ld *loader) nutHeights(s *series, heights []standards.Row) {
	if !strings.HasPrefix(s.tell, "full height") {
		return
	}
	for _, r := range heights {
		for _, c := range s.nums[0].list {
			if r.Get("look") == s.look && r.Get("thread") == c.words {
				c.fields = append(c.fields, ld.lengthField(Height, ld.length(r.Get("height_in")), from(r)))
			}
		}
	}
}

// nutCode adds one thread size to a nut or plate nut series.
func (ld *loader) nutCode(s *series, text string, r standards.Row) {
	if s.nums[0] == nil {
		s.nums[0] = newCodes()
	}
	src, thread := from(r), r.Get("thread")
	fits := textField(Fits, "bolts and screws with "+thread+" thread", src)
	s.nums[0].add(&code{text: text, words: thread, fields: append(ld.threaded(thread, src), fits)})
}

func (ld *loader) nutFlats(c *code, r standards.Row) {
	f := ld.lengthField(AcrossFlats, ld.length(r.Get("across_flats_max_in")), from(r))
	f.Minus = f.Length - ld.length(r.Get("across_flats_min_in"))
	f.Text = (f.Length - f.Minus).Printed() + " to " + f.Length.Printed()
	c.fields = append(c.fields, f)
}

func (ld *loader) plateNuts() {
	for _, r := range ld.rows("nuts_plate") {
		ld.nutCode(ld.open(r.Get("series")), r.Get("dash"), r)
	}
	for _, name := range ld.c.names {
		if s := ld.c.series[name]; s.kind == PlateNut && s.nums[0] != nil {
			s.nums[0].sorted()
		}
	}
}

// washers reads AN960, its pairs in NAS1149, and the other washers with rows.
func (ld *loader) washers() {
	s := ld.open("AN960")
	s.nums[0] = newCodes()
	for _, r := range ld.rows("washers_an960") {
		c := ld.washerCode(strings.TrimPrefix(r.Get("part_number"), "AN960-"), r)
		for i := range c.fields {
			if c.fields[i].Name == Fits {
				c.fields[i].Checked = r.Checked("bolt_pairing_checked")
			}
		}
		s.nums[0].add(c)
	}
	s.nums[0].sorted()
	for _, r := range ld.rows("washers_an960_to_nas1149") {
		letters, text := cutLetters(strings.TrimPrefix(strings.TrimPrefix(r.Get("an960"), "AN960"), "-"))
		c := s.nums[0].index[text]
		if c == nil {
			continue
		}
		if c.successors == nil {
			c.successors = map[string]*Successor{}
		}
		next := &Successor{
			Designation: r.Get("nas1149"), Source: r.Source(), Checked: r.Checked("checked"),
			Note: "NAS1149 took the place of AN960",
		}
		if next.Checked == 0 {
			next.Note += "; the pair of dash numbers is by dimension"
		}
		c.successors[letters] = next
	}
	for _, r := range ld.rows("washers_other") {
		if r.Get("dash") == "" || r.Get("nominal_bolt") == "" {
			continue
		}
		s := ld.open(r.Get("series"))
		if s.nums[0] == nil {
			s.nums[0] = newCodes()
		}
		s.nums[0].add(ld.washerCode(strings.TrimPrefix(r.Get("dash"), "-"), r))
		s.nums[0].sorted()
	}
}

func cutLetters(s string) (front, rest string) {
	front = frontLetters(s)
	return front, s[len(front):]
}

// washerCode is one size of washer with the dimensions that its row has.
func (ld *loader) washerCode(text string, r standards.Row) *code {
	src := from(r)
	c := &code{text: text, words: r.Get("nominal_bolt")}
	for _, d := range []struct{ name, column, checked string }{
		{InsideDiameter, "inside_dia_in", ""},
		{OutsideDiameter, "outside_dia_in", "outside_dia_checked"},
		{Thickness, "thickness_in", "thickness_checked"},
	} {
		if v := r.Get(d.column); v != "" {
			at := cite{src.source, max(src.checked, r.Checked(d.checked))}
			c.fields = append(c.fields, ld.lengthField(d.name, ld.length(v), at))
		}
	}
	if t := r.Get("thickness_in"); t != "" {
		c.words += ", " + t + " thick"
	}
	c.fields = append(c.fields, textField(Fits, r.Get("nominal_bolt")+" bolt", src))
	return c
}

// nas1149 makes the size and thickness numbers of NAS1149: two characters of
// size (N and a screw number, or sixteenths) and the thickness in thousandths.
func (ld *loader) nas1149() {
	s := ld.open("NAS1149")
	s.nums[0] = newCodes()
	grammar := map[string]cite{}
	for _, r := range ld.rows("washers_nas1149_grammar") {
		grammar[r.Get("position")+" "+r.Get("code")] = from(r)
	}
	thickness := grammar["4 thickness 16, 32, 63, 90"]
	for _, an := range ld.open("AN960").nums[0].list {
		if strings.HasSuffix(an.text, "L") {
			continue
		}
		size := nas1149Size(an.text)
		for _, t := range []string{"16", "32", "63", "90"} {
			thick := ld.lengthField(Thickness, thousandths(leadingNumber(t)/10), thickness)
			c := &code{text: size + t, byRule: true}
			for _, f := range an.fields {
				switch f.Name {
				case Thickness:
					f = thick
				case Fits:
					c.words = strings.TrimSuffix(f.Text, " bolt") + ", 0.0" + t + " thick"
				}
				c.fields = append(c.fields, f)
			}
			s.nums[0].add(c)
		}
	}
	s.nums[0].sorted()
}

// nas1149Size writes an AN960 size as NAS1149 does: N6 for No. 6, 03 for No.
// 10, 04 for 1/4.
func nas1149Size(an960 string) string {
	n := leadingNumber(an960) / 10
	switch {
	case n < 10:
		return "N" + an960
	case n == 10:
		return "03"
	}
	n /= 100
	return string([]byte{byte('0' + n/10), byte('0' + n%10)})
}

// pins reads cotter and clevis pins.
func (ld *loader) pins() {
	s := ld.open("MS24665")
	s.nums[0] = newCodes()
	an380, an381 := ld.open("AN380"), ld.open("AN381")
	for _, old := range []*series{an380, an381} {
		src := old.src
		material := "carbon steel"
		if old == an381 {
			material = "corrosion-resistant steel"
		}
		old.first = []Field{textField(Material, material, cite{"MS24665 (AN380 = carbon steel, AN381 = corrosion-resistant)", 1})}
		old.nums[0] = ld.steps(steps{field: Diameter, low: 1, high: 12, per: 32, words: "%", src: src})
	}
	an380.nums[1] = ld.steps(steps{field: LengthField, low: 1, high: 24, per: 4, words: "%", src: an380.src})
	an381.nums[1] = ld.steps(steps{field: LengthField, low: 2, high: 96, per: 16, words: "%", src: an381.src})
	for _, r := range ld.rows("pins_cotter_ms24665") {
		src := from(r)
		d, l := ld.length(r.Get("dia_fraction")), ld.length(r.Get("length_fraction"))
		material := r.Get("material")
		if material == "corrosion-resistant" {
			material += " steel"
		}
		s.nums[0].add(&code{
			text: strings.TrimPrefix(r.Get("part_number"), "MS24665-"), words: material + ", " + ld.short(d) + " by " + ld.short(l),
			fields: []Field{ld.lengthField(Diameter, d, src), ld.lengthField(LengthField, l, src), textField(Material, material, src)},
		})
		ld.olderPin(r)
	}
	s.nums[0].sorted()
	ld.clevisPins()
}

// olderPin notes on AN380 or AN381 which MS24665 number took its place. The
// pair is known for the whole number, so it hangs on the first with the second
// as its key.
func (ld *loader) olderPin(r standards.Row) {
	parts := strings.Split(r.Get("older_number"), "-")
	if len(parts) != 3 {
		return
	}
	c := ld.open(parts[0]).nums[0].index[parts[1]]
	if c.successors == nil {
		c.successors = map[string]*Successor{}
	}
	c.successors["-"+parts[2]] = &Successor{Designation: r.Get("part_number"), Note: "MS24665 took the place of " + parts[0], Source: r.Source(), Checked: r.Checked("checked")}
}

func (ld *loader) clevisPins() {
	ms := ld.open("MS20392")
	ms.nums[0] = newCodes()
	for _, r := range ld.rows("pins_clevis") {
		src := from(r)
		s := ld.open(r.Get("an_series"))
		d := ld.length(r.Get("pin_dia_fraction"))
		s.size = ld.short(d)
		s.first = []Field{ld.lengthField(Diameter, d, src)}
		s.nums[0] = ld.steps(steps{field: LengthField, low: 4, high: 128, per: 32, words: "% long", src: src})
		number := strings.TrimSuffix(strings.TrimPrefix(r.Get("ms_prefix"), "MS20392-"), "C")
		ms.nums[0].add(&code{text: number, words: ld.short(d), fields: []Field{ld.lengthField(Diameter, d, src)}})
		s.successor = &Successor{
			Designation: "MS20392-" + number + "C", Note: "MS20392 took the place of the AN clevis pins", Source: "MS20392", Checked: 1,
		}
		s.joined = true
	}
	ms.nums[0].sorted()
	ms.nums[1] = ld.steps(steps{field: LengthField, low: 4, high: 128, per: 32, words: "% long", src: ms.src})
}

// rivets reads solid rivets, whose two numbers count 32nds of diameter and
// 16ths of length, and blind ones, whose second counts 16ths of the thickest grip.
func (ld *loader) rivets() {
	dias, lengths := newCodes(), newCodes()
	for _, r := range ld.rows("rivets_solid_diameters") {
		d := ld.length(r.Get("shank_dia_fraction"))
		f := ld.lengthField(Diameter, d, cite{r.Source(), r.Checked("checked_dia_code")})
		dias.add(&code{text: r.Get("dash_first_number"), words: ld.short(d), fields: []Field{f}})
	}
	for _, r := range ld.rows("rivets_solid_lengths") {
		l := ld.length(r.Get("length_fraction"))
		lengths.add(&code{text: r.Get("dash_second_number"), byRule: true, words: ld.short(l), fields: []Field{ld.lengthField(LengthField, l, from(r))}})
	}
	dias.sorted()
	lengths.sorted()
	angles := map[string]string{}
	for _, r := range ld.rows("rivets_solid_heads") {
		for _, name := range append(strings.Split(r.Get("older_or_related_number"), " / "), r.Get("standard")) {
			angles[name] = r.Get("countersink_angle_deg")
		}
	}
	grips := ld.steps(steps{field: Grip, low: 1, high: 24, per: 16, words: "grip to %", src: cite{source: "published builder reference (rule only)", checked: 1}})
	for _, r := range ld.words {
		switch Kind(r.Get("kind")) {
		case Rivet:
			s := ld.open(r.Get("series"))
			s.nums = [2]*codes{dias, lengths}
			measured := "under the head (usual practice)"
			if a := angles[s.name]; a != "" {
				measured = "over all, head included (usual practice)"
				s.last = append(s.last, Field{Name: CountersinkAngle, Text: a, Unit: "deg", Source: s.src.source, Checked: s.src.checked})
			}
			s.last = append(s.last, textField("length_measured", measured, cite{source: "common practice"}))
		case BlindRivet:
			s := ld.open(r.Get("series"))
			s.nums = [2]*codes{dias, grips}
			if strings.Contains(s.style, "100 degree") {
				s.nums[0] = ld.sunkDiameters(dias)
			}
			if strings.Contains(s.style, "100 degree") {
				s.last = append(s.last, Field{Name: CountersinkAngle, Text: "100", Unit: "deg", Source: s.src.source, Checked: s.src.checked})
			}
		}
	}
}

// sunkDiameters are the diameters with the countersink that a flush blind rivet
// takes, where a manual has it.
func (ld *loader) sunkDiameters(dias *codes) *codes {
	sunk := ld.sunkBlind()
	out := newCodes()
	for _, d := range dias.list {
		c := *d
		if f, ok := sunk[c.fields[0].Length]; ok {
			c.fields = append(slices.Clone(c.fields), f)
		}
		out.add(&c)
	}
	return out.sorted()
}

// thousandths is a length counted in 0.001 in.
func thousandths(n int) measure.Length { return measure.Length(n) * measure.Inch / 1000 }
