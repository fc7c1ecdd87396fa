package scan

import "sync"

// A tag's symbol: QR version 1, level H.
// Source of all figures in this file: ISO/IEC 18004.
const (
	symbolSize   = 21 // modules a side
	dataWords    = 9  // data codewords
	parityWords  = 17 // error correction codewords
	symbolWords  = dataWords + parityWords
	symbolBits   = symbolWords * 8
	formatLength = 15
	maskCount    = 8
)

// cell is a module by row and column. Modules of the quiet zone are outside 0 to 20.
type cell struct{ row, col int8 }

// knownCell is a module whose colour is known: one of the function patterns, which all
// tags share, or any module of a symbol that was decoded.
type knownCell struct {
	cell
	dark bool
}

// words are the 26 codewords of a symbol.
type words [symbolWords]byte

// bits208 are the bits of the codewords, the first in the highest bit of the
// first word.
type bits208 [4]uint64

func (b *bits208) set(i int)      { b[i>>6] |= 1 << (63 - i&63) }
func (b *bits208) has(i int) bool { return b[i>>6]>>(63-i&63)&1 == 1 }

func (b *bits208) add(c *bits208) {
	b[0] ^= c[0]
	b[1] ^= c[1]
	b[2] ^= c[2]
	b[3] ^= c[3]
}

func (b *bits208) word(i int) byte { return byte(b[i>>3] >> (56 - 8*(i&7))) }

func (w *words) bits() (b bits208) {
	for i, v := range w {
		b[i>>3] |= uint64(v) << (56 - 8*(i&7))
	}
	return b
}

// tables holds everything about the symbol that does not depend on its text. It is
// computed once and never changed.
type tables struct {
	fixed  []knownCell                   // finders, separators, timing and the dark module
	quiet  []cell                        // the ring of the quiet zone next to the symbol
	data   [symbolBits]cell              // where each bit of the codewords stands
	masks  [maskCount]bits208            // bits that each mask inverts
	format [maskCount][formatLength]bool // format information at level H, by mask
	places [2][formatLength]cell         // where the two copies of it stand, lowest bit first
	field  field
	code   tagCode
}

// theTables computes the tables on first use.
var theTables = sync.OnceValue(newTables)

func newTables() *tables {
	t := &tables{field: newField()}
	t.placeFixed()
	t.placeFormat()
	t.placeData()
	t.code = newTagCode(&t.field)
	return t
}

// finderDark is the colour in a finder pattern of 7 x 7 whose first module is
// 0, 0; its separator lies around it.
func finderDark(row, col int) bool {
	ring := max(abs(row-3), abs(col-3))
	return ring != 2 && ring < 4
}

func abs(v int) int { return max(v, -v) }

func (t *tables) placeFixed() {
	known := func(row, col int, dark bool) {
		t.fixed = append(t.fixed, knownCell{cell{int8(row), int8(col)}, dark})
	}
	for row := range 8 {
		for col := range 8 {
			known(row, col, finderDark(row, col))
			known(row, symbolSize-1-col, finderDark(row, col))
			known(symbolSize-1-row, col, finderDark(row, col))
		}
	}
	for i := 8; i <= 12; i++ {
		known(6, i, i%2 == 0)
		known(i, 6, i%2 == 0)
	}
	known(13, 8, true)
	for i := -1; i <= symbolSize; i++ {
		t.quiet = append(t.quiet, cell{-1, int8(i)}, cell{symbolSize, int8(i)})
		if i >= 0 && i < symbolSize {
			t.quiet = append(t.quiet, cell{int8(i), -1}, cell{int8(i), symbolSize})
		}
	}
}

func (t *tables) placeFormat() {
	for i := range formatLength {
		switch {
		case i < 6:
			t.places[0][i] = cell{int8(i), 8}
		case i < 8:
			t.places[0][i] = cell{int8(i + 1), 8}
		case i == 8:
			t.places[0][i] = cell{8, 7}
		default:
			t.places[0][i] = cell{8, int8(14 - i)}
		}
		if i < 8 {
			t.places[1][i] = cell{8, int8(symbolSize - 1 - i)}
		} else {
			t.places[1][i] = cell{int8(symbolSize - 15 + i), 8}
		}
	}
	for mask := range maskCount {
		bits := formatBits(levelH, mask)
		for i := range formatLength {
			t.format[mask][i] = bits>>i&1 == 1
		}
	}
}

// levelH is the indicator of error correction level H.
const levelH = 2

// formatBits are the 15 bits of the format information: five of data, ten of a
// BCH code with generator 10100110111, and the mask 101010000010010 over all.
func formatBits(level, mask int) int {
	data := level<<3 | mask
	rest := data << 10
	for bit := 14; bit >= 10; bit-- {
		if rest>>bit&1 == 1 {
			rest ^= 0b10100110111 << (bit - 10)
		}
	}
	return (data<<10 | rest) ^ 0b101010000010010
}

// placeData walks the modules in pairs of columns from the right, up and down.
func (t *tables) placeData() {
	var taken [symbolSize][symbolSize]bool
	for _, k := range t.fixed {
		taken[k.row][k.col] = true
	}
	for _, copied := range t.places {
		for _, c := range copied {
			taken[c.row][c.col] = true
		}
	}
	n, up := 0, true
	for right := symbolSize - 1; right > 0; right -= 2 {
		if right == 6 {
			right-- // the column of the timing pattern holds no data
		}
		for i := range symbolSize {
			row := i
			if up {
				row = symbolSize - 1 - i
			}
			for col := right; col > right-2; col-- {
				if taken[row][col] {
					continue
				}
				t.data[n] = cell{int8(row), int8(col)}
				for mask := range maskCount {
					if masked(mask, row, col) {
						t.masks[mask].set(n)
					}
				}
				n++
			}
		}
		up = !up
	}
}

// masked reports whether a mask pattern inverts a module.
func masked(mask, row, col int) bool {
	switch mask {
	case 0:
		return (row+col)%2 == 0
	case 1:
		return row%2 == 0
	case 2:
		return col%3 == 0
	case 3:
		return (row+col)%3 == 0
	case 4:
		return (row/2+col/3)%2 == 0
	case 5:
		return row*col%2+row*col%3 == 0
	case 6:
		return (row*col%2+row*col%3)%2 == 0
	}
	return ((row+col)%2+row*col%3)%2 == 0
}
