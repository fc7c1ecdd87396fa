package hardware

import (
	"slices"
	"strings"

	"stowright/store/measure"
)

// candidates makes the designations of a row: with the letters that were seen,
// and with each drilling when the shank was not looked at.
func (e *entry) candidates(r *Readings, asked []asking) []Candidate {
	variants := []piece{{s: e.s, nums: e.nums}}
	for i := range e.s.slots {
		if i > 0 && e.nums[i-1] == nil {
			break
		}
		if i == 1 && e.s.optional && e.nums[1] != nil {
			continue // they stand behind the second number then
		}
		for k := range e.s.slots[i].choices {
			var next []piece
			for _, v := range variants {
				for _, l := range r.letters(&e.s.slots[i].choices[k]) {
					w := v
					w.let[i][k] = l
					next = append(next, w)
				}
			}
			variants = next
		}
	}
	var out []Candidate
	for i := range variants {
		if i == 0 || plausible(&variants[0], &variants[i], r) {
			k := judge(variants[i], r, asked)
			k.order = e.order
			out = append(out, k)
		}
	}
	return out
}

// plausible says that a variant is worth listing beside the usual one: the shank was not looked at, or a magnet leaves several
// materials open.
func plausible(usual, v *piece, r *Readings) bool {
	sameMaterial := v.word(Material) == usual.word(Material)
	if v.word(HeadDrilled) != usual.word(HeadDrilled) {
		return false
	}
	if v.word(ShankDrilled) != usual.word(ShankDrilled) {
		return sameMaterial && r.ShankDrilled == NotLooked
	}
	if v.s.kind == Clamp {
		return !sameMaterial // no figure tells one cushion from another
	}
	return !sameMaterial && r.Magnetic == No && r.Marking == ""
}

// letters lists the letters of a choice that agree with what was seen, the
// usual one first. A marking that was seen takes only a letter that has it.
func (r *Readings) letters(ch *choice) []*letter {
	all := make([]*letter, 0, len(ch.letters)+1)
	if !ch.required {
		all = append(all, ch.absent)
	}
	for _, l := range ch.letters {
		if l.text == "AD" || ch.name == Recess {
			all = slices.Insert(all, 0, l)
			continue
		}
		all = append(all, l)
	}
	switch ch.name {
	case "shank", "head", Material:
	default:
		if l := r.ofThread(ch); l != nil {
			return []*letter{l}
		}
		return all[:1]
	}
	var agree []*letter
	for _, l := range all {
		if l == nil || r.against(l) == "" && (r.Marking == "" || ch.name != Material || l.field(HeadMarking) != nil) {
			agree = append(agree, l)
		}
	}
	if len(agree) == 0 {
		return all[:1]
	}
	return agree
}

// ofThread is the letter of a choice that gives a piece the thread that was counted.
func (r *Readings) ofThread(ch *choice) *letter {
	for _, l := range ch.letters {
		if size, n := threadOf(l.size); r.ThreadsPerInch != 0 && r.sameThread(size, n) {
			return l
		}
	}
	return nil
}

func (l *letter) field(name string) *Field {
	for i := range l.fields {
		if l.fields[i].Name == name {
			return &l.fields[i]
		}
	}
	return nil
}

// against says what was seen that speaks against a letter, "" for nothing.
func (r *Readings) against(l *letter) string {
	for i := range l.fields {
		f := &l.fields[i]
		switch f.Name {
		case ShankDrilled:
			if why := contradicts(r.ShankDrilled, f.Text, "cotter-pin hole"); why != "" {
				return why
			}
		case HeadDrilled:
			if why := contradicts(r.HeadDrilled, f.Text, "lockwire hole in the head"); why != "" {
				return why
			}
		case HeadMarking:
			if r.Marking != "" && !f.marked(r.Marking) {
				return "head marked: " + f.Text
			}
		case Material:
			if m := magnetic(f.Text); m != NotLooked && r.Magnetic != NotLooked && m != r.Magnetic {
				return f.Text + " against the magnet test"
			}
		}
	}
	return ""
}

// markedWords are what people call the marks of the tables.
var markedWords = strings.NewReplacer("double", "two", "twin", "two", "dashes", "dash", "lines", "dash", "line", "dash", "asterisk", "cross", "x", "cross")

// marked says that the head marking of the field is the one that was seen: every
// word of it is there.
func (f *Field) marked(seen string) bool {
	has := strings.Fields(markedWords.Replace(f.Text))
	for _, w := range strings.Fields(strings.ToLower(seen)) {
		if !slices.Contains(has, markedWords.Replace(w)) && !strings.Contains(f.Text, w) {
			return false
		}
	}
	return true
}

func contradicts(seen Answer, text, what string) string {
	switch {
	case seen == Yes && strings.HasPrefix(text, "no"):
		return "it has no " + what
	case seen == No && strings.HasPrefix(text, "yes"):
		return "it has a " + what
	}
	return ""
}

// magnetic says what a magnet does; corrosion-resistant steels and Monel may
// go either way, so they decide nothing (common practice).
func magnetic(material string) Answer {
	switch {
	case strings.Contains(material, "corrosion-resistant"), strings.Contains(material, "Monel"), strings.Contains(material, "A286"):
		return NotLooked
	case strings.Contains(material, "steel"):
		return Yes
	case strings.Contains(material, "aluminium"), strings.Contains(material, "brass"), strings.Contains(material, "copper"), strings.Contains(material, "titanium"):
		return No
	}
	return NotLooked
}

// judge holds every reading against one piece.
func judge(p piece, r *Readings, asked []asking) Candidate {
	k := Candidate{Designation: p.canonical(), piece: p, Fits: true}
	res := p.result()
	k.Title, k.Mark = res.Title, res.Mark()
	add := func(j Judged) {
		k.Judged = append(k.Judged, j)
		k.total += j.Away
		k.Away = max(k.Away, j.Away)
		if j.Away > fit {
			k.Fits = false
			if k.RuledOut == "" {
				k.RuledOut = j.Text
			}
		}
		if j.Unknown {
			k.Incomplete = true
			k.total += unknownFigure
		}
	}
	for _, a := range asked {
		add(judgeLength(&p, &quantities[a.q], a.read))
	}
	if r.ThreadsPerInch != 0 {
		add(judgeThread(&p, r))
	}
	for _, j := range judgeFeatures(&p, r) {
		add(j)
	}
	k.blank = len(k.Judged) > 0 && !slices.ContainsFunc(k.Judged, func(j Judged) bool { return !j.blank })
	return k
}

// judgeFeatures holds what was seen against the piece: only what speaks against
// it or cannot be compared is listed.
func judgeFeatures(p *piece, r *Readings) []Judged {
	var out []Judged
	if r.ShankDrilled == Yes && p.s.kind != Bolt && p.s.kind != ClevisPin {
		out = append(out, Judged{Name: ShankDrilled, Away: wrongFeature, Text: "a " + string(p.s.kind) + " has no cotter-pin hole"})
	}
	if r.Head != "" && !headMatches(p.s, r.Head) {
		out = append(out, Judged{Name: HeadStyle, Away: wrongFeature, Text: "its head is " + p.s.style})
	}
	if j, ok := judgeMarking(p, r); ok {
		out = append(out, j)
	}
	for i := range p.let {
		for _, l := range p.let[i] {
			if l == nil {
				continue
			}
			if why := r.against(l); why != "" {
				out = append(out, Judged{Name: l.fields[0].Name, Away: wrongFeature, Text: why})
			}
		}
	}
	return out
}

// judgeMarking holds the marking that was seen against that of the series; false
// where there is nothing to say.
func judgeMarking(p *piece, r *Readings) (Judged, bool) {
	if r.Marking == "" || p.word(HeadMarking) != nil {
		return Judged{}, false
	}
	switch f := p.fact(HeadMarking); {
	case f == nil && !headed(p.s.kind):
		return Judged{Name: HeadMarking, Away: wrongFeature, Text: "a " + string(p.s.kind) + " has no head to be marked"}, true
	case f == nil:
		return Judged{Name: HeadMarking, Unknown: true, blank: true, Text: "no published head marking to compare with"}, true
	case !f.marked(r.Marking):
		return Judged{Name: HeadMarking, Away: wrongFeature, Text: "head marked: " + f.Text}, true
	}
	return Judged{}, false
}

func judgeLength(p *piece, q *quantity, read measure.Length) Judged {
	field, words := q.fieldOf(p.s.kind)
	j := Judged{Name: field}
	b := bandOf(p, q)
	if b.high == 0 && !p.s.has(q) {
		j.Away, j.Text = wrongFeature, "a "+string(p.s.kind)+" has no "+words
		return j
	}
	if b.high == 0 {
		j.Unknown, j.blank, j.Text = true, true, words+" "+read.Printed()+": no published figure to compare with"
		return j
	}
	figure := short((b.low + b.high) / 2)
	if n := p.nums[0].nominal; n != 0 && q.field == LengthField {
		figure, j.Unknown = "about "+short(n), true
	}
	if f := p.fact(field); f != nil && f.Length != 0 {
		figure = f.Length.String()
	}
	j.Away = q.away(b, read)
	if j.Away == 0 {
		j.Text = words + " " + read.Printed() + ": within " + figure
	} else {
		j.Text = words + " " + read.Printed() + ": " + j.Away.String() + " tolerances from " + figure
	}
	return j
}
