package disk

import (
	"bytes"
	"maps"
	"slices"
	"strings"
)

// Past is what an earlier state of a file had otherwise than the one that lies in it. A
// transaction that went back to it reads that state, and writes nothing. It is made by one
// goroutine, and read by any number once it is sealed.
type Past struct {
	End     End // where the journal ended
	buckets map[string]*pastBucket
}

// pastBucket has the bodies that were otherwise; nil: there was nothing under the key.
type pastBucket struct {
	bodies map[string][]byte
	keys   []string // in order, once it is sealed
}

// NewPast is the state that lies in a file, but for what Put says.
func NewPast() *Past { return &Past{buckets: map[string]*pastBucket{}} }

// Put says what was under a key of a bucket; nil: nothing.
func (p *Past) Put(bucket, key string, body []byte) {
	b := p.buckets[bucket]
	if b == nil {
		b = &pastBucket{bodies: map[string][]byte{}}
		p.buckets[bucket] = b
	}
	b.bodies[key] = body
}

// Get is what was said of a key of a bucket, and whether anything was.
func (p *Past) Get(bucket, key string) (body []byte, said bool) {
	b := p.buckets[bucket]
	if b == nil {
		return nil, false
	}
	body, said = b.bodies[key]
	return body, said
}

// Each calls do with all that was said of a bucket, in no order.
func (p *Past) Each(bucket string, do func(key string, body []byte) error) error {
	b := p.buckets[bucket]
	if b == nil {
		return nil
	}
	for key, body := range b.bodies {
		if err := do(key, body); err != nil {
			return err
		}
	}
	return nil
}

// Seal ends the saying.
func (p *Past) Seal() {
	for _, b := range p.buckets {
		b.keys = slices.Sorted(maps.Keys(b.bodies))
	}
}

// GoBack has everything that the transaction reads from now on be of a past, which is sealed.
func (t *Tx) GoBack(p *Past) { t.past = p }

// past is what was otherwise in the bucket; nil for nothing.
func (b *Bucket) past() *pastBucket {
	if b.tx.past == nil {
		return nil
	}
	return b.tx.past.buckets[b.name]
}

// was is what was under a key, and whether that is known without looking into the file.
func (b *Bucket) was(key []byte) (body []byte, known bool) {
	if p := b.past(); p != nil {
		body, known = p.bodies[string(key)]
	}
	return body, known
}

// merged goes over a bucket as scan does, with what was otherwise in its place.
func (b *Bucket) merged(prefix []byte, scan func(prefix []byte, do func(key, sealed []byte) error) error, do func(key, body []byte) error) error {
	p := b.past()
	if p == nil {
		return scan(prefix, b.opening(do))
	}
	at, _ := slices.BinarySearch(p.keys, string(prefix))
	upTo := func(key []byte, last bool) error { // what comes before a key of the file
		for ; at < len(p.keys) && strings.HasPrefix(p.keys[at], string(prefix)) && (last || p.keys[at] < string(key)); at++ {
			if body := p.bodies[p.keys[at]]; body != nil {
				if err := do([]byte(p.keys[at]), body); err != nil {
					return err
				}
			}
		}
		return nil
	}
	err := scan(prefix, b.opening(func(key, body []byte) error {
		if err := upTo(key, false); err != nil {
			return err
		}
		if _, otherwise := p.bodies[string(key)]; otherwise {
			return nil // it comes with those that were
		}
		return do(key, body)
	}))
	if err != nil {
		return err
	}
	return upTo(nil, true)
}

// lastPast is the last key of the bucket as it was.
func (b *Bucket) lastPast(p *pastBucket) ([]byte, error) {
	c := b.newCursor()
	key, sealed, err := c.last()
	for ; err == nil && key != nil; key, sealed, err = c.prev() {
		if _, otherwise := p.bodies[string(key)]; !otherwise {
			break
		}
	}
	if err != nil {
		return nil, err
	}
	if key != nil {
		if _, err := b.open(key, sealed); err != nil {
			return nil, err
		}
	}
	for i := len(p.keys) - 1; i >= 0; i-- {
		if p.bodies[p.keys[i]] != nil {
			if key == nil || p.keys[i] > string(key) {
				return []byte(p.keys[i]), nil
			}
			break
		}
	}
	return bytes.Clone(key), nil
}

// firstPast is First of the bucket as it was.
func (b *Bucket) firstPast(wanted func(key []byte) bool) (key, body []byte, err error) {
	err = b.Scan(nil, func(k, found []byte) error {
		if !wanted(k) {
			return nil
		}
		key, body = bytes.Clone(k), bytes.Clone(found)
		return ErrStop
	})
	return key, body, err
}
