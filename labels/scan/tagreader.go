package scan

import "math"

// Limits of acceptance. Over 1,300 true symbols of the measuring frames, one in a
// hundred is below 0.72 of fit, 0.75 of format and 7.4 deviations; of 4,300
// false ones none is above 5.0 deviations.
const (
	leastMatch      = 0.45 // correlation of the fixed modules
	leastFormat     = 0.45 // correlation of the format information
	leastDeviations = 6.2
	leastAgreement  = 0.45
	sureDeviations  = 8
	maskTries       = 3
)

// tagSamples are the modules that a grid is fitted to, by what is known of the symbol.
type tagSamples struct {
	fixed  []sample
	coarse []sample // every other one of the three finders
	finder []sample // one finder pattern about its own middle
	all    [maxSamples]sample
	known  []knownCell
}

func newTagSamples(t *tables) *tagSamples {
	s := &tagSamples{known: make([]knownCell, 0, maxSamples), finder: finderSamples()}
	for _, k := range t.fixed {
		s.fixed = append(s.fixed, sampleAt(k.cell, k.dark, 1))
	}
	for i := range s.fixed[:3*64] {
		if k := &s.fixed[i]; (k.row+k.col)&1 == 0 {
			s.coarse = append(s.coarse, *k)
		}
	}
	for _, c := range t.quiet {
		s.fixed = append(s.fixed, sampleAt(c, false, 0.5))
	}
	return s
}

func sampleAt(c cell, dark bool, weight float64) sample {
	want := -1.0
	if dark {
		want = 1
	}
	const middle = symbolSize / 2.0
	return sample{float64(c.col) + 0.5 - middle, float64(c.row) + 0.5 - middle, want, weight, c.row, c.col}
}

// level is the level of the pyramid on which a module is closest to two pixels.
func (p *pyramid) level(module float64) view {
	i, scale := 0, 1.0
	for i < p.n-1 && module > sharpestModule*scale {
		i++
		scale *= 2
	}
	p.build(i)
	return view{&p.levels[i], scale}
}

// sharpestModule is the length of a module, in pixels, above which the next smaller
// level shows as much with less noise.
const sharpestModule = 3.4

// readTags decodes the symbols of the triples, the best first.
func (r *Reader) readTags(clock *clock, stages *Stages) {
	for i := range r.triples {
		t := &r.triples[i]
		if r.found[t.corner].used || r.found[t.right].used || r.found[t.down].used {
			continue
		}
		if clock.expired() {
			return
		}
		c, a, b := &r.found[t.corner], &r.found[t.right], &r.found[t.down]
		g := gridOf(c.at, a.at, b.at)
		if r.readTag(g, c.inverse, clock, stages) {
			c.used, a.used, b.used = true, true, true
		}
	}
}

// readTag fits a grid, decodes or recognises the symbol under it, and reports whether
// a tag was added to the codes.
func (r *Reader) readTag(g grid, inverse bool, clock *clock, stages *Stages) bool {
	clock.start()
	v := r.pyramid.level(g.module())
	ok := r.fitTag(&g, v, inverse)
	clock.stop(&stages.Fit)
	if !ok {
		return false
	}
	clock.start()
	d, mask := r.decodeTag()
	clock.stop(&stages.Decode)
	if d.ok {
		margin := (d.agreement - leastAgreement) / (1 - leastAgreement)
		r.accept(&g, v, symbol{bits: d.bits, mask: mask, inverse: inverse}, Code{Text: string(d.text[:]), How: Read, Margin: margin, Mended: d.wrong})
		return true
	}
	clock.start()
	l, ok := r.recognise(mask)
	clock.stop(&stages.Recognise)
	if !ok {
		return false
	}
	bits := r.issued.words[l.tag].bits()
	r.accept(&g, v, symbol{bits: bits, mask: mask, inverse: inverse}, Code{Text: r.issued.tags[l.tag], How: Recognised, Margin: l.deviations/r.issued.least - 1})
	return true
}

// recognise compares the symbol, under its most likely mask, with the issued tags.
func (r *Reader) recognise(mask int) (likeness, bool) {
	if r.issued.Len() == 0 || mask < 0 {
		return likeness{}, false
	}
	r.loadMask(mask)
	return r.decoder.recognise(r.issued)
}

// fitTag fits the grid to the function patterns, then to all modules by their likely
// colours, and leaves the soft values of the modules in r.soft. It reports whether the
// symbol matches.
func (r *Reader) fitTag(g *grid, v view, inverse bool) bool {
	signed := func(f fit) float64 {
		if inverse {
			return -f.match
		}
		return f.match
	}
	f := g.refine(v, r.samples.fixed, effort{6, 0.7 * leastMatch, settledStep})
	if !g.plausible() || signed(f) < 0.8*leastMatch {
		return false
	}
	readSoft(g, v, &f, &r.soft)
	r.sampleGuess(&r.soft)
	g.refine(v, r.samples.all[:], effort{steps: 3, tolerance: settledStep})
	if !g.plausible() {
		return false
	}
	f = g.gather(v, r.samples.fixed, nil)
	if signed(f) < leastMatch {
		return false
	}
	readSoft(g, v, &f, &r.soft)
	return true
}

// sampleGuess sets r.samples.all to all modules: the function patterns by their known
// colours, the others by the colours they appear to have.
func (r *Reader) sampleGuess(s *soft) {
	all := append(r.samples.all[:0], r.samples.fixed...)
	add := func(c cell) {
		v := math.Max(-1, math.Min(1, s.of(c)))
		x := sampleAt(c, v > 0, 0.7*math.Abs(v))
		all = append(all, x)
	}
	for _, c := range r.tables.data {
		add(c)
	}
	for _, places := range r.tables.places {
		for _, c := range places {
			add(c)
		}
	}
}

// decodeTag decodes the soft modules under the most likely masks. It also returns the
// most likely mask, or -1 if the format information matches none.
func (r *Reader) decodeTag() (decoded, int) {
	sharpen(&r.soft, &r.sharp, r.tables.fixed)
	order, match := r.tables.bestMasks(&r.sharp)
	if match[order[0]] < leastFormat {
		return decoded{}, -1
	}
	var best decoded
	mask := order[0]
	for _, m := range order[:maskTries] {
		if match[m] < leastFormat || match[m] < match[order[0]]-0.2 {
			break
		}
		r.loadMask(m)
		d := r.decoder.decode(&r.tables.code)
		if d.ok && d.deviations > max(best.deviations, leastDeviations) {
			best, mask = d, m
		}
		if best.deviations > sureDeviations {
			break
		}
	}
	return best, mask
}

// loadMask loads the modules into the decoder, deblurred again with the format
// information of the mask as further known modules.
func (r *Reader) loadMask(mask int) {
	r.samples.known = append(r.samples.known[:0], r.tables.fixed...)
	for _, places := range r.tables.places {
		for j, c := range places {
			r.samples.known = append(r.samples.known, knownCell{c, r.tables.format[mask][j]})
		}
	}
	sharpen(&r.soft, &r.sharp, r.samples.known)
	r.decoder.load(r.tables, &r.sharp, mask)
}

// detection is a tag in the picture: what is printed and where.
type detection struct {
	symbol symbol
	grid   grid
}

// accept fits the grid to the whole symbol, all modules of which are known now, and
// adds the code.
func (r *Reader) accept(g *grid, v view, s symbol, code Code) {
	r.sampleSymbol(&s.bits, s.mask)
	final := *g
	if f := final.refine(v, r.samples.all[:], effort{steps: 3, tolerance: settledStep}); final.plausible() && s.signed(f) > leastMatch {
		*g = final
		readSoft(g, v, &f, &r.soft)
		s.blur = r.findBlur()
		r.blurSamples(s.blur)
		if f = final.refine(v, r.samples.all[:], effort{steps: 3, tolerance: settledStep}); final.plausible() && s.signed(f) > leastMatch {
			*g = final
		}
		for range occlusionPasses {
			if f.match > cleanMatch || !final.plausible() || !r.adaptToOcclusion(&final, v, &f) {
				break
			}
			if f = final.refine(v, r.samples.all[:], effort{steps: 4, tolerance: settledStep}); final.plausible() && s.signed(f) > leastMatch {
				*g = final
			}
		}
	}
	code.Tag, code.Corners = true, g.corners()
	code.Margin = math.Max(0, math.Min(1, code.Margin))
	r.codes = append(r.codes, code)
	r.detections = append(r.detections, detection{s, *g})
}

// findBlur estimates the blur: the weights of a module and its neighbours, in the order
// of around, with which the known symbol is most like what was read.
func (r *Reader) findBlur() [4]float64 {
	r.layOut()
	var a [4][5]float64
	for i := range r.samples.all {
		s := &r.samples.all[i]
		x := r.sharp.around(int(s.row)+1, int(s.col)+1)
		for j := range 4 {
			for k := range 4 {
				a[j][k] += x[j] * x[k]
			}
			a[j][4] += x[j] * r.soft[s.row+1][s.col+1]
		}
	}
	w, ok := solve4(&a)
	if !ok {
		return [4]float64{1, 0, 0, 0}
	}
	return w
}

// layOut writes the expected values of the samples into r.sharp by row and column.
func (r *Reader) layOut() {
	for i := range r.samples.all {
		s := &r.samples.all[i]
		r.sharp[s.row+1][s.col+1] = s.want
	}
}

// blurSamples blurs the expected values as the symbol is blurred in the picture: a
// sharp pattern would be fitted slightly too small to a blurred one, whose outer edge
// is paler.
func (r *Reader) blurSamples(w [4]float64) {
	r.layOut()
	for i := range r.samples.all {
		s := &r.samples.all[i]
		x := r.sharp.around(int(s.row)+1, int(s.col)+1)
		s.want = w[0]*x[0] + w[1]*x[1] + w[2]*x[2] + w[3]*x[3]
	}
}

// sampleSymbol sets r.samples.all to all modules of a symbol that is known.
func (r *Reader) sampleSymbol(bits *bits208, mask int) {
	all := append(r.samples.all[:0], r.samples.fixed...)
	for i, c := range r.tables.data {
		all = append(all, sampleAt(c, bits.has(i) != r.tables.masks[mask].has(i), 1))
	}
	for _, places := range r.tables.places {
		for i, c := range places {
			all = append(all, sampleAt(c, r.tables.format[mask][i], 1))
		}
	}
}
