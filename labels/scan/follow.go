package scan

import (
	"context"
	"image"
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
	lookEvery     = 4    // pictures
	othersEvery   = 4    // looks
	keptMatch     = 0.55 // of the whole pattern; one module aside it is below 0.3
	restlessMatch = 0.97 // of a grid that did not come to rest
	keptSense     = 0.5  // of the modules of the text; those of another tag stay below 0.4
	keptPart      = 0.7  // of the sense that the tag was read with
	freshGrowth   = 1.05 // of a module since the tag was studied
	mostGrowth    = 1.25 // of a module from one picture to the next
	searchSteps   = 4    // to each side
	searchReach   = 3.0  // modules a step is a quarter of
	hopelessTags  = 3    // lost before any is found: the picture is another one
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
		case missed >= hopelessTags && f.motion.n == 0, !f.find(k, &before):
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
