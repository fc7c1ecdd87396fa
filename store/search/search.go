package search

import "bytes"

// few is how many answers are so few that typing errors are looked for too,
// where none of the answers has the typing in its number.
const few = 3

// Search returns the best answers to what was typed, at most limit. Typing
// that holds no letter or digit finds nothing. Typing errors are looked for
// only where there are fewer than three answers without, none of them by its
// number. Of a very long query only the start counts: 256 bytes, 12 words.
func (x *Index) Search(typed string, limit int) Result {
	q := parseQuery(typed)
	snap := x.snap.Load()
	if limit = min(limit, snap.live); len(q.terms) == 0 || limit <= 0 {
		return Result{}
	}
	s := x.pool.Get().(*searcher)
	defer x.pool.Put(s)
	s.open(snap, &q, max(limit+1, few))
	defer s.close()
	for i := range s.finders {
		s.finders[i].exact()
	}
	s.rank(nil)
	if len(s.ranked) < few && (len(s.ranked) == 0 || s.ranked[0].class > Inside) {
		s.nearly()
	}
	r := Result{More: len(s.ranked) > limit}
	s.ranked = s.ranked[:min(limit, len(s.ranked))]
	r.Hits = s.hits(typed)
	return r
}

// searcher answers one query over all segments.
type searcher struct {
	q       *query
	want    int
	finders []finder // one a segment
	ranked  []place
	heads   []head
	doc     Doc // memory for reading records
}

// place is an answer of one of the finders.
type place struct {
	finder int
	answer
}

func (s *searcher) open(snap *snapshot, q *query, want int) {
	s.q, s.want = q, want
	for len(s.finders) < len(snap.parts) {
		s.finders = append(s.finders[:cap(s.finders)], finder{})
	}
	s.finders = s.finders[:len(snap.parts)]
	for i, p := range snap.parts {
		s.finders[i].open(p.seg, p.dead, q, want)
	}
}

func (s *searcher) close() {
	for i := range s.finders {
		s.finders[i].close()
	}
	s.doc = Doc{Aliases: s.doc.Aliases[:0], Places: s.doc.Places[:0], Dims: s.doc.Dims[:0]}
}

// nearly adds answers with a typing error.
func (s *searcher) nearly() {
	from := make([]int, len(s.finders))
	for i := range s.finders {
		from[i] = len(s.finders[i].found)
		s.finders[i].near()
	}
	s.rank(from)
}

// head is the next answer of a finder while those of all are put in order.
type head struct {
	finder, next int
	key          []byte
}

// rank appends the answers of the finders in the order of all; from says how
// many of each finder's were ranked before, nil that none were.
func (s *searcher) rank(from []int) {
	if from == nil {
		s.ranked = s.ranked[:0]
	}
	s.heads = s.heads[:0]
	for i := range s.finders {
		first := 0
		if from != nil {
			first = from[i]
		}
		if len(s.finders[i].found) == first {
			continue
		}
		n := len(s.heads)
		if n < cap(s.heads) {
			s.heads = s.heads[:n+1]
		} else {
			s.heads = append(s.heads, head{})
		}
		s.heads[n] = head{finder: i, next: first, key: s.heads[n].key}
	}
	if len(s.heads) == 1 {
		h := s.heads[0]
		for _, a := range s.finders[h.finder].found[h.next:] {
			s.ranked = append(s.ranked, place{h.finder, a})
		}
		return
	}
	s.mergeHeads()
}

// mergeHeads takes the best head again and again.
func (s *searcher) mergeHeads() {
	for i := range s.heads {
		s.setKey(&s.heads[i])
	}
	for len(s.heads) > 0 && len(s.ranked) < s.want {
		least := 0
		for i := 1; i < len(s.heads); i++ {
			if bytes.Compare(s.heads[i].key, s.heads[least].key) < 0 {
				least = i
			}
		}
		h := &s.heads[least]
		found := s.finders[h.finder].found
		s.ranked = append(s.ranked, place{h.finder, found[h.next]})
		if h.next++; h.next < len(found) {
			s.setKey(h)
			continue
		}
		last := len(s.heads) - 1
		s.heads[least], s.heads[last] = s.heads[last], s.heads[least]
		s.heads = s.heads[:last]
	}
}

// setKey gives the head the key by which answers of different segments are
// put in order: that of the documents of one segment, behind the class.
func (s *searcher) setKey(h *head) {
	a := s.finders[h.finder].found[h.next]
	readNames(s.finders[h.finder].seg.record(a.doc), &s.doc)
	h.key = append(h.key[:0], byte(a.class), rankOf(&s.doc))
	h.key = appendNatural(h.key, s.doc.Name)
	h.key = append(h.key, 0)
	h.key = append(h.key, s.doc.ID...)
}

// hits describes the ranked answers.
func (s *searcher) hits(typed string) []Hit {
	if len(s.ranked) == 0 {
		return nil
	}
	hits := make([]Hit, 0, len(s.ranked))
	e := explainer{query: s.q, typed: typed, matches: make([]Match, 0, len(s.ranked)+len(s.ranked)/4)}
	for _, p := range s.ranked {
		record := s.finders[p.finder].seg.record(p.doc)
		if p.class == Words || p.class == WordsInside {
			readRecord(record, &s.doc)
		} else {
			readNames(record, &s.doc)
		}
		hits = append(hits, e.hit(&s.doc, p.class))
	}
	return hits
}
