package search

import (
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"math"
	"slices"
	"strings"
)

// Bounds of what a builder remembers so as not to take the same text apart twice.
const (
	maxKnownTexts = 1 << 16
	maxKnownText  = 160 // bytes
)

// builder makes a segment of documents in any order.
type builder struct {
	text    []byte   // records
	records []uint32 // by arrival
	ids     *idTable
	gone    numbers // arrivals that a later one with their ID replaced

	ranks   []byte   // by arrival, what sorts before the natural order
	natural []byte   // keys of the natural order
	keys    postings // only starts are used
	codes   []byte
	codeEnd []uint32 // by arrival, the end of its codes

	tokens   []uint32 // provisional, of all arrivals
	tokenEnd []uint32 // by arrival
	words    map[string]uint32
	dims     map[Dim]uint32
	known    map[string][]uint32 // texts taken apart before; nil where that is not worth it
	part     prepared
	count    uint32 // of provisional tokens
}

// newBuilder makes a builder for about so many documents.
func newBuilder(room int) *builder {
	b := &builder{words: map[string]uint32{}, dims: map[Dim]uint32{}}
	if room > tailSize {
		b.known = map[string][]uint32{}
	}
	b.ids = newIDTable(room, func(doc uint32) string {
		return readID(b.text[b.records[doc]:])
	})
	b.keys.starts = append(b.keys.starts, 0)
	return b
}

// readID is recordID for a record that is not yet part of a string.
func readID(record []byte) string {
	n, size := binary.Uvarint(record[1:])
	return string(record[1+size : 1+size+int(n)])
}

// add takes a document in.
func (b *builder) add(d *Doc) error {
	arrival := uint32(len(b.records))
	if len(b.text) > math.MaxUint32/2 || len(b.codes) > math.MaxUint32/2 || len(b.tokens) > math.MaxUint32/2 {
		return errFull
	}
	b.records = append(b.records, uint32(len(b.text)))
	b.text = appendRecord(b.text, d)
	if old, had := b.ids.put(d.ID, arrival); had {
		for int(old>>6) >= len(b.gone) {
			b.gone = append(b.gone, 0)
		}
		b.gone.set(old)
	}
	b.ranks = append(b.ranks, rankOf(d))
	b.natural = appendNatural(b.natural, d.Name)
	b.keys.starts = append(b.keys.starts, uint32(len(b.natural)))

	b.code(d.Name)
	for _, alias := range d.Aliases {
		b.code(alias)
	}
	b.codeEnd = append(b.codeEnd, uint32(len(b.codes)))
	b.takeApart(d.Words)
	for _, place := range d.Places {
		b.takeApart(place)
	}
	for _, dim := range d.Dims {
		b.tokens = append(b.tokens, b.dim(dim))
		if dim.Role != AnyRole {
			b.tokens = append(b.tokens, b.word(dim.Role.String()))
		}
	}
	b.tokenEnd = append(b.tokenEnd, uint32(len(b.tokens)))
	return nil
}

// rankOf is what sorts before the natural order of names.
func rankOf(d *Doc) byte {
	rank := byte(d.Kind)
	if !d.InShop {
		rank |= 0x80
	}
	return rank
}

// code takes one name or alias in.
func (b *builder) code(name string) {
	at := len(b.codes)
	b.codes = appendFold(b.codes, name)
	if len(b.codes) > at+maxCode {
		b.codes = b.codes[:at+maxCode]
	}
	b.codes = append(b.codes, 0)
	if len(name) > maxCode {
		b.takeApart(name)
	}
}

// takeApart adds the tokens of a text.
func (b *builder) takeApart(text string) {
	if text == "" {
		return
	}
	if tokens, ok := b.known[text]; ok {
		b.tokens = append(b.tokens, tokens...)
		return
	}
	from := len(b.tokens)
	chunks(text, func(chunk string, _ int) { b.chunk(chunk) })
	b.remember(text, from)
}

func (b *builder) chunk(chunk string) {
	if tokens, ok := b.known[chunk]; ok {
		b.tokens = append(b.tokens, tokens...)
		return
	}
	from := len(b.tokens)
	b.part.words, b.part.dims = b.part.words[:0], b.part.dims[:0]
	b.part.chunk(chunk)
	for _, w := range b.part.words {
		b.tokens = append(b.tokens, b.word(w))
	}
	for _, d := range b.part.dims {
		b.tokens = append(b.tokens, b.dim(d))
	}
	b.remember(chunk, from)
}

// remember keeps the tokens of a text from the given one on.
func (b *builder) remember(text string, from int) {
	if b.known != nil && len(text) <= maxKnownText && len(b.known) < maxKnownTexts {
		b.known[text] = slices.Clone(b.tokens[from:])
	}
}

func (b *builder) word(w string) uint32 {
	token, ok := b.words[w]
	if !ok {
		token = b.count
		b.count++
		b.words[strings.Clone(w)] = token
	}
	return token
}

func (b *builder) dim(d Dim) uint32 {
	token, ok := b.dims[d]
	if !ok {
		token = b.count
		b.count++
		b.dims[d] = token
	}
	return token
}

// finish makes the segment. The builder is of no use afterwards.
func (b *builder) finish(ctx context.Context) (*segment, error) {
	order := b.order()
	s := &segment{text: string(b.text), records: make([]uint32, len(order))}
	number := make([]uint32, len(b.records)) // by arrival, the document
	for doc, arrival := range order {
		s.records[doc] = b.records[arrival]
		number[arrival] = uint32(doc)
	}
	for i, arrival := range b.ids.slots {
		if arrival != 0 {
			b.ids.slots[i] = number[arrival-1] + 1
		}
	}
	s.ids = b.ids
	s.ids.id = s.id
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	b.numberCodes(s, order)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	b.numberTokens(s, order)
	s.tableCommon()
	if s.codes.size() > maxEntries || s.tokens.size() > maxEntries {
		return nil, errFull
	}
	return s, ctx.Err()
}

// order returns the arrivals in the order of their ranks.
func (b *builder) order() []uint32 {
	type place struct {
		key     uint64 // rank and the start of the natural key
		arrival uint32
	}
	places := make([]place, 0, len(b.records))
	for i := range uint32(len(b.records)) {
		if b.gone.has(i) {
			continue
		}
		var raw [8]byte
		raw[0] = b.ranks[i]
		copy(raw[1:], b.naturalKey(i))
		places = append(places, place{binary.BigEndian.Uint64(raw[:]), i})
	}
	slices.SortFunc(places, func(x, y place) int {
		if x.key != y.key {
			return cmp.Compare(x.key, y.key)
		}
		if c := bytes.Compare(b.naturalKey(x.arrival), b.naturalKey(y.arrival)); c != 0 {
			return c
		}
		return strings.Compare(b.ids.id(x.arrival), b.ids.id(y.arrival))
	})
	order := make([]uint32, len(places))
	for i, p := range places {
		order[i] = p.arrival
	}
	return order
}

func (b *builder) naturalKey(i uint32) []byte {
	return b.natural[b.keys.starts[i]:b.keys.starts[i+1]]
}

// stretch is the part of a list that belongs to arrival i, by the ends of the parts.
func stretch(ends []uint32, i uint32) (lo, hi uint32) {
	if i > 0 {
		lo = ends[i-1]
	}
	return lo, ends[i]
}

// numberCodes makes the lexicon of codes.
func (b *builder) numberCodes(s *segment, order []uint32) {
	text := make([]byte, 0, len(b.codes)+maxCode+2)
	s.firstCode = make([]uint32, 1, len(order)+1)
	for doc, arrival := range order {
		lo, hi := stretch(b.codeEnd, arrival)
		text = append(text, b.codes[lo:hi]...)
		for range bytes.Count(b.codes[lo:hi], []byte{0}) {
			s.codeDoc = append(s.codeDoc, uint32(doc))
		}
		s.firstCode = append(s.firstCode, uint32(len(s.codeDoc)))
	}
	s.codes = newLexicon(text)
}

// numberTokens numbers tokens by the first document that has them, and lists
// which document has which.
func (b *builder) numberTokens(s *segment, order []uint32) {
	const none = math.MaxUint32
	final := make([]uint32, b.count)
	last := make([]uint32, b.count) // by final token, the last document seen with it
	for i := range final {
		final[i] = none
	}
	s.held.starts = make([]uint32, 1, len(order)+1)
	s.held.all = make([]uint32, 0, len(b.tokens))
	next := uint32(0)
	counts := make([]uint32, b.count+1)
	for doc, arrival := range order {
		lo, hi := stretch(b.tokenEnd, arrival)
		for _, token := range b.tokens[lo:hi] {
			t := final[token]
			if t == none {
				t, final[token] = next, next
				next++
			} else if last[t] == uint32(doc) {
				continue
			}
			last[t] = uint32(doc)
			counts[t+1]++
			s.held.all = append(s.held.all, t)
		}
		s.held.starts = append(s.held.starts, uint32(len(s.held.all)))
	}
	s.docs.starts = counts[:next+1]
	for i := range next {
		s.docs.starts[i+1] += s.docs.starts[i]
	}
	s.docs.all = make([]uint32, len(s.held.all))
	fill := slices.Clone(s.docs.starts)
	for doc := range uint32(len(order)) {
		for _, t := range s.held.of(doc) {
			s.docs.all[fill[t]] = doc
			fill[t]++
		}
	}
	b.tokenText(s, final, next)
}

// tokenText makes the lexicon of tokens, next of them, and the tables of
// dimensions. Tokens that only replaced documents had have no number.
func (b *builder) tokenText(s *segment, final []uint32, next uint32) {
	texts := make([]string, next)
	for w, token := range b.words {
		if t := final[token]; t < next {
			texts[t] = w
		}
	}
	var text []byte
	for _, w := range texts {
		text = append(append(text, w...), 0)
	}
	s.tokens = newLexicon(text)
	var dims []dimToken
	for d, token := range b.dims {
		if t := final[token]; t < next {
			dims = append(dims, dimToken{d, t})
		}
	}
	s.tableDims(dims)
}
