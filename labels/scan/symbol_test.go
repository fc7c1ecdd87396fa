package scan

import (
	"bytes"
	"image"
	"math/bits"
	"slices"
	"testing"

	"github.com/makiuchi-d/gozxing"
	general "github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/skip2/go-qrcode"
)

// printed is the bitmap that the label printer's encoder makes, row by row.
func printed(t testing.TB, text string) [][]bool {
	t.Helper()
	code, err := qrcode.New(text, qrcode.Highest)
	if err != nil {
		t.Fatal(err)
	}
	code.DisableBorder = true
	bitmap := code.Bitmap()
	if len(bitmap) != symbolSize {
		t.Fatalf("symbol of %q: %d modules a side, want %d", text, len(bitmap), symbolSize)
	}
	return bitmap
}

// Our symbol of every tag is module for module the one that is printed, with
// the mask that its format information names.
func TestSymbolAgainstPrinted(t *testing.T) {
	tables := theTables()
	used := map[int]bool{}
	for n := range 200 {
		tag := madeTag(tagKinds[n%4], uint64(n)*982451653)
		bitmap := printed(t, tag)
		mask := printedMask(t, tables, bitmap)
		used[mask] = true
		for _, k := range tables.fixed {
			if bitmap[k.row][k.col] != k.dark {
				t.Fatalf("%q: fixed module %v: printed %v, ours %v", tag, k.cell, bitmap[k.row][k.col], k.dark)
			}
		}
		code := tables.encodeTag(tag)
		code.add(&tables.masks[mask])
		for i, c := range tables.data {
			if bitmap[c.row][c.col] != code.has(i) {
				t.Fatalf("%q: bit %d at %v: printed %v, ours %v", tag, i, c, bitmap[c.row][c.col], code.has(i))
			}
		}
	}
	if len(used) != maskCount {
		t.Errorf("masks seen: %v, want all %d", used, maskCount)
	}
}

// printedMask finds the mask whose format information stands in both places.
func printedMask(t testing.TB, tables *tables, bitmap [][]bool) int {
	t.Helper()
	for mask := range maskCount {
		same := true
		for _, places := range tables.places {
			for i, c := range places {
				same = same && bitmap[c.row][c.col] == tables.format[mask][i]
			}
		}
		if same {
			return mask
		}
	}
	t.Fatal("no format information of level H in the printed symbol")
	return 0
}

// Every module of the symbol has one role.
func TestSymbolCovered(t *testing.T) {
	tables := theTables()
	var count [symbolSize][symbolSize]int
	for _, k := range tables.fixed {
		count[k.row][k.col]++
	}
	for _, places := range tables.places {
		for _, c := range places {
			count[c.row][c.col]++
		}
	}
	for _, c := range tables.data {
		count[c.row][c.col]++
	}
	for row := range count {
		for col, n := range count[row] {
			if n != 1 {
				t.Errorf("module %d, %d has %d roles, want 1", row, col, n)
			}
		}
	}
	if len(tables.quiet) != 4*(symbolSize+1) {
		t.Errorf("quiet ring: %d modules, want %d", len(tables.quiet), 4*(symbolSize+1))
	}
}

func TestFormatBits(t *testing.T) {
	for _, row := range []struct {
		name        string
		level, mask int
		want        int
	}{
		// Source: ISO/IEC 18004, 8.9, which works out level M with mask 101.
		{"worked example", 0, 5, 0b100000011001110},
		// Source: ISO/IEC 18004, annex C, the valid format information, as quoted alike by
		// several encoders.
		{"H 0", levelH, 0, 0x1689},
		{"H 1", levelH, 1, 0x13be},
		{"H 2", levelH, 2, 0x1ce7},
		{"H 3", levelH, 3, 0x19d0},
		{"H 4", levelH, 4, 0x0762},
		{"H 5", levelH, 5, 0x0255},
		{"H 6", levelH, 6, 0x0d0c},
		{"H 7", levelH, 7, 0x083b},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := formatBits(row.level, row.mask); got != row.want {
				t.Errorf("formatBits(%d, %d) = %015b, want %015b", row.level, row.mask, got, row.want)
			}
		})
	}
}

// The worked example of ISO/IEC 18004, annex I: 01234567 as version 1, level M, with
// mask 010. Its codewords and format information are as quoted alike by the tests of
// several encoders (ZXing's for one), since the standard itself is not at hand. The
// field gives the published parity, and the modules placed, masked and marked by our
// tables are read as what they should say by a decoder that is not ours.
func TestWorkedExample(t *testing.T) {
	data := []byte{0x10, 0x20, 0x0c, 0x56, 0x61, 0x80, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11}
	parity := []byte{0xa5, 0x24, 0xd4, 0xc1, 0xed, 0x36, 0xc7, 0x87, 0x2c, 0x55}
	const levelM, mask, format = 0, 2, 0b101111001111100
	tables := theTables()
	f := &tables.field
	generator := []byte{1}
	for i := range parity {
		next := make([]byte, len(generator)+1)
		for j, c := range generator {
			next[j] ^= c
			next[j+1] ^= f.times(c, f.exp[i])
		}
		generator = next
	}
	rest := append(slices.Clone(data), make([]byte, len(parity))...)
	for i := range data {
		lead := rest[i]
		for j, g := range generator {
			rest[i+j] ^= f.times(g, lead)
		}
	}
	if got := rest[len(data):]; !bytes.Equal(got, parity) {
		t.Errorf("parity % x, want % x", got, parity)
	}
	if got := formatBits(levelM, mask); got != format {
		t.Errorf("format information %015b, want %015b", got, format)
	}
	var all words
	copy(all[:], append(data, parity...))
	code := all.bits()
	code.add(&tables.masks[mask])
	matrix, err := gozxing.NewBitMatrix(symbolSize, symbolSize)
	if err != nil {
		t.Fatal(err)
	}
	set := func(c cell, dark bool) {
		if dark {
			matrix.Set(int(c.col), int(c.row))
		}
	}
	for _, k := range tables.fixed {
		set(k.cell, k.dark)
	}
	for i, c := range tables.data {
		set(c, code.has(i))
	}
	for _, places := range tables.places {
		for i, c := range places {
			set(c, format>>i&1 == 1)
		}
	}
	if result, err := general.NewDecoder().Decode(matrix, nil); err != nil || result.GetText() != "01234567" || result.GetECLevel() != "M" {
		t.Errorf("it says %v, %v, want 01234567 at level M", result, err)
	}
}

// The generator polynomial of 17 parity codewords, as powers of 2.
// Source: ISO/IEC 18004, annex A, as quoted alike by several encoders.
func TestGenerator(t *testing.T) {
	want := []int{43, 139, 206, 78, 43, 239, 123, 206, 214, 147, 24, 99, 150, 39, 243, 163, 136}
	f := newField()
	for i, g := range f.generator {
		if f.log[g] != want[i] {
			t.Errorf("coefficient %d: 2^%d, want 2^%d", i, f.log[g], want[i])
		}
	}
}

// The code of tags is linear: every tag is its kind's base plus its free bits.
func TestTagCode(t *testing.T) {
	tables := theTables()
	for n := range 100 {
		kind := n % 4
		tag := madeTag(tagKinds[kind], uint64(n)*15485863)
		want := tables.encodeTag(tag)
		got := tables.code.base[kind]
		for i := range freeCount {
			if want.has(freeFirst + i) {
				got.add(&tables.code.free[i])
			}
		}
		if got != want {
			t.Errorf("%q: %x, want %x", tag, got, want)
		}
		var text [TagLength]byte
		if !decodeTag(&got, &text) || string(text[:]) != tag {
			t.Errorf("decodeTag of %q: %q", tag, text)
		}
	}
}

// Two tags differ in at least 18 codewords, the distance of the code.
func TestTagDistance(t *testing.T) {
	tables := theTables()
	a := tables.encodeTag(madeTag('P', 1))
	for n := range 1000 {
		b := tables.encodeTag(madeTag('P', uint64(n)+2))
		words, ones := 0, 0
		for i := range symbolWords {
			if d := a.word(i) ^ b.word(i); d != 0 {
				words++
				ones += bits.OnesCount8(d)
			}
		}
		if words < parityWords+1 {
			t.Fatalf("tags differ in %d codewords (%d bits), want %d", words, ones, parityWords+1)
		}
	}
}

// drawn is a symbol of our own tables with its quiet zone, five pixels a module.
func drawn(tables *tables, tag string, mask int) *image.Gray {
	const module, quiet = 5, 4
	s := readAs(tables, tag, mask)
	side := (symbolSize + 2*quiet) * module
	return painted(side, side, func(x, y int) byte {
		c := cell{int8(y/module - quiet), int8(x/module - quiet)}
		if c.row >= 0 && c.col >= 0 && c.row < symbolSize && c.col < symbolSize && s.of(c) > 0 {
			return 0
		}
		return 255
	})
}
