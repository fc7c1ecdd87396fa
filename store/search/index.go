package search

import (
	"context"
	"fmt"
	"iter"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// Sizes by which an index keeps itself in few segments.
const (
	// tailSize is how many documents the newest segment holds before another
	// is begun: it is made anew by every Put.
	tailSize = 4
	// mergeRatio is how many times larger than all newer ones together a
	// segment must be to be left out of a merge.
	mergeRatio = 4
)

// Index holds documents and answers queries. Any number of goroutines may
// search it and change it; changes wait for each other, searches for nothing.
// The zero value is not ready: use New.
type Index struct {
	run  func(work func())
	pool sync.Pool // of *searcher
	snap atomic.Pointer[snapshot]

	building sync.Mutex // held by Build
	mu       sync.Mutex // held by whatever changes the index
	frozen   int        // so many of the first parts are being merged
	builds   int        // so many times the contents were replaced
	touched  map[string]bool
}

// snapshot is the contents at one moment. It does not change.
type snapshot struct {
	parts []part // the oldest and largest first
	live  int
}

// part is a segment and which of its documents are gone.
type part struct {
	seg  *segment
	dead numbers
	gone int // how many are dead
}

func (p part) live() int { return p.seg.size() - p.gone }

// New returns an empty index. Now and then Put leaves work to run, which may
// start a goroutine for it; nil does it within Put.
func New(run func(work func())) *Index {
	if run == nil {
		run = func(work func()) { work() }
	}
	x := &Index{run: run}
	x.pool.New = func() any { return &searcher{} }
	x.snap.Store(&snapshot{})
	return x
}

// Len is how many documents there are.
func (x *Index) Len() int { return x.snap.Load().live }

// Put adds the document, or replaces the one with its ID. It panics only when
// the document alone is larger than an index can be (2 GB).
func (x *Index) Put(d Doc) {
	x.mu.Lock()
	if x.touched == nil && x.has(&d) {
		x.mu.Unlock()
		return // as most counts leave what is known of an item
	}
	parts := x.without(d.ID)
	if x.touched != nil {
		x.touched[d.ID] = true
	}
	docs := []Doc{d}
	if last := len(parts) - 1; last >= x.frozen && parts[last].seg.size() < tailSize {
		docs = append(parts[last].docs(), d)
		parts = parts[:last]
	}
	seg, err := segmentOf(docs)
	if err != nil {
		x.mu.Unlock()
		panic(err)
	}
	parts = append(parts, part{seg: seg})
	x.store(parts)
	merge := x.planMerge(parts)
	x.mu.Unlock()
	if merge != nil {
		x.run(merge)
	}
}

// Remove takes the document with the ID out, if it is there.
func (x *Index) Remove(id string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.touched != nil {
		x.touched[id] = true
	}
	x.store(x.without(id))
}

// has says whether the document is there just as it is.
func (x *Index) has(d *Doc) bool {
	for _, p := range x.snap.Load().parts {
		if doc, ok := p.seg.ids.find(d.ID); ok && !p.dead.has(doc) {
			return strings.HasPrefix(p.seg.record(doc), string(appendRecord(nil, d)))
		}
	}
	return false
}

// without returns the parts of the index, in memory of their own, with the
// document of the ID dead. Emptied parts that are not being merged are dropped.
func (x *Index) without(id string) []part {
	held := x.snap.Load().parts
	parts := make([]part, len(held), len(held)+1)
	copy(parts, held)
	for i := range parts {
		if parts[i].kill(id) && parts[i].live() == 0 && i >= x.frozen {
			return slices.Delete(parts, i, i+1)
		}
	}
	return parts
}

// kill marks the document of the ID dead, in a copy of the set.
func (p *part) kill(id string) bool {
	doc, ok := p.seg.ids.find(id)
	if !ok || p.dead.has(doc) {
		return false
	}
	if p.dead == nil {
		p.dead = numbers(nil).sized(p.seg.size())
	} else {
		p.dead = slices.Clone(p.dead)
	}
	p.dead.set(doc)
	p.gone++
	return true
}

func (x *Index) store(parts []part) {
	s := &snapshot{parts: parts}
	for _, p := range parts {
		s.live += p.live()
	}
	x.snap.Store(s)
}

// docs are the living documents of a part.
func (p part) docs() []Doc {
	docs := make([]Doc, 0, p.live()+1)
	for doc := range uint32(p.seg.size()) {
		if !p.dead.has(doc) {
			docs = append(docs, Doc{})
			readRecord(p.seg.record(doc), &docs[len(docs)-1])
		}
	}
	return docs
}

func segmentOf(docs []Doc) (*segment, error) {
	b := newBuilder(len(docs))
	for i := range docs {
		if err := b.add(&docs[i]); err != nil {
			return nil, err
		}
	}
	return b.finish(context.Background())
}

// planMerge returns the work of merging the newest parts into one where there
// is reason to, and nil otherwise.
func (x *Index) planMerge(parts []part) func() {
	from := len(parts) - 1
	if x.frozen > 0 || parts[from].seg.size() < tailSize {
		return nil
	}
	newer := parts[from].live()
	for from > 0 && parts[from-1].live() <= mergeRatio*newer {
		from--
		newer += parts[from].live()
	}
	if from == len(parts)-1 {
		return nil
	}
	x.frozen = len(parts)
	builds := x.builds
	return func() { x.merge(parts, from, builds) }
}

// merge makes one of the parts from the given one on and puts it in their place,
// with what was taken out meanwhile. Where the contents were replaced since,
// it does nothing.
func (x *Index) merge(parts []part, from, builds int) {
	room := 0
	for _, p := range parts[from:] {
		room += p.live()
	}
	b := newBuilder(room)
	var err error
	for _, p := range parts[from:] {
		var d Doc
		for doc := range uint32(p.seg.size()) {
			if err == nil && !p.dead.has(doc) {
				readRecord(p.seg.record(doc), &d)
				err = b.add(&d)
			}
		}
	}
	var merged part
	if err == nil {
		merged.seg, err = b.finish(context.Background())
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.builds != builds {
		return
	}
	x.frozen = 0
	if err != nil {
		return // too large for one segment: the parts stay as they are
	}
	held := x.snap.Load().parts
	for i, p := range parts[from:] {
		merged.bury(p, held[from+i])
	}
	next := slices.Clone(held[:from])
	if merged.live() > 0 {
		next = append(next, merged)
	}
	x.store(append(next, held[len(parts):]...))
}

// bury marks what died in a part since it was merged.
func (p *part) bury(then, now part) {
	for doc := range uint32(then.seg.size()) {
		if now.dead.has(doc) && !then.dead.has(doc) {
			p.kill(now.seg.id(doc))
		}
	}
}

// Build replaces all that is in the index by the documents of the sequence, of
// which a later one replaces an earlier one with its ID. Searches go on in the
// old contents until it is done, and what Put and Remove do meanwhile is done
// in the new contents too. Where the sequence yields an error or ctx ends, the
// index stays as it is and the error is returned. progress, which may be nil,
// is told now and then how many documents were taken in.
func (x *Index) Build(ctx context.Context, docs iter.Seq2[Doc, error], progress func(done int)) error {
	x.building.Lock()
	defer x.building.Unlock()
	x.mu.Lock()
	x.touched = map[string]bool{}
	x.mu.Unlock()
	seg, err := buildSegment(ctx, docs, progress)
	x.mu.Lock()
	defer x.mu.Unlock()
	touched := x.touched
	x.touched = nil
	if err != nil {
		return err
	}
	var parts []part
	main := part{seg: seg}
	later := newBuilder(len(touched))
	for id := range touched {
		main.kill(id)
		if d, ok := x.doc(id); ok {
			if err := later.add(&d); err != nil {
				return err
			}
		}
	}
	if main.live() > 0 {
		parts = append(parts, main)
	}
	if len(later.records) > 0 {
		seg, err := later.finish(ctx)
		if err != nil {
			return err
		}
		parts = append(parts, part{seg: seg})
	}
	x.frozen = 0
	x.builds++
	x.store(parts)
	return nil
}

func buildSegment(ctx context.Context, docs iter.Seq2[Doc, error], progress func(done int)) (*segment, error) {
	const step = 1000
	b := newBuilder(step)
	done := 0
	for d, err := range docs {
		if err == nil && done%step == 0 {
			err = ctx.Err()
		}
		if err == nil {
			err = b.add(&d)
		}
		if err != nil {
			return nil, fmt.Errorf("index document %d: %w", done+1, err)
		}
		if done++; progress != nil && done%step == 0 {
			progress(done)
		}
	}
	seg, err := b.finish(ctx)
	if err != nil {
		return nil, fmt.Errorf("index %d documents: %w", done, err)
	}
	return seg, nil
}

// doc is the living document of the ID.
func (x *Index) doc(id string) (Doc, bool) {
	for _, p := range x.snap.Load().parts {
		if doc, ok := p.seg.ids.find(id); ok && !p.dead.has(doc) {
			var d Doc
			readRecord(p.seg.record(doc), &d)
			return d, true
		}
	}
	return Doc{}, false
}
