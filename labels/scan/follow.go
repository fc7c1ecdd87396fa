package scan

import (
	"context"
	"image"
	"time"
)

// Follower reads the pictures of a camera one after another. Tags that it knows
// are kept from picture to picture by looking for their whole pattern where they
// should be now, which takes a fraction of reading them; the rest of the picture
// is looked through for new ones every few pictures, or when one was lost. Like
// a Reader it serves one goroutine.
type Follower struct {
	reader *Reader
	known  []followed
	moved  Point  // by how much the last picture moved against the one before, pixels
	since  int    // pictures since the whole was looked through
	others []Code // that are not tags, as they were then
}

// followed is a tag that is kept.
type followed struct {
	symbol symbol
	code   Code
	grid   grid
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
func NewFollower() *Follower { return &Follower{reader: New()} }

// FollowBudget is the time that a Follower takes for a picture at most, when Options
// names none: what was not found in one picture is found in the next.
const FollowBudget = time.Second / 5

// Limits of following.
const (
	lookEvery   = 4    // pictures
	keptMatch   = 0.55 // of the whole pattern; one module aside it is below 0.3
	mostGrowth  = 1.25 // of a module from one picture to the next
	searchSteps = 4    // to each side
	searchReach = 3.0  // modules a step is a quarter of
)

// Read reads the next picture. It returns what Reader.Read would, found sooner.
// Codes that are not tags are looked for only when the whole picture is, and move
// with the tags until then. Tags that were only recognised are tried anew then.
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
		r.look(clock, options, &report)
		f.learn()
	} else {
		f.moveOthers()
	}
	return r.finish(clock, picture, options, report)
}

// moveOthers reports the codes that are not tags as moved as the tags have.
func (f *Follower) moveOthers() {
	for i := range f.others {
		for j := range f.others[i].Corners {
			f.others[i].Corners[j].X += f.moved.X
			f.others[i].Corners[j].Y += f.moved.Y
		}
	}
	f.reader.codes = append(f.reader.codes, f.others...)
}

// keep finds the known tags again, puts them into the reader's codes, and says
// whether one was lost. When the whole picture will be looked through anyway,
// tags that were only recognised are left to that.
func (f *Follower) keep(clock *clock, due bool) (lost bool) {
	still := f.known[:0]
	moved, n := Point{}, 0.0
	for i := range f.known {
		k := f.known[i]
		if due && k.code.How == Recognised {
			continue
		}
		if clock.over() || !f.find(&k) {
			lost = true
			continue
		}
		old := f.known[i].grid
		dx, dy := k.grid[2]-old[2], k.grid[5]-old[5]
		moved, n = Point{moved.X + dx, moved.Y + dy}, n+1
		// What is found later begins where the picture as a whole has gone.
		f.moved = Point{moved.X / n, moved.Y / n}
		still = append(still, k)
		f.reader.codes = append(f.reader.codes, k.code)
		f.reader.signs = append(f.reader.signs, sign{k.symbol, k.grid})
	}
	f.known = still
	return lost
}

// find looks for a tag where it was, moved as the picture moved, and around.
func (f *Follower) find(k *followed) bool {
	r := f.reader
	r.know(&k.symbol.bits, k.symbol.mask)
	if k.symbol.blur[0] != 0 {
		r.blurSamples(k.symbol.blur)
	}
	module := k.grid.module()
	near := k.grid
	near[2], near[5] = near[2]+f.moved.X, near[5]+f.moved.Y
	if f.settle(k, near) || f.settle(k, k.grid) {
		return true
	}
	// A jump: the best of a few steps around, on the fixed patterns first.
	best, at := 0.0, near
	step := searchReach / searchSteps * module
	for y := -searchSteps; y <= searchSteps; y++ {
		for x := -searchSteps; x <= searchSteps; x++ {
			g := near
			g[2], g[5] = g[2]+float64(x)*step, g[5]+float64(y)*step
			v := r.pyramid.level(module)
			if m := k.symbol.signed(g.gather(v, r.samples.all[:coarseSamples], nil)); m > best {
				best, at = m, g
			}
		}
	}
	return best > keptMatch/2 && f.settle(k, at)
}

// coarseSamples is how many of the samples a search looks at: the three finders,
// which come first.
const coarseSamples = 3 * 64

// settle fits the tag from a first guess and takes it if the whole pattern is
// there.
func (f *Follower) settle(k *followed, g grid) bool {
	r := f.reader
	v := r.pyramid.level(g.module())
	fitted := g.refine(v, r.samples.all[:], 6, 0.3)
	growth := g.module() / k.grid.module()
	if !g.sane() || k.symbol.signed(fitted) < keptMatch || growth > mostGrowth || growth < 1/mostGrowth {
		return false
	}
	k.grid, k.code.Corners = g, g.corners()
	return true
}

// signed is a match that is positive if dark and light are the right way round.
func (s *symbol) signed(f fit) float64 {
	if s.inverse {
		return -f.match
	}
	return f.match
}

// learn takes over the tags that the reader has found.
func (f *Follower) learn() {
	f.known = f.known[:0]
	for i, s := range f.reader.signs {
		f.known = append(f.known, followed{symbol: s.symbol, code: f.reader.codes[i], grid: s.grid})
	}
	f.others = append(f.others[:0], f.reader.codes[len(f.reader.signs):]...)
}
