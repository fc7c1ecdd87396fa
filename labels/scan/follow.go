package scan

import (
	"context"
	"image"
	"time"
)

// Follower reads the successive pictures of a camera. Tags that it has read are
// tracked from picture to picture by matching their whole pattern where they should
// be now, which takes a fraction of the time of reading them. The whole picture is
// scanned for new tags every few pictures, and when a tag was lost. A tag is tracked
// only while the modules that encode its text match, so a label that replaces another
// in the same place is never mistaken for it. Like a Reader, a Follower must not be
// used by several goroutines at once.
type Follower struct {
	reader    *Reader
	known     []followed
	recheck   []followed // known tags that were only recognised: a full scan tries to read them
	motion    motion     // from the last picture to this one
	sinceScan int        // pictures since the last full scan
	scans     int        // full scans since codes that are not tags were looked for
	others    []Code     // codes that are not tags, moved along with the tags
	all       [maxSamples]sample
	half      [(maxSamples + 1) / 2]sample // every other one of all, like the dark fields of a chessboard
}

// followed is a tag that is tracked.
type followed struct {
	symbol    symbol
	code      Code
	grid      grid
	want      [maxSamples]float64 // the expected value of each module, blurred as in the picture
	size      float64             // pixels a module when want was computed
	dataMatch float64             // correlation of the data modules when want was computed
}

// symbol is a printed tag: its codewords and mask, whether it is light on dark, and
// how blurred it appears, as the weights that findBlur returns.
type symbol struct {
	bits    bits208
	mask    int
	inverse bool
	blur    [4]float64
}

// NewFollower returns a Follower that tracks no tag yet.
func NewFollower() *Follower {
	f := &Follower{reader: New()}
	f.reader.sampleSymbol(&bits208{}, 0)
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

// FollowBudget is the time limit for a picture of a Follower when Options gives none.
// What is not found in time is found in one of the next pictures.
const FollowBudget = time.Second / 5

// Limits of tracking.
const (
	fullScanEvery   = 4    // pictures
	othersEvery     = 4    // full scans
	keptMatch       = 0.55 // least correlation of the whole pattern; a shift of one module is below 0.3
	unsettledMatch  = 0.97 // least correlation of a fit that did not converge
	keptDataMatch   = 0.5  // least correlation of the data modules; those of another tag stay below 0.4
	keptDataShare   = 0.7  // least part of the dataMatch that the tag was read with
	freshGrowth     = 1.05 // change of the module size at which the appearance is learned anew
	mostGrowth      = 1.25 // largest change of the module size from one picture to the next
	searchSteps     = 4    // search steps to each side
	searchReach     = 3.0  // search distance to each side, modules
	sceneChangeTags = 3    // after so many lost tags and none found, the camera shows another scene
)

// Read reads the next picture. It returns what Reader.Read would, in less time.
// Codes that are not tags are looked for in some of the full scans only, and are moved
// along with the tags in between. Each full scan tries again to read the tags that
// were only recognised.
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
	f.sinceScan++
	due := f.sinceScan >= fullScanEvery || len(f.known) == 0
	clock.start()
	lost := f.keep(clock, due)
	clock.stop(&report.Stages.Fit)
	if due || lost {
		f.sinceScan = 0
		f.scanWhole(clock, options, &report)
	} else {
		f.moveOthers()
	}
	return r.finish(clock, picture, options, report)
}

// scanWhole scans the whole picture for tags that are not tracked yet, and every
// othersEvery scans for codes that are not tags.
func (f *Follower) scanWhole(clock *clock, options Options, report *Report) {
	r := f.reader
	kept := len(r.detections)
	if len(f.known) == 0 {
		f.scans = othersEvery
	}
	r.lookForTags(clock, report)
	f.learn(kept)
	f.scans++
	if options.TagsOnly {
		f.others = f.others[:0]
		return
	}
	if f.scans < othersEvery {
		f.moveOthers()
		return
	}
	f.scans = 0
	tags := len(r.codes)
	r.lookForOthers(clock, report)
	f.others = append(f.others[:0], r.codes[tags:]...)
}

// moveOthers reports the codes that are not tags, moved as the tags have moved.
func (f *Follower) moveOthers() {
	for i := range f.others {
		for j := range f.others[i].Corners {
			f.others[i].Corners[j] = f.motion.of(f.others[i].Corners[j])
		}
	}
	f.reader.codes = append(f.reader.codes, f.others...)
}

// keep locates the known tags in the new picture, adds them to the reader's codes, and
// reports whether one was lost. When a full scan follows (due), tags that were only
// recognised are put into f.recheck instead, so that the scan tries to read them.
func (f *Follower) keep(clock *clock, due bool) (lost bool) {
	before := f.motion
	f.motion = motion{}
	f.recheck = f.recheck[:0]
	kept, missed := 0, 0
	for i := range f.known {
		k := &f.known[i]
		switch {
		case clock.expired():
			// Not searched for: not reported, and not dropped.
		case missed >= sceneChangeTags && f.motion.n == 0, !f.locate(k, &before):
			missed++
			continue
		case due && k.code.How == Recognised:
			f.recheck = append(f.recheck, *k)
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

// report adds a known tag to the reader's codes.
func (f *Follower) report(k *followed) {
	f.reader.codes = append(f.reader.codes, k.code)
	f.reader.detections = append(f.reader.detections, detection{k.symbol, k.grid})
}

// learn starts tracking the tags that the full scan has added to the reader's codes
// from index first on, and goes on tracking the rechecked tags that it did not read.
func (f *Follower) learn(first int) {
	r := f.reader
	for i := first; i < len(r.detections); i++ {
		s := &r.detections[i]
		f.known = append(f.known, followed{symbol: s.symbol, code: r.codes[i], grid: s.grid})
		f.learnAppearance(&f.known[len(f.known)-1])
	}
	for i := range f.recheck {
		if k := &f.recheck[i]; !r.covered(Point{k.grid[2], k.grid[5]}) {
			f.known = append(f.known, *k)
			f.report(k)
		}
	}
}
