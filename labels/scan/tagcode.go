package scan

import "strings"

// How a tag lies in the nine data codewords, in bits from the front: the mode
// (4), the count (9), then five pairs of characters of 11 bits each, and a
// terminator of 4 zeros, which fills them exactly. S and the kind are the first
// pair, so for a known kind the bits before freeFirst and after freeLast are
// known. Source: ISO/IEC 18004, alphanumeric mode of version 1.
const (
	modeBits   = 0b0010
	headerBits = 13
	pairBits   = 11
	pairCount  = TagLength / 2
	freeFirst  = headerBits + pairBits
	freeCount  = (pairCount - 1) * pairBits
	pairBase   = 45
)

// tagCode is the linear code that tags belong to: for each kind a symbol with
// all free bits zero, and what each free bit adds to it.
type tagCode struct {
	base [len(tagKinds)]bits208
	free [freeCount]bits208
}

func newTagCode(f *field) (c tagCode) {
	for k := range tagKinds {
		c.base[k] = encodePairs(f, [pairCount]int{pairValue('S', tagKinds[k])})
	}
	zero := encodePairs(f, [pairCount]int{})
	for i := range freeCount {
		var pairs [pairCount]int
		pairs[1+i/pairBits] = 1 << (pairBits - 1 - i%pairBits)
		c.free[i] = encodePairs(f, pairs)
		c.free[i].add(&zero)
	}
	return c
}

func pairValue(first, second byte) int {
	return pairBase*strings.IndexByte(alphanumeric, first) + strings.IndexByte(alphanumeric, second)
}

// encodePairs makes the codewords, before masking, of five pairs.
func encodePairs(f *field, pairs [pairCount]int) bits208 {
	var b bits208
	put := func(at, width, value int) {
		for i := range width {
			if value>>(width-1-i)&1 == 1 {
				b.set(at + i)
			}
		}
	}
	put(0, 4, modeBits)
	put(4, headerBits-4, TagLength)
	for i, v := range pairs {
		put(headerBits+i*pairBits, pairBits, v)
	}
	var w words
	for i := range dataWords {
		w[i] = b.word(i)
	}
	f.protect(&w)
	return w.bits()
}

// encodeTag makes the codewords of a tag, before masking.
func (t *tables) encodeTag(tag string) bits208 {
	var pairs [pairCount]int
	for i := range pairs {
		pairs[i] = pairValue(tag[2*i], tag[2*i+1])
	}
	return encodePairs(&t.field, pairs)
}

// decodeTag decodes the text in the codewords' data bits and reports whether it is a
// tag.
func decodeTag(b *bits208, text *[TagLength]byte) bool {
	for i := range pairCount {
		v := 0
		for j := range pairBits {
			v <<= 1
			if b.has(headerBits + i*pairBits + j) {
				v |= 1
			}
		}
		high, low := v/pairBase, v%pairBase
		if high >= len(alphanumeric) || low >= len(alphanumeric) {
			return false
		}
		text[2*i], text[2*i+1] = alphanumeric[high], alphanumeric[low]
	}
	return isTagBytes(text)
}
