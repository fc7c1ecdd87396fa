package scan

import (
	"cmp"
	"context"
	"fmt"
	"image"
	"math"
	"slices"
	"time"
)

// MaxPixels is the largest picture that is read, in pixels: a phone's
// photograph of 24 million fits.
const MaxPixels = 25_000_000

// Reader reads the codes in pictures. It reuses its buffers, so a Reader must not be
// used by several goroutines at once; several Readers may run concurrently.
type Reader struct {
	tables     *tables
	pyramid    pyramid
	line       []float32
	crossLine  [2*maxReach + 1]float32
	runs       runs
	cross      runs
	busy       busy
	swing      float32 // least change of brightness that counts as signal, not noise, on the current level
	found      []finder
	near       []int
	triples    []triple
	guesses    []hypothesis
	shapes     []shapeGuess
	samples    *tagSamples
	soft       soft
	sharp      soft
	decoder    decoder
	issued     *Issued
	codes      []Code
	tried      []Point     // where readNeighbours has searched already
	detections []detection // one for each tag in codes, in the same order; tags come first
}

// New returns a Reader. Its buffers are allocated by its first picture.
func New() *Reader {
	t := theTables()
	return &Reader{tables: t, samples: newTagSamples(t), shapes: newShapes()}
}

// Read finds the codes in a picture. A picture without codes gives an empty
// Report and no error. When ctx ends, what was found by then is returned with
// the context's error; when the budget ends, it is returned as Partial.
func (r *Reader) Read(ctx context.Context, picture image.Image, options Options) (Report, error) {
	var report Report
	clock, err := r.begin(ctx, picture, options, &report)
	if err != nil {
		return report, err
	}
	r.lookForTags(clock, &report)
	if !options.TagsOnly {
		r.lookForOthers(clock, &report)
	}
	return r.finish(clock, picture, options, report)
}

// begin converts the picture to grey levels and starts the clock.
func (r *Reader) begin(ctx context.Context, picture image.Image, options Options, report *Report) (*clock, error) {
	if err := checkSize(picture); err != nil {
		return nil, err
	}
	budget := options.Budget
	if budget <= 0 {
		budget = DefaultBudget
	}
	clock := newClock(ctx, budget)
	r.codes, r.detections, r.issued = r.codes[:0], r.detections[:0], options.Issued
	clock.start()
	r.pyramid.fill(picture)
	clock.stop(&report.Stages.Grey)
	return clock, nil
}

// lookForTags finds and reads the tags that are not in r.codes yet.
func (r *Reader) lookForTags(clock *clock, report *Report) {
	if p := &r.pyramid.levels[0]; min(p.w, p.h) < minSide {
		return
	}
	clock.start()
	r.pyramid.build(r.pyramid.n - 1)
	clock.stop(&report.Stages.Grey)
	clock.start()
	r.findFinders(clock)
	r.group(clock)
	clock.stop(&report.Stages.Find)
	r.readTags(clock, &report.Stages)
	r.readPartial(clock, &report.Stages)
	r.readNeighbours(clock, &report.Stages)
}

// lookForOthers reads the codes that are not our tags, for at most two fifths of the
// budget. It overwrites the grey levels of the picture.
func (r *Reader) lookForOthers(clock *clock, report *Report) {
	clock.start()
	// A picture full of what looks like other codes must not use the whole budget.
	others := *clock
	if end := time.Now().Add(clock.budget * 2 / 5); end.Before(others.end) {
		others.end = end
	}
	r.readForeign(&others)
	clock.timedOut = clock.timedOut || others.timedOut
	clock.stop(&report.Stages.Foreign)
}

// finish fills in the report.
func (r *Reader) finish(clock *clock, picture image.Image, options Options, report Report) (Report, error) {
	report.Partial = clock.timedOut
	report.Codes = r.collect(picture.Bounds().Min, options.TagsOnly)
	if err := clock.ctx.Err(); err != nil {
		report.Partial = true
		return report, fmt.Errorf("reading codes: %w", err)
	}
	return report, nil
}

// checkSize rejects empty pictures and those over MaxPixels.
func checkSize(picture image.Image) error {
	if picture == nil {
		return fmt.Errorf("reading codes: no picture given")
	}
	size := picture.Bounds().Size()
	if size.X <= 0 || size.Y <= 0 {
		return fmt.Errorf("reading codes: the picture is empty (%d x %d pixels)", size.X, size.Y)
	}
	if size.X > MaxPixels/size.Y {
		return fmt.Errorf("reading codes: the picture of %d x %d pixels is over the limit of %d million; make it smaller",
			size.X, size.Y, MaxPixels/1_000_000)
	}
	return nil
}

// collect returns copies of the codes in reading order, without duplicates, with
// their corners in the picture's own coordinates.
func (r *Reader) collect(origin image.Point, tagsOnly bool) []Code {
	var codes []Code
	for _, code := range r.codes {
		if tagsOnly && !code.Tag {
			continue
		}
		if slices.ContainsFunc(codes, func(c Code) bool { return sameSymbol(c, code) }) {
			continue
		}
		codes = append(codes, code)
	}
	for i := range codes {
		for j := range codes[i].Corners {
			codes[i].Corners[j].X += float64(origin.X)
			codes[i].Corners[j].Y += float64(origin.Y)
		}
	}
	inReadingOrder(codes)
	return codes
}

// inReadingOrder sorts codes row by row, and from left to right in a row: codes are in one
// row whose middles differ by less than half a code in height, since a grid is fitted to
// less than a pixel only by chance.
func inReadingOrder(codes []Code) {
	slices.SortStableFunc(codes, func(a, b Code) int {
		p, q := a.middle(), b.middle()
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	for first := 0; first < len(codes); {
		half := math.Abs(codes[first].Corners[3].Y-codes[first].Corners[0].Y) / 2
		end := first + 1
		for end < len(codes) && codes[end].middle().Y-codes[first].middle().Y < half {
			end++
		}
		slices.SortStableFunc(codes[first:end], func(a, b Code) int { return cmp.Compare(a.middle().X, b.middle().X) })
		first = end
	}
}

// middle is the mean of the corners.
func (c Code) middle() Point {
	var m Point
	for _, p := range c.Corners {
		m.X += p.X / 4
		m.Y += p.Y / 4
	}
	return m
}

// sameSymbol reports whether two codes are the same symbol: the same text, with the
// middle of one well inside the other.
func sameSymbol(a, b Code) bool {
	if a.Text != b.Text {
		return false
	}
	p, q := a.middle(), b.middle()
	dx, dy := p.X-q.X, p.Y-q.Y
	w, h := a.Corners[2].X-a.Corners[0].X, a.Corners[2].Y-a.Corners[0].Y
	return dx*dx+dy*dy <= (w*w+h*h)/16
}

// clock measures the stages of one reading and enforces its time limit.
type clock struct {
	ctx      context.Context
	budget   time.Duration
	end      time.Time
	begun    time.Time
	timedOut bool
}

func newClock(ctx context.Context, budget time.Duration) *clock {
	return &clock{ctx: ctx, budget: budget, end: time.Now().Add(budget)}
}

func (c *clock) start() { c.begun = time.Now() }

func (c *clock) stop(stage *time.Duration) { *stage += time.Since(c.begun) }

// expired reports whether the work must end now, and remembers that it was cut short.
func (c *clock) expired() bool {
	if !c.timedOut && (c.ctx.Err() != nil || time.Now().After(c.end)) {
		c.timedOut = true
	}
	return c.timedOut
}
