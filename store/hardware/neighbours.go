package hardware

// lookAlikes lists the nearest pieces that are confused with p: its neighbours
// in the table, the other drilling or material, and the same size of the other
// series of its look.
func (c *Catalog) lookAlikes(p *piece) []LookAlike {
	if p.s.free || p.s.look == "" {
		return nil
	}
	found := make([]LookAlike, 0, 8)
	add := func(q *piece) {
		if d, ok := alike(p, q); ok && len(found) < cap(found) {
			found = append(found, LookAlike{Designation: q.canonical(), Difference: d})
		}
	}
	slot := 0
	if p.nums[1] != nil {
		slot = 1
	}
	list := p.s.nums[slot].list
	at := p.nums[slot].at
	for _, i := range [2]int{at - 1, at + 1} {
		if i >= 0 && i < len(list) {
			q := *p
			q.nums[slot] = list[i]
			add(&q)
		}
	}
	for i := range p.let {
		for k, l := range p.let[i] {
			if l == nil {
				continue
			}
			if o := otherLetter(&p.s.slots[i].choices[k], l); o != nil {
				q := *p
				q.let[i][k] = o
				add(&q)
			}
		}
	}
	var same [4]other
	for _, o := range p.s.others(p.nums[0], same[:0]) {
		q := piece{s: o.s, nums: [2]*code{o.c, o.s.second(p.nums[1])}}
		if q.borrow(p) {
			add(&q)
		}
	}
	return found
}

// second is the second number of this series that stands for the same figure
// as one of another series, nil where there is none.
func (s *series) second(like *code) *code {
	if like == nil || s.nums[1] == nil {
		return nil
	}
	if c := s.nums[1].index[like.text]; c != nil && c.fields[0].Name == like.fields[0].Name {
		return c
	}
	return nil
}

// otherLetter is the letter that is most easily overlooked in place of l: the
// A of an undrilled shank, the lock of a nut, A for AD of a rivet.
func otherLetter(ch *choice, l *letter) *letter {
	switch ch.name {
	case "shank", "lock":
		for _, o := range ch.letters {
			if o != l {
				return o
			}
		}
		return ch.absent
	case Material:
		if l.text != "A" && l.text != "AD" {
			return nil
		}
		for _, o := range ch.letters {
			if (o.text == "A" || o.text == "AD") && o != l {
				return o
			}
		}
	}
	return nil
}

// borrow gives q the letters of p where its series has them, and the first of
// its own where one is required.
func (q *piece) borrow(p *piece) bool {
	for i := range q.s.slots {
		for k := range q.s.slots[i].choices {
			ch := &q.s.slots[i].choices[k]
			q.let[i][k] = ch.absent
			for _, mine := range p.let[i] {
				for _, l := range ch.letters {
					if mine != nil && mine.text == l.text {
						q.let[i][k] = l
					}
				}
			}
			if ch.required && q.let[i][k] == nil {
				if len(ch.letters) == 0 {
					return false
				}
				q.let[i][k] = ch.letters[0]
			}
		}
	}
	return (q.s.nums[1] == nil) == (q.nums[1] == nil)
}

// counterparts notes the numbers of all series by look and size, so that each
// finds the same size in the others.
func (ld *loader) counterparts() {
	alike := make(map[looks][]other, 256)
	placed := map[*codes]bool{nil: true} // tables are shared
	for _, name := range ld.c.names {
		s := ld.c.series[name]
		for _, cs := range s.nums {
			if !placed[cs] {
				cs.placeAll()
				placed[cs] = true
			}
		}
		if !s.counted() {
			continue
		}
		s.alike = alike
		for _, c := range s.nums[0].list {
			key := looks{s.look, c.words}
			alike[key] = append(alike[key], other{s, c})
		}
	}
}

// others adds to out, as far as it has room, the same size in series of its look
// whose tell differs.
func (s *series) others(c *code, out []other) []other {
	if s.alike == nil || c == nil {
		return nil
	}
	for _, o := range s.alike[looks{s.look, c.words}] {
		if o.s.tell != s.tell && (s.nums[1] == nil) == (o.s.nums[1] == nil) && sameEra(s.name, o.s.name) {
			if out = append(out, o); len(out) == cap(out) {
				break
			}
		}
	}
	return out
}

// counted says that the first number of the series is a size which other
// series of its look may share.
func (s *series) counted() bool {
	switch s.kind {
	case Bolt, Washer, CotterPin, ClevisPin:
		return false
	}
	return s.look != "" && s.nums[0] != nil
}

// sameEra keeps the list short: an AN number is listed with AN and NAS
// numbers, an MS number with MS and NAS numbers.
func sameEra(a, b string) bool {
	return a[:2] == b[:2] || b[:2] == "NA" || a[:2] == "NA"
}
