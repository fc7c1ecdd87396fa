package hardware

import (
	"fmt"
	"strings"

	"stowright/store/measure"
)

// endNames are the fields of the ends of a fitting, in the order of its table.
var endNames = [...]string{"first_end", "second_end", "third_end", "fourth_end"}

// TM 1-1500-204-23-6 and -2 have the rule for flared, hose and pipe ends.
var dashRule = cite{"TM 1-1500-204-23-6 par. 2-16; TM 1-1500-204-23-2 Table 4-9", 2}

// fittings reads the tube, hose and pipe fittings. What the first number counts
// is in the table, and so are the ends; an end whose size follows from no number
// is said to be unknown.
func (ld *loader) fittings() {
	flares := ld.flares()
	tables := map[string]*codes{}
	for _, r := range ld.rows("fluid_fitting_names") {
		counts, ends := r.Get("counts"), strings.Split(r.Get("ends"), " / ")
		s := &series{
			name: r.Get("series"), kind: Fitting, noun: capital(r.Get("description")), src: from(r),
			counts: map[string]string{"tube": "sixteenths of tube", "flareless": "sixteenths of tube", "hose": "sixteenths of hose", "pipe": "eighths of pipe", "table": "table number"}[counts],
			slots:  ld.groups["fitting"],
		}
		s.family = s.name + ": " + s.noun
		ld.c.series[s.name] = s
		ld.c.names = append(ld.c.names, s.name)
		if counts == "table" {
			s.free, s.slots = true, [3]slot{}
			s.first = append(s.first, ld.unknownEnds(ends, s)...)
			continue
		}
		if own, ok := ld.groups[strings.ToLower(s.name)]; ok {
			s.slots = own
		}
		key := fmt.Sprint(counts, ends, s.src.checked)
		if strings.Trim(strings.Join(ends, ""), " ") != "" {
			key = s.name // what its ends are is said of it alone
		}
		if tables[key] == nil {
			tables[key] = ld.fittingNumbers(flares, counts, ends, s)
		}
		s.nums[0] = tables[key]
		if second := r.Get("second_number"); second != "" {
			s.optional = true
			s.nums[1] = ld.secondEnd(second, ends, s)
			s.slots[2] = s.slots[1]
		}
	}
}

// unknownEnds are the ends of a fitting whose numbers no source explains.
func (ld *loader) unknownEnds(ends []string, s *series) []Field {
	var out []Field
	for i := range ends {
		out = append(out, unknownField(endNames[i], "the numbers of "+s.name+" are a table that no source here gives", s.src))
	}
	return out
}

// fittingNumbers makes the first numbers with the ends that follow from them.
func (ld *loader) fittingNumbers(flares []flare, counts string, ends []string, s *series) *codes {
	cs := codesFor(max(len(flares), 16))
	if counts == "pipe" {
		for n := 1; n <= 16; n++ {
			size := measure.Inches(int64(n), 8)
			c := &code{text: fmt.Sprint(n), words: ld.short(size) + " pipe", byRule: true, fields: []Field{ld.lengthField(PipeSize, size, dashRule)}}
			for i := range ends {
				c.fields = append(c.fields, textField(endNames[i], ld.short(size)+" pipe thread", cite{dashRule.source, min(dashRule.checked, s.src.checked)}))
			}
			cs.add(c)
		}
		return cs.sorted()
	}
	that := ""
	for i := range flares {
		r := &flares[i]
		c := &code{text: r.dash, words: r.size + " tube", byRule: true, fields: make([]Field, 0, 3+len(ends))}
		switch counts {
		case "hose":
			c.words = r.size + " hose"
			c.fields = append(c.fields, ld.lengthField(HoseSize, r.tube, dashRule))
		case "flareless":
			c.fields = append(c.fields, ld.lengthField(TubeDiameter, r.tube, cite{s.src.source + " (sixteenths of tube, from memory)", 0}))
		default:
			c.fields = append(append(c.fields, ld.lengthField(TubeDiameter, r.tube, r.ofTube)), r.facts(ends)...)
		}
		if i == 0 || flares[i-1].thread.Source != r.thread.Source {
			that = r.thread.Source + "; that " + s.name + " has this end: " + s.src.source
		}
		seen := cite{that, min(s.src.checked, r.thread.Checked)}
		for k, end := range ends {
			if end != "" && end != "nut" {
				c.fields = append(c.fields, r.end(endNames[k], end, seen, s))
			}
		}
		cs.add(c)
	}
	return cs.sorted()
}

// flare is what the table of flares says of one tube, with the ends of it as a
// person reads them.
type flare struct {
	dash, size string
	tube       measure.Length
	ofTube     cite
	thread     Field
	angle      Field
	ends       map[string]string
}

// flares reads the table of flares.
func (ld *loader) flares() []flare {
	var out []flare
	for _, r := range ld.rows("fluid_flare_dash") {
		f := flare{dash: r.Get("dash"), tube: ld.length(r.Get("tube_od_fraction")), ofTube: cite{r.Source(), r.Checked("checked_tube_od")}}
		f.size = ld.short(f.tube)
		f.thread = textField(Thread, r.Get("flared_end_thread"), cite{r.Source(), r.Checked("checked_thread")})
		f.angle = textField("flare_angle", r.Get("flare_angle_deg"), f.ofTube)
		f.angle.Unit = "deg"
		flared := "37 degree flare for " + f.size + " tube, thread " + f.thread.Text
		f.ends = map[string]string{
			"flare": flared, "bulkhead flare": flared + ", through a bulkhead", "hose": "for hose of " + f.size + " inside",
			"flareless": "flareless for " + f.size + " tube", "straight thread": "straight thread " + f.thread.Text,
		}
		out = append(out, f)
	}
	return out
}

// facts are the thread and the angle of a flared tube's fitting. A nut has the
// thread alone, and of a piece that is flared at no end known here neither is said.
func (f *flare) facts(ends []string) []Field {
	flared := ends[0] == ""
	threaded := false
	for _, end := range ends {
		flared = flared || strings.HasSuffix(end, "flare")
		threaded = threaded || end == "nut" || end == "straight thread"
	}
	switch {
	case flared:
		return []Field{f.thread, f.angle}
	case threaded:
		return []Field{f.thread}
	}
	return []Field{unknownField(Thread, "no source here says what its ends are", cite{source: f.thread.Source})}
}

// end says what an end is for the tube, by those who have seen that the series
// has it.
func (f *flare) end(name, end string, seen cite, s *series) Field {
	switch end {
	case "hose":
		return textField(name, f.ends[end], cite{dashRule.source, min(dashRule.checked, s.src.checked)})
	case "flareless":
		return textField(name, f.ends[end], s.src)
	case "pipe":
		return unknownField(name, "pipe thread; no source here says which pipe goes with "+f.size, s.src)
	}
	if text := f.ends[end]; text != "" {
		return textField(name, text, seen)
	}
	return unknownField(name, "no source here says what this end is", s.src)
}

// secondEnd makes the second numbers, which say the end that the first does not.
func (ld *loader) secondEnd(second string, ends []string, s *series) *codes {
	at, unit := len(ends)-1, " tube"
	if second == "sixteenths of pipe" {
		unit = " pipe"
		for i, end := range ends {
			if end == "pipe" {
				at = i
			}
		}
	}
	cs := newCodes()
	src := cite{source: s.name + " (second number in sixteenths, from memory)"}
	for _, n := range []int64{2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24} {
		size := short(measure.Inches(n, 16)) + unit
		if unit == " pipe" && n%2 == 1 || n == 10 && unit == " pipe" {
			continue
		}
		cs.add(&code{text: fmt.Sprint(n), words: size, byRule: true, fields: []Field{textField(endNames[at], strings.Replace(size, " pipe", " pipe thread", 1), src)}})
	}
	return cs.sorted()
}

// capital writes the first letter large.
func capital(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}
