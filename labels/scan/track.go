package scan

import "math"

// study notes what a tag looks like in this picture.
func (f *Follower) study(k *followed) {
	r := f.reader
	r.know(&k.symbol.bits, k.symbol.mask)
	if k.symbol.blur[0] != 0 {
		r.blurSamples(k.symbol.blur)
	}
	for j := range k.want {
		k.want[j] = r.samples.all[j].want
	}
	k.size = k.grid.module()
	v := r.pyramid.level(k.size)
	f.load(&k.want)
	k.sense = f.sense(&k.grid, v, k.grid.gather(v, f.all[:], nil))
}

// refresh studies a tag anew that has become larger or smaller: its blur, which is
// a length on the camera's sensor, is another part of a module now.
func (f *Follower) refresh(k *followed) {
	size := k.grid.module()
	if size < freshGrowth*k.size && k.size < freshGrowth*size {
		return
	}
	r := f.reader
	v := r.pyramid.level(size)
	fitted := k.grid.gather(v, f.all[:], nil)
	readSoft(&k.grid, v, &fitted, &r.soft)
	r.know(&k.symbol.bits, k.symbol.mask)
	k.symbol.blur = r.findBlur()
	f.study(k)
}

// find looks for a tag where it was, moved as the picture moved, and around.
func (f *Follower) find(k *followed, before *motion) bool {
	f.load(&k.want)
	old := Point{k.grid[2], k.grid[5]}
	near := f.motion.grid(&k.grid)
	if f.motion.n == 0 {
		near = before.grid(&k.grid)
	}
	if !f.settle(k, near) && !f.settle(k, k.grid) && !f.settle(k, f.search(k, near)) {
		return false
	}
	f.motion.add(old, Point{k.grid[2], k.grid[5]})
	f.refresh(k)
	return true
}

// load makes the samples those of one tag.
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

// search is the best of a few steps around a place, by the finders alone.
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

// settle fits the tag from a first guess and takes it if the whole pattern is
// there: the way to it by half the modules, the place itself by all.
func (f *Follower) settle(k *followed, g grid) bool {
	v := f.reader.pyramid.level(g.module())
	g.refine(v, f.half[:], effort{6, 0.3, 4 * settled})
	if !g.sane() {
		return false
	}
	fitted := g.refine(v, f.all[:], effort{steps: 8, still: settled})
	growth := g.module() / k.grid.module()
	match := k.symbol.signed(fitted)
	if !g.sane() || match < keptMatch || growth > mostGrowth || growth < 1/mostGrowth {
		return false
	}
	// Edges as sharp as a drawing's leave the grid restless, though it is right.
	if !fitted.still && match < restlessMatch {
		return false
	}
	if f.sense(&g, v, fitted) < max(keptSense, keptPart*k.sense) {
		return false
	}
	k.grid, k.code.Corners = g, g.corners()
	return true
}

// sense is the correlation of the modules that hold the text with what they
// should be. The others are the same on every tag.
func (f *Follower) sense(g *grid, v view, fitted fit) float64 {
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

// signed is a match that is positive if dark and light are the right way round.
func (s *symbol) signed(f fit) float64 {
	if s.inverse {
		return -f.match
	}
	return f.match
}
