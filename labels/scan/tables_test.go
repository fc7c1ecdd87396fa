package scan

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// The field of ISO/IEC 18004 is that of 256 elements by x^8+x^4+x^3+x^2+1: powers of 2
// as they follow from it by hand, and the laws of a field over all elements.
func TestField(t *testing.T) {
	f := newField()
	for _, row := range []struct {
		power int
		want  byte
	}{{0, 1}, {1, 2}, {7, 128}, {8, 29}, {9, 58}, {25, 3}, {254, 142}, {255, 1}, {263, 29}} {
		if f.exp[row.power] != row.want {
			t.Errorf("2^%d is %d, want %d", row.power, f.exp[row.power], row.want)
		}
	}
	seen := map[byte]bool{}
	for i := range 255 {
		v := f.exp[i]
		if v == 0 || seen[v] {
			t.Fatalf("2^%d is %d, for the second time", i, v)
		}
		seen[v] = true
		if f.log[v] != i {
			t.Errorf("the logarithm of %d is %d, want %d", v, f.log[v], i)
		}
	}
	// Multiplying bit by bit, as the polynomial says.
	slow := func(a, b byte) (product byte) {
		for ; b > 0; b >>= 1 {
			if b&1 == 1 {
				product ^= a
			}
			carry := a&0x80 != 0
			a <<= 1
			if carry {
				a ^= 0b00011101
			}
		}
		return product
	}
	for a := range 256 {
		for b := range 256 {
			if got, want := f.times(byte(a), byte(b)), slow(byte(a), byte(b)); got != want {
				t.Fatalf("%d times %d is %d, want %d", a, b, got, want)
			}
		}
	}
}

// A protected symbol is a multiple of the generator: at each of its 17 roots it is zero.
// Source: ISO/IEC 18004, 7.5.2 (the roots are the powers 0 to 16 of 2).
func TestProtect(t *testing.T) {
	f := newField()
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		var w words
		for i := range dataWords {
			w[i] = byte(random.IntN(256))
		}
		data := w
		f.protect(&w)
		if !slices.Equal(w[:dataWords], data[:dataWords]) {
			t.Fatal("protecting has changed the data")
		}
		for root := range parityWords {
			sum := byte(0)
			for _, c := range w {
				sum = f.times(sum, f.exp[root]) ^ c
			}
			if sum != 0 {
				t.Errorf("at root 2^%d the symbol is %d, want 0", root, sum)
			}
		}
	}
}

// Bits of a symbol are counted from the highest bit of its first codeword.
func TestBits(t *testing.T) {
	var w words
	w[0], w[1], w[8], w[25] = 0x80, 0x01, 0xff, 0x10
	b := w.bits()
	for i := range symbolBits {
		want := i == 0 || i == 15 || i >= 64 && i < 72 || i == 203
		if b.has(i) != want {
			t.Errorf("bit %d is %v, want %v", i, b.has(i), want)
		}
	}
	for i := range w {
		if b.word(i) != w[i] {
			t.Errorf("codeword %d is %#x, want %#x", i, b.word(i), w[i])
		}
	}
	var c bits208
	for i := range symbolBits {
		if b.has(i) {
			c.set(i)
		}
	}
	if c != b {
		t.Errorf("set one by one: %x, want %x", c, b)
	}
	if c.add(&b); c != (bits208{}) {
		t.Errorf("added to itself: %x, want nothing", c)
	}
}

// The finder patterns, separators and timing of version 1, drawn from the standard's
// figure. Source: ISO/IEC 18004, 6.3.3 to 6.3.5.
func TestFixedModules(t *testing.T) {
	finder := []string{
		"#######",
		"#.....#",
		"#.###.#",
		"#.###.#",
		"#.###.#",
		"#.....#",
		"#######",
	}
	for row := -1; row <= 7; row++ {
		for col := -1; col <= 7; col++ {
			want := row >= 0 && row < 7 && col >= 0 && col < 7 && finder[max(0, min(6, row))][max(0, min(6, col))] == '#'
			if got := finderDark(row, col); got != want {
				t.Errorf("module %d, %d of a finder is dark: %v, want %v", row, col, got, want)
			}
		}
	}
	dark := map[cell]bool{}
	for _, k := range theTables().fixed {
		dark[k.cell] = k.dark
	}
	if len(dark) != 3*64+10+1 {
		t.Errorf("%d modules are fixed, want three corners of 64, 10 of timing and one dark", len(dark))
	}
	for row := range 7 {
		for col := range 7 {
			want := finder[row][col] == '#'
			for _, at := range [][2]int{{row, col}, {row, 14 + col}, {14 + row, col}} {
				if got, ok := dark[cell{int8(at[0]), int8(at[1])}]; !ok || got != want {
					t.Errorf("module %v is dark: %v (fixed %v), want %v", at, got, ok, want)
				}
			}
		}
	}
	for i := range 8 { // the separators are light
		for _, at := range [][2]int{{7, i}, {i, 7}, {7, 20 - i}, {i, 13}, {13, i}, {20 - i, 7}} {
			if got, ok := dark[cell{int8(at[0]), int8(at[1])}]; !ok || got {
				t.Errorf("separator %v is dark: %v, fixed %v", at, got, ok)
			}
		}
	}
	for i := 8; i <= 12; i++ { // timing begins and ends dark
		for _, at := range [][2]int{{6, i}, {i, 6}} {
			if got, ok := dark[cell{int8(at[0]), int8(at[1])}]; !ok || got != (i%2 == 0) {
				t.Errorf("timing %v is dark: %v, fixed %v", at, got, ok)
			}
		}
	}
	if !dark[cell{13, 8}] { // 4 times the version and 9
		t.Error("the dark module is not dark")
	}
}

// The ring of the quiet zone lies around the symbol, each module once.
func TestQuietRing(t *testing.T) {
	seen := map[cell]bool{}
	for _, c := range theTables().quiet {
		onRing := c.row == -1 || c.row == symbolSize || c.col == -1 || c.col == symbolSize
		if !onRing || c.row < -1 || c.col < -1 || c.row > symbolSize || c.col > symbolSize || seen[c] {
			t.Errorf("module %v is not one of the ring, or twice", c)
		}
		seen[c] = true
	}
	if len(seen) != 88 {
		t.Errorf("%d modules, want 88", len(seen))
	}
}

// Data begins in the bottom right corner and goes up in pairs, right before left; the
// column of the timing pattern is stepped over. Source: ISO/IEC 18004, 7.7.3.
func TestDataPlaces(t *testing.T) {
	data := theTables().data
	for i, want := range map[int]cell{
		0: {20, 20}, 1: {20, 19}, 2: {19, 20}, 3: {19, 19}, // up
		23: {9, 19}, 24: {9, 18}, 25: {9, 17}, // and down beside it
		47: {20, 17}, 48: {20, 16},
		96: {20, 12}, 97: {20, 11}, // through the middle, over the timing row
		123: {7, 11}, 124: {5, 12},
		206: {12, 1}, 207: {12, 0}, // the last
	} {
		if data[i] != want {
			t.Errorf("bit %d stands at %v, want %v", i, data[i], want)
		}
	}
	for i, c := range data {
		if c.col == 6 || c.row == 6 && (c.col < 9 || c.col > 12) {
			t.Errorf("bit %d stands on the timing pattern: %v", i, c)
		}
	}
}

// Masks by the conditions of the standard, in columns j and rows i.
// Source: ISO/IEC 18004, table 10.
func TestMasks(t *testing.T) {
	conditions := []func(i, j int) int{
		func(i, j int) int { return (i + j) % 2 },
		func(i, _ int) int { return i % 2 },
		func(_, j int) int { return j % 3 },
		func(i, j int) int { return (i + j) % 3 },
		func(i, j int) int { return (i/2 + j/3) % 2 },
		func(i, j int) int { return (i*j)%2 + (i*j)%3 },
		func(i, j int) int { return ((i*j)%2 + (i*j)%3) % 2 },
		func(i, j int) int { return ((i*j)%3 + (i+j)%2) % 2 },
	}
	tables := theTables()
	for mask, condition := range conditions {
		for row := range symbolSize {
			for col := range symbolSize {
				if got, want := masked(mask, row, col), condition(row, col) == 0; got != want {
					t.Fatalf("mask %d turns module %d, %d over: %v, want %v", mask, row, col, got, want)
				}
			}
		}
		for i, c := range tables.data {
			if tables.masks[mask].has(i) != masked(mask, int(c.row), int(c.col)) {
				t.Fatalf("mask %d and bit %d do not agree", mask, i)
			}
		}
	}
}

// Where the two copies of the format information stand, lowest bit first.
// Source: ISO/IEC 18004, figure 25.
func TestFormatPlaces(t *testing.T) {
	want := [2][formatLength]cell{
		{{0, 8}, {1, 8}, {2, 8}, {3, 8}, {4, 8}, {5, 8}, {7, 8}, {8, 8}, {8, 7}, {8, 5}, {8, 4}, {8, 3}, {8, 2}, {8, 1}, {8, 0}},
		{{8, 20}, {8, 19}, {8, 18}, {8, 17}, {8, 16}, {8, 15}, {8, 14}, {8, 13}, {14, 8}, {15, 8}, {16, 8}, {17, 8}, {18, 8}, {19, 8}, {20, 8}},
	}
	if got := theTables().places; got != want {
		t.Errorf("format information stands at %v, want %v", got, want)
	}
}

// The format information of two masks differs in at least seven of 15 bits, so that
// three wrong ones can be mended. Source: ISO/IEC 18004, annex C (a BCH code of (15, 5)).
func TestFormatDistance(t *testing.T) {
	for a := range 32 {
		for b := range a {
			n := 0
			for d := formatBits(a>>3, a&7) ^ formatBits(b>>3, b&7); d > 0; d &= d - 1 {
				n++
			}
			if n < 7 {
				t.Errorf("format information %d and %d differ in %d bits, want 7", a, b, n)
			}
		}
	}
}

// How a tag lies in its data codewords, worked out by hand for SP0000001?: alphanumeric
// mode 0010, ten characters, then pairs of 45 times the first and the second.
// Source: ISO/IEC 18004, 7.4.4.
func TestEncodeTag(t *testing.T) {
	tag := madeTag('P', 1)
	bits := "0010" + "000001010"
	for i := 0; i < TagLength; i += 2 {
		v := 45*strings.IndexByte(alphanumeric, tag[i]) + strings.IndexByte(alphanumeric, tag[i+1])
		for bit := 10; bit >= 0; bit-- {
			bits += string("01"[v>>bit&1])
		}
	}
	bits += "0000"
	if len(bits) != 8*dataWords {
		t.Fatalf("%d bits, want %d", len(bits), 8*dataWords)
	}
	b := theTables().encodeTag(tag)
	for i := range bits {
		if b.has(i) != (bits[i] == '1') {
			t.Errorf("bit %d is %v, want %c", i, b.has(i), bits[i])
		}
	}
}

// Codewords that hold no tag are not taken for one.
func TestDecodeTagRefuses(t *testing.T) {
	f := &theTables().field
	pair := func(a, b int) int { return 45*a + b }
	good := madeTag('C', 123456)
	of := func(text string) (pairs [pairCount]int) {
		for i := range pairs {
			pairs[i] = pairValue(text[2*i], text[2*i+1])
		}
		return pairs
	}
	for _, row := range []struct {
		name   string
		change func(p *[pairCount]int)
		want   bool
	}{
		{"a tag", func(*[pairCount]int) {}, true},
		{"a space in it", func(p *[pairCount]int) { p[2] = pair(36, 5) }, false},
		{"a colon at the end of a pair", func(p *[pairCount]int) { p[2] = pair(5, 44) }, false},
		{"beyond all pairs", func(p *[pairCount]int) { p[2] = 2047 }, false},
		{"another kind", func(p *[pairCount]int) { p[0] = pairValue('S', 'X') }, false},
		{"another first letter", func(p *[pairCount]int) { p[0] = pairValue('T', 'C') }, false},
		{"a letter that is left out", func(p *[pairCount]int) { p[1] = pairValue('I', '0') }, false},
		{"a wrong check character", func(p *[pairCount]int) { p[4] ^= 1 }, false},
	} {
		pairs := of(good)
		row.change(&pairs)
		b := encodePairs(f, pairs)
		var text [TagLength]byte
		if got := decodeTag(&b, &text); got != row.want || got && string(text[:]) != good {
			t.Errorf("%s: a tag %v, %q; want %v", row.name, got, text, row.want)
		}
	}
}

// Check characters by ISO/IEC 7064 MOD 37,36, against the standard's recursion written
// out for each character on its own.
func TestCheckCharacterByDefinition(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		body := make([]byte, 1+random.IntN(12))
		for i := range body {
			body[i] = alphanumeric[random.IntN(36)]
		}
		// P(1) = M; S(j) = P(j) mod' (M+1) + a(j); P(j+1) = S(j) mod'' M times 2.
		p := 36
		for _, c := range body {
			s := p%37 + strings.IndexByte(alphanumeric, c)
			if s %= 36; s == 0 {
				s = 36
			}
			p = s * 2
		}
		want := byte('?')
		for i := range 36 {
			if (p%37+i)%36 == 1 {
				want = alphanumeric[i]
			}
		}
		if got, ok := checkCharacter(body); !ok || got != want {
			t.Errorf("the check character of %s is %c, %v; want %c", body, got, ok, want)
		}
	}
	for _, body := range []string{"S P", "SP-", "sp0", "SPÄ", "\x00"} {
		if _, ok := checkCharacter([]byte(body)); ok {
			t.Errorf("%q has a check character", body)
		}
	}
}

// Orientation by tag 274, on a picture of 3 x 2 pixels that are all different: where
// each of them goes. Source: CIPA DC-008 (Exif), the meaning of tag 274.
func TestStoredAt(t *testing.T) {
	for orientation, want := range map[int][]string{
		1: {"abc", "def"},
		2: {"cba", "fed"},
		3: {"fed", "cba"},
		4: {"def", "abc"},
		5: {"ad", "be", "cf"},
		6: {"da", "eb", "fc"},
		7: {"fc", "eb", "da"},
		8: {"cf", "be", "ad"},
		0: {"abc", "def"},
		9: {"abc", "def"},
	} {
		stored := []string{"abc", "def"}
		for y, line := range want {
			for x := range line {
				sx, sy := storedAt(orientation, x, y, 3, 2)
				if sx < 0 || sy < 0 || sx > 2 || sy > 1 || stored[sy][sx] != line[x] {
					t.Errorf("orientation %d: %c at %d, %d is stored at %d, %d", orientation, line[x], x, y, sx, sy)
				}
			}
		}
	}
}

// A picture that lies in a larger one is turned as it is, and an upright one is not copied.
func TestUprightSubImage(t *testing.T) {
	whole := painted(8, 8, func(x, y int) byte { return byte(10*y + x) })
	part := whole.SubImage(image.Rect(2, 3, 5, 5)) // 3 x 2
	if got := upright(part, 1); got != part {
		t.Error("an upright picture was copied")
	}
	got := upright(part, 6)
	if size := got.Bounds().Size(); size != image.Pt(2, 3) {
		t.Fatalf("turned it is %v, want 2 x 3", size)
	}
	for _, row := range []struct{ x, y, want int }{{0, 0, 42}, {1, 0, 32}, {0, 2, 44}, {1, 2, 34}} {
		if r, _, _, _ := got.At(row.x, row.y).RGBA(); int(r>>8) != row.want {
			t.Errorf("pixel %d, %d is %d, want %d", row.x, row.y, r>>8, row.want)
		}
	}
}

// How many deviations chance reaches: the tail of the normal distribution, by adding it
// up, instead of by the function that the limit is worked out with.
func TestLeastChanceByIntegral(t *testing.T) {
	tail := func(z float64) float64 { // from z to 20, by Simpson's rule
		const n = 20000
		h := (20 - z) / n
		density := func(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
		sum := density(z) + density(20)
		for i := 1; i < n; i++ {
			sum += density(z+float64(i)*h) * float64(2+2*(i%2))
		}
		return sum * h / 3
	}
	for _, n := range []int{0, 1, 2, 100, 20_000, 1_000_000} {
		z := leastChance(n)
		if chance := float64(max(1, n)) * tail(z); math.Abs(chance/falseChance-1) > 1e-3 {
			t.Errorf("of %d tags, %.4f deviations are reached by chance in %g, want %g", n, z, chance, falseChance)
		}
	}
}
