package search

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"slices"
	"sync"
)

// few is how many answers are so few that typing errors are looked for too,
// where none of the answers has the typing in its number.
const few = 3

// Index holds documents and answers queries. Any number of goroutines may
// search while one at a time changes it.
type Index struct {
	mu   sync.RWMutex
	docs map[string]*entry
}

type entry struct {
	doc     Doc
	terms   prepared
	natural string
}

// New returns an empty index. Long merges after many changes are handed to
// run, which may start a goroutine; nil does them within Put.
func New(run func(work func())) *Index { return &Index{docs: map[string]*entry{}} }

// Len is how many documents there are.
func (x *Index) Len() int {
	x.mu.RLock()
	defer x.mu.RUnlock()
	return len(x.docs)
}

// Put adds the document, or replaces the one with its ID.
func (x *Index) Put(d Doc) {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.docs[d.ID] = newEntry(d)
}

func newEntry(d Doc) *entry {
	d.Aliases, d.Dims, d.Places = slices.Clone(d.Aliases), slices.Clone(d.Dims), slices.Clone(d.Places)
	return &entry{doc: d, terms: prepare(d), natural: string(appendNatural(nil, d.Name))}
}

// Remove takes the document with the ID out, if it is there.
func (x *Index) Remove(id string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	delete(x.docs, id)
}

// Build replaces all that is in the index by the documents of the sequence, of
// which a later one replaces an earlier one with its ID. What Put and Remove do
// meanwhile stays done. Where the sequence yields an error or ctx ends, the
// index stays as it is and the error is returned. progress, which may be nil,
// is told now and then how many documents were taken in.
func (x *Index) Build(ctx context.Context, docs iter.Seq2[Doc, error], progress func(done int)) error {
	next := map[string]*entry{}
	done := 0
	for d, err := range docs {
		if err == nil {
			err = ctx.Err()
		}
		if err != nil {
			return fmt.Errorf("index document %d: %w", done+1, err)
		}
		next[d.ID] = newEntry(d)
		if done++; progress != nil && done%1000 == 0 {
			progress(done)
		}
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	x.docs = next
	return nil
}

// Search returns the best answers to what was typed, at most limit. Typing
// that holds no letter or digit finds nothing. Typing errors are looked for
// only where there are fewer than three answers without, none of them by its
// number.
func (x *Index) Search(text string, limit int) Result {
	q := parseQuery(text)
	if len(q.terms) == 0 || limit <= 0 {
		return Result{}
	}
	x.mu.RLock()
	defer x.mu.RUnlock()
	found := x.scan(q, (*prepared).class, nil)
	if len(found) < few && (len(found) == 0 || found[0].class > Inside) {
		found = append(found, x.scan(q, (*prepared).nearClass, found)...)
	}
	r := Result{More: len(found) > limit}
	for _, f := range found[:min(limit, len(found))] {
		r.Hits = append(r.Hits, hit(&f.entry.doc, q, f.class, text))
	}
	return r
}

type ranked struct {
	*entry
	class Class
}

func (x *Index) scan(q query, class func(*prepared, query) (Class, bool), but []ranked) []ranked {
	var found []ranked
	for _, e := range x.docs {
		if slices.ContainsFunc(but, func(r ranked) bool { return r.entry == e }) {
			continue
		}
		if c, ok := class(&e.terms, q); ok {
			found = append(found, ranked{e, c})
		}
	}
	slices.SortFunc(found, func(a, b ranked) int {
		inShop := 0
		if a.doc.InShop != b.doc.InShop {
			inShop = 1
			if a.doc.InShop {
				inShop = -1
			}
		}
		return cmp.Or(cmp.Compare(a.class, b.class), inShop, cmp.Compare(a.doc.Kind, b.doc.Kind),
			cmp.Compare(a.natural, b.natural), cmp.Compare(a.doc.ID, b.doc.ID))
	})
	return found
}
