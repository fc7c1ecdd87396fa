package scan

import (
	"context"
	"image"
	"math"
	"time"
)

// Follower reads the pictures of a camera one after another. Tags that it knows
// are kept from picture to picture by looking for their whole pattern where they
// should be now, which takes a fraction of reading them; the rest of the picture
// is looked through for new ones every few pictures, or when one was lost. A tag
// is kept only while the modules that hold its text are there, so a label put in
// the place of another is never taken for it. Like a Reader it serves one
// goroutine.
type Follower struct {
	reader *Reader
	known  []followed
	again  []followed // known, but only recognised: read anew when the whole is looked through
	motion motion     // from the last picture to this one
	since  int        // pictures since the whole was looked through
	looks  int        // since codes that are not tags were looked for
	others []Code     // that are not tags, as they were then
	all    [maxSamples]sample
	half   [(maxSamples + 1) / 2]sample // every other one of all, like the dark fields of a chessboard
}

// followed is a tag that is kept.
type followed struct {
	symbol symbol
	code   Code
	grid   grid
	want   [maxSamples]float64 // what its modules are like, as blurred as it appears
	size   float64             // of a module then, pixels
	sense  float64             // how well those that hold its text matched when it was read
}

// symbol is what is printed: its codewords and mask, whether it is light on dark,
// and how blurred it appears, as the weights of findBlur.
type symbol struct {
	bits    bits208
	mask    int
	inverse bool
	blur    [4]float64
}

// NewFollower returns a Follower that knows nothing yet.
func NewFollower() *Follower {
	f := &Follower{reader: New()}
	f.reader.know(&bits208{}, 0)
	copy(f.all[:], f.reader.samples.all[:])
	n := 0
	for _, s := range f.all {
		if (s.row+s.col)&1 == 0 {
			f.half[n] = s
			n++
		}
	}
	return f
}

// FollowBudget is the time that a Follower takes for a picture at most, when Options
// names none: what was not found in one picture is found in the next.
const FollowBudget = time.Second / 5

// Limits of following.
const (
	lookEvery    = 4    // pictures
	othersEvery  = 4    // looks
	keptMatch    = 0.55 // of the whole pattern; one module aside it is below 0.3
	keptSense    = 0.5  // of the modules of the text; those of another tag stay below 0.4
	keptPart     = 0.7  // of the sense that the tag was read with
	freshGrowth  = 1.05 // of a module since the tag was studied
	mostGrowth   = 1.25 // of a module from one picture to the next
	searchSteps  = 4    // to each side
	searchReach  = 3.0  // modules a step is a quarter of
	hopelessTags = 3    // lost before any is found: the picture is another one
)

// Read reads the next picture. It returns what Reader.Read would, found sooner.
// Codes that are not tags are looked for only now and then, and move with the tags
// until then. Tags that were only recognised are tried anew when the whole picture
// is looked through.
func (f *Follower) Read(ctx context.Context, picture image.Image, options Options) (Report, error) {
	var report Report
	r := f.reader
	if options.Budget <= 0 {
		options.Budget = FollowBudget
	}
	clock, err := r.begin(ctx, picture, options, &report)
	if err != nil {
		return report, err
	}
	f.since++
	due := f.since >= lookEvery || len(f.known) == 0
	clock.start()
	lost := f.keep(clock, due)
	clock.stop(&report.Stages.Fit)
	if due || lost {
		f.since = 0
		f.look(clock, options, &report)
	} else {
		f.moveOthers()
	}
	return r.finish(clock, picture, options, report)
}

// look looks through the whole picture for tags that are not known yet, and now
// and then for codes of other makers.
func (f *Follower) look(clock *clock, options Options, report *Report) {
	r := f.reader
	kept := len(r.signs)
	if len(f.known) == 0 {
		f.looks = othersEvery
	}
	r.lookForTags(clock, report)
	f.learn(kept)
	f.looks++
	if options.TagsOnly {
		f.others = f.others[:0]
		return
	}
	if f.looks < othersEvery {
		f.moveOthers()
		return
	}
	f.looks = 0
	tags := len(r.codes)
	r.lookForOthers(clock, report)
	f.others = append(f.others[:0], r.codes[tags:]...)
}

// moveOthers reports the codes that are not tags as moved as the tags have.
func (f *Follower) moveOthers() {
	for i := range f.others {
		for j := range f.others[i].Corners {
			f.others[i].Corners[j] = f.motion.of(f.others[i].Corners[j])
		}
	}
	f.reader.codes = append(f.reader.codes, f.others...)
}

// keep finds the known tags again, puts them into the reader's codes, and says
// whether one was lost. When the whole picture will be looked through anyway,
// tags that were only recognised are put aside, to be read if that succeeds.
func (f *Follower) keep(clock *clock, due bool) (lost bool) {
	before := f.motion
	f.motion = motion{}
	f.again = f.again[:0]
	kept, missed := 0, 0
	for i := range f.known {
		k := &f.known[i]
		switch {
		case clock.over():
			// Not looked for: neither reported nor forgotten.
		case missed == hopelessTags && f.motion.n == 0, !f.find(k, &before):
			missed++
			continue
		case due && k.code.How == Recognised:
			f.again = append(f.again, *k)
			continue
		default:
			f.report(k)
		}
		if kept != i {
			f.known[kept] = *k
		}
		kept++
	}
	f.known = f.known[:kept]
	if f.motion.n == 0 {
		f.motion = before
	}
	return missed > 0
}

// report puts a known tag into the reader's codes.
func (f *Follower) report(k *followed) {
	f.reader.codes = append(f.reader.codes, k.code)
	f.reader.signs = append(f.reader.signs, sign{k.symbol, k.grid})
}

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
	if !g.sane() || !fitted.still || k.symbol.signed(fitted) < keptMatch || growth > mostGrowth || growth < 1/mostGrowth {
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

// learn adds the tags that the reader has found after the first ones, which were
// kept, and keeps those put aside that it did not read.
func (f *Follower) learn(first int) {
	r := f.reader
	for i := first; i < len(r.signs); i++ {
		s := &r.signs[i]
		f.known = append(f.known, followed{symbol: s.symbol, code: r.codes[i], grid: s.grid})
		f.study(&f.known[len(f.known)-1])
	}
	for i := range f.again {
		if k := &f.again[i]; !r.covered(Point{k.grid[2], k.grid[5]}) {
			f.known = append(f.known, *k)
			f.report(k)
		}
	}
}
