package scan

// field is the Galois field of 256 elements by x^8+x^4+x^3+x^2+1, with the
// generator polynomial of 17 parity codewords. Source: ISO/IEC 18004.
type field struct {
	exp       [510]byte
	log       [256]int
	generator [parityWords]byte // without its leading 1, highest power first
}

func newField() (f field) {
	v := 1
	for i := range 255 {
		f.exp[i], f.exp[i+255] = byte(v), byte(v)
		f.log[v] = i
		v <<= 1
		if v > 255 {
			v ^= 0b100011101
		}
	}
	// (x - 2^0)(x - 2^1) ... with its leading coefficient first.
	g := []byte{1}
	for i := range parityWords {
		next := make([]byte, len(g)+1)
		for j, c := range g {
			next[j] ^= c
			next[j+1] ^= f.times(c, f.exp[i])
		}
		g = next
	}
	copy(f.generator[:], g[1:])
	return f
}

func (f *field) times(a, b byte) byte {
	if a == 0 || b == 0 {
		return 0
	}
	return f.exp[f.log[a]+f.log[b]]
}

// protect computes the parity codewords.
func (f *field) protect(w *words) {
	var rest [parityWords]byte
	for _, d := range w[:dataWords] {
		lead := d ^ rest[0]
		copy(rest[:], rest[1:])
		rest[parityWords-1] = 0
		for i, g := range f.generator {
			rest[i] ^= f.times(g, lead)
		}
	}
	copy(w[dataWords:], rest[:])
}
