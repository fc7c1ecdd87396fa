package hardware

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
)

// plan is washers added under the nut, or under the head over a plate nut.
type plan struct{ thick, thin int }

// choose holds one dash number against the joint with the fewest washers that
// make it fit; when none do, with those that come nearest.
func (j *joint) choose(p piece) BoltChoice {
	p.letters(j)
	var best BoltChoice
	have := len(j.head) + len(j.under)
	for total := 0; total+have <= maxWashers; total++ {
		for thin := 0; thin <= total; thin++ {
			pl := plan{thick: total - thin, thin: thin}
			if !j.possible(pl) {
				continue
			}
			if b := j.judge(&p, pl); best.Designation == "" || b.worse() < best.worse() {
				best = b
			}
		}
		if best.Fits || best.CannotTell {
			break
		}
	}
	best.Section = j.section(&p, &best)
	return best
}

// possible says that the washers of a plan are known. A joint without any
// washer is not proposed where there is one.
func (j *joint) possible(pl plan) bool {
	if pl == (plan{}) {
		return j.thick == nil || len(j.head)+len(j.under) > 0
	}
	return (pl.thick == 0 || j.thick != nil) && (pl.thin == 0 || j.thin != nil)
}

// letters gives the bolt its drilling: a castle nut wants a hole in the shank.
func (p *piece) letters(j *joint) {
	drilling := "no"
	if j.drilled {
		drilling = "yes"
	}
	for i := range p.s.slots {
		for k := range p.s.slots[i].choices {
			ch := &p.s.slots[i].choices[k]
			l := ch.absent
			for _, o := range ch.letters {
				shank, head := o.field(ShankDrilled), o.field(HeadDrilled)
				switch {
				case shank != nil && strings.HasPrefix(shank.Text, drilling),
					head != nil && j.DrilledHead && strings.HasPrefix(head.Text, "yes"):
					l = o
				}
			}
			p.let[i][k] = l
		}
	}
}

// worse counts what is wrong, for choosing between plans that do not fit.
func (b *BoltChoice) worse() int {
	n := 0
	for _, f := range b.Findings {
		if f.Bad {
			n++
		}
	}
	return n*1000 + int(max(b.ThreadInHole, -b.Spare, 0)/thou)
}

// judge is the geometry of one plan.
func (j *joint) judge(p *piece, pl plan) BoltChoice {
	b := BoltChoice{Designation: p.canonical(), Grip: p.figure(Grip), Length: p.bodyLength()}
	r := p.result()
	b.Title, b.Mark, b.InShop = r.Title, r.Mark(), j.shopList[b.Designation]
	b.HeadWashers, b.NutWashers = slices.Clone(j.head), slices.Clone(j.under)
	add := &b.NutWashers
	if j.plate {
		add = &b.HeadWashers
	}
	for range pl.thick {
		*add = append(*add, *j.thick)
	}
	for range pl.thin {
		*add = append(*add, *j.thin)
	}
	above, below := thicknessOf(b.HeadWashers), thicknessOf(b.NutWashers)
	clamped := above + j.stack + below
	b.ThreadInHole = max(above+j.stack-b.Grip, 0)
	b.Spare = clamped - b.Grip
	if j.nutHigh != 0 {
		b.ShowingKnown = true
		b.Showing = b.Length - clamped - j.nutHigh
	}
	b.Findings = append(b.Findings, j.inHole(&b), j.bottoming(&b))
	b.Findings = append(b.Findings, j.pastNut(&b))
	if end := p.fact(CotterFromEnd); end != nil && j.drilled {
		b.Findings = append(b.Findings, finding("cotter-pin hole "+end.Text+" from the end of the bolt", cite{end.Source, end.Checked}))
	}
	if above+below > washerHeight {
		b.Findings = append(b.Findings, bad("washers of "+short(above+below)+" together: no more than 1/8, the next grip is nearer", ruleHeight))
	}
	b.Findings = append(b.Findings, b.washerFindings()...)
	if b.Mark != "" {
		b.Findings = append(b.Findings, Finding{Text: b.Designation + " grip and length: " + b.Mark, Source: p.fact(Grip).Source})
	}
	b.Fits = true
	for _, f := range b.Findings {
		b.Fits = b.Fits && !f.Bad
	}
	if b.Fits && !b.ShowingKnown {
		b.Fits, b.CannotTell = false, true
	}
	return b
}

// washerFindings say that there are as many washers as may be, and which
// thickness was never cross-checked.
func (b *BoltChoice) washerFindings() []Finding {
	var out []Finding
	all := slices.Concat(b.HeadWashers, b.NutWashers)
	if len(all) == maxWashers {
		out = append(out, finding("three washers: no more in one stack", ruleWashers))
	}
	if i := slices.IndexFunc(all, func(w WasherUse) bool { return w.Mark != "" }); i >= 0 {
		w := all[i]
		out = append(out, Finding{Text: w.Designation + " thickness " + short(w.Thickness) + ": " + w.Mark, Source: "AN960 / NAS1149"})
	}
	return out
}

func thicknessOf(washers []WasherUse) measure.Length {
	sum := measure.Length(0)
	for _, w := range washers {
		sum += w.Thickness
	}
	return sum
}

// threads counts a length in threads, to a tenth.
func (j *joint) threads(l measure.Length) string {
	tenths := (int64(l)*10*int64(j.tpi) + int64(measure.Inch)/2) / int64(measure.Inch)
	return fmt.Sprintf("%d.%d threads", tenths/10, tenths%10)
}

// inHole judges the thread within the layers.
func (j *joint) inHole(b *BoltChoice) Finding {
	in := b.ThreadInHole * measure.Length(2*j.tpi) / measure.Inch // half threads, whole ones only
	text := "thread in the hole: " + short(b.ThreadInHole) + ", " + j.threads(b.ThreadInHole)
	switch {
	case b.ThreadInHole == 0:
		return finding("no thread in the hole: grip "+short(b.Grip)+" reaches through "+short(j.stack), ruleGrip)
	case b.ThreadInHole > 2*j.pitch:
		return bad(text+"; the grip is too short", ruleThreads)
	case in >= 3 && b.ThreadInHole > 3*j.pitch/2:
		return finding(text+"; more than one and a half, which one source does not allow", ruleStrict)
	}
	return finding(text+"; it should be in the thicker part", ruleThreads)
}

// bottoming judges whether the nut can clamp before it meets the shank. The
// grip may be 1/64 longer than nominal.
func (j *joint) bottoming(b *BoltChoice) Finding {
	switch {
	case b.Spare < 0:
		return bad("the grip is "+short(-b.Spare)+" too long: the nut runs out of thread before it clamps; add a washer or take a shorter bolt", ruleGrip)
	case b.Spare < sixtyFourth:
		return bad("only "+short(b.Spare)+" left before the nut meets the shank, less than the 1/64 that a grip may be over: add a washer", ruleGrip)
	}
	return finding("the nut can be drawn up "+short(b.Spare)+" past the shank", ruleGrip)
}

// pastNut judges the thread that shows past the nut.
func (j *joint) pastNut(b *BoltChoice) Finding {
	if !b.ShowingKnown {
		f := finding("thread past the nut: unknown, no height of this nut in the tables; at least one thread must show: measure the nut", ruleShowing)
		switch {
		case j.plate:
			f.Text = "thread past the plate nut: unknown, no height in the tables; at least one thread must show: measure the nut"
		case j.nut == nil:
			f.Text = "thread past the nut: unknown while no nut is named; at least one thread must show"
		}
		return f
	}
	mark := ""
	if j.nutMark != "" {
		mark = " (height of the nut " + short(j.nutHigh) + ", " + j.nutMark + ")"
	}
	switch {
	case b.Showing < 0:
		return bad("the bolt ends "+short(-b.Showing)+" inside the nut"+mark, ruleShowing)
	case b.Showing < j.pitch:
		return bad("past the nut: "+short(b.Showing)+", "+j.threads(b.Showing)+"; at least one must show"+mark, ruleShowing)
	}
	return finding("past the nut: "+short(b.Showing)+", "+j.threads(b.Showing)+mark, ruleShowing)
}

// Washers says which washers go where, each with the mark that must go with it.
func (b BoltChoice) Washers() string {
	var parts []string
	for _, side := range []struct {
		where   string
		washers []WasherUse
	}{{"under the head", b.HeadWashers}, {"under the nut", b.NutWashers}} {
		var names []string
		for _, w := range side.washers {
			name := w.Designation
			if w.Mark != "" {
				name += " (" + w.Mark + ")"
			}
			names = append(names, name)
		}
		if len(names) > 0 {
			parts = append(parts, strings.Join(names, " and ")+" "+side.where)
		}
	}
	if len(parts) == 0 {
		return "no washer"
	}
	return strings.Join(parts, "; ")
}
