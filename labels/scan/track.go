package scan

import "math"

// learnAppearance computes what the modules of a tag look like in this picture.
func (f *Follower) learnAppearance(k *followed) {
	r := f.reader
	r.sampleSymbol(&k.symbol.bits, k.symbol.mask)
	if k.symbol.blur[0] != 0 {
		r.blurSamples(k.symbol.blur)
	}
	for j := range k.want {
		k.want[j] = r.samples.all[j].want
	}
	k.size = k.grid.module()
	v := r.pyramid.level(k.size)
	f.load(&k.want)
	k.dataMatch = f.dataMatch(&k.grid, v, k.grid.gather(v, f.all[:], nil))
}

// relearn learns the appearance of a tag anew when its size has changed: its blur,
// which is a length on the sensor, has become another part of a module.
func (f *Follower) relearn(k *followed) {
	size := k.grid.module()
	if size < freshGrowth*k.size && k.size < freshGrowth*size {
		return
	}
	r := f.reader
	v := r.pyramid.level(size)
	fitted := k.grid.gather(v, f.all[:], nil)
	readSoft(&k.grid, v, &fitted, &r.soft)
	r.sampleSymbol(&k.symbol.bits, k.symbol.mask)
	k.symbol.blur = r.findBlur()
	f.learnAppearance(k)
}

// locate searches for a tag where the motion of the picture predicts it, where it was,
// and around there, and reports whether it was found.
func (f *Follower) locate(k *followed, before *motion) bool {
	f.load(&k.want)
	old := Point{k.grid[2], k.grid[5]}
	near := f.motion.grid(&k.grid)
	if f.motion.n == 0 {
		near = before.grid(&k.grid)
	}
	if !f.fitTag(k, near) && !f.fitTag(k, k.grid) && !f.fitTag(k, f.search(k, near)) {
		return false
	}
	f.motion.add(old, Point{k.grid[2], k.grid[5]})
	f.relearn(k)
	return true
}

// load sets the expected values of the samples to those of one tag.
func (f *Follower) load(want *[maxSamples]float64) {
	n := 0
	for i := range f.all {
		s := &f.all[i]
		s.want = want[i]
		if (s.row+s.col)&1 == 0 {
			f.half[n].want = s.want
			n++
		}
	}
}

// search returns the best of the positions around a grid, by the finder patterns alone.
func (f *Follower) search(k *followed, near grid) grid {
	module := near.module()
	v := f.reader.pyramid.level(module)
	best, at := 0.0, near
	step := searchReach / searchSteps * module
	for y := -searchSteps; y <= searchSteps; y++ {
		for x := -searchSteps; x <= searchSteps; x++ {
			g := near
			g[2], g[5] = g[2]+float64(x)*step, g[5]+float64(y)*step
			if m := k.symbol.signed(g.gather(v, f.half[:coarseSamples], nil)); m > best {
				best, at = m, g
			}
		}
	}
	return at
}

// coarseSamples is how many of half the samples a search looks at: those of the
// three finders, which come first.
const coarseSamples = 3 * 64 / 2

// fitTag refines a first guess, coarsely by half of the modules and then by all of
// them, and reports whether the result matches the whole pattern of the tag.
func (f *Follower) fitTag(k *followed, g grid) bool {
	v := f.reader.pyramid.level(g.module())
	g.refine(v, f.half[:], effort{6, 0.3, 4 * settledStep})
	if !g.plausible() {
		return false
	}
	fitted := g.refine(v, f.all[:], effort{steps: 8, tolerance: settledStep})
	growth := g.module() / k.grid.module()
	match := k.symbol.signed(fitted)
	if !g.plausible() || match < keptMatch || growth > mostGrowth || growth < 1/mostGrowth {
		return false
	}
	// With edges as sharp as a drawing's the fit may oscillate although it is right.
	if !fitted.converged && match < unsettledMatch {
		return false
	}
	if f.dataMatch(&g, v, fitted) < max(keptDataMatch, keptDataShare*k.dataMatch) {
		return false
	}
	k.grid, k.code.Corners = g, g.corners()
	return true
}

// dataMatch is the correlation of the data modules with their expected values. All
// other modules are the same on every tag.
func (f *Follower) dataMatch(g *grid, v view, fitted fit) float64 {
	text := f.all[len(f.reader.samples.fixed):][:symbolBits]
	var st, sy, stt, sty, syy float64
	for i := range text {
		s := &text[i]
		x, y, _ := g.near(s.u, s.v)
		value := (fitted.light[0] + fitted.light[1]*s.u + fitted.light[2]*s.v - v.at(x/v.scale, y/v.scale)) / fitted.depth
		st, sy, stt, sty, syy = st+s.want, sy+value, stt+s.want*s.want, sty+s.want*value, syy+value*value
	}
	const n = symbolBits
	vt, vy := stt-st*st/n, syy-sy*sy/n
	if vt < 1e-9 || vy < 1e-9 {
		return 0
	}
	return (sty - st*sy/n) / math.Sqrt(vt*vy)
}

// signed is the match of a fit, positive if dark and light are as printed.
func (s *symbol) signed(f fit) float64 {
	if s.inverse {
		return -f.match
	}
	return f.match
}
